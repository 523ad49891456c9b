//! What stands in space: sheets with their planes, the edges on them, the glue.

use kurbo::{Point, Vec2};

use super::bsp::{Part, Plane};
use super::convex::convex_parts;
use super::lying;
use super::{SpaceBody, SpaceView};
use crate::fold_check::stack_places;
use crate::picture::scene::LineRole;
use crate::polygon::{distance_to_segment, edges, is_convex};
use crate::{Crease, CreaseId, Folded, PanelId, Pose, Side, Vec3, fold};

/// Nearer than this, mm, is the same place: far below what a picture shows.
const SAME_MM: f64 = 1e-4;
/// A crease folded by less still lies flat, degrees.
const FLAT_DEG: f64 = 1.0;

/// What a sheet is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Skin {
    Paper,
    /// Paper that this step moves.
    Moving,
    /// A face of something solid.
    Contents,
}

/// Where a line is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Shown {
    /// Wherever it can be seen.
    Always,
    /// Only where one of the sheets beside it looks at the eye and the other does not.
    AsSilhouette,
}

/// A line on one or two sheets.
#[derive(Clone, Debug)]
pub(super) struct Edge {
    pub(super) ends: [Vec3; 2],
    pub(super) role: LineRole,
    pub(super) now: bool,
    pub(super) shown: Shown,
    pub(super) sheets: Vec<usize>,
}

/// Glue on one side of a sheet.
pub(super) struct Glue {
    pub(super) sheet: usize,
    pub(super) on_inside: bool,
    pub(super) outline: Vec<Vec3>,
}

/// Everything that a picture shows; sheet by sheet.
#[derive(Default)]
pub(super) struct Stage {
    pub(super) planes: Vec<Plane>,
    pub(super) skins: Vec<Skin>,
    pub(super) names: Vec<&'static str>,
    pub(super) parts: Vec<Part>,
    pub(super) edges: Vec<Edge>,
    pub(super) glue: Vec<Glue>,
    /// The sheet of each panel, body by body.
    sheets: Vec<Vec<Option<usize>>>,
}

/// A panel with the creases on its outline.
struct Placed<'a> {
    name: &'static str,
    outline: &'a [Point],
    pose: Pose,
    place: f64,
    skin: Skin,
    /// Flat ends of each crease, and its edge.
    creases: Vec<(Point, Point, usize)>,
}

impl Stage {
    pub(super) fn add_body(&mut self, body: &SpaceBody<'_>) {
        let pattern = body.pattern;
        let folded = fold(pattern, &body.angles);
        let places = lying::places(pattern, &body.angles, stack_places(pattern));
        let skins = body.skins();
        let first_edge = self.edges.len();
        self.add_creases(body, &folded);
        let mut sheets: Vec<Option<usize>> = Vec::new();
        for (index, panel) in pattern.panels.iter().enumerate() {
            let id = PanelId(index);
            let Some(pose) = folded.pose(id) else {
                sheets.push(None);
                continue;
            };
            let beside = pattern.creases.iter().enumerate();
            let beside = beside.filter(|(_, crease)| crease.parent == id || crease.child == id);
            sheets.push(
                self.add_panel(&Placed {
                    name: panel.name,
                    outline: &panel.outline,
                    pose: body.place.after(pose),
                    place: places.get(index).copied().unwrap_or(0.0),
                    skin: skins.get(index).copied().unwrap_or(Skin::Paper),
                    creases: beside
                        .map(|(at, crease)| (crease.a, crease.b, first_edge + at))
                        .collect(),
                }),
            );
        }
        self.add_glue(body, &folded, &sheets);
        self.sheets.push(sheets);
    }

    fn add_glue(&mut self, body: &SpaceBody<'_>, folded: &Folded, sheets: &[Option<usize>]) {
        let zone = |&zone: &usize| body.pattern.glue.get(zone);
        for zone in body.glue.iter().filter_map(zone) {
            let sheet = sheets.get(zone.on.0).copied().flatten();
            if let (Some(sheet), Some(pose)) = (sheet, folded.pose(zone.on)) {
                let pose = body.place.after(pose);
                self.glue.push(Glue {
                    sheet,
                    on_inside: zone.on_side == Side::Inside,
                    outline: zone.area.iter().map(|&p| pose.place(p)).collect(),
                });
            }
        }
    }

    /// The sheet of a panel of a body, by its number.
    pub(super) fn sheet_of(&self, body: usize, panel: PanelId) -> Option<usize> {
        self.sheets.get(body)?.get(panel.0).copied().flatten()
    }

    /// The body that a sheet is of, by its number.
    pub(super) fn body_of(&self, sheet: usize) -> Option<usize> {
        let of = |sheets: &Vec<Option<usize>>| sheets.contains(&Some(sheet));
        self.sheets.iter().position(of)
    }

    /// The body and the panel that a sheet is.
    #[cfg(test)]
    pub(super) fn panel_of(&self, sheet: usize) -> Option<(usize, usize)> {
        let bodies = self.sheets.iter().enumerate();
        bodies
            .flat_map(|(body, sheets)| sheets.iter().enumerate().map(move |panel| (body, panel)))
            .find(|(_, (_, own))| **own == Some(sheet))
            .map(|(body, (panel, _))| (body, panel))
    }

