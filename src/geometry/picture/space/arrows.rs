//! Arrows: the way of the free edge of each panel that moves, from where it is to where it comes.
//!
//! A panel that turns about one crease goes along an arc. Where the panel that carries it moves
//! too, both turn on together, and only the last of the chain has an arrow; so has a curve, which
//! is a chain of strips.

use kurbo::{BezPath, Point, Shape, Vec2};

use super::stage::Stage;
use super::visible::Seen;
use super::ways::{carry_arrow, way_arrow};
use super::{SpaceBody, SpacePicture, SpaceView};
use crate::{Crease, CreaseId, Folded, PanelId, Pattern, Pose, fold};

/// A panel of which less can be seen has no arrow.
const SEEN_ENOUGH: f64 = 0.1;
/// The arrow leaves the paper by this share of its reach, so that it is not drawn on its edge.
const OFF: f64 = 1.06;
/// It stops this far, in degrees, before the end of the turn: what it points at stays free.
const SHORT_DEG: f64 = 7.0;
/// A panel this near to the end of its turn has arrived, degrees.
const ARRIVED_DEG: f64 = 1.0;
/// A shorter turn, degrees, is drawn from where the paper lay flat.
const SHORT_WAY_DEG: f64 = 60.0;
/// Longest turn that one piece of curve stands for, degrees.
const PIECE_DEG: f64 = 45.0;
/// A shorter arrow, as a share of the width of everything, is hardly more than its head.
const SHORTEST: f64 = 0.045;
/// So many pieces of curve for a way that is no arc.
const PIECES: u8 = 5;

/// All arrows of a picture.
pub(super) fn arrows(facts: &SpacePicture<'_>, stage: &Stage, seen: &Seen) -> Vec<BezPath> {
    let mut found = Vec::new();
    for (number, body) in facts.bodies.iter().enumerate() {
        let folded = fold(body.pattern, &body.angles);
        found.extend(
            body.carried
                .and_then(|way| carry_arrow(body, &folded, way, &facts.view)),
        );
        let curves = Curves::of(body.pattern);
        let moves = body.moves.iter();
        let moving: Vec<Move<'_>> = moves.filter_map(|m| Move::of(body, &curves, m)).collect();
        let leads = |one: &Move<'_>| one.leads(body.pattern, &moving);
        for one in moving.iter().filter(|one| leads(one)) {
            let shown = one.strips.iter().filter_map(|strip| {
                let sheet = stage.sheet_of(number, *strip)?;
                Some(seen.share_of(sheet))
            });
            if shown.fold(0.0, f64::max) < SEEN_ENOUGH {
                continue;
            }
            let mut others = moving.iter();
            let carrier = others.find(|m| m.crease.child == one.crease.parent);
            found.extend(match carrier {
                _ if one.is_strip(&moving) => one.curve(body, &facts.view),
                // Both turn as one.
                Some(carrier) if leads(carrier) => None,
                Some(_) => one.chain(body, &facts.view),
                None => one.arc(body, &folded, &facts.view),
            });
        }
    }
    if let Some((contents, _, Some(way))) = &facts.contents {
        found.push(way_arrow(contents, *way, &facts.view));
    }
    worth_drawing(found, seen)
}

/// Without the arrows that would be little more than their heads: what moves is tinted anyway.
fn worth_drawing(mut arrows: Vec<BezPath>, seen: &Seen) -> Vec<BezPath> {
    let size = |path: &BezPath| {
        let around = path.bounding_box();
        around.width().hypot(around.height())
    };
    let least = SHORTEST * seen.width();
    arrows.retain(|arrow| size(arrow) >= least);
    arrows
}

/// Panels that are the strips of one curve, found once for a picture.
struct Curves {
    /// The curve of each panel.
    of: Vec<usize>,
    /// The strips of each curve, from one side to the other.
    strips: Vec<Vec<PanelId>>,
}

