//! What pages show of a piece: its picture and the numbers that decide.

use tablefold_geometry::{
    Body, Inside, Length, PictureSize, Ruler, SettingField, blanks_per_sheet,
};

use super::break_button::BreakButton;
use super::post_view::{Offer, PostView};
use super::tolerance_view::ToleranceView;
use crate::error::PageResult;
use crate::pages::both::Both;
use crate::pages::once;
use crate::pages::picture::Picture;
use crate::print::PrintPaper;
use crate::recipe::{
    MadeMat, MadePiece, PieceFacts, ProjectFacts, capital, finished, template, tight_sheet,
};
use crate::urls;

/// A piece that can be made.
pub(super) struct PieceView {
    pub(super) id: i64,
    pub(super) name: String,
    pub(super) structure: &'static str,
    pub(super) paper: String,
    /// The finished piece.
    pub(super) portrait: Picture,
    pub(super) bodies: Vec<BodyView>,
    pub(super) settings: Vec<(&'static str, Both)>,
    pub(super) by_hand: bool,
    pub(super) per_sheet: Vec<(String, u32)>,
    /// Sheets for all makes: the paper and how many.
    pub(super) sheets: Option<(String, u32)>,
    pub(super) makes: u32,
    /// That the sheet may come too small.
    pub(super) tight: Option<String>,
    pub(super) break_points: Vec<BreakButton>,
    pub(super) mats: Vec<MatView>,
    pub(super) rooms: Vec<Room>,
    /// Inside as cartons are listed, in mm.
    pub(super) listed: Option<String>,
    pub(super) tolerance: Option<ToleranceView>,
    pub(super) post: Option<PostView>,
    pub(super) checks: Vec<CheckRow>,
    pub(super) cautions: Vec<&'static str>,
    pub(super) edit_url: String,
    pub(super) choose_url: String,
    pub(super) move_url: String,
    /// The templates at true size, on each paper.
    pub(super) template_urls: [(String, String); 3],
}

/// One body of a piece: its sheet and its template.
pub(super) struct BodyView {
    pub(super) name: &'static str,
    pub(super) picture: Picture,
    pub(super) size: Both,
    /// What a sheet gives of it alone.
    pub(super) yields: String,
    pub(super) svg_url: String,
    pub(super) fold_url: String,
    pub(super) cutter_url: String,
}

/// A mat on the front of a card.
pub(super) struct MatView {
    pub(super) name: String,
    pub(super) size: Both,
    /// How much of what is below shows left and right, and above and below where that differs.
    pub(super) sides: Both,
    pub(super) ends: Option<Both>,
    pub(super) role: String,
}

impl MatView {
    fn new(mat: &MadeMat, project: &ProjectFacts) -> Self {
        let ((width, height), (sides, ends)) = (mat.shape.size(), mat.shows());
        let ruler = project.board.ruler();
        Self {
            name: capital(mat.name),
            size: Both::sides(project.trimmer.ruler(), width, height),
            sides: Both::of(ruler, sides),
            ends: (ends != sides).then(|| Both::of(ruler, ends)),
            role: mat.role.clone(),
        }
    }
}

/// Room inside along one axis, and what lies there.
pub(super) struct Room {
    pub(super) axis: &'static str,
    pub(super) inside: Both,
    pub(super) what: String,
    pub(super) contents: Both,
    pub(super) play: Both,
}

/// One point of the fold check.
pub(super) struct CheckRow {
    pub(super) name: &'static str,
    pub(super) holds: bool,
    pub(super) says: String,
    pub(super) margin: String,
}

impl PieceView {
    /// `at` is the piece's place in the project; pictures are named after it.
    pub(super) fn new(
        project: &ProjectFacts,
        project_id: i64,
        at: usize,
        made: &MadePiece,
        templates: PictureSize,
    ) -> Option<Self> {
        let facts = project.pieces.get(at)?;
        let ruler = project.board.ruler();
        Some(Self {
            id: made.id,
            name: made.name.clone(),
            structure: facts.spec.structure.name(),
            paper: facts.paper.name.clone(),
            portrait: Picture::of(&finished(made), &format!("piece{at}")),
            bodies: bodies(project, (project_id, at), (facts, made), templates),
            settings: settings(made),
            by_hand: facts.spec.by_hand.is_some(),
            per_sheet: made.per_sheet.clone(),
            sheets: made.best_sheet.clone(),
            makes: project.makes,
            tight: tight_sheet(made, facts, project.trimmer.ruler()),
            break_points: break_points(made, ruler),
            mats: made
                .mats
                .iter()
                .map(|mat| MatView::new(mat, project))
                .collect(),
            rooms: rooms(facts, made, ruler),
            listed: made.structure.carton_size().map(|size| size.to_string()),
            tolerance: ToleranceView::new(project, facts, made),
            post: PostView::new(facts, made, ruler)
                .map(|it| it.with_punched(project, (facts, made))),
            checks: made.checks.iter().map(check_row).collect(),
            cautions: made.cautions.iter().map(|caution| caution.text()).collect(),
            edit_url: urls::piece(project_id, made.id),
            choose_url: urls::choose_for_piece(project_id, made.id),
            move_url: urls::move_piece(project_id, made.id),
            template_urls: PrintPaper::ALL.map(|paper| {
                let url = urls::piece_templates(project_id, made.id, paper.slug());
                (paper.to_string(), url)
            }),
        })
    }

