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

use kurbo::{Circle, Point, Rect, Shape, Vec2};

use super::canvas::{Canvas, LabelStyle, polygon, segments};
use super::lens::{AtTheMark, Lens};
use super::ruler_marks::RulerStrip;
use super::scene::{Anchor, LineRole, Scene, TextSize};
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
pub fn punch_picture(facts: PunchPicture<'_>) -> Scene {
    let sheet = OnBoard::new(facts);
    let mut canvas = sheet.canvas();
    sheet.draw_board(&mut canvas);
    sheet.draw_sheet(&mut canvas);
    sheet.draw_done(&mut canvas);
    sheet.draw_now(&mut canvas);
    if sheet.sets_ruler() {
        sheet.draw_mark(&mut canvas);
    } else if facts.now == PunchNow::Turn {
        sheet.draw_turn(&mut canvas);
    } else {
        sheet.draw_guide(&mut canvas);
    }
    sheet.draw_ruler(&mut canvas);
    sheet.draw_words(&mut canvas);
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

    fn canvas(&self) -> Canvas {
        let sheet = Rect::new(-self.set, 0.0, self.s - self.set, self.s);
        let button = Rect::new(-self.e, 0.0, self.e, 0.0);
        let top = if self.sets_ruler() {
            BAND + Lens::HEIGHT + 5.0
        } else {
            BAND + 9.0
        };
        Canvas::round(sheet.union(button), [11.0, top, 7.0, 10.0])
    }

    fn draw_board(&self, canvas: &mut Canvas) {
        let (view, u) = (canvas.view(), canvas.u());
        let body = Rect::new(view.x0 + u, -BAND * u, view.x1 - u, 16.0 * u);
        canvas.area(LineRole::Tool, false, &body.to_rounded_rect(2.0 * u));
        canvas.line(
            LineRole::Outline,
            false,
            Point::new(view.x0 + u, 0.0),
            Point::new(view.x1 - u, 0.0),
        );
        let button = Circle::new(Point::new(0.0, -5.6 * u), 3.0 * u);
        let now = self.facts.now != PunchNow::Turn;
        canvas.keep_clear(button.bounding_box().inset(0.5 * u));
        canvas.draw(LineRole::Arrow, now, &button);
        if now {
            canvas.arrow(true, Point::new(0.0, -7.4 * u), Point::new(0.0, -3.6 * u));
        }
    }

    /// The paper with the notches in its edges.
    fn draw_sheet(&self, canvas: &mut Canvas) {
        let mut notches: Vec<(u8, f64)> = self.done();
        notches.extend(self.current().into_iter().map(|at| (self.side, at)));
        let mut corners = Vec::new();
        // Clockwise as seen: the fence, then the sides made three, two and one turns ago.
        for turns in [0, 3, 2, 1] {
            let side = (self.side + 4 - turns - 1) % 4 + 1;
            let mut places: Vec<f64> = notches
                .iter()
                .filter(|(on, _)| *on == side && side <= self.side)
                .map(|(_, at)| *at)
                .collect();
            places.sort_by(f64::total_cmp);
            let edge = std::iter::once(Point::ORIGIN).chain(places.into_iter().flat_map(|at| {
                [(at - self.e, 0.0), (at, self.e), (at + self.e, 0.0)].map(Point::from)
            }));
            let quarter = |p: Point| Point::new(p.y, self.s - p.x);
            corners.extend(edge.map(|p| self.place((0..turns).fold(p, |p, _| quarter(p)))));
        }
        let paper = polygon(&corners);
        canvas.area(LineRole::Back, false, &paper);
        canvas.draw(LineRole::Outline, false, &paper);
    }

    fn draw_done(&self, canvas: &mut Canvas) {
        let scores = segments(self.done().into_iter().map(|(side, at)| {
            let (from, to) = self.score(at);
            (self.turned(side, from), self.turned(side, to))
        }));
        canvas.draw(LineRole::Crease, false, &scores);
    }

    fn draw_now(&self, canvas: &mut Canvas) {
        for at in self.current() {
            let notch = [(at - self.e, 0.0), (at, self.e), (at + self.e, 0.0)];
            let notch = polygon(&notch.map(|p| self.place(p.into())));
            canvas.draw(LineRole::Outline, true, &notch);
            let (from, to) = self.score(at);
            let (from, to) = (self.place(from), self.place(to));
            canvas.line(LineRole::Crease, true, from, to);
            self.draw_score_arrow(canvas, from, to);
        }
    }

    /// A thin arrow beside the score, so that its dashes stay visible.
    fn draw_score_arrow(&self, canvas: &mut Canvas, from: Point, to: Point) {
        let u = canvas.u();
        let length = (to - from).hypot();
        if length < 14.0 * u {
            return;
        }
        let beside = Vec2::new(1.6 * u, -1.6 * u);
        let start = from.lerp(to, 0.3) + beside;
        canvas.arrow(
            true,
            start,
            start + (to - from) / length * (10.0 * u).min(0.4 * length),
        );
    }

    /// From the notch point down to the right to the edge, in the frame of the sheet.
    fn score(&self, at: f64) -> (Point, Point) {
        let reach = (self.s - at).min(self.s - self.e).max(0.0);
        (
            Point::new(at, self.e),
            Point::new(at + reach, self.e + reach),
        )
    }

    fn draw_ruler(&self, canvas: &mut Canvas) {
        let shown = (-canvas.view().x0 - 3.0 * canvas.u()).max(0.0);
        RulerStrip {
            ruler: self.facts.board.ruler(),
            shown: (Length::from_nm(1), Length::from_nm((shown * 1e6) as i64)),
            zero: Point::ORIGIN,
            scale: -1.0,
            closest: 0.8,
            numbers_within: None,
        }
        .draw(canvas);
    }

    /// The mark to set, and the ruler round it magnified with the corner of the sheet.
    fn draw_mark(&self, canvas: &mut Canvas) {
        let index = match self.facts.now {
            PunchNow::Punch(index) => index,
            PunchNow::Turn | PunchNow::AlongGuide => 0,
        };
        if let Some(&set) = self.facts.punches.get(index) {
            Lens {
                ruler: self.facts.board.ruler(),
                set,
                mark: Point::new(-self.set, 0.0),
                above: BAND + 3.0,
                grows_left: true,
                shows: AtTheMark::LeftCorner,
            }
            .draw(canvas);
        }
    }

    fn draw_turn(&self, canvas: &mut Canvas) {
        let (u, middle) = (canvas.u(), self.s / 2.0);
        let centre = self.place(Point::new(middle, middle));
        let radius = 20.0 * u;
        canvas.quarter_turn(true, centre, radius);
        let places =
            [5.0, 11.0, -30.0].map(|down| (centre + Vec2::new(0.0, down * u), Anchor::Middle));
        canvas.label("a quarter turn", LabelStyle::NOW, &places, None);
    }

    /// The printed guide above the fence and the score that runs into it.
    fn draw_guide(&self, canvas: &mut Canvas) {
        let u = canvas.u();
        let meet = Point::new(self.e, 0.0);
        let end = meet + Vec2::new((BAND - 1.0) * u, -(BAND - 1.0) * u);
        canvas.line(LineRole::Guide, true, meet, end);
        canvas.draw(LineRole::Dimension, true, &Circle::new(meet, 1.8 * u));
        let on_the_right = (end + Vec2::new(1.5 * u, 1.5 * u), Anchor::Start);
        let above = (Point::new(meet.x, -(BAND + 3.5) * u), Anchor::Middle);
        let left = (Point::new(meet.x - 4.0 * u, -(BAND + 3.5) * u), Anchor::End);
        let right = (
            Point::new(canvas.view().x1 - u, -(BAND + 3.5) * u),
            Anchor::End,
        );
        canvas.label(
            "score meets guide",
            LabelStyle::NOW,
            &[on_the_right, above, left, right],
            Some(end),
        );
    }

    fn draw_words(&self, canvas: &mut Canvas) {
        let u = canvas.u();
        let ruler = self.facts.board.ruler();
        let foot = (
            Point::new(-self.set, self.s),
            Point::new(self.s - self.set, self.s),
        );
        let side = ruler.text(self.facts.sheet);
        canvas.dimension(foot.0, foot.1, -2.5, &side, LabelStyle::SMALL);
        let places = [0.5, 0.3, 0.7, 0.2, 0.8].map(|along| {
            (
                self.place(Point::new(self.s * along, self.s - 4.0 * u)),
                Anchor::Middle,
            )
        });
        let style = LabelStyle {
            size: TextSize::Normal,
            now: false,
        };
        canvas.label(&format!("side {} of 4", self.side), style, &places, None);
        for side in 1..self.side {
            let name = format!("side {side}");
            let places: Vec<_> = [0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8]
                .into_iter()
                .flat_map(|along| {
                    [3.0, 5.0].map(|depth| {
                        let at = self.turned(side, Point::new(self.s * along, depth * u));
                        let anchor = match self.side - side {
                            1 => Anchor::Start,
                            3 => Anchor::End,
                            _ => Anchor::Middle,
                        };
                        (at, anchor)
                    })
                })
                .collect();
            canvas.label_if_room(&name, LabelStyle::SMALL, &places);
        }
    }

    fn title(&self) -> String {
        match self.facts.now {
            PunchNow::Turn => format!("Turn the sheet to side {} of 4", self.side),
            _ => format!("Punch and score side {} of 4", self.side),
        }
    }

    fn description(&self) -> String {
        let ruler = self.facts.board.ruler();
        let sheet = ruler.text(self.facts.sheet);
        let side = self.side;
        let count = self.facts.punches.len();
        match self.facts.now {
            PunchNow::Turn => format!(
                "A sheet {sheet} square, turned a quarter counter-clockwise. Side {side} of 4 is now \
                 at the fence."
            ),
            PunchNow::Punch(index) if side == 1 => {
                let at = self
                    .facts
                    .punches
                    .get(index)
                    .map(|p| ruler.text(*p))
                    .unwrap_or_default();
                format!(
                    "A sheet {sheet} square with its edge at the fence, its left corner at {at} on \
                     the ruler. Punch, then score down to the right. Punch {} of {count}. Side 1 of 4.",
                    index + 1,
                )
            }
            PunchNow::AlongGuide if side == 1 => format!(
                "A sheet {sheet} square with its edge at the fence. Punch and score at {}. Side 1 of 4.",
                self.facts
                    .punches
                    .iter()
                    .map(|p| ruler.text(*p))
                    .collect::<Vec<_>>()
                    .join(", then at "),
            ),
            PunchNow::Punch(index) => format!(
                "A sheet {sheet} square with its edge at the fence, moved until score {} of side {} \
                 meets the guide. Punch, then score down to the right. Punch {} of {count}. Side {side} \
                 of 4.",
                index + 1,
                side - 1,
                index + 1,
            ),
            PunchNow::AlongGuide => format!(
                "A sheet {sheet} square with its edge at the fence. For each score of side {}: move the \
                 sheet until that score meets the guide, punch, then score down to the right. Side \
                 {side} of 4.",
                side - 1,
            ),
        }
    }
}
