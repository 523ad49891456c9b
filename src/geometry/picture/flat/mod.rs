//! A piece of paper lying flat: what to cut, trim, round, fold or glue on it.
//!
//! The paper is seen from the side that ends up inside, y up on the pattern and down in the
//! picture. What earlier steps folded flat (by 180°) lies over, its outside showing; what they
//! folded up is still drawn flat. Glue on the outside of a sheet that is not folded yet shows
//! it turned over, left for right. Work by hand may be mirrored for left-handers.

mod detail;
mod drawing;
mod edges;
mod labels;
mod lying;
mod sentences;

use kurbo::{Affine, BezPath, Point, Rect, Shape, Vec2};

use super::canvas::{Canvas, LabelStyle, polygon, segments};
use super::scene::{Anchor, LineRole, Scene};
use super::size::PictureSize;
use crate::{
    CreaseId, FoldStep, GlueZone, PanelId, Pattern, Ruler, Side, Solid, Waste, WasteReason,
};

/// What is done to the paper.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum FlatNow {
    /// Nothing: the template, with its sizes.
    Template,
    /// Score some creases along a template: [`FlatPicture::along`].
    ScoreAlong,
    /// Every slit.
    Cuts,
    /// Everything that comes off for this reason.
    TakeOff(WasteReason),
    /// Fold and crease every score, then open again.
    Burnish,
    /// The fold with this index in the pattern.
    Fold(usize),
    /// The folds from the first index to the last, one after another.
    Folds(usize, usize),
    /// Glue on the zone with this index in the pattern.
    Glue(usize),
    /// Glue on every zone that the fold with this index presses together.
    GlueBefore(usize),
    /// Glue film over every window; its side in mm.
    Film(f64),
    /// Turn the paper over.
    TurnOver,
}

/// The facts of a flat picture.
#[derive(Clone, Copy, Debug)]
pub struct FlatPicture<'a> {
    /// The paper.
    pub pattern: &'a Pattern,
    /// How sizes read.
    pub ruler: &'a Ruler,
    /// What is done.
    pub now: FlatNow,
    /// The creases that are scored along a template.
    pub along: &'a [CreaseId],
    /// Whether the slits are made and what comes off is off.
    pub is_cut: bool,
    /// For left-handers.
    pub mirrored: bool,
}

/// Draws a piece of paper lying flat.
#[must_use]
pub fn flat_picture(facts: FlatPicture<'_>, size: PictureSize) -> Scene {
    size.fitted(|size| draw(facts, size))
}

fn draw(facts: FlatPicture<'_>, size: PictureSize) -> Scene {
    let flat = Flat::new(facts);
    let mut canvas = flat.canvas(size);
    flat.draw_paper(&mut canvas);
    flat.draw_lines(&mut canvas);
    flat.draw_folded(&mut canvas);
    flat.draw_glue(&mut canvas);
    flat.draw_moves(&mut canvas);
    flat.draw_detail(&mut canvas, size);
    flat.write(&mut canvas, size.is_small());
    // The words are for the hand that reads them already; only places are still to be mirrored.
    let scene = canvas.finish(flat.said(&flat.title()), flat.said(&flat.description()));
    if facts.mirrored {
        scene.mirrored()
    } else {
        scene
    }
}

struct Flat<'a> {
    facts: FlatPicture<'a>,
    pattern: &'a Pattern,
    up: Side,
    /// The folds of this step.
    folds: &'a [FoldStep],
    /// Where this step puts glue.
    zones: Vec<&'a GlueZone>,
    /// From the pattern to the picture where nothing is folded.
    turn: Affine,
    /// From each panel of the pattern to the picture.
    lies: Vec<Affine>,
    /// The panels that lie folded over, in the order they came there.
    folded: Vec<PanelId>,
}

impl<'a> Flat<'a> {
    fn new(facts: FlatPicture<'a>) -> Self {
        let pattern = facts.pattern;
        let zones = zones(pattern, facts.now);
        let made = match facts.now {
            FlatNow::Fold(index) | FlatNow::Folds(index, _) | FlatNow::GlueBefore(index) => index,
            _ => zones.first().map_or(0, |zone| zone.with_fold),
        };
        let folds = match facts.now {
            FlatNow::Fold(index) => pattern.folds.get(index..=index),
            FlatNow::Folds(from, to) => pattern.folds.get(from..=to),
            _ => None,
        };
        // Nothing is folded yet: the sheet can simply be turned over.
        let up = match zones.first() {
            Some(zone) if made == 0 => zone.on_side,
            _ => Side::Inside,
        };
        let turn = match up {
            Side::Inside => Affine::FLIP_Y,
            Side::Outside => Affine::FLIP_Y * Affine::FLIP_X,
        };
        let lying = lying::after(pattern, made, turn);
        let folds = folds.unwrap_or_default();
        Self {
            facts,
            pattern,
            up,
            folds,
            zones,
            turn,
            lies: lying.places,
            folded: lying.folded,
        }
    }