    /// With what would do for the share of makers that is wanted.
    pub(super) fn advised(mut self, project: &ProjectFacts) -> Self {
        if let Some(facts) = project.pieces.first() {
            self.tolerance = self.tolerance.map(|it| it.advised(project, facts));
        }
        self
    }

    /// With a button that adds the envelope from the punch board, of a card as it is stored, unless
    /// it is among the project's pieces.
    pub(super) fn offering<'p>(
        mut self,
        project_id: i64,
        mut pieces: impl Iterator<Item = (i64, &'p str)>,
    ) -> PageResult<Self> {
        let punched = self.post.as_mut().and_then(|post| post.punched.as_mut());
        if let Some(punched) = punched {
            let there = pieces.find(|(_, name)| *name == punched.name);
            punched.offer = match there {
                Some((id, _)) => Offer::There(urls::piece(project_id, id)),
                None => Offer::Add(urls::piece_envelope(project_id, self.id), once::token()?),
            };
        }
        Ok(self)
    }

    /// Whether every point of the fold check holds.
    pub(super) fn folds(&self) -> bool {
        self.checks.iter().all(|check| check.holds)
    }
}

fn break_points(made: &MadePiece, ruler: &Ruler) -> Vec<BreakButton> {
    let points = made.break_points.iter();
    points.map(|it| BreakButton::new(it, ruler)).collect()
}

fn bodies(
    project: &ProjectFacts,
    (project_id, at): (i64, usize),
    (facts, made): (&PieceFacts, &MadePiece),
    size: PictureSize,
) -> Vec<BodyView> {
    let view = |(index, body): (usize, &Body)| {
        let (width, height) = body.blank;
        let yields = facts.sheets.iter().map(|sheet| {
            let count = blanks_per_sheet(sheet, width, height);
            format!("{count} from a sheet of {}", sheet.name)
        });
        BodyView {
            name: body.name,
            picture: Picture::of(
                &template(project, &body.pattern, size),
                &format!("piece{at}b{index}"),
            ),
            size: Both::sides(project.trimmer.ruler(), width, height),
            yields: yields.collect::<Vec<_>>().join(", "),
            svg_url: urls::pattern_svg(project_id, made.id, index),
            fold_url: urls::pattern_fold(project_id, made.id, index),
            cutter_url: urls::pattern_cutter(project_id, made.id, index),
        }
    };
    made.structure.bodies().enumerate().map(view).collect()
}

/// Each setting on the ruler of its tool.
fn settings(made: &MadePiece) -> Vec<(&'static str, Both)> {
    let tools = made.structure.tools();
    let both = |(field, length): (&'static SettingField, Length)| {
        let ruler = tools.ruler(field.tool).unwrap_or(tools.main_ruler());
        (field.name, Both::of(ruler, length))
    };
    made.structure.settings().each().map(both).collect()
}

fn rooms(facts: &PieceFacts, made: &MadePiece, ruler: &Ruler) -> Vec<Room> {
    let Some(axes) = facts.spec.contents.axes() else {
        return Vec::new();
    };
    let extent = |name: &str| {
        let axis = axes.iter().find(|(axis, _)| *axis == name);
        axis.map_or(0.0, |(_, extent)| extent.mm())
    };
    let lies = made.axes;
    let Inside {
        width,
        length,
        depth,
    } = made.structure.inside_for(extent(lies.depth));
    let rows = [
        ("width", width, lies.width),
        ("length", length, lies.length),
        ("depth", depth, lies.depth),
    ];
    let rows = rows.map(|(axis, inside, what)| Room {
        axis,
        inside: Both::mm(ruler, inside),
        what: what.to_owned(),
        contents: Both::mm(ruler, extent(what)),
        play: Both::mm(ruler, (inside - extent(what)).max(0.0)),
    });
    let is_flat = !made.structure.kind().has_depth();
    // An envelope takes the depth of what is in it.
    rows.into_iter()
        .filter(|row| !is_flat || row.axis != "depth")
        .collect()
}

fn check_row(check: &tablefold_geometry::Check) -> CheckRow {
    let margin = if check.margin.is_finite() {
        format!("{:.2} {}", check.margin, check.unit)
    } else {
        "nothing in the way".to_owned()
    };
    CheckRow {
        name: check.name,
        holds: check.holds,
        says: check.says.clone(),
        margin,
    }
}
