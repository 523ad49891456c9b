//! The search: every structure offers the settings on its rulers that could be best for each way
//! to lay the contents, and the one that costs the class least wins.

use std::cmp::Ordering;

use super::contents::ORDERS;
use super::cutting::{Cutting, area};
use super::{Fit, SizingRequest, Stock};
use crate::{Inside, Length, Ruler, Settings, StructureError, Tools};

/// Room that is short by less than this is room: far below a nanometre, far above the rounding of
/// `f64`. The fold check takes the same.
pub(crate) const SLACK_MM: f64 = 1e-9;

/// What has to fit, and the tools to fit it with.
pub(crate) struct Search<'r> {
    /// Extent of the contents along their own axes.
    pub(crate) contents: [Length; 3],
    /// Which of the axes they are round about, if any.
    pub(crate) round: Option<usize>,
    /// Whether they are a ball.
    pub(crate) ball: bool,
    pub(crate) clearance: Length,
    pub(crate) fit: Fit,
    pub(crate) caliper: Length,
    pub(crate) tools: Tools,
    /// The sheets and how many pieces they are for; `None` lifts the limit.
    pub(crate) stock: Option<(&'r [Stock], u32)>,
    /// Settings that have failed the fold check.
    pub(crate) failed: &'r [Settings],
}

/// One way to lay the contents: their axes, and their extents, along width, length and depth.
pub(crate) struct Order {
    pub(crate) axes: [usize; 3],
    pub(crate) lies: [Length; 3],
}

/// Contents that lie in one way, for which a structure is to offer settings.
pub(crate) struct Wanted<'s> {
    /// What a block inside needs along width, length and depth, clearance included, mm.
    pub(crate) block_mm: [f64; 3],
    /// Whether they are a cylinder that stands: round about the depth.
    pub(crate) round: bool,
    /// Whether they are a ball.
    pub(crate) ball: bool,
    /// How bodies go into each other.
    pub(crate) fit: Fit,
    pub(crate) caliper: Length,
    pub(crate) tools: &'s Tools,
}

/// Settings that a structure offers, with what they come to.
pub(crate) struct Offer {
    pub(crate) settings: Settings,
    /// Width and height of each body's sheet.
    pub(crate) blanks: Vec<(Length, Length)>,
    pub(crate) inside: Inside,
}

/// What a structure offers for one way to lay the contents.
#[derive(Default)]
pub(crate) struct Offers {
    pub(crate) found: Vec<Offer>,
    /// What stood in the way of one that could not be made.
    pub(crate) refused: Option<StructureError>,
}

/// Settings that fit.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Candidate {
    pub(crate) settings: Settings,
    pub(crate) inside: Inside,
    /// Width and height of each body's sheet.
    pub(crate) blanks: Vec<(Length, Length)>,
    /// Which axis of the contents lies along width, length and depth.
    pub(crate) order: [usize; 3],
    /// Most room left over in any axis after contents and clearance, mm.
    pub(crate) loose_mm: f64,
    /// Extents along width, length, depth: the last tie-break, the same however the contents'
    /// axes are named.
    pub(crate) lies: [Length; 3],
}

impl Candidate {
    /// The order of settings that are equally good.
    pub(crate) fn tie_break(&self, other: &Self) -> Ordering {
        let marks = |candidate: &Self| {
            let each = candidate.settings.each();
            each.map(|(_, at)| at).collect::<Vec<_>>()
        };
        marks(self)
            .cmp(&marks(other))
            .then_with(|| self.lies.cmp(&other.lies))
    }

    /// Whether every sheet of the other is as large or larger, the same way up, and one larger:
    /// the other then costs no less and has more paper.
    fn beats(&self, other: &Self) -> bool {
        let within = |(a, b): (&(Length, Length), &(Length, Length))| a.0 <= b.0 && a.1 <= b.1;
        self.blanks.len() == other.blanks.len()
            && self.blanks.iter().zip(&other.blanks).all(within)
            && self.blanks != other.blanks
    }
}