impl Curves {
    fn of(pattern: &Pattern) -> Self {
        let count = pattern.panels.len();
        let mut of: Vec<usize> = (0..count).collect();
        for crease in pattern.creases.iter().filter(|crease| crease.smooth) {
            let ends = (of.get(crease.parent.0), of.get(crease.child.0));
            let (Some(&one), Some(&other)) = ends else {
                continue;
            };
            for curve in of.iter_mut().filter(|curve| **curve == other) {
                *curve = one;
            }
        }
        let mut strips = vec![Vec::new(); count];
        for (panel, curve) in of.iter().enumerate() {
            if let Some(strips) = strips.get_mut(*curve) {
                strips.push(PanelId(panel));
            }
        }
        Self { of, strips }
    }

    fn strips_of(&self, panel: PanelId) -> &[PanelId] {
        let curve = self
            .of
            .get(panel.0)
            .and_then(|curve| self.strips.get(*curve));
        curve.map_or(&[], Vec::as_slice)
    }
}

/// A crease on its way.
struct Move<'a> {
    crease: &'a Crease,
    /// The panel that it moves, with the other strips of its curve.
    strips: &'a [PanelId],
    now_deg: f64,
    to_deg: f64,
}

impl<'a> Move<'a> {
    /// Nothing for a panel that has arrived.
    fn of(body: &SpaceBody<'a>, curves: &'a Curves, (id, to): &(CreaseId, f64)) -> Option<Self> {
        let crease = body.pattern.creases.get(id.0)?;
        let now_deg = body.angles.get(id.0).copied().unwrap_or(0.0);
        let is_on_its_way = (to - now_deg).abs() > ARRIVED_DEG;
        // A curve bends a little at each of its many creases.
        (is_on_its_way || crease.smooth && *to != now_deg).then_some(Self {
            crease,
            strips: curves.strips_of(crease.child),
            now_deg,
            to_deg: *to,
        })
    }

    /// Whether it has an arrow of its own: the middle strip of a curve; else a panel that carries
    /// nothing that moves too, or paper that rests on it as well.
    fn leads(&self, pattern: &Pattern, moving: &[Self]) -> bool {
        let moves = |panel| moving.iter().any(|m| m.crease.child == panel);
        if self.is_strip(moving) {
            let is_middle = self.strips.get(self.strips.len() / 2) == Some(&self.crease.child);
            let mut same = moving
                .iter()
                .filter(|m| m.crease.child == self.crease.child);
            return is_middle && same.next().is_some_and(|m| m.crease == self.crease);
        }
        let hang = pattern
            .creases
            .iter()
            .filter(|it| it.parent == self.crease.child);
        let moving = hang.clone().filter(|it| moves(it.child)).count();
        moving == 0 || moving < hang.count()
    }

    /// Whether it is a strip of a curve whose strips move each for itself.
    fn is_strip(&self, moving: &[Self]) -> bool {
        let middle = self.strips.get(self.strips.len() / 2).copied();
        self.strips.len() > 1 && moving.iter().any(|m| Some(m.crease.child) == middle)
    }

    /// About the crease alone.
    fn arc(&self, body: &SpaceBody<'_>, folded: &Folded, view: &SpaceView) -> Option<BezPath> {
        let crease = self.crease;
        let parent = body.place.after(folded.pose(crease.parent)?);
        let (foot, tip) = reach(body.pattern, crease, self.strips)?;
        let turned = |degrees: f64| parent.after(&Pose::turn_about(crease.a, crease.b, -degrees));
        let seen = |degrees: f64| view.seen(turned(degrees).place(tip));
        let centre = view.seen(parent.place(foot));
        // A short way to go is drawn from where the paper lay flat.
        let is_short = (self.to_deg - self.now_deg).abs() < SHORT_WAY_DEG;
        let from = if is_short { 0.0 } else { self.now_deg };
        let turn = self.to_deg - from;
        let short = SHORT_DEG.min(turn.abs() / 4.0).copysign(turn);
        let (from, to) = (from + short * 0.5, self.to_deg - short);
        let pieces = ((to - from).abs() / PIECE_DEG).ceil().clamp(1.0, 16.0);
        let step = (to - from) / pieces;
        // A curve for a turn by the angle: its handles are this long for a radius of 1.
        let handle = 4.0 / 3.0 * (step.to_radians() / 4.0).tan();
        let way = |degrees: f64| -> Vec2 { seen(degrees + 90.0) - centre };
        let mut path = BezPath::new();
        path.move_to(seen(from));
        let mut at = from;
        for _ in 0..pieces as usize {
            let next = at + step;
            let (p, q): (Point, Point) = (seen(at), seen(next));
            path.curve_to(p + way(at) * handle, q - way(next) * handle, q);
            at = next;
        }
        Some(path)
    }

