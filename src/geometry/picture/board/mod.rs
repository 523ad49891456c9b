//! A sheet on the punch board: edge at the fence, the mark to set, notch and score.
//!
//! ```text
//!      ruler grows to the left   notch
//!   <--|-------|-------|---------  V ------  fence, y = 0
//!      +---------------------------\------+
//!      | sheet, left corner at -p   \     |   the score runs down to the right at 45°
//! ```
//!
//! The notch is at the origin, so a sheet set at p has its left corner at (-p, 0). In the frame
//! of the sheet a punch at p has its notch point at (p, e) and its score on y - x = e - p.
//! A quarter turn counter-clockwise takes (x, y) to (y, S - x): the score comes to
//! x + y = S - p + e and meets the notch point of the next side, (S - p, e).
//!
//! A board is the same tool for either hand, so this picture is never mirrored.

mod drawing;
mod sentences;

use kurbo::{Point, Rect};

use super::canvas::Canvas;
use super::lens::LensAt;
use super::scene::Scene;
use super::size::PictureSize;
use crate::{Length, PunchBoard};

/// What is done on this side of the sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PunchNow {
    /// Turn the sheet a quarter counter-clockwise, to this side.
    Turn,
    /// The punch with this index, and its score.
    Punch(usize),
    /// Every punch of the side with its score, the first one set.
    AlongGuide,
}

/// The facts of a punch picture.
#[derive(Clone, Copy, Debug)]
pub struct PunchPicture<'a> {
    /// The board with its ruler and notch depth.
    pub board: &'a PunchBoard,
    /// The side of the square sheet.
    pub sheet: Length,
    /// All punches of side 1, in order; the other sides follow from them.
    pub punches: &'a [Length],
    /// Which side is at the fence, 1 to 4.
    pub side: u8,
    /// What is done.
    pub now: PunchNow,
}

/// Draws a sheet on the punch board.
#[must_use]
pub fn punch_picture(facts: PunchPicture<'_>, size: PictureSize) -> Scene {
    size.fitted(|size| draw(facts, size))
}

fn draw(facts: PunchPicture<'_>, size: PictureSize) -> Scene {
    let sheet = OnBoard::new(facts);
    let (mut canvas, lens) = sheet.canvas(size);
    sheet.draw_board(&mut canvas, lens);
    sheet.draw_sheet(&mut canvas);
    sheet.draw_done(&mut canvas);
    sheet.draw_now(&mut canvas);
    if sheet.sets_ruler() {
        sheet.draw_mark(&mut canvas, lens);
    } else if facts.now == PunchNow::Turn {
        sheet.draw_turn(&mut canvas);
    } else {
        sheet.draw_guide(&mut canvas);
    }
    sheet.draw_ruler(&mut canvas);
    sheet.draw_words(&mut canvas, lens, size.is_small());
    canvas.finish(sheet.title(), sheet.description())
}

/// Height of the band with the ruler above the fence, `u`.
const BAND: f64 = 10.0;

struct OnBoard<'a> {
    facts: PunchPicture<'a>,
    s: f64,
    e: f64,
    side: u8,
    /// The setting of the sheet on this side, mm.
    set: f64,
}

impl<'a> OnBoard<'a> {
    fn new(facts: PunchPicture<'a>) -> Self {
        let s = facts.sheet.mm().max(1.0);
        let side = facts.side.clamp(1, 4);
        let mut this = Self {
            facts,
            s,
            e: facts.board.notch_depth().mm(),
            side,
            set: s / 2.0,
        };
        let first = match facts.now {
            PunchNow::Punch(index) => index,
            PunchNow::Turn | PunchNow::AlongGuide => 0,
        };
        if let Some(punch) = facts.punches.get(first) {
            this.set = this.along(side, punch.mm());
        }
        this
    }

    /// How far a punch lies from the left corner of a side: p on sides 1 and 3, S - p on 2 and 4.
    fn along(&self, side: u8, punch: f64) -> f64 {
        if side % 2 == 1 { punch } else { self.s - punch }
    }

    /// A point of the sheet, as it lies on this side, on the board.
    fn place(&self, p: Point) -> Point {
        Point::new(p.x - self.set, p.y)
    }

    /// A point of the sheet as it lay at `side`, on the board now.
    fn turned(&self, side: u8, p: Point) -> Point {
        let quarter = |p: Point| Point::new(p.y, self.s - p.x);
        self.place((side..self.side).fold(p, |p, _| quarter(p)))
    }

    fn sets_ruler(&self) -> bool {
        self.side == 1 && self.facts.now != PunchNow::Turn
    }

    fn is_now(&self, index: usize) -> bool {
        match self.facts.now {
            PunchNow::Turn => false,
            PunchNow::Punch(now) => now == index,
            PunchNow::AlongGuide => true,
        }
    }

    fn is_done_on_this_side(&self, index: usize) -> bool {
        matches!(self.facts.now, PunchNow::Punch(now) if index < now)
    }

