//! Scenes to try the drawing on: folded as the hands fold, and folded against all sense.

use crate::picture::space::*;
use crate::*;

/// Numbers from a seed, the same on every machine (a linear congruence, constants from memory).
pub(super) struct Seeded(pub(super) u64);

impl Seeded {
    /// Even from `low` to `high`.
    pub(super) fn between(&mut self, low: f64, high: f64) -> f64 {
        let next = self.0.wrapping_mul(6_364_136_223_846_793_005);
        self.0 = next.wrapping_add(1_442_695_040_888_963_407);
        low + (high - low) * ((self.0 >> 11) as f64 / (1_u64 << 53) as f64)
    }

    pub(super) fn pose(&mut self) -> Pose {
        let mut point = || kurbo::Point::new(self.between(-60.0, 60.0), self.between(-60.0, 60.0));
        let (a, b, c, d) = (point(), point(), point(), point());
        let turn = self.between(-180.0, 180.0);
        let shift = Vec3::new(0.0, 0.0, self.between(-20.0, 20.0));
        Pose::FLAT
            .shifted(shift)
            .after(&Pose::turn_about(a, b, turn))
            .after(&Pose::turn_about(c, d, self.between(-180.0, 180.0)))
    }
}

pub(super) fn sixteenths(n: i64) -> Length {
    Length::from_nm(1_587_500 * n)
}

pub(super) fn seed_tin_box() -> Pattern {
    made(Settings::from(PunchBoxSettings {
        sheet: sixteenths(84),
        punch_1: sixteenths(24),
        punch_2: sixteenths(46),
    }))
}

pub(super) fn seed_envelope() -> Pattern {
    made(Settings::from(PunchEnvelopeSettings {
        sheet: sixteenths(96),
        punch: sixteenths(40),
    }))
}

/// A gable-top carton, a tuck-end carton, a drawer and its sleeve.
pub(super) fn scored_bodies() -> Vec<Pattern> {
    let tenth = Length::from_nm(100_000);
    let ruler = Ruler::new(Unit::Millimetre, tenth, Length::ZERO, tenth * 5000);
    let ruler = ruler.expect("a ruler");
    let tools = Tools::new(PunchBoard::default_inch(), ruler, &Trimmer::new(ruler));
    let gable: &[i64] = &[2900, 2000, 600, 1400, 350, 150, 650];
    let tuck: &[i64] = &[1800, 1100, 250, 850, 100];
    let drawer: &[i64] = &[1107, 907, 252, 1858, 406, 619, 889, 190];
    let made = |(kind, at): (StructureKind, &[i64])| {
        let at: Vec<Length> = at.iter().map(|tenths| tenth * *tenths).collect();
        let settings = Settings::new(kind, &at).expect("all settings");
        let made = Structure::new(settings, &tools, tenth * 3).expect("can be made");
        made.bodies()
            .map(|body| body.pattern.clone())
            .collect::<Vec<_>>()
    };
    let kinds = [
        (GableCarton::KIND, gable),
        (TuckCarton::REVERSE, tuck),
        (Drawer::KIND, drawer),
    ];
    kinds.into_iter().flat_map(made).collect()
}

fn made(settings: Settings) -> Pattern {
    let caliper = Length::from_nm(300_000);
    let sixteenths = Ruler::inch(16);
    let tools = Tools {
        punch_board: Some(PunchBoard::default_inch()),
        score: Some(sixteenths),
        trimmer: sixteenths,
    };
    let made = Structure::new(settings, &tools, caliper);
    made.expect("can be made").pattern().clone()
}

/// A strip of angles that is not convex: an L, a U and a star hang on one panel.
pub(super) fn odd_shapes() -> Pattern {
    let shape = |corners: &[(f64, f64)]| corners.iter().map(|&p| p.into()).collect::<Vec<_>>();
    let panel = |name, outline| Panel {
        name,
        outline,
        plane: None,
        layer: 0,
        role: PanelRole::Wall,
    };
    let crease = |a: (f64, f64), b: (f64, f64), child| Crease {
        name: "edge",
        a: a.into(),
        b: b.into(),
        parent: PanelId(0),
        child: PanelId(child),
        angle_deg: 90.0,
        smooth: false,
    };
    let square = [(0., 0.), (40., 0.), (40., 40.), (0., 40.)];
    let angle = [
        (40., 0.),
        (80., 0.),
        (80., 15.),
        (55., 15.),
        (55., 40.),
        (40., 40.),
    ];
    let fork = [
        (0., 0.),
        (0., -50.),
        (12., -50.),
        (12., -20.),
        (28., -20.),
        (28., -50.),
        (40., -50.),
        (40., 0.),
    ];
    let star = [
        (0., 40.),
        (40., 40.),
        (28., 55.),
        (35., 80.),
        (20., 65.),
        (5., 80.),
        (12., 55.),
    ];
    Pattern {
        panels: vec![
            panel("square", shape(&square)),
            panel("angle", shape(&angle)),
            panel("fork", shape(&fork)),
            panel("star", shape(&star)),
        ],
        creases: vec![
            crease((40., 0.), (40., 40.), 1),
            crease((0., 0.), (40., 0.), 2),
            crease((40., 40.), (0., 40.), 3),
        ],
        ..nothing()
    }
}

