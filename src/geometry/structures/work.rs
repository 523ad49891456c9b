//! Work: what the hands do to make one body, as data.
//!
//! The sheet lies in front of you as the pattern is seen: from the side that ends up inside, x to
//! the right and y up. Wording and pictures follow from this list and the pattern alone.

use crate::{Length, Pattern, Ruler, WasteReason};

/// An edge of the sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Edge {
    /// At the least x.
    Left,
    /// At the greatest x.
    Right,
    /// At the greatest y.
    Top,
    /// At the least y.
    Bottom,
}

impl Edge {
    /// The four of them, as the sheet is turned a quarter counter-clockwise each time.
    pub const ALL: [Self; 4] = [Self::Left, Self::Top, Self::Right, Self::Bottom];

    /// The name in a sentence.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Left => "left edge",
            Self::Right => "right edge",
            Self::Top => "top edge",
            Self::Bottom => "bottom edge",
        }
    }
}

/// One thing that the hands do.
#[derive(Clone, Debug, PartialEq)]
pub enum Work {
    /// Score across the whole sheet, this far from these edges: one setting of the tool.
    Score {
        /// The edges against the fence, one after the other.
        from: Vec<Edge>,
        /// The mark.
        at: Length,
    },
    /// Score this far from these edges, but only part of the way across.
    ScorePart {
        /// The edges against the fence, one after the other.
        from: Vec<Edge>,
        /// The mark.
        at: Length,
        /// How far: "only from one slanting score to the other".
        part: &'static str,
    },
    /// Cut the slits of the pattern.
    CutSlits {
        /// What is cut: "the slits at the four corners".
        what: &'static str,
    },
    /// Cut away the waste of one reason.
    CutAway {
        /// Which waste of the pattern.
        why: WasteReason,
        /// What is cut away: "the corners beside the glue flap".
        what: &'static str,
    },
    /// Cut or punch an opening along the template.
    CutOut {
        /// What: "window in the lid".
        name: &'static str,
        /// How large it is.
        across: Length,
        /// Which way that is: "wide", "long".
        way: &'static str,
        /// Whether a hole punch makes it; else a knife.
        by_punch: bool,
    },
    /// Glue a square of clear film over a window so wide, on the side that ends up inside.
    Film {
        /// Width of the window.
        across: Length,
        /// Side of the film.
        side: Length,
    },
    /// Cut off square what sticks out, so far from the score that it hangs on.
    TrimTo {
        /// What is cut off: "the ends of the four tabs".
        what: &'static str,
        /// What stays, mm.
        stays_mm: f64,
    },
    /// Draw round a template, or print the pattern, and cut or score along it.
    ByTemplate {
        /// What follows the template: "the curved ends".
        what: &'static str,
        /// Whether it is cut; else scored.
        cut: bool,
    },
    /// Turn the sheet over.
    TurnOver,
    /// Crease every score sharply with a folder, then open it out again.
    Burnish,
    /// Put glue on a zone: an index into [`Pattern::glue`].
    Glue(usize),
    /// A fold: an index into [`Pattern::folds`].
    Fold(usize),
    /// Put the contents in.
    Fill,
    /// Shut it with a ribbon through holes.
    Tie {
        /// Which: "both holes".
        through: &'static str,
    },
    /// Put this body on, over or into the others.
    PutTogether {
        /// How: "the lid over the base".
        what: &'static str,
    },
}

impl Work {
    /// In a plain sentence; measures as the ruler has them.
    #[must_use]
    pub fn sentence(&self, pattern: &Pattern, ruler: &Ruler) -> String {
        let fold = |index: usize| pattern.folds.get(index).map_or("", |fold| fold.name);
        match self {
            Self::Score { from, at } => {
                format!("Score {} from {}.", ruler.text(*at), edges(from))
            }
            Self::ScorePart { from, at, part } => {
                format!("Score {} from {}, {part}.", ruler.text(*at), edges(from))
            }
            Self::CutSlits { what } => format!("Cut {what}."),
            Self::CutAway { what, .. } => format!("Cut away {what}."),
            Self::TrimTo { what, stays_mm } => format!(
                "Cut off {what}, {} from the score that they hang on.",
                ruler.text_mm(*stays_mm)
            ),
            Self::ByTemplate { what, cut: true } => format!("Cut {what} along the template."),
            Self::ByTemplate { what, cut: false } => format!("Score {what} along the template."),
            Self::CutOut {
                name,
                across,
                way,
                by_punch,
            } => {
                let doing = if *by_punch { "Punch" } else { "Cut out" };
                let across = ruler.text(*across);
                format!("{doing} the {name}, {across} {way}, along the template.")
            }
            Self::Film { side, .. } => format!(
                "Glue a square of clear film of {} over the window.",
                ruler.text(*side)
            ),
            Self::TurnOver => "Turn the sheet over.".to_owned(),
            Self::Burnish => "Fold each score and press it sharp, then open it.".to_owned(),
            Self::Glue(index) => {
                let zone = pattern.glue.get(*index).map_or("", |zone| zone.name);
                format!("Glue: {zone}.")
            }
            Self::Fold(index) => format!("Fold: {}.", fold(*index)),
            Self::Fill => "Put the contents in.".to_owned(),
            Self::Tie { through } => format!("Tie a ribbon through {through}."),
            Self::PutTogether { what } => format!("Put {what}."),
        }
    }
}

fn edges(from: &[Edge]) -> String {
    if from.len() == Edge::ALL.len() {
        return "each of the four edges".to_owned();
    }
    let edges: Vec<&str> = from.iter().map(|edge| edge.name()).collect();
    format!("the {}", edges.join(" and the "))
}
