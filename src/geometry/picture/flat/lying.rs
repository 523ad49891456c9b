//! Where each panel lies once earlier steps have folded some of them flat.
//!
//! A crease folded by 180° mirrors its child, and all that it carries, in its line. Creases
//! folded by less are drawn flat here: what stands up is seen from above as it was.

use kurbo::Affine;

use crate::{CreaseId, PanelId, Pattern};

/// Where the panels of a pattern lie.
pub(super) struct Lying {
    /// From each panel of the pattern to the picture.
    pub(super) places: Vec<Affine>,
    /// The panels that lie folded over, in the order they came there.
    pub(super) folded: Vec<PanelId>,
}

/// Where the panels lie after the first `steps` folds; `turn` takes the unfolded sheet to the
/// picture.
pub(super) fn after(pattern: &Pattern, steps: usize, turn: Affine) -> Lying {
    let angles = pattern.angles_after(steps);
    let is_over = |index: usize| {
        angles
            .get(index)
            .is_some_and(|a| (a.abs() - 180.0).abs() < 1e-6)
    };
    let mut lying = Lying {
        places: vec![turn; pattern.panels.len()],
        folded: Vec::new(),
    };
    for panel in carried(pattern, pattern.root) {
        let above = pattern
            .creases
            .iter()
            .enumerate()
            .find(|(_, crease)| crease.child == panel);
        let Some((index, crease)) = above else {
            continue;
        };
        let parent = lying.places.get(crease.parent.0).copied().unwrap_or(turn);
        if let Some(place) = lying.places.get_mut(panel.0) {
            let over = Affine::reflect(crease.a, crease.b - crease.a);
            *place = if is_over(index) {
                parent * over
            } else {
                parent
            };
        }
    }
    let steps = pattern.folds.iter().take(steps);
    for (CreaseId(index), _) in steps.flat_map(|step| &step.creases) {
        if let (true, Some(crease)) = (is_over(*index), pattern.creases.get(*index)) {
            let moved = carried(pattern, crease.child);
            lying.folded.retain(|panel| !moved.contains(panel));
            lying.folded.extend(moved);
        }
    }
    lying
}

/// A panel and all that hangs on it, nearest first; each once, even where a pattern is in a ring.
fn carried(pattern: &Pattern, from: PanelId) -> Vec<PanelId> {
    let mut carried = vec![from];
    let mut next = 0;
    while let Some(&panel) = carried.get(next) {
        let children = pattern
            .creases
            .iter()
            .filter(|crease| crease.parent == panel);
        for child in children.map(|crease| crease.child) {
            if !carried.contains(&child) {
                carried.push(child);
            }
        }
        next += 1;
    }
    carried
}

#[cfg(test)]
mod tests {
    use kurbo::Point;

    use super::*;
    use crate::{Crease, FoldStep, Panel, PanelRole, Solid};

    /// Three panels in a row, 10 mm wide each: 0..10, 10..20, 20..30.
    fn row(order: [usize; 2]) -> Pattern {
        let panel = |n: f64| Panel {
            name: "panel",
            outline: [(0.0, 0.0), (10.0, 0.0), (10.0, 5.0), (0.0, 5.0)]
                .map(|(x, y)| Point::new(10.0 * n + x, y))
                .to_vec(),
            plane: None,
            layer: 0,
            role: PanelRole::Wall,
        };
        let crease = |n: usize| Crease {
            name: "crease",
            a: Point::new(10.0 * (n + 1) as f64, 0.0),
            b: Point::new(10.0 * (n + 1) as f64, 5.0),
            parent: PanelId(n),
            child: PanelId(n + 1),
            angle_deg: 180.0,
            smooth: false,
        };
        let fold = |n| FoldStep {
            name: "fold",
            creases: vec![(CreaseId(n), 180.0)],
            way: Vec::new(),
            is_far: false,
        };
        Pattern {
            name: "row",
            blank: Vec::new(),
            panels: [0.0, 1.0, 2.0].map(panel).to_vec(),
            creases: vec![crease(0), crease(1)],
            cuts: Vec::new(),
            waste: Vec::new(),
            curves: Vec::new(),
            glue: Vec::new(),
            folds: order.map(fold).to_vec(),
            folds_before_filling: 0,
            solid: Solid::Flat {
                x: 10.0,
                y: 5.0,
                open: Vec::new(),
            },
            caliper_mm: 0.3,
            root: PanelId(0),
        }
    }

    #[test]
    fn a_strip_in_three_lies_on_its_first_panel_in_whichever_order_it_is_folded() {
        for order in [[0, 1], [1, 0]] {
            let lying = after(&row(order), 2, Affine::IDENTITY);
            // Its far end comes back over the first panel: 30 -> 10 mm, and 20 -> 0 mm.
            let end = lying.places[2] * Point::new(30.0, 0.0);
            assert!(
                end.distance(Point::new(10.0, 0.0)) < 1e-9,
                "{order:?}: {end:?}"
            );
            let near = lying.places[2] * Point::new(20.0, 0.0);
            assert!(near.distance(Point::ORIGIN) < 1e-9, "{order:?}: {near:?}");
            assert_eq!(lying.folded.len(), 2);
        }
    }

    #[test]
    fn what_stands_up_is_drawn_where_it_was() {
        let mut pattern = row([0, 1]);
        pattern.folds[0].creases[0].1 = 90.0;
        let lying = after(&pattern, 1, Affine::IDENTITY);
        assert_eq!(lying.places, vec![Affine::IDENTITY; 3]);
        assert!(lying.folded.is_empty());
    }
}
