//! An invented class: an allotment society's seed-swap evening. Fourteen people make a box for a
//! round seed tin, with a band and a tag, and a seed envelope. `serve --demo` shows it, tests and
//! benches compute with it. Every name and price is made up.

use std::collections::BTreeMap;

use jiff::civil::{date, time};
use tablefold_geometry::{
    Contents, Faces, Fit, FoldedCard, Grain, Hands, Length, Paper, PatternDirection, PunchBoard,
    PunchBox, PunchEnvelope, Ruler, Stock, StructureKind, Trimmer,
};

use crate::recipe::{
    BandSpec, ExtraSpec, Hazard, MatSpec, PieceFacts, PieceSpec, ProjectFacts, RibbonSpec,
    RibbonStyle, SupplyFacts, TagShape, TagSpec, ToolKind,
};
use crate::workshop::{
    Attendee, BroughtBy, ClassFacts, ClassMoney, Colourway, Item, MultiBuy, Offer, PlanChoice,
    ShopPack, StockPaper, SupplyStock, ToolOnDay,
};

/// `n` eighths of an inch.
fn eighths(n: i64) -> Length {
    Length::from_nm(n * 3_175_000)
}

/// The papers: name, sheets on hand, price in pence, whether the print has an up.
const PAPERS: [(&str, u32, u64, bool); 7] = [
    ("Moss card", 4, 60, false),
    ("Terracotta card", 2, 60, false),
    ("Plum card", 6, 60, false),
    ("Oat paper", 3, 45, false),
    ("Leaf print", 1, 85, true),
    ("Dawn print", 2, 85, true),
    ("Cream card", 2, 50, false),
];

/// One of the papers, by row number from 1: 12 x 12 in, 0.25 mm.
fn stock_paper(id: usize) -> StockPaper {
    let (name, on_hand, price, one_way) = PAPERS[id - 1];
    StockPaper {
        id: id as i64,
        paper: Paper {
            name: name.to_owned(),
            width: Length::inches(12),
            height: Length::inches(12),
            gsm: Some(216.0),
            caliper: Length::from_nm(250_000),
            grain: Grain::Unknown,
            direction: if one_way {
                PatternDirection::OneWay
            } else {
                PatternDirection::None
            },
            faces: if one_way {
                Faces::OneSided
            } else {
                Faces::SameBothSides
            },
        },
        price_minor: Some(price),
        on_hand,
        same_as: None,
        sizes: Vec::new(),
    }
}

/// Moss card as A4 sheets, another size of the first paper.
fn moss_a4() -> StockPaper {
    let moss = stock_paper(1);
    StockPaper {
        id: 8,
        paper: Paper {
            name: "Moss card A4".to_owned(),
            width: Length::from_mm(210),
            height: Length::from_mm(297),
            ..moss.paper
        },
        price_minor: Some(35),
        on_hand: 5,
        same_as: Some(moss.id),
        sizes: Vec::new(),
    }
}

/// The supplies: name, number on hand, length on hand in m.
const SUPPLIES: [(&str, u32, i64); 4] = [
    ("Round seed tin", 10, 0),
    ("Jute ribbon", 0, 2),
    ("Seed packet", 40, 0),
    ("Leaf sticker", 12, 0),
];

fn supply(id: i64) -> SupplyFacts {
    SupplyFacts {
        id,
        name: SUPPLIES[id as usize - 1].0.to_owned(),
    }
}

/// The sheets that a piece made from this paper is cut from.
fn sheets(paper: &StockPaper) -> Vec<Stock> {
    vec![Stock {
        name: paper.paper.name.clone(),
        width: paper.paper.width,
        height: paper.paper.height,
        price: paper.price_minor,
        turnable: paper.paper.turnable(),
    }]
}

fn piece(id: i64, name: &str, spec: PieceSpec) -> PieceFacts {
    let paper = stock_paper(1);
    PieceFacts {
        id,
        name: name.to_owned(),
        supplies: spec.supplies().into_iter().map(supply).collect(),
        spec,
        paper_id: paper.id,
        sheets: sheets(&paper),
        paper: paper.paper,
    }
}

