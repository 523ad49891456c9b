//! Where tiles meet.

use tablefold_geometry::Point;

use super::area::Area;
use super::frame;
use super::pen::{Line, Pen};
use super::quad::{Quad, Segment};

/// A line that two tiles share, with two crosses on it.
pub(super) struct Join {
    /// Its place across.
    pub(super) at: f64,
    pub(super) upright: bool,
    /// What the tile shows.
    pub(super) shown: Area,
    /// The tile on the other side.
    pub(super) name: String,
    /// How far along its name stands.
    pub(super) words_at: f64,
}

impl Join {
    pub(super) fn along(&self, part: f64) -> Point {
        let Area { left, top, .. } = self.shown;
        match self.upright {
            true => Point::new(self.at, top + self.shown.height() * part),
            false => Point::new(left + self.shown.width() * part, self.at),
        }
    }

    /// The middle of the tile, across the line.
    pub(super) fn middle(&self) -> f64 {
        let middle = self.shown.middle();
        if self.upright { middle.x } else { middle.y }
    }

    /// Moves its name to where no line of the template runs through it, if it can.
    pub(super) fn keep_clear(&mut self, lines: &[Segment]) {
        let mut places = [0.5, 0.4, 0.6, 0.3, 0.7, 0.1, 0.9].into_iter();
        let clear = |join: &Self| !lines.iter().any(|&line| join.takes().meets(line));
        while !clear(self) {
            let Some(place) = places.next() else {
                self.words_at = 0.5;
                return;
            };
            self.words_at = place;
        }
    }

    /// What its name takes up, on the line.
    pub(super) fn takes(&self) -> Quad {
        let size = (20.0, 4.4);
        let angle = if self.upright { 90.0 } else { 0.0 };
        Quad::round(self.along(self.words_at), size, angle)
    }

    pub(super) fn draw(&self, pen: &mut Pen<'_, '_>) {
        pen.line(&[self.along(0.0), self.along(1.0)], false, Line::Guide);
        for part in [0.2, 0.8] {
            frame::draw_cross(pen, self.along(part), 3.0);
        }
        pen.fill(&self.takes().0, 255);
        let angle = if self.upright { 90.0 } else { 0.0 };
        pen.within(self.along(self.words_at), angle, |pen| {
            pen.words(Point::new(0.0, 0.0), 8.0, &[format!("joins {}", self.name)]);
        });
    }
}
