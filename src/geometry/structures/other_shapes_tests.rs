//! The fold check on shapes that come from no punch board: it knows nothing of structures.

use kurbo::Point;

use super::build::{Builder, mirror_x, mirror_y, rectangle};
use crate::{Check, ContentsBox, Face, GlueZone, PanelRole, Pattern, Side, Solid, fold_check};

fn faults(checks: &[Check]) -> Vec<String> {
    checks
        .iter()
        .filter(|check| !check.holds)
        .map(|check| check.says.clone())
        .collect()
}

fn line(x0: f64, y0: f64, x1: f64, y1: f64) -> (Point, Point) {
    (Point::new(x0, y0), Point::new(x1, y1))
}

/// A tray 60 x 40 x 15 from a rectangle of 90 x 70, its corners glued behind the end walls.
fn tray(open: Vec<Face>) -> Pattern {
    let (x, y, d) = (30.0, 20.0, 15.0);
    let mut b = Builder::default();
    let base = b.panel(
        "base",
        rectangle(-x, -y, x, y),
        (Face::Front, 0),
        PanelRole::Wall,
    );
    let side = rectangle(x, -y, x + d, y);
    let end = rectangle(-x, y, x, y + d);
    let right = b.panel(
        "right wall",
        side.clone(),
        (Face::Right, 0),
        PanelRole::Wall,
    );
    let left = b.panel(
        "left wall",
        mirror_x(&side),
        (Face::Left, 0),
        PanelRole::Wall,
    );
    let top = b.panel("top wall", end.clone(), (Face::Top, 0), PanelRole::Wall);
    let bottom = b.panel(
        "bottom wall",
        mirror_y(&end),
        (Face::Bottom, 0),
        PanelRole::Wall,
    );
    let sides = [
        b.crease("right", line(x, -y, x, y), (base, right), 90.0),
        b.crease("left", line(-x, -y, -x, y), (base, left), 90.0),
    ];
    let ends = [
        b.crease("top", line(-x, y, x, y), (base, top), 90.0),
        b.crease("bottom", line(-x, -y, x, -y), (base, bottom), 90.0),
    ];
    let mut corners = Vec::new();
    for (side, end, sx, sy, face) in [
        (right, top, 1.0, 1.0, Face::Top),
        (left, top, -1.0, 1.0, Face::Top),
        (right, bottom, 1.0, -1.0, Face::Bottom),
        (left, bottom, -1.0, -1.0, Face::Bottom),
    ] {
        let square = rectangle(x * sx, y * sy, (x + d) * sx, (y + d) * sy);
        let tab = b.panel("corner", square.clone(), (face, -1), PanelRole::Tab);
        let hinge = line(x * sx, y * sy, (x + d) * sx, y * sy);
        corners.push((
            tab,
            end,
            square,
            b.crease("corner", hinge, (side, tab), 90.0),
        ));
        b.cut(Point::new(x * sx, y * sy), Point::new(x * sx, (y + d) * sy));
    }
    b.fold("side walls", &sides);
    let creases: Vec<_> = corners.iter().map(|corner| corner.3).collect();
    b.fold("corners", &creases);
    let with_fold = b.fold("end walls", &ends);
    for (on, to, area, _) in corners {
        b.glue(GlueZone {
            name: "corner on end wall",
            area: super::build::ccw(area),
            on,
            on_side: Side::Outside,
            to,
            needs_width_mm: 10.0,
            needs_area_mm2: 200.0,
            with_fold,
        });
    }
    let blank = rectangle(-x - d, -y - d, x + d, y + d);
    b.finish(
        "tray",
        blank,
        Solid::Box {
            x: 60.0,
            y: 40.0,
            z: d,
            open,
        },
        (0.3, 3),
    )
}

#[test]
fn a_tray_holds_and_is_closed_but_for_its_top() {
    // A caliper along the width, three along the length, half of one under the contents.
    let contents = ContentsBox {
        x: 59.7,
        y: 39.1,
        z: 14.85,
    };
    assert_eq!(
        faults(&fold_check(&tray(vec![Face::Back]), Some(&contents))),
        [""; 0]
    );
    let shut = fold_check(&tray(Vec::new()), None);
    insta::assert_snapshot!(faults(&shut).join("\n"), @"100.000 % of the back is open.");
    let longer = ContentsBox {
        y: 39.2,
        ..contents
    };
    let checks = fold_check(&tray(vec![Face::Back]), Some(&longer));
    insta::assert_snapshot!(faults(&checks).join("\n"), @"The contents need 39.20 mm in the length; there are 39.10 mm.");
}

/// A sleeve round a drawer: four walls in a row and a glue flap, both ends open.
fn sleeve(flap_layer: i8) -> Pattern {
    let (x, y, d, g) = (30.0, 20.0, 15.0, 10.0);
    let mut b = Builder::default();
    let base = b.panel(
        "front",
        rectangle(-x, -y, x, y),
        (Face::Front, 0),
        PanelRole::Wall,
    );
    let wall = |b: &mut Builder, name, from: f64, to: f64, at, role| {
        b.panel(name, rectangle(from, -y, to, y), at, role)
    };
    let right = wall(&mut b, "right", x, x + d, (Face::Right, 0), PanelRole::Wall);
    let back = wall(
        &mut b,
        "back",
        x + d,
        3.0 * x + d,
        (Face::Back, 0),
        PanelRole::Wall,
    );
    let left = wall(&mut b, "left", -x - d, -x, (Face::Left, 0), PanelRole::Wall);
    let at = (Face::Back, flap_layer);
    let flap = wall(&mut b, "glue flap", -x - d - g, -x - d, at, PanelRole::Flap);
    let mut crease = |at: f64, joins| b.crease("fold", line(at, -y, at, y), joins, 90.0);
    let creases = [
        crease(-x, (base, left)),
        crease(-x - d, (left, flap)),
        crease(x, (base, right)),
        crease(x + d, (right, back)),
    ];
    b.fold("left", &creases[..1]);
    b.fold("glue flap", &creases[1..2]);
    b.fold("right", &creases[2..3]);
    let with_fold = b.fold("back", &creases[3..]);
    b.glue(GlueZone {
        name: "glue flap on back",
        area: rectangle(-x - d - g, -y, -x - d, y),
        on: flap,
        on_side: Side::Outside,
        to: back,
        needs_width_mm: 8.0,
        needs_area_mm2: 100.0,
        with_fold,
    });
    let blank = rectangle(-x - d - g, -y, 3.0 * x + d, y);
    let open = vec![Face::Bottom, Face::Top];
    b.finish(
        "sleeve",
        blank,
        Solid::Box {
            x: 60.0,
            y: 40.0,
            z: d,
            open,
        },
        (0.3, 4),
    )
}

#[test]
fn a_sleeve_holds_with_both_ends_open() {
    let contents = ContentsBox {
        x: 59.7,
        y: 40.0,
        z: 14.4,
    };
    assert_eq!(faults(&fold_check(&sleeve(-1), Some(&contents))), [""; 0]);
}

#[test]
fn a_glue_flap_that_should_lie_outside_arrives_inside() {
    let checks = fold_check(&sleeve(1), None);
    insta::assert_snapshot!(faults(&checks).join("\n"), @r"
    The glue flap arrives on the wrong side of the back: its place in the stack is outside it.
    Glue, glue flap on back: the back lies on the other side.
    ");
}
