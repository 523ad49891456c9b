//! The referee: for one point of a picture after another, which side of what a ray meets first.
//! It shares nothing with the drawing but where the panels are and where the eye is.

use kurbo::Point;

use crate::picture::space::*;
use crate::*;

/// Paper in one plane is told apart by its layers, so thick, mm.
const LAYER_MM: f64 = 1e-4;

/// What a ray meets.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Hit {
    Nothing,
    Paper {
        body: usize,
        panel: usize,
        inside_up: bool,
    },
    Contents,
}

/// Three directions of a view and everything in sight.
pub(super) struct Rays<'a> {
    pub(super) bodies: &'a [SpaceBody<'a>],
    pub(super) contents: Option<SpaceContents>,
    pub(super) view: SpaceView,
    folded: Vec<Folded>,
    ajar: Vec<Folded>,
    closed: Vec<Folded>,
    axes: [Vec3; 2],
}

impl<'a> Rays<'a> {
    pub(super) fn new(
        bodies: &'a [SpaceBody<'a>],
        contents: Option<SpaceContents>,
        view: SpaceView,
    ) -> Self {
        // What the picture's x and y mean in space, from where three points are seen.
        let unit = |v: Vec3| view.seen(v);
        let [x, y, z] = [
            Vec3::new(1.0, 0.0, 0.0),
            Vec3::new(0.0, 1.0, 0.0),
            Vec3::new(0.0, 0.0, 1.0),
        ]
        .map(unit);
        let axes = [Vec3::new(x.x, y.x, z.x), Vec3::new(x.y, y.y, z.y)];
        Self {
            bodies,
            contents,
            view,
            folded: bodies.iter().map(|b| fold(b.pattern, &b.angles)).collect(),
            ajar: bodies.iter().map(ajar).collect(),
            closed: bodies.iter().map(|b| fold_closed(b.pattern)).collect(),
            axes,
        }
    }

    /// The first thing on the ray through a point of the picture.
    pub(super) fn cast(&self, at: Point) -> Hit {
        self.first(at).1
    }

    /// How near to the eye the ray first meets anything.
    pub(super) fn depth(&self, at: Point) -> f64 {
        self.first(at).0
    }

    fn first(&self, at: Point) -> (f64, Hit) {
        let from = self.axes[0] * at.x + self.axes[1] * at.y;
        let mut best = (f64::NEG_INFINITY, Hit::Nothing);
        for (number, body) in self.bodies.iter().enumerate() {
            for (index, panel) in body.pattern.panels.iter().enumerate() {
                let Some(pose) = self.folded[number].pose(PanelId(index)) else {
                    continue;
                };
                // Folded flat on the way, the paper is told apart by a fold that is not quite sharp.
                let is_closed = self.closed[number].pose(PanelId(index)) == Some(pose);
                let ajar = self.ajar[number]
                    .pose(PanelId(index))
                    .filter(|_| !is_closed);
                let pose = body.place.after(ajar.unwrap_or(pose));
                let facing = pose.inside_normal().dot(self.view.eye());
                let height = pose.flat_of(from).1;
                // The ray starts in the plane through the origin that looks at the eye.
                let depth = -height / facing;
                let met = pose.flat_of(from + self.view.eye() * depth).0;
                let depth = depth + self.layer(number, index);
                if depth > best.0 && is_in(met, &panel.outline) {
                    let inside_up = facing > 0.0;
                    let hit = Hit::Paper {
                        body: number,
                        panel: index,
                        inside_up,
                    };
                    best = (depth, hit);
                }
            }
        }
        let solid = self
            .contents
            .and_then(|contents| self.enter(&contents, from));
        match solid {
            Some(depth) if depth > best.0 => (depth, Hit::Contents),
            _ => best,
        }
    }

    /// How much nearer a panel in its final place is for its layer: out from the middle of a box;
    /// in an envelope, up from the front.
    fn layer(&self, body: usize, index: usize) -> f64 {
        let pattern = self.bodies[body].pattern;
        let (Some(now), Some(closed)) = (
            self.folded[body].pose(PanelId(index)),
            self.closed[body].pose(PanelId(index)),
        ) else {
            return 0.0;
        };
        let panel = &pattern.panels[index];
        if now != closed {
            // On the way, glued paper still lies inside or outside its wall.
            let out = now.inside_normal() * -f64::from(panel.layer);
            return LAYER_MM * self.bodies[body].place.turn(out).dot(self.view.eye());
        }
        let out = match pattern.solid {
            Solid::Flat { .. } if index == pattern.root.0 => return 0.0,
            Solid::Flat { .. } => Vec3::new(0.0, 0.0, f64::from(panel.layer) + 1.0),
            Solid::Faces(ref faces) => {
                // Paper that stands out has a face on each side, half a layer apart.
                let Some(Face::Numbered(place)) = panel.plane else {
                    return 0.0;
                };
                outward(&faces[usize::from(place)].corners) * (f64::from(panel.layer) + 0.5)
            }
            Solid::Box { .. } => {
                let normal = now.inside_normal();
                let (low, high) = pattern.solid.bounds();
                let to_middle = (low + high) * 0.5 - now.place(panel.outline[0]);
                let out = if normal.dot(to_middle) > 0.0 {
                    -normal
                } else {
                    normal
                };
                out * f64::from(panel.layer)
            }
        };
        LAYER_MM * self.bodies[body].place.turn(out).dot(self.view.eye())
    }

    /// Where the ray, coming from the eye, enters a convex solid.
    fn enter(&self, contents: &SpaceContents, from: Vec3) -> Option<f64> {
        let (x, y, z) = (
            Vec3::new(2.0 / contents.size.x, 0.0, 0.0),
            Vec3::new(0.0, 2.0 / contents.size.y, 0.0),
            Vec3::new(0.0, 0.0, 2.0 / contents.size.z),
        );
        let (p, q, along) = match contents.shape {
            SpaceShape::Cylinder(SpaceAxis::X) => (y, z, x),
            SpaceShape::Cylinder(SpaceAxis::Y) => (z, x, y),
            _ => (x, y, z),
        };
        let mut walls = vec![(along, 1.0), (-along, 1.0)];
        if matches!(contents.shape, SpaceShape::Cylinder(_)) {
            let wedge = std::f64::consts::PI / 28.0;
            for side in 0..28 {
                let (sin, cos) = (wedge * f64::from(2 * side + 1)).sin_cos();
                walls.push((p * cos + q * sin, wedge.cos()));
            }
        } else {
            walls.extend([(p, 1.0), (-p, 1.0), (q, 1.0), (-q, 1.0)]);
        }
        let (mut near, mut far) = (f64::INFINITY, f64::NEG_INFINITY);
        for (out, reach) in walls {
            let outside = out.dot(from - contents.middle) - reach;
            let rate = out.dot(self.view.eye());
            if rate.abs() < 1e-12 {
                if outside > 0.0 {
                    return None;
                }
            } else if rate > 0.0 {
                near = near.min(-outside / rate);
            } else {
                far = far.max(-outside / rate);
            }
        }
        (near > far).then_some(near)
    }
}

/// The direction that a face with these corners looks in.
fn outward(corners: &[Vec3]) -> Vec3 {
    let pairs = corners.windows(2).map(|pair| {
        let [p, q] = [pair[0], pair[1]].map(|p| p - corners[0]);
        p.cross(q)
    });
    pairs
        .fold(Vec3::default(), |sum, normal| sum + normal)
        .unit()
}

/// The same folds, those that lie flat not quite as far.
fn ajar(body: &SpaceBody<'_>) -> Folded {
    let open = |angle: &f64| {
        let is_flat = angle.abs() > 179.999;
        angle * if is_flat { 1.0 - 1e-4 } else { 1.0 }
    };
    let angles: Vec<f64> = body.angles.iter().map(open).collect();
    fold(body.pattern, &angles)
}

/// Whether a point is in a simple outline: crossings of a line to the right, counted.
fn is_in(p: Point, outline: &[Point]) -> bool {
    let next = outline.iter().cycle().skip(1);
    let crossed = outline.iter().zip(next).filter(|(a, b)| {
        (a.y > p.y) != (b.y > p.y) && p.x < a.x + (p.y - a.y) * (b.x - a.x) / (b.y - a.y)
    });
    crossed.count() % 2 == 1
}