    /// The punches made before this step: the side they were made on and how far along it.
    fn done(&self) -> Vec<(u8, f64)> {
        let earlier = (1..self.side).flat_map(|side| {
            self.facts
                .punches
                .iter()
                .map(move |punch| (side, punch.mm()))
        });
        let this_side = self.facts.punches.iter().enumerate();
        let this_side = this_side
            .filter(|(index, _)| self.is_done_on_this_side(*index))
            .map(|(_, punch)| (self.side, punch.mm()));
        earlier
            .chain(this_side)
            .map(|(side, p)| (side, self.along(side, p)))
            .collect()
    }

    /// The punches of this step, by how far along the side they are.
    fn current(&self) -> Vec<f64> {
        let punches = self.facts.punches.iter().enumerate();
        punches
            .filter(|(index, _)| self.is_now(*index))
            .map(|(_, punch)| self.along(self.side, punch.mm()))
            .collect()
    }

    fn canvas(&self, size: PictureSize) -> (Canvas, LensAt) {
        let sheet = Rect::new(-self.set, 0.0, self.s - self.set, self.s);
        let content = sheet.union(Rect::new(-self.e, 0.0, self.e, 0.0));
        let (left, right, below) = match size.is_small() {
            true => (6.0, 5.0, 2.5),
            false => (11.0, 7.0, 10.0),
        };
        let (lens, margins) = if self.sets_ruler() {
            LensAt::choose(size, content, [left, BAND, right, below])
        } else {
            (LensAt::Nowhere, [left, BAND + 7.5, right, below])
        };
        (Canvas::round(size, content, margins), lens)
    }

    /// From the notch point down to the right to the edge, in the frame of the sheet.
    fn score(&self, at: f64) -> (Point, Point) {
        let reach = (self.s - at).min(self.s - self.e).max(0.0);
        (
            Point::new(at, self.e),
            Point::new(at + reach, self.e + reach),
        )
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    const HUNDREDTH_MM: i64 = 10_000;

    fn on_board<'a>(
        board: &'a PunchBoard,
        sheet: Length,
        at: &'a [Length],
        side: u8,
    ) -> OnBoard<'a> {
        let now = PunchNow::Punch(0);
        OnBoard::new(PunchPicture {
            board,
            sheet,
            punches: at,
            side,
            now,
        })
    }

    proptest! {
        /// geometry.md §2: the score through (p, S - e) meets the next side's notch point (S - e, p).
        #[test]
        fn the_score_of_a_side_meets_the_notch_point_of_the_next(
            sheet in 5_000..40_000_i64, share in 0.15..0.85_f64, side in 1..=3_u8,
        ) {
            let board = PunchBoard::default_inch();
            let punch = [Length::from_nm((sheet as f64 * share) as i64 * HUNDREDTH_MM)];
            let sheet = Length::from_nm(sheet * HUNDREDTH_MM);
            let next = on_board(&board, sheet, &punch, side + 1);
            let (from, to) = next.score(next.along(side, punch[0].mm()));
            let (from, to) = (next.turned(side, from), next.turned(side, to));
            // On the board the notch point is e under the origin.
            let off = (to - from).cross(Point::new(0.0, next.e) - from) / (to - from).hypot();
            prop_assert!(off.abs() < 1e-9, "{off} mm off");
            // And the score runs out of the edge where the picture draws the guide.
            prop_assert!((to.x - next.e).abs() < 1e-9 && to.y.abs() < 1e-9, "{to:?}");
        }
    }

    #[test]
    fn sides_two_and_four_count_from_the_other_corner() {
        let board = PunchBoard::default_inch();
        let (sheet, punch) = (Length::from_mm(100), [Length::from_mm(30)]);
        let set = |side| on_board(&board, sheet, &punch, side).set;
        assert_eq!([1, 2, 3, 4].map(set), [30.0, 70.0, 30.0, 70.0]);
    }

    #[test]
    fn the_words_say_what_the_picture_shows() {
        let board = PunchBoard::default_inch();
        let sixteenths = |n| Length::inch_fraction(n, 16).unwrap();
        let punches = [sixteenths(24), sixteenths(46)];
        let say = |side, now| {
            let sheet = sixteenths(84);
            let facts = PunchPicture {
                board: &board,
                sheet,
                punches: &punches,
                side,
                now,
            };
            punch_picture(facts, PictureSize::FREE).description
        };
        insta::assert_snapshot!(say(1, PunchNow::Punch(1)), @"A sheet 5 1/4 in square with its edge at the fence, its left corner at 2 7/8 in on the ruler. Punch, then score down to the right. Punch 2 of 2. Side 1 of 4.");
        insta::assert_snapshot!(say(2, PunchNow::Turn), @"A sheet 5 1/4 in square, turned a quarter counter-clockwise. Side 2 of 4 is now at the fence.");
        insta::assert_snapshot!(say(3, PunchNow::Punch(0)), @"A sheet 5 1/4 in square with its edge at the fence, moved until score 1 of side 2 meets the guide. Punch, then score down to the right. Punch 1 of 2. Side 3 of 4.");
        insta::assert_snapshot!(say(4, PunchNow::AlongGuide), @"A sheet 5 1/4 in square with its edge at the fence. For each score of side 3: move the sheet until that score meets the guide, punch, then score down to the right. Side 4 of 4.");
    }
}
