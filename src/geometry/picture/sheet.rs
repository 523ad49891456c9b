//! A whole sheet with the parts that are cut from it, as the cut plan lays them.
//!
//! Parts carry letters, because names do not fit on small ones; the caller prints the key. The
//! sheet's size stands above and on the left; the first strips are measured below or on the right.

use kurbo::{Point, Rect};

use super::canvas::{Canvas, LabelStyle};
use super::scene::{Anchor, LineRole, Scene};
use super::size::PictureSize;
use crate::{CutDirection, CutPiece, FenceCut, Length, Placed, Ruler, cut_pieces, off_cuts};

/// The facts of a sheet picture.
#[derive(Clone, Copy, Debug)]
pub struct SheetPicture<'a> {
    /// The ruler that sizes are printed on.
    pub ruler: &'a Ruler,
    /// Width and height of the sheet.
    pub sheet: (Length, Length),
    /// What lies on the sheet.
    pub placed: &'a [Placed],
    /// How it is cut.
    pub cuts: &'a [FenceCut],
}

/// The letter of a part of the plan: A to Z, then A1, B1 and on.
#[must_use]
pub fn part_letter(part: usize) -> String {
    let letter = char::from(b'A' + u8::try_from(part % 26).unwrap_or(0));
    match part / 26 {
        0 => letter.to_string(),
        round => format!("{letter}{round}"),
    }
}

/// Draws a sheet with the parts on it, their letters, and the sizes of sheet and strips.
#[must_use]
pub fn sheet_picture(facts: SheetPicture<'_>, size: PictureSize) -> Scene {
    size.fitted(|size| draw(facts, size))
}

fn draw(facts: SheetPicture<'_>, size: PictureSize) -> Scene {
    let (width, height) = facts.sheet;
    let sheet = Rect::new(0.0, 0.0, width.mm().max(1.0), height.mm().max(1.0));
    // Measures would take most of a small picture; they stand in the list of its cuts.
    let is_small = size.is_small();
    let strips = if is_small {
        Vec::new()
    } else {
        first_strips(&facts)
    };
    let below = strips.first().is_some_and(|strip| strip.height == height);
    // Room beside the sheet for a measure of so many letters.
    let room = |length| 5.0 + 2.1 * facts.ruler.text(length).chars().count() as f64;
    let beside = strips.iter().map(|strip| room(strip.height));
    let (left, top) = match is_small {
        true => (1.0, 1.0),
        false => (room(height).min(40.0), 8.0),
    };
    let [right, bottom] = match strips.is_empty() {
        true if is_small => [1.0, 1.0],
        true => [3.0, 3.0],
        false if below => [3.0, 9.0],
        false => [beside.fold(3.0, f64::max).min(40.0), 3.0],
    };
    let mut canvas = Canvas::round(size, sheet, [left, top, right, bottom]);
    canvas.area(LineRole::Back, false, &sheet);
    canvas.draw(LineRole::Outline, false, &sheet);
    draw_parts(&mut canvas, &facts);
    if !is_small {
        measure(&mut canvas, &facts, sheet, &strips);
    }
    canvas.finish("How the sheet is cut".to_owned(), description(&facts))
}

/// The sheet above and on the left, strips below or on the right.
fn measure(canvas: &mut Canvas, facts: &SheetPicture<'_>, sheet: Rect, strips: &[CutPiece]) {
    let (width, height) = facts.sheet;
    let corner = |x, y| Point::new(x, y);
    let mut measure = |a, b, away, length| {
        let text = facts.ruler.text(length);
        canvas.dimension(a, b, away, &text, LabelStyle::SMALL);
    };
    measure(corner(0.0, 0.0), corner(sheet.x1, 0.0), 2.0, width);
    measure(corner(0.0, sheet.y1), corner(0.0, 0.0), 2.0, height);
    for strip in strips {
        let (x, y) = (strip.x.mm(), strip.y.mm());
        if strip.height == height {
            let ends = (corner(x + strip.width.mm(), sheet.y1), corner(x, sheet.y1));
            measure(ends.0, ends.1, 2.0, strip.width);
        } else {
            let ends = (corner(sheet.x1, y), corner(sheet.x1, y + strip.height.mm()));
            measure(ends.0, ends.1, 2.0, strip.height);
        }
    }
}

/// Each part with its letter where it has room; each letter once at least, with a pointer.
fn draw_parts(canvas: &mut Canvas, facts: &SheetPicture<'_>) {
    let rect = |placed: &Placed| {
        let (x, y) = (placed.x.mm(), placed.y.mm());
        Rect::new(x, y, x + placed.width.mm(), y + placed.height.mm())
    };
    for part in facts.placed.iter().map(rect) {
        canvas.area(LineRole::Front, false, &part);
        canvas.area(LineRole::Cut, false, &part);
    }
    let mut told: Vec<usize> = Vec::new();
    for placed in facts.placed {
        let part = rect(placed);
        let letter = part_letter(placed.demand);
        let middle = [(part.center(), Anchor::Middle)];
        if canvas.label_if_inside(&letter, LabelStyle::SMALL, &middle, part) {
            told.push(placed.demand);
        }
    }
    for placed in facts.placed {
        if !told.contains(&placed.demand) {
            told.push(placed.demand);
            let middle = rect(placed).center();
            canvas.label(
                &part_letter(placed.demand),
                LabelStyle::SMALL,
                &[],
                Some(middle),
            );
        }
    }
}

