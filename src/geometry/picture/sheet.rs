//! A whole sheet with the parts that are cut from it, as the cut plan lays them.
//!
//! Parts carry letters, because names do not fit on small ones; the caller prints the key.

use kurbo::{Point, Rect};

use super::canvas::{Canvas, LabelStyle};
use super::scene::{Anchor, LineRole, Scene};
use crate::{CutPlan, Ruler, SheetLayout};

/// The facts of a sheet picture.
#[derive(Clone, Copy, Debug)]
pub struct SheetPicture<'a> {
    /// The ruler that sizes are printed on.
    pub ruler: &'a Ruler,
    /// The plan that the layout belongs to.
    pub plan: &'a CutPlan,
    /// What lies on the sheet.
    pub layout: &'a SheetLayout,
}

/// The letter of a demand: A to Z, then A1, B1 and on.
#[must_use]
pub fn part_letter(demand: usize) -> String {
    let letter = char::from(b'A' + u8::try_from(demand % 26).unwrap_or(0));
    match demand / 26 {
        0 => letter.to_string(),
        round => format!("{letter}{round}"),
    }
}

/// Draws a sheet with the parts on it, their letters, and the sheet's size.
#[must_use]
pub fn sheet_picture(facts: SheetPicture<'_>) -> Scene {
    let (width, height) = (facts.plan.sheet_width, facts.plan.sheet_height);
    let sheet = Rect::new(0.0, 0.0, width.mm().max(1.0), height.mm().max(1.0));
    let mut canvas = Canvas::round(sheet, [13.0, 8.0, 3.0, 3.0]);
    canvas.area(LineRole::Back, false, &sheet);
    canvas.draw(LineRole::Outline, false, &sheet);
    let text = |length| facts.ruler.text(length);
    let corner = |x, y| Point::new(x, y);
    canvas.dimension(
        corner(0.0, 0.0),
        corner(sheet.x1, 0.0),
        2.0,
        &text(width),
        LabelStyle::SMALL,
    );
    canvas.dimension(
        corner(0.0, sheet.y1),
        corner(0.0, 0.0),
        2.0,
        &text(height),
        LabelStyle::SMALL,
    );
    for placed in &facts.layout.placed {
        let (x, y) = (placed.x.mm(), placed.y.mm());
        let part = Rect::new(x, y, x + placed.width.mm(), y + placed.height.mm());
        canvas.area(LineRole::Front, false, &part);
        canvas.area(LineRole::Cut, false, &part);
        let middle = [(part.center(), Anchor::Middle)];
        canvas.label_if_room(&part_letter(placed.demand), LabelStyle::SMALL, &middle);
    }
    canvas.finish("How the sheet is cut".to_owned(), description(facts))
}

fn description(facts: SheetPicture<'_>) -> String {
    let text = |length| facts.ruler.text(length);
    let mut words = format!(
        "A sheet {} wide and {} high with",
        text(facts.plan.sheet_width),
        text(facts.plan.sheet_height)
    );
    let mut demands: Vec<usize> = facts
        .layout
        .placed
        .iter()
        .map(|placed| placed.demand)
        .collect();
    demands.sort_unstable();
    demands.dedup();
    let lines = demands.iter().map(|&demand| {
        let of = || {
            facts
                .layout
                .placed
                .iter()
                .filter(move |placed| placed.demand == demand)
        };
        let size = of()
            .next()
            .map(|p| format!("{} by {}", text(p.width), text(p.height)));
        format!(
            " {} x {}, {}",
            of().count(),
            part_letter(demand),
            size.unwrap_or_default()
        )
    });
    words += &lines.collect::<Vec<_>>().join(";");
    words + "."
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Demand, Length, SceneItem, shelf_plan};

    #[test]
    fn every_part_of_the_layout_is_drawn_and_told() {
        let demand = |part: &str, side, quantity| Demand {
            part: part.to_owned(),
            width: Length::from_mm(side),
            height: Length::from_mm(side),
            quantity,
            turnable: true,
        };
        let side = Length::from_mm(300);
        let demands = [demand("box", 140, 4), demand("tag", 20, 3)];
        let plan = shelf_plan(side, side, &demands).expect("fits");
        let (layout, ruler) = (&plan.layouts[0], &Ruler::millimetre());
        let scene = sheet_picture(SheetPicture {
            ruler,
            plan: &plan,
            layout,
        });
        let cuts = scene
            .items
            .iter()
            .filter(|item| matches!(item, SceneItem::Path(path) if path.role == LineRole::Cut));
        assert_eq!(cuts.count(), layout.placed.len());
        insta::assert_snapshot!(scene.description, @"A sheet 300 mm wide and 300 mm high with 4 x A, 140 mm by 140 mm; 3 x B, 20 mm by 20 mm.");
    }

    #[test]
    fn letters_go_on_after_z() {
        let letters: Vec<String> = [0, 25, 26, 53].map(part_letter).to_vec();
        assert_eq!(letters, ["A", "Z", "A1", "B2"]);
    }
}