    fn canvas(&self, size: PictureSize) -> Canvas {
        let margins = match self.facts.now {
            FlatNow::Template => [8.0, 9.0, self.beside_template(), 9.0],
            FlatNow::TurnOver => [5.0, 22.0, 5.0, 7.0],
            // A row below for the name of what the glue sticks to.
            FlatNow::Glue(_) | FlatNow::GlueBefore(_) => [5.0, 6.0, 5.0, 14.0],
            _ => [5.0, 6.0, 5.0, 7.0],
        };
        let blank = self.sheet(&self.pattern.blank);
        let bounds = blank.bounding_box();
        let bounds = if bounds.area() > 0.0 {
            bounds
        } else {
            Rect::new(0.0, 0.0, 1.0, 1.0)
        };
        // A tall strip would leave no width for words.
        let least = bounds.height() / 1.3;
        let widened = bounds.inflate((least - bounds.width()).max(0.0) / 2.0, 0.0);
        // A sheet that stands on its corner leaves room for the detail; another does not.
        let (view, u) = size.view(widened, margins);
        let side = detail::detail_side(size);
        let reach = Vec2::new(1.0, 1.0) * ((side + 1.5) * u);
        let is_free = blank.winding(Point::new(view.x1, view.y1) - reach) == 0;
        if is_free || self.detailed(u, size).is_empty() {
            return Canvas::round(size, widened, margins);
        }
        let [left, top, right, below] = margins;
        let places = [
            [left, top, right, side + 9.0],
            [left, top, side + 3.0, below],
        ];
        let larger = |a: &[f64; 4], b: &[f64; 4]| {
            let [a, b] = [a, b].map(|it| size.view(widened, *it).1);
            a.total_cmp(&b)
        };
        let margins = places.into_iter().min_by(larger).unwrap_or(margins);
        Canvas::round(size, widened, margins)
    }

    /// Room for the height of a sheet that lies straight, `u`.
    fn beside_template(&self) -> f64 {
        let bounds = self.sheet(&self.pattern.blank).bounding_box();
        let is_straight = crate::signed_area(&self.pattern.blank).abs() > 0.99 * bounds.area();
        let text = self.facts.ruler.text_mm(bounds.height());
        match is_straight {
            true => 6.0 + LabelStyle::SMALL.width_of(&text),
            false => 8.0,
        }
    }

    /// Something on the unfolded sheet.
    fn sheet(&self, points: &[Point]) -> BezPath {
        self.turn * polygon(points)
    }

    /// Something on a panel, wherever that lies.
    fn on(&self, panel: PanelId, points: &[Point]) -> BezPath {
        self.lies.get(panel.0).copied().unwrap_or(self.turn) * polygon(points)
    }

    fn panel(&self, id: PanelId) -> BezPath {
        self.on(
            id,
            self.pattern.panel(id).map_or(&[], |panel| &panel.outline),
        )
    }

    fn middle_of(&self, id: PanelId) -> Point {
        let outline = self
            .pattern
            .panel(id)
            .map_or(&[][..], |panel| &panel.outline);
        self.lies.get(id.0).copied().unwrap_or(self.turn) * middle(outline)
    }

    /// What has not come off yet in this picture, and whether it does so now.
    fn attached(&self) -> impl Iterator<Item = (&'a Waste, bool)> {
        let (now, is_cut) = (self.facts.now, self.facts.is_cut);
        self.pattern.waste.iter().filter_map(move |waste| {
            let is_now = now == FlatNow::TakeOff(waste.why);
            let stays = match now {
                // The hands take things off in this order: notches and what is round a template,
                // slits, points, round tips.
                // The window comes before all that.
                FlatNow::Template => !is_cut,
                FlatNow::TakeOff(WasteReason::Window) => true,
                _ if waste.why == WasteReason::Window => false,
                FlatNow::Cuts => !matches!(waste.why, WasteReason::Notch | WasteReason::Shape),
                FlatNow::TakeOff(WasteReason::Trim) => waste.why == WasteReason::Rounded,
                _ => !is_cut && waste.why != WasteReason::Notch,
            };
            (is_now || stays).then_some((waste, is_now))
        })
    }