    /// The corner that moves the most.
    fn far_corner(&self, body: &SpaceBody<'_>) -> Option<Point> {
        let child = self.crease.child;
        let mut there = body.angles.clone();
        for (id, to) in &body.moves {
            if let Some(angle) = there.get_mut(id.0) {
                *angle = *to;
            }
        }
        let [now, then] = [&body.angles, &there].map(|angles| fold(body.pattern, angles));
        let (now, then) = (now.pose(child)?, then.pose(child)?);
        let far = |p: &Point| (then.place(*p) - now.place(*p)).length();
        let corners = body.pattern.panel(child)?.outline.iter();
        corners.copied().max_by(|p, q| far(p).total_cmp(&far(q)))
    }

    /// Carried along by another panel that moves.
    fn chain(&self, body: &SpaceBody<'_>, view: &SpaceView) -> Option<BezPath> {
        let (_, tip) = reach(body.pattern, self.crease, self.strips)?;
        self.way_of(tip, body, view)
    }

    /// A strip of a curve, by the corner that goes farthest.
    fn curve(&self, body: &SpaceBody<'_>, view: &SpaceView) -> Option<BezPath> {
        self.way_of(self.far_corner(body)?, body, view)
    }

    /// The way of a point of the panel, all that moves on its way.
    fn way_of(&self, tip: Point, body: &SpaceBody<'_>, view: &SpaceView) -> Option<BezPath> {
        let at = |part: f64| {
            let mut angles = body.angles.clone();
            for (id, to) in &body.moves {
                if let Some(angle) = angles.get_mut(id.0) {
                    *angle += (to - *angle) * part;
                }
            }
            let folded = fold(body.pattern, &angles);
            let pose = body.place.after(folded.pose(self.crease.child)?);
            Some(view.seen(pose.place(tip)))
        };
        let share = |n: u8| f64::from(n) / f64::from(PIECES) * 0.92;
        let stops: Option<Vec<Point>> = (0..=PIECES).map(|n| at(share(n))).collect();
        Some(smooth(&stops?))
    }
}

/// A smooth curve through some points: at each it runs as its neighbours lie (Catmull and Rom).
fn smooth(stops: &[Point]) -> BezPath {
    let mut path = BezPath::new();
    let at = |n: usize| stops.get(n.min(stops.len().saturating_sub(1))).copied();
    let way = |n: usize| Some((at(n + 1)? - at(n.saturating_sub(1))?) / 6.0);
    for n in 0..stops.len() {
        let Some(p) = at(n) else { continue };
        match (
            n.checked_sub(1)
                .and_then(|before| Some((at(before)?, way(before)?))),
            way(n),
        ) {
            (Some((before, from)), Some(to)) => path.curve_to(before + from, p - to, p),
            _ => path.move_to(p),
        }
    }
    path
}

/// On the flat sheet: the foot on the crease below the middle of the free edge, and a point just
/// past that edge.
fn reach(pattern: &Pattern, crease: &Crease, strips: &[PanelId]) -> Option<(Point, Point)> {
    let panels = strips.iter().filter_map(|strip| pattern.panel(*strip));
    let outline: Vec<Point> = panels.flat_map(|panel| panel.outline.clone()).collect();
    let way = crease.b - crease.a;
    let along = way / way.hypot().max(1e-9);
    // The child is on the right of the crease.
    let across = Vec2::new(along.y, -along.x);
    let depth = |p: &Point| across.dot(*p - crease.a);
    let far = outline.iter().map(depth).fold(0.0, f64::max);
    let free: Vec<f64> = outline
        .iter()
        .filter(|p| depth(p) > 0.98 * far)
        .map(|p| along.dot(*p - crease.a))
        .collect();
    let low = free.iter().copied().fold(f64::INFINITY, f64::min);
    let high = free.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    (far > 0.0).then(|| {
        let foot = crease.a + along * ((low + high) / 2.0);
        (foot, foot + across * (far * OFF))
    })
}