fn spec(name: &str, contents: Contents, structure: StructureKind) -> PieceSpec {
    PieceSpec {
        second_role: None,
        contents_name: name.to_owned(),
        contents,
        contents_supply: None,
        hazards: vec![Hazard::SmallParts],
        structure,
        clearance: eighths(1),
        fit: Fit::default(),
        role: "main".to_owned(),
        by_hand: None,
        mats: None,
        band: None,
        tag: None,
        ribbon: None,
        extras: Vec::new(),
    }
}

/// A box for a round seed tin, with band, tag and bow.
fn seed_box() -> PieceFacts {
    let tin = Contents::Cylinder {
        diameter: Length::from_mm(62),
        height: Length::from_mm(24),
    };
    let spec = PieceSpec {
        contents_supply: Some(1),
        band: Some(BandSpec {
            overlap: eighths(4),
            reveal: eighths(1),
            notch: Some(eighths(4)),
            role: "accent".to_owned(),
        }),
        tag: Some(TagSpec {
            shape: TagShape::Circle {
                diameter: Length::inches(1),
            },
            role: "label".to_owned(),
            mat: Some(MatSpec {
                reveal: eighths(1),
                role: "accent".to_owned(),
            }),
        }),
        ribbon: Some(RibbonSpec {
            style: RibbonStyle::Bow,
            supply: 2,
            bow: Length::inches(8),
        }),
        ..spec("round seed tin", tin, PunchBox::KIND)
    };
    piece(1, "Seed box", spec)
}

/// An envelope for a seed packet.
fn seed_envelope() -> PieceFacts {
    let packet = Contents::Block {
        width: Length::from_mm(70),
        depth: Length::from_mm(100),
        height: Length::from_mm(2),
    };
    let spec = PieceSpec {
        contents_supply: Some(3),
        extras: vec![ExtraSpec {
            supply: 4,
            count: 1,
        }],
        ..spec("seed packet", packet, PunchEnvelope::KIND)
    };
    piece(2, "Seed envelope", spec)
}

/// Both pieces, on a bench in inches.
#[must_use]
pub fn project() -> ProjectFacts {
    let ruler = Ruler::inch(16);
    ProjectFacts {
        title: "Seed-swap gifts".to_owned(),
        makes: 14,
        board: PunchBoard::default_inch(),
        trimmer: Trimmer::new(ruler),
        score_ruler: ruler,
        has_score_board: true,
        has_punch_board: true,
        hands: Hands::beginner(),
        wanted_of_100: ProjectFacts::USUAL_SHARE,
        pieces: vec![seed_box(), seed_envelope()],
        edits: Vec::new(),
        joined: Vec::new(),
    }
}

/// A card with its envelope for a slip that says how to sow.
fn gift_card() -> PieceFacts {
    let slip = Contents::Block {
        width: Length::from_mm(100),
        depth: Length::from_mm(1),
        height: Length::from_mm(70),
    };
    let spec = PieceSpec {
        hazards: Vec::new(),
        extras: vec![ExtraSpec {
            supply: 4,
            count: 1,
        }],
        ..spec("sowing slip", slip, FoldedCard::KIND)
    };
    piece(3, "Gift card", spec)
}

/// Another project for the same evening, on the same bench.
#[must_use]
pub fn second_project() -> ProjectFacts {
    ProjectFacts {
        title: "Seed-swap cards".to_owned(),
        pieces: vec![gift_card()],
        ..project()
    }
}

fn colourway(id: i64, name: &str, papers: [usize; 3]) -> Colourway {
    let roles = ["main", "accent", "label"];
    Colourway {
        id,
        name: name.to_owned(),
        papers: roles
            .into_iter()
            .zip(papers)
            .map(|(role, paper)| (role.to_owned(), stock_paper(paper)))
            .collect::<BTreeMap<_, _>>(),
        spare_kits: 1,
    }
}

