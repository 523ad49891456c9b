//! The moments at which a folding is looked at: before, part-way and after each step.

use crate::{Folded, PanelId, Pattern, fold, fold_after, fold_closed};

/// How far each step has come when it is looked at. The moment just before the end shows from
/// which side a panel arrives.
pub(super) const PARTS: [f64; 5] = [0.25, 0.5, 0.75, ARRIVING, 1.0];
/// Just before the end of a step.
pub(super) const ARRIVING: f64 = 0.97;

/// A folding, step by step.
pub(super) struct Moments {
    /// After each number of steps, from none.
    pub(super) after: Vec<Folded>,
    /// Per step, one for each of [`PARTS`].
    pub(super) during: Vec<Vec<Folded>>,
    /// With every crease at its final angle.
    pub(super) closed: Folded,
}

impl Moments {
    pub(super) fn of(pattern: &Pattern) -> Self {
        let steps = pattern.folds.len();
        let part_way = |step| {
            let at = |&part: &f64| fold(pattern, &pattern.angles_during(step, part));
            PARTS.iter().map(at).collect()
        };
        Self {
            after: (0..=steps).map(|step| fold_after(pattern, step)).collect(),
            during: (0..steps).map(part_way).collect(),
            closed: fold_closed(pattern),
        }
    }

    /// Every moment with its step and part.
    pub(super) fn each(&self) -> impl Iterator<Item = (usize, f64, &Folded)> {
        self.during.iter().enumerate().flat_map(|(step, parts)| {
            PARTS
                .iter()
                .zip(parts)
                .map(move |(&part, folded)| (step, part, folded))
        })
    }

    /// The moment just before the end of a step.
    pub(super) fn arriving(&self, step: usize) -> Option<&Folded> {
        self.during.get(step)?.get(PARTS.len() - 2)
    }

    /// Whether a panel is somewhere else after the step.
    pub(super) fn moves(&self, panel: PanelId, step: usize) -> bool {
        let at = |after: usize| self.after.get(after).and_then(|folded| folded.pose(panel));
        at(step) != at(step + 1)
    }

    /// Whether a step moves two panels against each other (and does not carry both along).
    pub(super) fn parts(&self, one: PanelId, other: PanelId, step: usize) -> bool {
        if !self.moves(one, step) && !self.moves(other, step) {
            return false;
        }
        let seen = |after: usize| {
            let folded = self.after.get(after)?;
            let (one, other) = (folded.pose(one)?, folded.pose(other)?);
            let corners = [(0.0, 0.0), (1.0, 0.0), (0.0, 1.0)];
            Some(corners.map(|(x, y)| one.flat_of(other.place(kurbo::Point::new(x, y)))))
        };
        match (seen(step), seen(step + 1)) {
            (Some(before), Some(now)) => before
                .iter()
                .zip(&now)
                .any(|((p, h), (q, k))| (*p - *q).hypot() > 1e-9 || (h - k).abs() > 1e-9),
            _ => false,
        }
    }
}
