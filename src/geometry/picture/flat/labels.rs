//! Labels and sizes on a flat picture.

use kurbo::BezPath;

use super::{
    Anchor, Canvas, Flat, FlatNow, LabelStyle, PanelId, Point, Shape, Side, Solid, middle,
};
use crate::picture::scene::TextSize;

const SMALL_NOW: LabelStyle = LabelStyle {
    size: TextSize::Small,
    now: true,
};

/// An opening this wide, `u`, has room for a word.
const ROOMY: f64 = 12.0;

impl Flat<'_> {
    pub(super) fn write(&self, canvas: &mut Canvas, is_small: bool) {
        match self.facts.now {
            FlatNow::Template => self.write_sizes(canvas, is_small),
            FlatNow::Fold(_) | FlatNow::Folds(..) => {
                self.write_panels(canvas, &self.moving(), SMALL_NOW);
            }
            FlatNow::Glue(_) | FlatNow::GlueBefore(_) => self.write_glue(canvas),
            FlatNow::Film(_) => {
                for (window, _) in self.pattern.windows() {
                    let at = [(self.turn * middle(&window.outline), Anchor::Middle)];
                    canvas.label("film", LabelStyle::NOW, &at, None);
                }
            }
            FlatNow::TakeOff(_) => self.write_off(canvas),
            FlatNow::Cuts => {
                for (index, cut) in self.pattern.cuts.iter().enumerate() {
                    let at = self.turn * cut.a.midpoint(cut.b);
                    let number = (index + 1).to_string();
                    canvas.label_if_room(&number, LabelStyle::NOW, &canvas.around(at)[1..]);
                }
            }
            FlatNow::TurnOver => {
                let view = canvas.view();
                let at = Point::new(view.center().x, view.y0 + 17.0 * canvas.u());
                canvas.label("turn over", LabelStyle::NOW, &[(at, Anchor::Middle)], None);
            }
            FlatNow::Burnish | FlatNow::ScoreAlong => {}
        }
        self.write_side(canvas);
    }

    /// What comes off, on it or on bare ground beside it: on other paper it would name that.
    fn write_off(&self, canvas: &mut Canvas) {
        let paper = self.paper();
        for (waste, _) in self.attached().filter(|(_, now)| *now) {
            let off = self.sheet(&waste.outline);
            let at = self.turn * middle(&waste.outline);
            let is_wide = off.bounding_box().width() >= ROOMY * canvas.u();
            let places = canvas.around(at).into_iter();
            let places = places.filter(|(place, _)| match paper.winding(*place) {
                0 => true,
                _ => is_wide && off.winding(*place) != 0,
            });
            let places: Vec<_> = places.collect();
            canvas.label_if_room("off", LabelStyle::NOW, &places);
        }
    }

    fn write_glue(&self, canvas: &mut Canvas) {
        let paper = self.paper();
        for zone in self.told_zones() {
            let words = match (zone.on_side, self.up) {
                (Side::Outside, Side::Inside) => "glue on its outside",
                _ => "glue",
            };
            let area = self.on(zone.on, &zone.area);
            canvas.name(words, SMALL_NOW, &area, self.glue_at(zone), &paper);
        }
        let mut to: Vec<PanelId> = self.zones.iter().map(|zone| zone.to).collect();
        to.dedup();
        self.write_panels(canvas, &to, LabelStyle::SMALL);
    }

    /// Which side of the paper faces you, in a corner below the paper.
    fn write_side(&self, canvas: &mut Canvas) {
        let (u, view) = (canvas.u(), canvas.view());
        let words = match (self.up, self.facts.now) {
            (_, FlatNow::TurnOver) => "inside up, then outside up",
            (Side::Inside, _) => "inside up",
            (Side::Outside, _) => "turned over: outside up",
        };
        let y = view.y1 - 3.2 * u;
        let places = [
            (Point::new(view.x0 + 2.0 * u, y), Anchor::Start),
            (Point::new(view.x1 - 2.0 * u, y), Anchor::End),
        ];
        canvas.label(words, LabelStyle::SMALL, &places, None);
    }

    fn write_panels(&self, canvas: &mut Canvas, panels: &[PanelId], style: LabelStyle) {
        for id in self.middles(panels) {
            if let Some(panel) = self.pattern.panel(id) {
                let at = self.middle_of(id);
                let strips = self.pattern.bent_panel(id);
                let whole: BezPath = strips.iter().flat_map(|strip| self.panel(*strip)).collect();
                canvas.name(&self.said(panel.name), style, &whole, at, &self.paper());
            }
        }
    }

    fn write_sizes(&self, canvas: &mut Canvas, is_small: bool) {
        // They stand in the list beside a small picture.
        if is_small {
            return;
        }
        let text = |mm: f64| self.facts.ruler.text_mm(mm);
        let turned: Vec<Point> = self.pattern.blank.iter().map(|p| self.turn * *p).collect();
        let first = turned.iter().zip(turned.iter().cycle().skip(1)).take(2);
        for (a, b) in first {
            // The pattern runs counter-clockwise, so in the picture the outside is to the right.
            canvas.dimension(*a, *b, -3.0, &text((*b - *a).hypot()), LabelStyle::SMALL);
        }
        let root = self.pattern.bent_panel(self.pattern.root);
        let root = root.into_iter().filter_map(|id| self.pattern.panel(id));
        let corners: Vec<Point> = root.flat_map(|panel| panel.outline.clone()).collect();
        let bounds = self.sheet(&corners).bounding_box();
        let (a, b) = (
            Point::new(bounds.x0, bounds.y1),
            Point::new(bounds.x1, bounds.y1),
        );
        let c = Point::new(bounds.x1, bounds.y0);
        canvas.dimension(a, b, 4.0, &text(bounds.width()), LabelStyle::SMALL);
        canvas.dimension(b, c, 4.0, &text(bounds.height()), LabelStyle::SMALL);
        if let Solid::Box { z, .. } = self.pattern.solid {
            let y = bounds.y0 + 0.35 * bounds.height();
            let (from, to) = (Point::new(bounds.x1, y), Point::new(bounds.x1 + z, y));
            canvas.dimension(from, to, 0.0, &text(z), LabelStyle::SMALL);
        }
        for (window, _) in self.pattern.windows() {
            let window = self.sheet(&window.outline).bounding_box();
            let wide = format!("{} wide", text(window.width()));
            let places = [(window.center(), Anchor::Middle)];
            canvas.label_if_inside(&wide, LabelStyle::SMALL, &places, window);
        }
        self.write_names(canvas);
    }

    /// Names of the panels that have room for theirs.
    fn write_names(&self, canvas: &mut Canvas) {
        let all: Vec<PanelId> = (0..self.pattern.panels.len()).map(PanelId).collect();
        let named = self.middles(&all);
        for panel in named.iter().filter_map(|id| self.pattern.panel(*id)) {
            let at = self.turn * middle(&panel.outline);
            let room = self.sheet(&panel.outline).bounding_box();
            let places: Vec<_> = canvas.around(at).into_iter().take(9).collect();
            canvas.label_if_inside(&self.said(panel.name), LabelStyle::SMALL, &places, room);
        }
    }
}
