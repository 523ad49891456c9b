//! From what is to be seen to a scene: tints, lines, glue, arrows, names.

use std::collections::BTreeMap;

use kurbo::{BezPath, Point, Rect, Shape};

use super::SpacePicture;
use super::stage::{Skin, Stage};
use super::visible::Seen;
use super::words::said;
use crate::picture::canvas::{Canvas, LabelStyle, polygon};
use crate::picture::scene::{Anchor, LineRole, Scene, TextSize};
use crate::picture::size::PictureSize;
use crate::region::Region;

/// Areas in the order in which they are painted; contents have a line round them.
const AREAS: [LineRole; 8] = [
    LineRole::Inside,
    LineRole::InsideInShade,
    LineRole::Outside,
    LineRole::OutsideInShade,
    LineRole::Moving,
    LineRole::MovingFront,
    LineRole::ContentsInShade,
    LineRole::Contents,
];

/// Corners nearer than this are written at the same place, mm.
const SAME_PLACE_MM: f64 = 2e-3;

pub(super) struct Drawing<'a> {
    pub(super) facts: &'a SpacePicture<'a>,
    pub(super) stage: &'a Stage,
    pub(super) seen: &'a Seen,
    pub(super) arrows: Vec<BezPath>,
}

impl Drawing<'_> {
    pub(super) fn scene(&self, title: &str, description: &str, size: PictureSize) -> Scene {
        let mut canvas = self.canvas(size);
        let silhouette = self.silhouette();
        self.draw_areas(&mut canvas, &silhouette);
        self.draw_glue(&mut canvas);
        self.draw_lines(&mut canvas);
        for arrow in &self.arrows {
            canvas.path_arrow(true, arrow);
        }
        if !self.facts.plain {
            self.name_parts(&mut canvas, &silhouette);
            if self.facts.view.is_round() {
                self.write_turn(&mut canvas);
            }
        }
        canvas.finish(title.to_owned(), description.to_owned())
    }

    fn canvas(&self, size: PictureSize) -> Canvas {
        let painted = self.seen.painted.iter().filter(|part| part.has_area());
        let boxes = painted
            .map(|part| polygon(&part.outline).bounding_box())
            .chain(self.arrows.iter().map(Shape::bounding_box));
        let all = boxes.reduce(|all, one| all.union(one));
        let all = all
            .filter(|all| all.width().is_finite() && all.height().is_finite())
            .unwrap_or(Rect::new(0.0, 0.0, 1.0, 1.0));
        // A tall picture would leave no width for words and no height for the rest of the card.
        let least = all.height() / if self.facts.plain { 1.0 } else { 0.85 };
        let all = all.inflate((least - all.width()).max(0.0) / 2.0, 0.0);
        let margins = if self.facts.plain {
            [3.0; 4]
        } else {
            [4.0, 5.0, 4.0, 5.0]
        };
        Canvas::round(size, all, margins)
    }

    /// Everything that hides the table: what can be seen, with what it hides.
    fn silhouette(&self) -> BezPath {
        let parts = self.seen.painted.iter().zip(&self.seen.visible);
        let painted = parts.filter(|(_, rings)| !rings.is_empty());
        let outlines: Vec<&[Point]> = painted.map(|(part, _)| part.outline.as_slice()).collect();
        joined(&outlines)
    }

    /// The largest tint lies under all others, so that no light comes through between two areas.
    fn draw_areas(&self, canvas: &mut Canvas, silhouette: &BezPath) {
        let mut areas: BTreeMap<LineRole, Vec<&[Point]>> = BTreeMap::new();
        for (part, rings) in self.seen.painted.iter().zip(&self.seen.visible) {
            let role = self
                .stage
                .role(part.sheet, part.inside_up, &self.facts.view);
            areas
                .entry(role)
                .or_default()
                .extend(rings.iter().map(Vec::as_slice));
        }
        let size = |role: &LineRole| {
            let rings = areas.get(role).map_or(&[][..], Vec::as_slice);
            rings
                .iter()
                .map(|ring| crate::signed_area(ring))
                .sum::<f64>()
                .abs()
        };
        let tints = AREAS.iter().filter(|role| **role != LineRole::Contents);
        let largest = tints.max_by(|a, b| size(a).total_cmp(&size(b))).copied();
        if let Some(largest) = largest {
            canvas.area(largest, false, silhouette);
        }
        for role in AREAS.into_iter().filter(|role| Some(*role) != largest) {
            if let Some(rings) = areas.get(&role) {
                canvas.area(role, false, &holed(rings));
            }
        }
    }

    fn draw_glue(&self, canvas: &mut Canvas) {
        for glue in &self.stage.glue {
            let zone: Vec<Point> = glue
                .outline
                .iter()
                .map(|&p| self.facts.view.seen(p))
                .collect();
            let zone = Region::union(&[&zone]);
            for (role, on_this_side) in [(LineRole::Glue, true), (LineRole::GlueBehind, false)] {
                let side = glue.on_inside == on_this_side;
                let sheet = self.seen.painted.iter().zip(&self.seen.visible);
                let rings: Vec<&[Point]> = sheet
                    .filter(|(part, _)| part.sheet == glue.sheet && part.inside_up == side)
                    .flat_map(|(_, rings)| rings.iter().map(Vec::as_slice))
                    .collect();
                let shown = path(&Region::evenly(&rings).intersect(&zone));
                if !shown.is_empty() {
                    canvas.draw(role, true, &shown);
                }
            }
        }
    }

    /// Says where the piece is turned, in the corner of the picture.
    fn write_turn(&self, canvas: &mut Canvas) {
        let (u, view) = (canvas.u(), canvas.view());
        let (low, high) = (view.y1 - 3.2 * u, view.y0 + 3.2 * u);
        let places = [low, high].map(|y| {
            let left = (Point::new(view.x0 + 2.0 * u, y), Anchor::Start);
            [left, (Point::new(view.x1 - 2.0 * u, y), Anchor::End)]
        });
        canvas.label(
            "turned end for end",
            LabelStyle::SMALL,
            &places.concat(),
            None,
        );
    }

    /// Lines of one kind as one path, those of this step on top.
    fn draw_lines(&self, canvas: &mut Canvas) {
        let mut kinds: BTreeMap<(bool, LineRole), Vec<(Point, Point)>> = BTreeMap::new();
        for &(edge, a, b) in &self.seen.lines {
            if let Some(edge) = self.stage.edges.get(edge) {
                kinds.entry((edge.now, edge.role)).or_default().push((a, b));
            }
        }
        for ((now, role), lines) in kinds {
            canvas.draw(role, now, &chained(&lines));
        }
    }

    fn name_parts(&self, canvas: &mut Canvas, silhouette: &BezPath) {
        let style = LabelStyle {
            size: TextSize::Small,
            now: true,
        };
        for (sheet, name) in self.moving_names() {
            let parts = self.seen.painted.iter().zip(&self.seen.visible);
            let rings = parts
                .filter(|(part, _)| part.sheet == sheet)
                .flat_map(|(_, rings)| rings);
            let largest = rings.max_by(|a, b| area(a).total_cmp(&area(b)));
            if let Some(ring) = largest {
                let middle = centre(ring);
                canvas.name(&name, style, &polygon(ring), middle, silhouette);
            }
        }
    }

    /// On a piece turned end for end, left and right would name the wrong one.
    fn name_of(&self, name: &str) -> String {
        if !self.facts.view.is_round() {
            return said(self.facts, name);
        }
        let words = name
            .split(' ')
            .filter(|word| !matches!(*word, "left" | "right"));
        words.collect::<Vec<_>>().join(" ")
    }

    /// How much of a sheet is to be seen, mm² of the picture.
    fn shown(&self, sheet: usize) -> f64 {
        let parts = self.seen.painted.iter().zip(&self.seen.visible);
        let rings = parts.filter(|(part, _)| part.sheet == sheet);
        rings
            .flat_map(|(_, rings)| rings)
            .map(|ring| area(ring))
            .sum()
    }

    /// What moves, with a sheet of each: contents, or the panels if they are few.
    fn moving_names(&self) -> Vec<(usize, String)> {
        let sheets = self.stage.skins.iter().enumerate();
        if let Some((_, name, Some(_))) = &self.facts.contents {
            let faces = sheets.filter(|(_, skin)| **skin == Skin::Contents);
            let largest = faces
                .map(|(sheet, _)| sheet)
                .max_by(|a, b| self.shown(*a).total_cmp(&self.shown(*b)));
            return largest
                .map(|sheet| (sheet, (*name).to_owned()))
                .into_iter()
                .collect();
        }
        if let Some(number) = self.facts.bodies.iter().position(|it| it.carried.is_some()) {
            let own = sheets.filter(|(sheet, _)| self.stage.body_of(*sheet) == Some(number));
            let largest = own.map(|(sheet, _)| (self.shown(sheet), sheet));
            let largest = largest.max_by(|a, b| a.0.total_cmp(&b.0));
            let name = self.facts.bodies.get(number).map(|body| body.pattern.name);
            let named = largest
                .zip(name)
                .map(|((_, sheet), name)| (sheet, name.to_owned()));
            return named.into_iter().collect();
        }
        let moving = sheets.zip(&self.stage.names);
        let moving = moving.filter(|((_, skin), _)| **skin == Skin::Moving);
        let mut named: Vec<(usize, String)> = moving
            .map(|((sheet, _), name)| (sheet, self.name_of(name)))
            .collect();
        named.dedup_by(|a, b| a.1 == b.1);
        if named.len() > 3 {
            named.clear();
        }
        named
    }
}

