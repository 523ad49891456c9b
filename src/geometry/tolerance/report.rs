//! What hands make of a design: each measure, and all of them together.

use super::joint::{Row, Together, at_most, together};
use super::measures::{Reading, read};
use super::varied::{Source, sources, varied};
use super::{
    Hands, MeasureKind, Operation, normal_cdf, normal_quantile, root_sum_square, worst_case,
};
use crate::{ContentsBox, Length, Structure};

/// A hair: how much longer and shorter a setting is made to see what hangs on it.
const HAIR: Length = Length::from_nm(10_000);
/// What changes a measure by less than this for each mm does not change it.
const NO_SLOPE: f64 = 1e-7;
/// Nothing shorter by this is too short, mm.
const SLACK_MM: f64 = 1e-9;

/// What the tolerance of hands makes of a piece.
#[derive(Clone, Debug, PartialEq)]
pub struct Tolerance {
    /// Whose hands.
    pub hands: Hands,
    /// Each measure, in this order: room inside, play, glue.
    pub measures: Vec<Measure>,
    /// Makers whose piece takes its contents and closes: all measures hold.
    pub together: Together,
    /// Measures that are not counted because how they change is not known, by name.
    pub left_out: Vec<String>,
}

/// One measure of the piece: what is left beyond what it needs.
#[derive(Clone, Debug, PartialEq)]
pub struct Measure {
    /// Which.
    pub kind: MeasureKind,
    /// What is left as designed, mm: inside less contents, play of a lid, width of a glue zone
    /// less what it needs.
    pub room_mm: f64,
    /// How much less or more it is at worst: every operation off by its limit, two deviations, mm.
    pub worst_mm: f64,
    /// How much less or more it is likely to be: the root of the sum of the squared limits, mm.
    pub likely_mm: f64,
    /// Its standard deviation, mm.
    pub sigma_mm: f64,
    /// Share of makers for whom it holds, from 0 to 1.
    pub share: f64,
    /// How far it is off the straight line where one operation is off by its limit, mm; 0 where
    /// it is linear.
    pub bend_mm: f64,
    /// What it hangs on.
    pub parts: Vec<Part>,
}

/// What a measure hangs on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Part {
    /// The setting, "notch depth" or "folds".
    pub name: &'static str,
    /// What is off.
    pub operation: Operation,
    /// How much the measure changes when it is off by 1 mm, mm.
    pub slope: f64,
    /// How many there are that are off each on its own: 1 but for folds.
    pub times: u32,
}

impl Measure {
    /// What has to be left as designed so that this measure alone holds for a share of makers, mm.
    #[must_use]
    pub fn room_for_mm(&self, share: f64) -> f64 {
        if self.sigma_mm > 0.0 {
            self.sigma_mm * normal_quantile(share)
        } else {
            0.0
        }
    }

    fn new(reading: &Reading, parts: Vec<Part>, bend_mm: f64, hands: &Hands) -> Self {
        let limits = || {
            parts.iter().flat_map(|part| {
                let limit = part.slope * hands.limit_mm(part.operation);
                (0..part.times).map(move |_| limit)
            })
        };
        let likely_mm = root_sum_square(limits());
        let mut made = Self {
            kind: reading.kind,
            room_mm: reading.room_mm,
            worst_mm: worst_case(limits()),
            likely_mm,
            sigma_mm: likely_mm / 2.0,
            share: 0.0,
            bend_mm,
            parts,
        };
        made.share = share(made.room_mm, made.sigma_mm);
        made
    }
}

/// Share of makers for whom at least this much room is left.
pub(super) fn share(room_mm: f64, sigma_mm: f64) -> f64 {
    if sigma_mm > 0.0 {
        normal_cdf(room_mm / sigma_mm)
    } else if room_mm >= -SLACK_MM {
        1.0
    } else {
        0.0
    }
}

/// What these hands make of a structure with these contents in it: their extents along width,
/// length and depth, without clearance.
#[must_use]
pub fn tolerance(structure: &Structure, contents: &ContentsBox, hands: &Hands) -> Tolerance {
    apart(structure, contents, hands).together()
}

/// Each measure apart; how often all hold is worked out last, as that takes the longest.
pub(super) struct Apart {
    hands: Hands,
    measures: Vec<Measure>,
    left_out: Vec<String>,
    rows: Vec<Row>,
}

impl Apart {
    /// What the share of makers is not above, found out fast.
    pub(super) fn at_most(&self) -> f64 {
        at_most(&self.rows)
    }

    pub(super) fn together(self) -> Tolerance {
        Tolerance {
            hands: self.hands,
            together: together(&self.rows),
            measures: self.measures,
            left_out: self.left_out,
        }
    }
}

