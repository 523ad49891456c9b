//! An invented project for tests: a box for a round seed tin with band and tag, and a seed
//! envelope.

use tablefold_geometry::{
    Contents, Faces, Grain, Length, Paper, PatternDirection, PunchBoard, Ruler, Stock,
    StructureKind, Trimmer,
};

use super::{
    BandSpec, ExtraSpec, Hazard, MatSpec, PieceFacts, PieceSpec, ProjectFacts, RibbonSpec,
    RibbonStyle, SupplyFacts, TagShape, TagSpec,
};

pub(crate) fn eighths(n: i64) -> Length {
    Length::from_nm(n * 3_175_000)
}

pub(crate) fn paper(name: &str) -> Paper {
    Paper {
        name: name.to_owned(),
        width: Length::inches(12),
        height: Length::inches(12),
        gsm: Some(216.0),
        caliper: Length::from_nm(250_000),
        grain: Grain::Unknown,
        direction: PatternDirection::None,
        faces: Faces::SameBothSides,
    }
}

pub(crate) fn stock(paper: &Paper) -> Stock {
    Stock {
        name: paper.name.clone(),
        width: paper.width,
        height: paper.height,
        price: Some(60),
        turnable: paper.turnable(),
    }
}

fn spec(name: &str, contents: Contents, structure: StructureKind) -> PieceSpec {
    PieceSpec {
        contents_name: name.to_owned(),
        contents,
        contents_supply: None,
        hazards: Vec::new(),
        structure,
        clearance: eighths(1),
        role: "main".to_owned(),
        by_hand: None,
        band: None,
        tag: None,
        ribbon: None,
        extras: Vec::new(),
    }
}

/// The box with everything that a piece can have.
pub(crate) fn seed_box() -> PieceFacts {
    let tin = Contents::Cylinder {
        diameter: Length::from_mm(62),
        height: Length::from_mm(24),
    };
    let mut spec = spec("round seed tin", tin, StructureKind::PunchBox);
    spec.contents_supply = Some(1);
    spec.hazards = vec![Hazard::SmallParts];
    spec.band = Some(BandSpec {
        overlap: eighths(4),
        reveal: eighths(1),
        notch: Some(eighths(4)),
        role: "accent".to_owned(),
    });
    spec.tag = Some(TagSpec {
        shape: TagShape::Circle {
            diameter: Length::inches(1),
        },
        role: "label".to_owned(),
        mat: Some(MatSpec {
            reveal: eighths(1),
            role: "accent".to_owned(),
        }),
    });
    spec.ribbon = Some(RibbonSpec {
        style: RibbonStyle::Bow,
        supply: 2,
        bow: Length::inches(8),
    });
    spec.extras = vec![ExtraSpec {
        supply: 3,
        count: 2,
    }];
    let supply = |id, name: &str| SupplyFacts {
        id,
        name: name.to_owned(),
    };
    let paper = paper("Moss card");
    PieceFacts {
        id: 1,
        name: "Seed box".to_owned(),
        spec,
        sheets: vec![stock(&paper)],
        paper,
        supplies: vec![
            supply(1, "Round seed tin"),
            supply(2, "Jute ribbon"),
            supply(3, "Seed packet"),
        ],
    }
}

pub(crate) fn seed_envelope() -> PieceFacts {
    let card = Contents::Block {
        width: Length::from_mm(70),
        depth: Length::from_mm(100),
        height: Length::from_mm(2),
    };
    let paper = paper("Moss card");
    PieceFacts {
        id: 2,
        name: "Seed envelope".to_owned(),
        spec: spec("seed packet", card, StructureKind::PunchEnvelope),
        sheets: vec![stock(&paper)],
        paper,
        supplies: Vec::new(),
    }
}

/// Both pieces on an inch bench.
pub(crate) fn project() -> ProjectFacts {
    let ruler = Ruler::inch(16);
    ProjectFacts {
        title: "Seed swap".to_owned(),
        makes: 14,
        board: PunchBoard::default_inch(),
        trimmer: Trimmer::new(ruler),
        score_ruler: ruler,
        pieces: vec![seed_box(), seed_envelope()],
        edits: Vec::new(),
    }
}