fn area(ring: &[Point]) -> f64 {
    crate::signed_area(ring).abs()
}

fn centre(ring: &[Point]) -> Point {
    crate::polygon::deepest_point(ring).map_or(Point::ZERO, |(p, _)| p)
}

fn joined(outlines: &[&[Point]]) -> BezPath {
    path(&Region::union(outlines))
}

/// Areas that lie beside each other, with their holes, as one.
fn holed(rings: &[&[Point]]) -> BezPath {
    path(&Region::evenly(rings))
}

fn path(region: &Region) -> BezPath {
    let rings = region.rings();
    let large = rings.iter().filter(|ring| area(ring) > 0.01);
    large.flat_map(|ring| polygon(&tidy(ring))).collect()
}

/// The ring without corners that would be written at the same place or on a straight line.
fn tidy(ring: &[Point]) -> Vec<Point> {
    // Corners at one place first: each would be left out for the sake of the others.
    let mut apart: Vec<Point> = Vec::with_capacity(ring.len());
    for &p in ring {
        let is_new = |q: &Point| q.distance(p) > SAME_PLACE_MM;
        if apart.last().is_none_or(is_new) && (apart.len() < 2 || apart.first().is_none_or(is_new))
        {
            apart.push(p);
        }
    }
    let mut kept: Vec<Point> = Vec::with_capacity(apart.len());
    for (index, &p) in apart.iter().enumerate() {
        let before = kept.last().or(apart.last()).copied().unwrap_or(p);
        let after = apart.get((index + 1) % apart.len()).copied().unwrap_or(p);
        if crate::polygon::distance_to_segment(p, before, after) > SAME_PLACE_MM {
            kept.push(p);
        }
    }
    kept
}