/// One strip of each size among those that come off the sheet first.
fn first_strips(facts: &SheetPicture<'_>) -> Vec<CutPiece> {
    let mut piece = CutPiece::sheet(facts.sheet.0, facts.sheet.1);
    let mut strips: Vec<CutPiece> = Vec::new();
    let off_sheet = facts.cuts.iter().filter(|cut| cut.piece == 0);
    let first = off_sheet.clone().next().map(|cut| cut.direction);
    for cut in off_sheet.take_while(|cut| Some(cut.direction) == first) {
        let (rest, off) = piece.cut(cut.direction, cut.setting);
        piece = rest;
        let same = |other: &CutPiece| match cut.direction {
            CutDirection::Width => other.width == off.width,
            CutDirection::Height => other.height == off.height,
        };
        if !strips.iter().any(same) {
            strips.push(off);
        }
    }
    strips
}

fn description(facts: &SheetPicture<'_>) -> String {
    let text = |length| facts.ruler.text(length);
    let size = |width, height| format!("{} by {}", text(width), text(height));
    let mut parts: Vec<usize> = facts.placed.iter().map(|placed| placed.demand).collect();
    parts.sort_unstable();
    parts.dedup();
    let line = |part: usize| {
        let of = || {
            facts
                .placed
                .iter()
                .filter(move |placed| placed.demand == part)
        };
        let first = of().next();
        let size = first.map(|placed| size(placed.width, placed.height));
        format!(
            " {} x {}, {}",
            of().count(),
            part_letter(part),
            size.unwrap_or_default()
        )
    };
    let lines: Vec<String> = parts.into_iter().map(line).collect();
    let pieces = cut_pieces(facts.sheet.0, facts.sheet.1, facts.cuts);
    let left = match off_cuts(&pieces, facts.placed).len() {
        0 => "Nothing is left over".to_owned(),
        1 => "1 piece is left over".to_owned(),
        many => format!("{many} pieces are left over"),
    };
    format!(
        "A sheet {} wide and {} high with{}. {left}.",
        text(facts.sheet.0),
        text(facts.sheet.1),
        lines.join(";")
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::SceneItem;

    #[test]
    fn every_part_of_the_sheet_is_drawn_and_told() {
        let mm = Length::from_mm;
        let placed = |demand, x, y, side| Placed {
            demand,
            x: mm(x),
            y: mm(y),
            width: mm(side),
            height: mm(side),
            turned: false,
        };
        let cut = |direction, setting, piece, off| FenceCut {
            direction,
            setting: mm(setting),
            piece,
            off,
        };
        use CutDirection::{Height, Width};
        let cuts = [
            cut(Height, 140, 0, 1),
            cut(Width, 140, 1, 2),
            cut(Width, 140, 1, 3),
            cut(Height, 20, 0, 4),
            cut(Width, 20, 4, 5),
        ];
        let parts = [
            placed(0, 0, 0, 140),
            placed(0, 140, 0, 140),
            placed(1, 0, 140, 20),
        ];
        let scene = sheet_picture(
            SheetPicture {
                ruler: &Ruler::millimetre(),
                sheet: (mm(300), mm(300)),
                placed: &parts,
                cuts: &cuts,
            },
            PictureSize::FREE,
        );
        let paths = scene
            .items
            .iter()
            .filter(|item| matches!(item, SceneItem::Path(path) if path.role == LineRole::Cut));
        assert_eq!(paths.count(), parts.len());
        insta::assert_snapshot!(scene.description, @"A sheet 300 mm wide and 300 mm high with 2 x A, 140 mm by 140 mm; 1 x B, 20 mm by 20 mm. 3 pieces are left over.");
        let texts = scene.items.iter().filter_map(|item| match item {
            SceneItem::Text(text) => Some(text.text.as_str()),
            SceneItem::Path(_) => None,
        });
        let mut texts: Vec<&str> = texts.collect();
        texts.sort_unstable();
        assert_eq!(
            texts,
            ["140 mm", "20 mm", "300 mm", "300 mm", "A", "A", "B"]
        );
    }

    #[test]
    fn letters_go_on_after_z() {
        let letters: Vec<String> = [0, 25, 26, 53].map(part_letter).to_vec();
        assert_eq!(letters, ["A", "Z", "A1", "B2"]);
    }
}