    /// One edge for each crease, in their order; the panels add themselves.
    fn add_creases(&mut self, body: &SpaceBody<'_>, folded: &Folded) {
        for (index, crease) in body.pattern.creases.iter().enumerate() {
            let angle = body.angles.get(index).copied().unwrap_or(0.0);
            let now = body.moves.iter().any(|(id, _)| *id == CreaseId(index));
            self.edges.push(Edge {
                ends: ends(body, folded, crease),
                role: if now || angle.abs() < FLAT_DEG {
                    LineRole::Crease
                } else {
                    LineRole::Outline
                },
                now,
                shown: if crease.smooth {
                    Shown::AsSilhouette
                } else {
                    Shown::Always
                },
                sheets: Vec::new(),
            });
        }
    }

    fn add_panel(&mut self, panel: &Placed<'_>) -> Option<usize> {
        let normal = panel.pose.inside_normal();
        let first = panel.outline.first()?;
        let sheet = self.add_sheet(
            Plane {
                normal,
                offset: normal.dot(panel.pose.place(*first)),
                place: panel.place,
            },
            panel.skin,
            panel.name,
        );
        let (outline, edges) = self.sides(panel, sheet);
        let whole = is_convex(&outline);
        let parts = match whole {
            true => vec![(0..outline.len()).collect()],
            false => convex_parts(&outline),
        };
        for part in parts {
            let next = |at: usize| part.get((at + 1) % part.len()).copied();
            let is_side = |at: usize, corner: usize| next(at) == Some((corner + 1) % outline.len());
            let edge = |(at, &corner): (usize, &usize)| {
                let edge = edges.get(corner).copied().flatten();
                edge.filter(|_| is_side(at, corner))
            };
            let place = |&corner: &usize| outline.get(corner).map(|&p| panel.pose.place(p));
            self.parts.push(Part {
                sheet,
                corners: part.iter().filter_map(place).collect(),
                edges: part.iter().enumerate().map(edge).collect(),
            });
        }
        Some(sheet)
    }

    pub(super) fn add_sheet(&mut self, plane: Plane, skin: Skin, name: &'static str) -> usize {
        self.names.push(name);
        self.planes.push(plane);
        self.skins.push(skin);
        self.planes.len() - 1
    }

    /// The outline with a corner at each end of a crease, and the edge along each of its sides.
    fn sides(&mut self, panel: &Placed<'_>, sheet: usize) -> (Vec<Point>, Vec<Option<usize>>) {
        let (mut outline, mut along) = (Vec::new(), Vec::new());
        for (a, b) in edges(panel.outline) {
            let mut stops = vec![a];
            stops.extend(stops_between(a, b, &panel.creases));
            stops.push(b);
            for (&p, &q) in stops.iter().zip(stops.iter().skip(1)) {
                outline.push(p);
                along.push(Some(self.edge_between(panel, sheet, (p, q))));
            }
        }
        (outline, along)
    }

    /// The crease along a bit of the outline, or a new edge of the paper.
    fn edge_between(&mut self, panel: &Placed<'_>, sheet: usize, (p, q): (Point, Point)) -> usize {
        let middle = p.midpoint(q);
        let mut creases = panel.creases.iter();
        let crease = creases.find(|(a, b, _)| distance_to_segment(middle, *a, *b) < SAME_MM);
        if let Some(&(.., index)) = crease {
            if let Some(edge) = self
                .edges
                .get_mut(index)
                .filter(|e| !e.sheets.contains(&sheet))
            {
                edge.sheets.push(sheet);
            }
            return index;
        }
        self.edges.push(Edge {
            ends: [panel.pose.place(p), panel.pose.place(q)],
            role: LineRole::Outline,
            now: panel.skin == Skin::Moving,
            shown: Shown::Always,
            sheets: vec![sheet],
        });
        self.edges.len() - 1
    }

    /// How a side of a sheet is painted.
    pub(super) fn role(&self, sheet: usize, inside_up: bool, view: &SpaceView) -> LineRole {
        let normal = self.planes.get(sheet).map_or(view.eye(), |p| p.normal);
        let shade = view.is_in_shade(if inside_up { normal } else { -normal });
        match (self.skins.get(sheet), inside_up, shade) {
            (Some(Skin::Moving), true, _) => LineRole::Moving,
            (Some(Skin::Moving), false, _) => LineRole::MovingFront,
            (Some(Skin::Contents), _, false) => LineRole::Contents,
            (Some(Skin::Contents), _, true) => LineRole::ContentsInShade,
            (_, true, false) => LineRole::Inside,
            (_, true, true) => LineRole::InsideInShade,
            (_, false, false) => LineRole::Outside,
            (_, false, true) => LineRole::OutsideInShade,
        }
    }
}

fn ends(body: &SpaceBody<'_>, folded: &Folded, crease: &Crease) -> [Vec3; 2] {
    let pose = folded.pose(crease.parent).or(folded.pose(crease.child));
    let pose = body.place.after(pose.unwrap_or(&Pose::FLAT));
    [pose.place(crease.a), pose.place(crease.b)]
}

/// Ends of creases inside a side, from its start to its end.
fn stops_between(a: Point, b: Point, creases: &[(Point, Point, usize)]) -> Vec<Point> {
    let way: Vec2 = b - a;
    let ends = creases.iter().flat_map(|(p, q, _)| [*p, *q]);
    let mut stops: Vec<Point> = ends
        .filter(|p| distance_to_segment(*p, a, b) < SAME_MM)
        .filter(|p| p.distance(a) > SAME_MM && p.distance(b) > SAME_MM)
        .collect();
    stops.sort_by(|p, q| (*p - a).dot(way).total_cmp(&(*q - a).dot(way)));
    stops.dedup_by(|p, q| p.distance(*q) < SAME_MM);
    stops
}
