//! Labels, each at the best place that is free.

use kurbo::{Circle, Line, Point, Rect, Shape, Vec2};

use super::{Canvas, LabelStyle};
use crate::picture::placer::{Place, nearest};
use crate::picture::scene::{Anchor, LineRole, SceneItem, SceneText, TextSize, shorten};

impl Canvas {
    /// A label at the first of its places that is clear, smaller where it has to be; or as near as
    /// there is a clear one, with a pointer to what it `belongs_to`; or in a row below the picture.
    pub(crate) fn label(
        &mut self,
        text: &str,
        style: LabelStyle,
        places: &[Place],
        belongs_to: Option<Point>,
    ) {
        self.write_measures();
        let label = self.text(text, style);
        self.put(label, places, belongs_to);
    }

    /// Puts the measures whose lines are drawn.
    pub(super) fn write_measures(&mut self) {
        for (label, places, middle) in std::mem::take(&mut self.measures) {
            self.put(label, &places, Some(middle));
        }
    }

    fn put(&mut self, mut label: SceneText, places: &[Place], belongs_to: Option<Point>) {
        loop {
            if let Some(placed) = self.placer.place(&label, places) {
                self.items.push(SceneItem::Text(placed));
                return;
            }
            match label.smaller() {
                Some(smaller) => label = smaller,
                None => break,
            }
        }
        label.text = self.shortened(&label);
        let wanted = belongs_to.or(places.first().map(|(at, _)| *at));
        let near = wanted.and_then(|at| self.placer.place_near(&label, at, |_| true));
        match near {
            Some(placed) => {
                let bounds = placed.bounds(self.u);
                self.items.push(SceneItem::Text(placed));
                if let Some(point) = belongs_to {
                    self.pointer(bounds, point);
                }
            }
            None => self.notes.push((label, belongs_to)),
        }
    }

    /// Names a thing: inside it where its name fits, else on free ground near by with a pointer.
    /// `paper` is all that lies there.
    pub(crate) fn name(
        &mut self,
        text: &str,
        style: LabelStyle,
        thing: &impl Shape,
        middle: Point,
        paper: &impl Shape,
    ) {
        self.write_measures();
        let label = self.text(text, style);
        let inside = self.around(middle);
        if let Some(placed) = self
            .placer
            .place_inside(&label, &inside, thing.bounding_box())
            .filter(|placed| thing.winding(placed.bounds(self.u).center()) != 0)
        {
            self.items.push(SceneItem::Text(placed));
            return;
        }
        // On bare ground: a name that lies on another panel would name that one.
        let is_off = |bounds: Rect| paper.winding(bounds.center()) == 0;
        // On the thing's own half of the picture: a bottom named from the top is taken for the top.
        let centre = self.view.center();
        let side = middle.y - centre.y;
        let is_beside =
            |bounds: Rect| (bounds.center().y - centre.y) * side >= 0.0 && is_off(bounds);
        let clearly = side.abs() > 8.0 * self.u;
        let beside = clearly
            .then(|| self.placer.place_near(&label, middle, is_beside))
            .flatten();
        match beside.or_else(|| self.placer.place_near(&label, middle, is_off)) {
            Some(placed) => {
                let bounds = placed.bounds(self.u);
                self.items.push(SceneItem::Text(placed));
                self.pointer(bounds, middle);
            }
            None => self.notes.push((label, Some(middle))),
        }
    }

    /// A thin line from the edge of a text to the thing it names, ending in a dot.
    pub(super) fn pointer(&mut self, text: Rect, to: Point) {
        self.draw(
            LineRole::Dimension,
            false,
            &Line::new(nearest(text, to), to),
        );
        self.area(LineRole::Dot, false, &Circle::new(to, 0.8 * self.u));
    }

    /// As [`Canvas::label`], left out where there is no room: for numbers that repeat.
    pub(crate) fn label_if_room(&mut self, text: &str, style: LabelStyle, places: &[Place]) {
        self.write_measures();
        let label = self.text(text, style);
        if let Some(placed) = self.placer.place(&label, places) {
            self.items.push(SceneItem::Text(placed));
        }
    }

    /// As [`Canvas::label_if_room`], and only where it lies in `room`; whether it does.
    pub(crate) fn label_if_inside(
        &mut self,
        text: &str,
        style: LabelStyle,
        places: &[Place],
        room: Rect,
    ) -> bool {
        self.write_measures();
        let label = self.text(text, style);
        let placed = self.placer.place_inside(&label, places, room);
        let is_placed = placed.is_some();
        self.items.extend(placed.map(SceneItem::Text));
        is_placed
    }

    /// Places round a point, on it first, then in rings.
    pub(crate) fn around(&self, at: Point) -> Vec<Place> {
        let mut places = vec![(at, Anchor::Middle)];
        for ring in [2.5, 5.0, 8.0, 12.0] {
            let r = ring * self.u;
            for (dx, dy, anchor) in [
                (0.0, -r, Anchor::Middle),
                (0.0, r, Anchor::Middle),
                (r, 0.0, Anchor::Start),
                (-r, 0.0, Anchor::End),
                (0.7 * r, -0.7 * r, Anchor::Start),
                (-0.7 * r, -0.7 * r, Anchor::End),
                (0.7 * r, 0.7 * r, Anchor::Start),
                (-0.7 * r, 0.7 * r, Anchor::End),
            ] {
                places.push((at + Vec2::new(dx, dy), anchor));
            }
        }
        places
    }

    pub(super) fn text(&self, text: &str, style: LabelStyle) -> SceneText {
        let mut label = SceneText {
            at: Point::ORIGIN,
            anchor: Anchor::Middle,
            size: style.size,
            now: style.now,
            text: text.to_owned(),
        };
        if style.size == TextSize::Small {
            label.text = self.shortened(&label);
        }
        label
    }

    /// The words of a label, cut where they are wider than the picture.
    fn shortened(&self, label: &SceneText) -> String {
        let most = (self.view.width() / self.u - 4.0) / label.size.in_u();
        shorten(&label.text, label.is_bold(), most)
    }
}