/// The evening, with as many attendees as asked for, in three colourways with a spare kit each.
#[must_use]
pub fn class(attendees: usize) -> ClassFacts {
    let tool = |kind, count, brought_by| ToolOnDay {
        kind,
        count,
        brought_by,
    };
    ClassFacts {
        title: "Seed-swap evening".to_owned(),
        date: date(2026, 11, 28),
        starts: time(18, 30, 0, 0),
        minutes: 120,
        place: "Allotment hall".to_owned(),
        project: project(),
        apart: None,
        colourways: vec![
            colourway(1, "Meadow", [1, 5, 7]),
            colourway(2, "Clay pot", [2, 4, 7]),
            colourway(3, "Plum", [3, 6, 7]),
        ],
        attendees: (0..attendees)
            .map(|n| Attendee {
                id: n as i64 + 1,
                name: format!("Seat {}", n + 1),
                colourway: [1, 2, 1, 3, 1, 2, 3][n % 7],
            })
            .collect(),
        tools: vec![
            tool(ToolKind::PunchBoard, 2, BroughtBy::Instructor),
            tool(ToolKind::ScoreBoard, 2, BroughtBy::Instructor),
            tool(ToolKind::Scissors, 1, BroughtBy::Attendee),
            tool(ToolKind::BoneFolder, 6, BroughtBy::Instructor),
            tool(ToolKind::HolePunch, 2, BroughtBy::Instructor),
            tool(ToolKind::Tape, 5, BroughtBy::Instructor),
            tool(ToolKind::Glue, 4, BroughtBy::Venue),
        ],
        supplies: SUPPLIES
            .iter()
            .enumerate()
            .map(|(index, (name, on_hand, metres))| SupplyStock {
                id: index as i64 + 1,
                name: (*name).to_owned(),
                on_hand: *on_hand,
                spools: match metres {
                    0 => Vec::new(),
                    metres => vec![Length::from_mm(metres * 1000)],
                },
            })
            .collect(),
        cut_plan: PlanChoice::LeastPaper,
    }
}

/// The same evening with Moss card on hand in two sizes.
#[must_use]
pub fn class_of_two_sizes(attendees: usize) -> ClassFacts {
    let mut class = class(attendees);
    let papers = class
        .colourways
        .iter_mut()
        .flat_map(|c| c.papers.values_mut());
    for stock in papers.filter(|stock| stock.id == 1) {
        stock.sizes.push(moss_a4());
    }
    class
}

/// What shops ask: packs of paper beside the single sheets, and everything else.
#[must_use]
pub fn offers() -> Vec<(Item, Offer)> {
    let offer = |shop: &str, pack, price_minor| Offer {
        shop: shop.to_owned(),
        pack,
        price_minor,
        multi: None,
    };
    let mut offers: Vec<(Item, Offer)> = (1..=PAPERS.len() as i64)
        .map(|id| {
            (
                Item::Paper(id),
                offer("Paper stall", ShopPack::Count(5), 240),
            )
        })
        .collect();
    let three_for_two = Offer {
        multi: Some(MultiBuy {
            packs: 3,
            price_minor: 700,
        }),
        ..offer("Garden shed", ShopPack::Count(4), 350)
    };
    let metres = |n: i64| ShopPack::Spool(Length::from_mm(n * 1000));
    offers.extend([
        (
            Item::Supply(1),
            offer("Garden shed", ShopPack::Count(1), 95),
        ),
        (Item::Supply(1), three_for_two),
        (Item::Supply(2), offer("Market hall", metres(5), 280)),
        (Item::Supply(2), offer("Market hall", metres(10), 490)),
        (
            Item::Supply(3),
            offer("Garden shed", ShopPack::Count(20), 240),
        ),
        (
            Item::Supply(4),
            offer("Paper stall", ShopPack::Count(24), 180),
        ),
        (Item::Supply(TAPE), offer("Paper stall", metres(10), 210)),
        (Item::Supply(TAPE), offer("Paper stall", metres(25), 450)),
    ]);
    offers
}

/// The supply that holds the joints; no part of a kit.
pub const TAPE: i64 = 5;

/// What the evening earns and costs beside paper and supplies.
#[must_use]
pub fn money() -> ClassMoney {
    ClassMoney {
        fee_minor: Some(900),
        margin: Some(20),
        venue_minor: Some(2500),
        adhesive: Some(TAPE),
        ..ClassMoney::default()
    }
}
