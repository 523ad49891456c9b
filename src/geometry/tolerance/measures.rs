//! The measures of a piece that have to hold: room for the contents, play, width for glue.

use super::inscribed::inscribed_width;
use crate::fold_check::plays;
use crate::{
    Body, ContentsBox, Crease, Face, Inside, Length, PanelId, Pattern, Pose, Solid, Structure, Vec3,
};

/// An axis of the closed piece.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Along {
    /// Along x of the front.
    Width,
    /// Along y of the front.
    Length,
    /// From front to back.
    Depth,
}

impl Along {
    /// The word for it.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Width => "width",
            Self::Length => "length",
            Self::Depth => "depth",
        }
    }

    const ALL: [Self; 3] = [Self::Width, Self::Length, Self::Depth];

    const fn unit(self) -> Vec3 {
        match self {
            Self::Width => Vec3::new(1.0, 0.0, 0.0),
            Self::Length => Vec3::new(0.0, 1.0, 0.0),
            Self::Depth => Vec3::new(0.0, 0.0, 1.0),
        }
    }

    const fn of(face: Face) -> Option<Self> {
        match face {
            Face::Left | Face::Right => Some(Self::Width),
            Face::Bottom | Face::Top => Some(Self::Length),
            Face::Front | Face::Back => Some(Self::Depth),
            Face::Numbered(_) => None,
        }
    }
}

/// Which measure.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum MeasureKind {
    /// Room inside beyond the contents.
    Inside(Along),
    /// Play of one body in another, from wall to wall.
    Play {
        /// The body that goes in.
        inner: &'static str,
        /// The body that it goes into.
        outer: &'static str,
        /// Along which axis of the outer one; `None` across a piece that is no box.
        along: Option<Along>,
    },
    /// Width of a glue zone beyond what it needs.
    Glue {
        /// The body that is glued.
        body: &'static str,
        /// The zone.
        zone: &'static str,
    },
}

impl MeasureKind {
    /// What it is called in a list.
    #[must_use]
    pub fn name(&self) -> String {
        match self {
            Self::Inside(along) => format!("{} inside", along.name()),
            Self::Play {
                inner,
                outer,
                along,
            } => {
                let along = along.map_or("", |along| match along {
                    Along::Width => " along the width",
                    Along::Length => " along the length",
                    Along::Depth => " along the depth",
                });
                format!("play of the {inner} in the {outer}{along}")
            }
            Self::Glue { body, zone } => format!("glue on the {body}: {zone}"),
        }
    }
}

/// A measure as it is in one structure.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Reading {
    pub(super) kind: MeasureKind,
    /// What is left beyond what is needed, mm.
    pub(super) room_mm: f64,
    /// Folds that it lies between.
    pub(super) folds: u32,
}

/// Every measure of a structure, once each, and the names of glue zones without an exact width.
pub(super) fn read(structure: &Structure, contents: &ContentsBox) -> (Vec<Reading>, Vec<String>) {
    let mut readings = Readings::default();
    room(structure, contents, &mut readings);
    play(structure, contents, &mut readings);
    let unread = glue(structure, &mut readings);
    (readings.0, unread)
}

#[derive(Default)]
struct Readings(Vec<Reading>);

impl Readings {
    /// Of measures that are called the same, such as a lid's two sides, the least.
    fn note(&mut self, kind: MeasureKind, room_mm: f64, folds: u32) {
        match self.0.iter_mut().find(|one| one.kind == kind) {
            Some(one) => one.room_mm = one.room_mm.min(room_mm),
            None => self.0.push(Reading {
                kind,
                room_mm,
                folds,
            }),
        }
    }
}

fn room(structure: &Structure, contents: &ContentsBox, readings: &mut Readings) {
    let Inside { width, length, .. } = structure.room_for(contents, false);
    let solid = &structure.pattern().solid;
    let mut note = |along: Along, room: f64| {
        readings.note(MeasureKind::Inside(along), room, folds_across(solid, along));
    };
    note(Along::Width, width - contents.x);
    note(Along::Length, length - contents.y);
    if structure.kind().has_depth() {
        // Bent pieces are as deep as what is in them, up to this.
        let deepest = structure.inside_for(Length::MAX.mm()).depth;
        note(Along::Depth, deepest - contents.z);
    }
}

