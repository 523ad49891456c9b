//! The way on which contents go in, and its arrow.

use kurbo::{BezPath, Point};

use super::{SpaceBody, SpaceContents, SpaceView};
use crate::polygon::depth_inside;
use crate::{Folded, Panel, PanelId, Pattern, Vec3};

/// Across the contents, as a share of their size: where rays run.
const RAYS: [f64; 4] = [-0.35, -0.1, 0.15, 0.4];

/// The way in which contents meet the least paper when they come from outside; the first of
/// equals: from above, from the far end, from the near one, from the sides. Into a flat piece
/// they go from the flap that closes it.
pub(super) fn way_in(pattern: &Pattern, folded: &Folded, contents: &SpaceContents) -> Vec3 {
    let ways = [
        Vec3::new(0.0, 0.0, -1.0),
        Vec3::new(0.0, -1.0, 0.0),
        Vec3::new(0.0, 1.0, 0.0),
        Vec3::new(-1.0, 0.0, 0.0),
        Vec3::new(1.0, 0.0, 0.0),
    ];
    if contents.size.z <= 0.0 {
        return flat_way(pattern);
    }
    let size = contents.size;
    let met = |way: &Vec3| {
        let rays = RAYS.iter().flat_map(|&p| RAYS.map(|q| (p, q)));
        let rays = rays.map(|(p, q)| {
            // Over the face that the ray leaves through; which two of the three, the way tells.
            let along_y = if way.z == 0.0 { p } else { q };
            let along_z = if way.x == 0.0 { q } else { p };
            let across = Vec3::new(p * size.x, along_y * size.y, along_z * size.z);
            let from = contents.middle + across - *way * across.dot(*way);
            crossed(pattern, folded, from, -*way)
        });
        rays.sum::<usize>()
    };
    ways.into_iter().min_by_key(met).unwrap_or_default()
}

/// Away from the flap that closes a flat piece.
fn flat_way(pattern: &Pattern) -> Vec3 {
    let closing = pattern.folds.get(pattern.folds_before_filling);
    let crease = closing.and_then(|fold| pattern.creases.get(fold.creases.first()?.0.0));
    let at = crease.map_or(Point::new(0.0, 1.0), |crease| crease.a.midpoint(crease.b));
    if at.x.abs() > at.y.abs() {
        Vec3::new(-at.x.signum(), 0.0, 0.0)
    } else {
        Vec3::new(0.0, -at.y.signum(), 0.0)
    }
}

/// How many panels a ray meets.
pub(super) fn crossed(pattern: &Pattern, folded: &Folded, from: Vec3, way: Vec3) -> usize {
    let panels = pattern.panels.iter().enumerate();
    let meets = |(index, panel): &(usize, &Panel)| {
        folded.pose(PanelId(*index)).is_some_and(|pose| {
            let rate = pose.inside_normal().dot(way);
            let far = -pose.flat_of(from).1 / rate;
            let at = pose.flat_of(from + way * far).0;
            rate.abs() > 1e-9 && far > 0.0 && depth_inside(at, &panel.outline) > 0.0
        })
    };
    panels.filter(meets).count()
}

/// An arrow from the middle of a body that is carried, to where that comes.
pub(super) fn carry_arrow(
    body: &SpaceBody<'_>,
    folded: &Folded,
    way: Vec3,
    view: &SpaceView,
) -> Option<BezPath> {
    let corners = folded.panels().iter().flatten();
    let corners = corners.map(|corner| body.place.move_point(*corner));
    let (low, high) = corners.fold(None, |bounds: Option<(Vec3, Vec3)>, p| {
        let (low, high) = bounds.unwrap_or((p, p));
        Some((low.min(p), high.max(p)))
    })?;
    let middle = (low + high) * 0.5;
    let mut path = BezPath::new();
    path.move_to(view.seen(middle + way * 0.1));
    path.line_to(view.seen(middle + way * 0.9));
    Some(path)
}

/// An arrow from the middle of the contents as they stand to where they come.
pub(super) fn way_arrow(contents: &SpaceContents, way: Vec3, view: &SpaceView) -> BezPath {
    let from = contents.middle + way * 0.1;
    let mut path = BezPath::new();
    path.move_to(view.seen(from));
    path.line_to(view.seen(contents.middle + way * 0.9));
    path
}