    /// All paper that lies there.
    fn paper(&self) -> BezPath {
        let panels = (0..self.pattern.panels.len()).map(PanelId);
        let mut paper: BezPath = panels.flat_map(|id| self.panel(id)).collect();
        for (waste, _) in self.attached() {
            paper.extend(self.sheet(&waste.outline));
        }
        paper
    }

    /// The creases of this step's folds, with the angle that each gets; paper that bends is not
    /// folded.
    fn creases(&self) -> impl Iterator<Item = (CreaseId, f64)> {
        let all = self.folds.iter().flat_map(|step| &step.creases);
        all.copied().filter(|(id, _)| {
            let crease = self.pattern.creases.get(id.0);
            crease.is_some_and(|crease| !crease.smooth)
        })
    }

    /// The same, and of the pieces of one bent crease only the middle one.
    fn moves(&self) -> Vec<(CreaseId, f64)> {
        let name = |id: CreaseId| self.pattern.creases.get(id.0).map(|crease| crease.name);
        let all: Vec<(CreaseId, f64)> = self.creases().collect();
        let runs = all.chunk_by(|one, other| name(one.0) == name(other.0));
        runs.filter_map(|run| run.get(run.len() / 2).copied())
            .collect()
    }

    fn is_now(&self, id: CreaseId) -> bool {
        let along = self.facts.now == FlatNow::ScoreAlong && self.facts.along.contains(&id);
        along || self.facts.now == FlatNow::Burnish || self.creases().any(|(now, _)| now == id)
    }

    /// The panels that this fold moves.
    fn moving(&self) -> Vec<PanelId> {
        let folded = self
            .creases()
            .filter_map(|(id, _)| self.pattern.creases.get(id.0));
        let mut moving: Vec<PanelId> = Vec::new();
        for crease in folded {
            if !moving.contains(&crease.child) {
                moving.extend(self.pattern.bent_panel(crease.child));
            }
        }
        moving
    }

    /// The zones that words and arrows tell of: of those on one bent panel the middle one.
    fn told_zones(&self) -> impl Iterator<Item = &'a GlueZone> {
        let on: Vec<PanelId> = self.zones.iter().map(|zone| zone.on).collect();
        let named = self.middles(&on);
        let alone = self.zones.len() == 1;
        self.zones.iter().copied().filter(move |zone| {
            let is_bent = self.pattern.bent_panel(zone.on).len() > 1;
            alone || !is_bent || named.contains(&zone.on)
        })
    }

    /// Of the strips of each bent panel the middle one, each once.
    fn middles(&self, panels: &[PanelId]) -> Vec<PanelId> {
        let mut middles = Vec::new();
        for id in panels {
            let strips = self.pattern.bent_panel(*id);
            let middle = strips.get(strips.len() / 2).copied().unwrap_or(*id);
            if !middles.contains(&middle) {
                middles.push(middle);
            }
        }
        middles
    }
}

/// The zones that take glue in this step.
fn zones(pattern: &Pattern, now: FlatNow) -> Vec<&GlueZone> {
    let zones = pattern.glue.iter().enumerate();
    let is_now = |index: usize, zone: &GlueZone| match now {
        FlatNow::Glue(only) => index == only,
        FlatNow::GlueBefore(fold) => zone.with_fold == fold,
        _ => false,
    };
    zones
        .filter(|(index, zone)| is_now(*index, zone))
        .map(|(_, zone)| zone)
        .collect()
}

/// The middle of a polygon by area; of its corners where it has none.
fn middle(points: &[Point]) -> Point {
    let (mut area, mut sum) = (0.0, Vec2::ZERO);
    for (a, b) in points.iter().zip(points.iter().cycle().skip(1)) {
        let cross = a.to_vec2().cross(b.to_vec2());
        area += cross;
        sum += (a.to_vec2() + b.to_vec2()) * cross;
    }
    if area.abs() > 1e-9 {
        return (sum / (3.0 * area)).to_point();
    }
    let corners = points.iter().fold(Vec2::ZERO, |sum, p| sum + p.to_vec2());
    (corners / points.len().max(1) as f64).to_point()
}
