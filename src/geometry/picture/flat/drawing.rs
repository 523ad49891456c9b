//! Paper, lines, glue and arrows of a flat picture.

use kurbo::{BezPath, Point, Vec2};

use super::{Flat, FlatNow, edges, middle};
use crate::picture::canvas::{Canvas, segments};
use crate::picture::scene::LineRole;
use crate::region::Region;
use crate::{CreaseId, GlueZone, PanelId, Side, WasteReason};

impl Flat<'_> {
    pub(super) fn draw_paper(&self, canvas: &mut Canvas) {
        let role = match self.up {
            Side::Inside => LineRole::Back,
            Side::Outside => LineRole::Front,
        };
        canvas.area(role, false, &self.paper());
        let mut moving = self.moving();
        while let Some(id) = moving.pop() {
            let strips = self.pattern.bent_panel(id);
            moving.retain(|panel| !strips.contains(panel));
            for whole in self.whole(&strips) {
                canvas.area(LineRole::Moving, false, &whole);
            }
        }
        for (waste, is_now) in self.attached() {
            if is_now || self.facts.now == FlatNow::Template {
                canvas.area(LineRole::Waste, false, &self.sheet(&waste.outline));
            }
        }
    }

    pub(super) fn draw_lines(&self, canvas: &mut Canvas) {
        let place = |(a, b): (Point, Point)| (self.turn * a, self.turn * b);
        let attached = self.attached().map(|(waste, _)| waste);
        let edges = edges::of_paper(self.pattern, attached, &self.folded);
        canvas.draw(
            LineRole::Outline,
            false,
            &segments(edges.into_iter().map(place)),
        );
        // A window is cut out of the bare sheet.
        let is_bare = self.facts.now == FlatNow::TakeOff(WasteReason::Window);
        let creases = self.pattern.creases.iter().filter(|_| !is_bare).enumerate();
        // What lies folded over takes its own creases along.
        let gone = |id: PanelId| self.folded.contains(&id);
        let creases = creases
            .filter(|(_, crease)| !(crease.smooth || gone(crease.parent) && gone(crease.child)));
        let (now, done): (Vec<_>, Vec<_>) =
            creases.partition(|(index, _)| self.is_now(CreaseId(*index)));
        for (is_now, creases) in [(false, done), (true, now)] {
            let lines = creases
                .into_iter()
                .map(|(_, crease)| place((crease.a, crease.b)));
            canvas.draw(LineRole::Crease, is_now, &segments(lines));
        }
        let slits = self.pattern.cuts.iter().filter(|_| !is_bare);
        let slits = slits.map(|cut| place((cut.a, cut.b)));
        canvas.draw(
            LineRole::Cut,
            self.facts.now == FlatNow::Cuts,
            &segments(slits),
        );
        let off: Vec<_> = self
            .attached()
            .filter(|(_, now)| *now)
            .map(|(waste, _)| waste)
            .collect();
        let cut_off = edges::inner(self.pattern, &off).into_iter().map(place);
        canvas.draw(LineRole::Cut, true, &segments(cut_off));
    }

    /// What lies folded over hides what is under it.
    pub(super) fn draw_folded(&self, canvas: &mut Canvas) {
        let mut drawn: Vec<PanelId> = Vec::new();
        for id in &self.folded {
            if drawn.contains(id) {
                continue;
            }
            let strips = self.pattern.bent_panel(*id);
            for whole in self.whole(&strips) {
                canvas.area(LineRole::Front, false, &whole);
                canvas.draw(LineRole::Outline, false, &whole);
            }
            drawn.extend(strips);
        }
    }

    /// A panel where it lies; of a bent one all strips as one.
    fn whole(&self, strips: &[PanelId]) -> Vec<BezPath> {
        let panels = strips.iter().filter_map(|id| self.pattern.panel(*id));
        let outlines: Vec<&[Point]> = panels.map(|panel| panel.outline.as_slice()).collect();
        match strips {
            [] => Vec::new(),
            [alone] => vec![self.panel(*alone)],
            [first, ..] => {
                let rings = Region::union(&outlines).rings();
                rings.iter().map(|ring| self.on(*first, ring)).collect()
            }
        }
    }

    pub(super) fn draw_glue(&self, canvas: &mut Canvas) {
        if let FlatNow::Film(side) = self.facts.now {
            self.draw_film(canvas, side);
        }
        for zone in &self.zones {
            canvas.draw(LineRole::Glue, true, &self.on(zone.on, &zone.area));
        }
        if self.facts.now == FlatNow::Template {
            for zone in self
                .pattern
                .glue
                .iter()
                .filter(|zone| zone.on_side == self.up)
            {
                canvas.draw(LineRole::Glue, false, &self.sheet(&zone.area));
            }
        }
    }

    /// A square of film over each window, glued wherever it lies on paper.
    fn draw_film(&self, canvas: &mut Canvas, side: f64) {
        for (window, _) in self.pattern.windows() {
            let film = square(middle(&window.outline), side);
            let glued = Region::difference(&[&film], &[&window.outline]);
            let rings: BezPath = glued.rings().iter().flat_map(|it| self.sheet(it)).collect();
            canvas.draw(LineRole::Glue, true, &rings);
            canvas.draw(LineRole::Outline, true, &self.sheet(&film));
        }
    }

    pub(super) fn draw_moves(&self, canvas: &mut Canvas) {
        let u = canvas.u();
        for (id, _) in self.moves() {
            if let Some(crease) = self.pattern.creases.get(id.0) {
                let (from, to) = self.over(crease.child, crease.a, crease.b);
                let bow = if from.x <= to.x { 0.28 } else { -0.28 };
                canvas.bowed_arrow(true, from, to, bow);
            }
        }
        for zone in self.told_zones() {
            let (from, to) = (self.glue_at(zone), self.middle_of(zone.to));
            if (to - from).hypot() > 8.0 * u {
                let bow = if from.x <= to.x { 0.25 } else { -0.25 };
                canvas.bowed_arrow(false, from, to, bow);
            }
        }
        if self.facts.now == FlatNow::TurnOver {
            let view = canvas.view();
            let y = view.y0 + 16.0 * u;
            let (left, right) = (view.x0 + 25.0 * u, view.x1 - 25.0 * u);
            canvas.bowed_arrow(true, Point::new(left, y), Point::new(right, y), 0.25);
        }
    }

    pub(super) fn glue_at(&self, zone: &GlueZone) -> Point {
        self.lies.get(zone.on.0).copied().unwrap_or(self.turn) * middle(&zone.area)
    }

    /// From the middle of a panel over its crease, as far as a fold would carry it, but a little
    /// less so that the arrow stays on the paper.
    fn over(&self, child: PanelId, a: Point, b: Point) -> (Point, Point) {
        let (a, b) = (self.turn * a, self.turn * b);
        let from = self.middle_of(child);
        let along = (b - a) / (b - a).hypot().max(1e-9);
        let foot = a + along * (from - a).dot(along);
        (from, foot + (foot - from) * 0.8)
    }
}

fn square(middle: Point, side: f64) -> [Point; 4] {
    let at = |x: f64, y: f64| middle + Vec2::new(x, y) * (side / 2.0);
    [at(-1.0, -1.0), at(1.0, -1.0), at(1.0, 1.0), at(-1.0, 1.0)]
}
