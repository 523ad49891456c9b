//! The board, the sheet on it, what is punched and scored, and the mark or guide to set it by.

use kurbo::{Circle, Point, Rect, Shape, Vec2};

use super::{BAND, OnBoard, PunchNow};
use crate::Length;
use crate::picture::canvas::{Canvas, LabelStyle, polygon, segments};
use crate::picture::lens::{AtTheMark, Lens, LensAt};
use crate::picture::ruler_marks::RulerStrip;
use crate::picture::scene::{Anchor, LineRole, TextSize};

/// A sheet drawn smaller than this, `u`, has no room for the names of edges.
const SMALL_SHEET: f64 = 45.0;

impl OnBoard<'_> {
    pub(super) fn draw_board(&self, canvas: &mut Canvas, lens: LensAt) {
        let (view, u) = (canvas.view(), canvas.u());
        let end = lens.tool_end(view, u);
        let body = Rect::new(view.x0 + u, -BAND * u, end, 16.0 * u);
        canvas.area(LineRole::Tool, false, &body.to_rounded_rect(2.0 * u));
        canvas.line(
            LineRole::Outline,
            false,
            Point::new(view.x0 + u, 0.0),
            Point::new(end, 0.0),
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
    pub(super) fn draw_sheet(&self, canvas: &mut Canvas) {
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

    pub(super) fn draw_done(&self, canvas: &mut Canvas) {
        let scores = segments(self.done().into_iter().map(|(side, at)| {
            let (from, to) = self.score(at);
            (self.turned(side, from), self.turned(side, to))
        }));
        canvas.draw(LineRole::Crease, false, &scores);
    }

    pub(super) fn draw_now(&self, canvas: &mut Canvas) {
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
    pub(super) fn draw_score_arrow(&self, canvas: &mut Canvas, from: Point, to: Point) {
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

    pub(super) fn draw_ruler(&self, canvas: &mut Canvas) {
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
    pub(super) fn draw_mark(&self, canvas: &mut Canvas, lens: LensAt) {
        let index = match self.facts.now {
            PunchNow::Punch(index) => index,
            PunchNow::Turn | PunchNow::AlongGuide => 0,
        };
        if let Some(&set) = self.facts.punches.get(index) {
            Lens {
                ruler: self.facts.board.ruler(),
                set,
                mark: Point::new(-self.set, 0.0),
                band: BAND,
                grows_left: true,
                shows: AtTheMark::LeftCorner,
                at: lens,
            }
            .draw(canvas);
        }
    }

    pub(super) fn draw_turn(&self, canvas: &mut Canvas) {
        let (u, middle) = (canvas.u(), self.s / 2.0);
        let centre = self.place(Point::new(middle, middle));
        let radius = 20.0 * u;
        canvas.quarter_turn(true, centre, radius);
        let places =
            [5.0, 11.0, -30.0].map(|down| (centre + Vec2::new(0.0, down * u), Anchor::Middle));
        canvas.label("a quarter turn", LabelStyle::NOW, &places, None);
    }

    /// The printed guide above the fence and the score that runs into it.
    pub(super) fn draw_guide(&self, canvas: &mut Canvas) {
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

    pub(super) fn draw_words(&self, canvas: &mut Canvas, lens: LensAt, is_small: bool) {
        let u = canvas.u();
        let end = Point::new(lens.tool_end(canvas.view(), u) - 1.5 * u, -2.5 * u);
        canvas.label_if_room("fence", LabelStyle::SMALL, &[(end, Anchor::End)]);
        let view = canvas.view();
        canvas.keep_clear(Rect::new(view.x0, -BAND * u, view.x1, 0.0));
        if !is_small {
            let foot = [-self.set, self.s - self.set].map(|x| Point::new(x, self.s));
            let side = self.facts.board.ruler().text(self.facts.sheet);
            canvas.dimension(foot[0], foot[1], -2.5, &side, LabelStyle::SMALL);
        }
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
        // On a small sheet the name of an edge would stand in the middle, and name the sheet.
        let named = if self.s < SMALL_SHEET * u {
            0
        } else {
            self.side
        };
        for side in 1..named {
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
}
