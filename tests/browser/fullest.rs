//! Projects with as much on them as there can be: a piece of each structure with all its
//! trimmings, and one project with many pieces of long names.

use tablefold::demo;
use tablefold::recipe::{
    ExtraSpec, MatsSpec, PieceFacts, PieceSpec, ProjectFacts, Recipe, RibbonSpec, RibbonStyle,
    SupplyFacts,
};
use tablefold::workshop::{ClassFacts, SupplyStock};
use tablefold_geometry::{Contents, Length, StructureKind};

/// Of all that can be asked of a piece, one thing.
type Wish = fn(&mut PieceSpec);

/// Kept one by one, as far as the piece can still be made.
const WISHES: [Wish; 8] = [
    |spec| spec.second_role = Some("accent".to_owned()),
    |spec| spec.fit = opening(spec, 30),
    |spec| spec.fit = opening(spec, 75),
    |spec| spec.band = seed_box().band,
    |spec| spec.tag = seed_box().tag,
    |spec| spec.ribbon = ribbon(RibbonStyle::Bow),
    |spec| spec.ribbon = ribbon(RibbonStyle::Cross),
    |spec| {
        spec.mats = Some(MatsSpec {
            reveal: Length::from_mm(3),
            roles: vec!["accent".to_owned(), "label".to_owned()],
        });
    },
];

fn seed_box() -> PieceSpec {
    demo::project().pieces.swap_remove(0).spec
}

fn opening(spec: &PieceSpec, mm: i64) -> tablefold_geometry::Fit {
    spec.fit
        .with_opening(spec.structure, Some(Length::from_mm(mm)))
}

#[expect(clippy::unnecessary_wraps, reason = "a piece has one or none")]
fn ribbon(style: RibbonStyle) -> Option<RibbonSpec> {
    Some(RibbonSpec {
        style,
        supply: 2,
        bow: Length::inches(8),
    })
}

/// A class of two attendees for each structure, with the name of the structure.
pub(crate) fn classes() -> Vec<(String, ClassFacts)> {
    let kinds = StructureKind::all().iter();
    kinds
        .map(|kind| {
            (
                kind.name().to_owned(),
                class_of(kind.name(), vec![piece(*kind)]),
            )
        })
        .collect()
}

/// Of every structure one, and each with a name and contents as long as a form takes.
pub(crate) fn crowded(pieces: usize) -> ClassFacts {
    let kinds = StructureKind::all().iter().cycle().take(pieces);
    let named = kinds.enumerate().map(|(at, kind)| {
        let mut piece = piece(*kind);
        piece.name = format!(
            "Number {}, the {} for all who brought seeds of their own",
            at + 1,
            kind.name()
        );
        piece
    });
    let mut class = class_of("Crowded", named.collect());
    // Many small things beside: each piece gets all of them.
    for id in 6..12 {
        class.supplies.push(SupplyStock {
            id,
            name: format!("Wooden label with a hole, number {id}"),
            on_hand: 0,
            spools: Vec::new(),
        });
        for piece in &mut class.project.pieces {
            piece.spec.extras.push(ExtraSpec {
                supply: id,
                count: 2,
            });
        }
    }
    class
}

fn class_of(name: &str, pieces: Vec<PieceFacts>) -> ClassFacts {
    let mut class = demo::class(2);
    class.title = format!("Evening of the {name}");
    class.project.title = format!("Gifts in a {name}");
    class.project.pieces = pieces;
    for colourway in &mut class.colourways {
        let film = colourway.papers["label"].clone();
        colourway.papers.insert("window film".to_owned(), film);
    }
    class
}

/// A piece of that structure, for the first contents that it holds.
fn piece(kind: StructureKind) -> PieceFacts {
    let block = |width, depth, height| Contents::Block {
        width: Length::from_mm(width),
        depth: Length::from_mm(depth),
        height: Length::from_mm(height),
    };
    let tries = [block(60, 45, 80), block(100, 70, 1), block(50, 10, 60)];
    let mut project = demo::project();
    project.pieces.truncate(1);
    let is_made = tries.into_iter().any(|contents| {
        project.pieces[0].spec = PieceSpec {
            structure: kind,
            contents,
            band: None,
            tag: None,
            ribbon: None,
            ..seed_box()
        };
        is_whole(&mut project)
    });
    assert!(is_made, "{} holds none of the contents tried", kind.name());
    for wish in WISHES {
        let before = project.pieces[0].spec.clone();
        wish(&mut project.pieces[0].spec);
        if !is_whole(&mut project) {
            project.pieces[0].spec = before;
        }
    }
    project.pieces.swap_remove(0)
}

/// Whether it can be made just as it is asked for.
fn is_whole(project: &mut ProjectFacts) -> bool {
    let piece = &mut project.pieces[0];
    let supply = |id| SupplyFacts {
        id,
        name: format!("supply {id}"),
    };
    piece.supplies = piece.spec.supplies().into_iter().map(supply).collect();
    Recipe::build(project).is_ok()
}