/// What these hands make of each measure.
pub(super) fn apart(structure: &Structure, contents: &ContentsBox, hands: &Hands) -> Apart {
    let (readings, mut left_out) = read(structure, contents);
    let looks: Vec<Look> = sources(structure)
        .into_iter()
        .map(|source| Look::at(structure, source, contents, hands))
        .collect();
    let mut measures = Vec::new();
    for reading in &readings {
        match parts(reading, &looks) {
            Some((parts, bend_mm)) => measures.push(Measure::new(reading, parts, bend_mm, hands)),
            None => left_out.push(reading.kind.name()),
        }
    }
    Apart {
        hands: *hands,
        rows: rows(&measures, &looks, hands),
        measures,
        left_out,
    }
}

/// The structure with one source off: a hair and the limit, less and more.
struct Look {
    source: Source,
    hair: [Option<Vec<Reading>>; 2],
    limit: [Option<Vec<Reading>>; 2],
    limit_mm: f64,
}

impl Look {
    fn at(structure: &Structure, source: Source, contents: &ContentsBox, hands: &Hands) -> Self {
        let read_with = |by: Length| {
            let made = varied(structure, &[(source, by)])?;
            Some(read(&made, contents).0)
        };
        let limit = hands.deviation(source.operation) * 2;
        Self {
            hair: [read_with(-HAIR), read_with(HAIR)],
            limit: [read_with(-limit), read_with(limit)],
            limit_mm: limit.mm(),
            source,
        }
    }

    /// How much a measure changes for each mm; `None` where it is there neither for a hair less
    /// nor for a hair more.
    fn slope(&self, reading: &Reading) -> Option<f64> {
        let [less, more] = [&self.hair[0], &self.hair[1]].map(|it| room_of(it, reading.kind));
        let slope = match (less, more) {
            (Some(less), Some(more)) => (more - less) / (2.0 * HAIR.mm()),
            (Some(less), None) => (reading.room_mm - less) / HAIR.mm(),
            (None, Some(more)) => (more - reading.room_mm) / HAIR.mm(),
            (None, None) => return None,
        };
        Some(if slope.abs() < NO_SLOPE { 0.0 } else { slope })
    }

    /// How far it is off the straight line at the limit, where that can be made.
    fn bend(&self, reading: &Reading, slope: f64) -> f64 {
        let off = |rooms: &Option<Vec<Reading>>, by: f64| {
            let room = room_of(rooms, reading.kind)?;
            Some((room - reading.room_mm - slope * by).abs())
        };
        let [less, more] = &self.limit;
        let less = off(less, -self.limit_mm).unwrap_or(0.0);
        off(more, self.limit_mm).unwrap_or(0.0).max(less)
    }
}

fn room_of(readings: &Option<Vec<Reading>>, kind: MeasureKind) -> Option<f64> {
    let found = readings.as_ref()?.iter().find(|one| one.kind == kind);
    found.map(|one| one.room_mm)
}

/// What a measure hangs on, and how far it is off the straight line.
fn parts(reading: &Reading, looks: &[Look]) -> Option<(Vec<Part>, f64)> {
    let mut parts = Vec::new();
    let mut bend_mm = 0.0_f64;
    for look in looks {
        let slope = look.slope(reading)?;
        bend_mm = bend_mm.max(look.bend(reading, slope));
        if slope != 0.0 {
            parts.push(Part {
                name: look.source.name,
                operation: look.source.operation,
                slope,
                times: 1,
            });
        }
    }
    if reading.folds > 0 {
        parts.push(Part {
            name: "folds",
            operation: Operation::Fold,
            slope: 1.0,
            times: reading.folds,
        });
    }
    Some((parts, if bend_mm < SLACK_MM { 0.0 } else { bend_mm }))
}

/// Each measure as a chain of what the makers' hands do: the shared sources first, then the folds
/// of each measure.
fn rows(measures: &[Measure], looks: &[Look], hands: &Hands) -> Vec<Row> {
    let of_source = |measure: &Measure, source: &Source| {
        let part = measure.parts.iter().find(|part| part.name == source.name);
        part.map_or(0.0, |part| {
            part.slope * hands.deviation(part.operation).mm()
        })
    };
    let folds = |measure: &Measure| {
        let folds = measure
            .parts
            .iter()
            .find(|part| part.operation == Operation::Fold);
        folds.map_or(0.0, |part| {
            f64::from(part.times).sqrt() * hands.deviation(part.operation).mm()
        })
    };
    measures
        .iter()
        .enumerate()
        .map(|(place, measure)| {
            let mut by: Vec<f64> = looks
                .iter()
                .map(|look| of_source(measure, &look.source))
                .collect();
            by.extend((0..measures.len()).map(|at| if at == place { folds(measure) } else { 0.0 }));
            Row {
                room_mm: measure.room_mm,
                by,
            }
        })
        .collect()
}
