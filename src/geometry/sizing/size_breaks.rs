//! Sizes of the contents, a little smaller, at which a class costs fewer sheets.
//!
//! Contents that are bought do not shrink; a card, a packet or a bar that is cut to size can. A
//! smaller size never takes more sheets: what held the larger one holds it. So the smallest that
//! counts as a little smaller is asked first, and the nearest that saves is found by halving.

use super::cutting::Cutting;
use super::{Contents, SizingRequest};
use crate::{Length, Ruler};

/// Steps that count as a little: 1/4 in on a ruler of sixteenths, or 4 mm.
const STEPS: i64 = 4;
/// A size is not made smaller by more than one part in so many.
const PARTS: i64 = 4;

/// A size of the contents, smaller than asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SizeChange {
    /// The field: "height".
    pub field: &'static str,
    /// What it is.
    pub from: Length,
    /// What it would be.
    pub to: Length,
}

impl SizeChange {
    /// "lower", "narrower", "less deep".
    #[must_use]
    pub fn word(&self) -> &'static str {
        match self.field {
            "height" => "lower",
            "depth" => "less deep",
            _ => "narrower",
        }
    }

    /// How much smaller.
    #[must_use]
    pub fn by(&self) -> Length {
        self.from - self.to
    }

    pub(super) fn text(&self, ruler: &Ruler) -> String {
        let text = |length| ruler.text_or_exact(length);
        format!(
            "A {} of {} instead of {}",
            self.field,
            text(self.to),
            text(self.from)
        )
    }
}

/// The nearest smaller size of each measure that saves sheets, with how all makes are cut then.
pub(super) fn smaller(
    request: &SizingRequest,
    now: &Cutting,
    cutting: impl Fn(&SizingRequest) -> Option<Cutting>,
) -> Vec<(SizeChange, Cutting)> {
    let given = request.contents.given().into_iter();
    // Paper in a stack is as thick as it is.
    let sizes = given.filter(|(field, _)| *field != "each_thickness");
    let found = sizes.filter_map(|(field, from)| {
        let step = step(from, request.tools.main_ruler());
        let at = |steps: i64| {
            let to = from - step * steps;
            let mut asked = request.clone();
            asked.contents = with(request.contents, field, to);
            let then = cutting(&asked)?;
            let change = SizeChange { field, from, to };
            (then.sheets < now.sheets).then_some((change, then))
        };
        let most = from.nm() / PARTS / step.nm().max(1);
        nearest(most.min(STEPS), at)
    });
    found.collect()
}

/// The least number of steps, up to `most`, that does, where more steps do if fewer do.
fn nearest<T>(most: i64, at: impl Fn(i64) -> Option<T>) -> Option<T> {
    if most < 1 {
        return None;
    }
    let mut does = (most, at(most)?);
    let mut fails = 0;
    while does.0 - fails > 1 {
        let middle = fails + (does.0 - fails) / 2;
        match at(middle) {
            Some(found) => does = (middle, found),
            None => fails = middle,
        }
    }
    Some(does.1)
}

/// The step of the ruler; whole millimetres for what was measured in them.
fn step(size: Length, ruler: &Ruler) -> Length {
    let millimetre = Length::from_mm(1);
    let whole = |step: Length| size.nm() % step.nm().max(1) == 0;
    if !whole(ruler.step()) && whole(millimetre) {
        millimetre
    } else {
        ruler.step()
    }
}

/// The same contents with another measure.
fn with(mut contents: Contents, field: &str, to: Length) -> Contents {
    let slot = match (&mut contents, field) {
        (Contents::Cylinder { diameter, .. } | Contents::Ball { diameter }, "diameter") => diameter,
        (Contents::Block { width, .. } | Contents::Stack { width, .. }, "width") => width,
        (Contents::Block { depth, .. }, "depth") => depth,
        (
            Contents::Block { height, .. }
            | Contents::Cylinder { height, .. }
            | Contents::Stack { height, .. },
            "height",
        ) => height,
        _ => return contents,
    };
    *slot = to;
    contents
}