/// Two walls on a narrow base with flaps that lie over each other past both of them, the outer one
/// first in the list.
pub(super) fn two_flaps() -> Pattern {
    let mut pattern = nothing();
    let mut panel = |name, x: (f64, f64), plane, layer| {
        let outline = vec![(x.0, -20.0), (x.1, -20.0), (x.1, 20.0), (x.0, 20.0)];
        pattern.panels.push(Panel {
            name,
            outline: outline.into_iter().map(|p| p.into()).collect(),
            plane: Some(plane),
            layer,
            role: PanelRole::Wall,
        });
    };
    panel("base", (-5.0, 5.0), Face::Front, 0);
    panel("left wall", (-25.0, -5.0), Face::Left, 0);
    panel("right wall", (5.0, 25.0), Face::Right, 0);
    panel("outer flap", (25.0, 55.0), Face::Back, 0);
    panel("inner flap", (-55.0, -25.0), Face::Back, -1);
    let ends = [(-5.0, 0, 1), (5.0, 0, 2), (25.0, 2, 3), (-25.0, 1, 4)];
    pattern
        .creases
        .extend(ends.map(|(x, parent, child): (f64, _, _)| Crease {
            name: "edge",
            a: kurbo::Point::new(x, -20.0_f64.copysign(x)),
            b: kurbo::Point::new(x, 20.0_f64.copysign(x)),
            parent: PanelId(parent),
            child: PanelId(child),
            angle_deg: 90.0,
            smooth: false,
        }));
    pattern.solid = Solid::Box {
        x: 10.0,
        y: 40.0,
        z: 20.0,
        open: Vec::new(),
    };
    pattern
}

/// A sheet bent round half a cylinder of this radius, as so many strips of it.
pub(super) fn half_round(strips: usize, radius: f64) -> Pattern {
    let mut pattern = nothing();
    let wide = 2.0 * radius * (std::f64::consts::FRAC_PI_2 / strips as f64).sin();
    for n in 0..strips {
        let (left, right) = (n as f64 * wide, (n + 1) as f64 * wide);
        let outline = vec![(left, 0.0), (right, 0.0), (right, 60.0), (left, 60.0)];
        pattern.panels.push(Panel {
            name: "bent sheet",
            outline: outline.into_iter().map(|p| p.into()).collect(),
            plane: None,
            layer: 0,
            role: PanelRole::Wall,
        });
        if n > 0 {
            pattern.creases.push(Crease {
                name: "bend",
                a: kurbo::Point::new(left, 0.0),
                b: kurbo::Point::new(left, 60.0),
                parent: PanelId(n - 1),
                child: PanelId(n),
                angle_deg: 180.0 / strips as f64,
                smooth: true,
            });
        }
    }
    let all = pattern.creases.iter().enumerate();
    let creases = all
        .map(|(n, crease)| (CreaseId(n), crease.angle_deg))
        .collect();
    pattern.folds.push(FoldStep {
        name: "bent sheet",
        creases,
        way: Vec::new(),
        is_far: false,
    });
    pattern
}

pub(super) fn nothing() -> Pattern {
    Pattern {
        name: "nothing",
        blank: Vec::new(),
        panels: Vec::new(),
        creases: Vec::new(),
        cuts: Vec::new(),
        waste: Vec::new(),
        curves: Vec::new(),
        glue: Vec::new(),
        folds: Vec::new(),
        folds_before_filling: 0,
        solid: Solid::Flat {
            x: 0.0,
            y: 0.0,
            open: Vec::new(),
        },
        caliper_mm: 0.3,
        root: PanelId(0),
    }
}

/// Contents of any shape, anywhere near.
pub(super) fn some_contents(seed: &mut Seeded, which: usize) -> SpaceContents {
    let axis = [SpaceAxis::X, SpaceAxis::Y, SpaceAxis::Z][which % 3];
    let shape = match which % 4 {
        0 => SpaceShape::Block,
        1 => SpaceShape::Stack(axis, 5),
        _ => SpaceShape::Cylinder(axis),
    };
    let mut three = |low, high| {
        Vec3::new(
            seed.between(low, high),
            seed.between(low, high),
            seed.between(low, high),
        )
    };
    SpaceContents {
        shape,
        size: three(10.0, 70.0),
        middle: three(-30.0, 30.0),
    }
}