fn play(structure: &Structure, contents: &ContentsBox, readings: &mut Readings) {
    let family = structure.kind().family();
    let taken = family.takes_play_mm(structure, contents) + structure.load().stuck_on.mm();
    let bodies: Vec<&Body> = structure.bodies().collect();
    for nest in structure.nests() {
        let (Some(inner), Some(outer)) = (bodies.get(nest.inner), bodies.get(nest.outer)) else {
            continue;
        };
        for (face, _, play) in plays(nest, inner, outer) {
            let along = Along::of(face);
            let folds = along.map_or(4, |along| {
                let turned = along_in(&inner.place, outer.place.turn(along.unit()));
                folds_across(&outer.pattern.solid, along)
                    + folds_across(&inner.pattern.solid, turned)
            });
            let kind = MeasureKind::Play {
                inner: inner.name,
                outer: outer.name,
                along,
            };
            readings.note(kind, play - taken, folds);
        }
    }
    for further in family.further_play(structure) {
        let along = if further.along_width {
            Along::Width
        } else {
            Along::Length
        };
        let kind = MeasureKind::Play {
            inner: further.inner,
            outer: further.outer,
            along: Some(along),
        };
        readings.note(kind, further.play_mm - taken, further.folds);
    }
}

fn glue(structure: &Structure, readings: &mut Readings) -> Vec<String> {
    let mut unread = Vec::new();
    for body in structure.bodies() {
        for (zone, room) in zones(&body.pattern) {
            let body = body.name;
            let kind = MeasureKind::Glue { body, zone };
            match room {
                Some(room) => readings.note(kind, room, 0),
                None if unread.contains(&kind.name()) => {}
                None => unread.push(kind.name()),
            }
        }
    }
    unread
}

/// Each glue zone and its width beyond what it needs; on strips of one bent panel, which share
/// what is needed, all side by side.
fn zones(pattern: &Pattern) -> Vec<(&'static str, Option<f64>)> {
    let mut found: Vec<(PanelId, &'static str, Option<f64>)> = Vec::new();
    for zone in &pattern.glue {
        let first = first_strip(pattern, zone.on);
        let room = inscribed_width(&zone.area).map(|width| width - zone.needs_width_mm);
        let same = |it: &&mut (PanelId, &'static str, Option<f64>)| {
            first != zone.on && it.0 == first && it.1 == zone.name
        };
        match found.iter_mut().find(same) {
            Some((_, _, sum)) => *sum = sum.zip(room).map(|(sum, room)| sum + room),
            None => found.push((first, zone.name, room)),
        }
    }
    found
        .into_iter()
        .map(|(_, name, room)| (name, room))
        .collect()
}

/// The strip that a bent panel begins with; the panel itself if it is not bent.
fn first_strip(pattern: &Pattern, mut id: PanelId) -> PanelId {
    // No chain of strips is longer than all panels.
    for _ in &pattern.panels {
        let bent = |crease: &&Crease| crease.smooth && crease.child == id;
        match pattern.creases.iter().find(bent) {
            Some(crease) => id = crease.parent,
            None => break,
        }
    }
    id
}

/// The axis of a body that lies in this direction of the closed piece.
fn along_in(place: &Pose, direction: Vec3) -> Along {
    let lies = |along: &Along| place.turn(along.unit()).dot(direction).abs() > 0.999;
    Along::ALL.into_iter().find(lies).unwrap_or(Along::Width)
}

/// Folds between one side and the other: an open face ends in an edge, which is cut. Two in a
/// solid that is no box.
fn folds_across(solid: &Solid, along: Along) -> u32 {
    match solid {
        Solid::Box { open, .. } => {
            let open = open.iter().filter(|face| Along::of(**face) == Some(along));
            2_u32.saturating_sub(u32::try_from(open.count()).unwrap_or(2))
        }
        Solid::Flat { .. } if along == Along::Depth => 0,
        Solid::Flat { .. } | Solid::Faces(_) => 2,
    }
}