impl Search<'_> {
    /// The ways to lay the contents; equal axes give equal ways.
    pub(crate) fn orders(&self) -> Vec<Order> {
        let mut orders: Vec<Order> = Vec::with_capacity(ORDERS.len());
        for axes in ORDERS {
            let lies = axes.map(|axis| self.contents.get(axis).copied().unwrap_or_default());
            if !orders.iter().any(|order| order.lies == lies) {
                orders.push(Order { axes, lies });
            }
        }
        orders
    }

    /// The shorter side of the sheet that holds the largest square.
    pub(crate) fn largest_square(&self) -> Length {
        let Some((sheets, _)) = self.stock else {
            return Length::MAX;
        };
        let sides = sheets.iter().map(|sheet| sheet.width.min(sheet.height));
        sides.max().unwrap_or(Length::ZERO)
    }

    pub(crate) fn needs(&self, side: Length) -> f64 {
        (side + self.clearance).mm()
    }

    /// Room left over along width, length and depth, mm. A piece without a depth of its own lies
    /// flat on what is in it: nothing is left over from front to back.
    pub(crate) fn spare(&self, inside: &Inside, lies: [Length; 3], has_depth: bool) -> [f64; 3] {
        let [width, length, depth] = lies.map(|side| self.needs(side));
        let deep = if has_depth { inside.depth - depth } else { 0.0 };
        [inside.width - width, inside.length - length, deep]
    }

    /// What a structure offers for one way to lay the contents.
    pub(crate) fn wanted(&self, order: &Order) -> Wanted<'_> {
        Wanted {
            block_mm: order.lies.map(|side| self.needs(side)),
            round: self.round.is_some() && self.round == order.axes.last().copied(),
            ball: self.ball,
            fit: self.fit,
            caliper: self.caliper,
            tools: &self.tools,
        }
    }

    /// The offer that costs the class least: fewest sheets, lowest cost, least paper, least
    /// looseness; without a limit of sheets, least paper, then least looseness.
    pub(crate) fn best_offer(&self, offers: impl Fn(&Wanted<'_>) -> Offers) -> Option<Candidate> {
        let mut found: Vec<Candidate> = Vec::new();
        for order in self.orders() {
            let offered = offers(&self.wanted(&order)).found;
            found.extend(
                offered
                    .into_iter()
                    .filter_map(|it| self.candidate(it, &order)),
            );
        }
        let could_win = |candidate: &&Candidate| !found.iter().any(|it| it.beats(candidate));
        let mut ranked = Vec::new();
        for candidate in found.iter().filter(could_win) {
            let cost = match self.stock {
                None => (0, 0),
                Some((sheets, makes)) => match Cutting::best(sheets, &candidate.blanks, makes) {
                    Some(cutting) => cutting.rank(),
                    None => continue,
                },
            };
            ranked.push((cost, area(&candidate.blanks), candidate));
        }
        let best = ranked.into_iter().min_by(|one, other| {
            let paper = (one.0, one.1).cmp(&(other.0, other.1));
            paper
                .then_with(|| one.2.loose_mm.total_cmp(&other.2.loose_mm))
                .then_with(|| one.2.tie_break(other.2))
        });
        best.map(|(_, _, candidate)| candidate.clone())
    }

    /// An offer that holds the contents and has not failed before.
    fn candidate(&self, offer: Offer, order: &Order) -> Option<Candidate> {
        if self.failed.contains(&offer.settings) {
            return None;
        }
        let has_depth = offer.settings.kind().has_depth();
        let spare = self.spare(&offer.inside, order.lies, has_depth);
        spare
            .iter()
            .all(|spare| *spare >= -SLACK_MM)
            .then(|| Candidate {
                settings: offer.settings,
                inside: offer.inside,
                blanks: offer.blanks,
                order: order.axes,
                loose_mm: spare.into_iter().fold(0.0, f64::max),
                lies: order.lies,
            })
    }
}

impl SizingRequest {
    /// The search within the stock sheets.
    pub(crate) fn search<'r>(&'r self, clearance: Length, failed: &'r [Settings]) -> Search<'r> {
        Search {
            contents: self.extents(),
            round: self.contents.round_about(),
            ball: self.contents.is_ball(),
            clearance,
            fit: self.fit,
            caliper: self.caliper,
            tools: self.tools,
            stock: Some((&self.sheets, self.makes)),
            failed,
        }
    }

    pub(super) fn extents(&self) -> [Length; 3] {
        // Checked before any search: a stack is at most 10 m.
        let axes = self.contents.axes();
        axes.map_or([Length::MAX; 3], |axes| axes.map(|(_, extent)| extent))
    }

    /// The least extent of the contents.
    pub(crate) fn thinnest(&self) -> Length {
        self.extents().into_iter().min().unwrap_or_default()
    }

    /// The greatest extent of the contents.
    pub(crate) fn greatest(&self) -> Length {
        self.extents().into_iter().max().unwrap_or_default()
    }
}

/// The same ruler with another longest measure.
pub(crate) fn reaching(ruler: &Ruler, longest: Length) -> Option<Ruler> {
    Ruler::new(ruler.unit(), ruler.step(), ruler.shortest(), longest).ok()
}

/// The sheet with the largest square in it: its name and its shorter side.
pub(crate) fn largest_square(request: &SizingRequest) -> (String, Length) {
    let sides = request
        .sheets
        .iter()
        .map(|sheet| (&sheet.name, sheet.width.min(sheet.height)));
    let largest = sides.max_by_key(|(_, side)| *side);
    largest.map_or_else(
        || (String::new(), Length::ZERO),
        |(name, side)| (name.clone(), side),
    )
}