/// Segments as few runs of the pen; the same one is drawn once.
fn chained(lines: &[(Point, Point)]) -> BezPath {
    let key = |p: Point| ((p.x * 50.0).round() as i64, (p.y * 50.0).round() as i64);
    let mut left: Vec<(Point, Point)> = Vec::new();
    let mut known = std::collections::BTreeSet::new();
    for &(a, b) in lines {
        let ends = (key(a).min(key(b)), key(a).max(key(b)));
        if known.insert(ends) {
            left.push((a, b));
        }
    }
    let mut path = BezPath::new();
    while !left.is_empty() {
        let (start, mut at) = left.remove(0);
        path.move_to(start);
        path.line_to(at);
        while let Some(next) = left
            .iter()
            .position(|(a, b)| key(*a) == key(at) || key(*b) == key(at))
        {
            let (a, b) = left.remove(next);
            at = if key(a) == key(at) { b } else { a };
            path.line_to(at);
        }
    }
    path
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_tip_of_several_corners_at_one_place_keeps_one_of_them() {
        let tip = [(0.0, 50.0), (0.001, 50.0), (0.0005, 50.001)];
        let foot = [(-20.0, 0.0), (20.0, 0.0)];
        for turn in 0..5 {
            let mut ring: Vec<Point> = tip.iter().chain(&foot).map(|&p| p.into()).collect();
            ring.rotate_left(turn);
            assert_eq!(tidy(&ring).len(), 3, "{turn}");
        }
    }
}
