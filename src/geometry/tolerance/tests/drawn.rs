//! Makers drawn by lot: their pieces measured by the formulas, and counted.

use std::f64::consts::{SQRT_2, TAU};

use super::*;

const MAKERS: u32 = 5_000;
/// Of a piece that is made again for each maker.
const FEW_MAKERS: u32 = 1_500;

/// Normal numbers that are the same on every run: splitmix64 (Steele, Lea, Flood 2014) and the
/// method of Box and Muller (1958).
struct Lot(u64);

impl Lot {
    fn unit(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 53) as f64
    }

    fn normal(&mut self) -> f64 {
        let far = (-2.0 * (1.0 - self.unit()).ln()).sqrt();
        far * (TAU * self.unit()).cos()
    }

    /// How far off a maker is in an operation, mm.
    fn off(&mut self, hands: &Hands, operation: Operation) -> f64 {
        self.normal() * hands.deviation(operation).mm()
    }
}

/// Whether counted makers agree with a share: within three standard errors.
fn agrees(count: u32, share: f64, what: &str) {
    agrees_of(MAKERS, count, share, 0.0, what);
}

/// The same where the share itself may be off by so much.
fn agrees_of(makers: u32, count: u32, share: f64, unsure: f64, what: &str) {
    let n = f64::from(makers);
    let error = (share * (1.0 - share) / n).sqrt();
    let counted = f64::from(count) / n;
    assert!(
        (counted - share).abs() <= 3.0 * error + 1.0 / n + unsure,
        "{what}: counted {counted}, computed {share}, standard error {error}"
    );
}

/// Counts for each measure, and for all of them at once.
struct Count {
    each: Vec<u32>,
    all: u32,
}

fn count(maker: impl FnMut() -> Vec<f64>) -> Count {
    count_of(MAKERS, maker)
}

fn count_of(makers: u32, mut maker: impl FnMut() -> Vec<f64>) -> Count {
    let mut counted = Count {
        each: Vec::new(),
        all: 0,
    };
    for _ in 0..makers {
        let rooms = maker();
        counted.each.resize(rooms.len(), 0);
        for (slot, room) in counted.each.iter_mut().zip(&rooms) {
            *slot += u32::from(*room >= 0.0);
        }
        counted.all += u32::from(rooms.iter().all(|room| *room >= 0.0));
    }
    counted
}

#[test]
fn makers_of_the_box_succeed_as_often_as_computed() {
    let (made, hands) = (punch_box(), odd_hands());
    let rooms = [0.8, 1.0, 0.4];
    let found = tolerance(&made, &contents(&made, rooms), &hands);
    let mut lot = Lot(7);
    let counted = count(|| {
        let [p1, p2] = [(); 2].map(|()| lot.off(&hands, Operation::Punch));
        let (side, e) = (
            lot.off(&hands, Operation::Cut),
            lot.off(&hands, Operation::Calibration),
        );
        let mut folds = || lot.off(&hands, Operation::Fold) + lot.off(&hands, Operation::Fold);
        vec![
            rooms[0] + SQRT_2 * (p1 - e) + folds(),
            rooms[1] + SQRT_2 * (side - p2 - e) + folds(),
            rooms[2] + (p2 - p1) / SQRT_2 + folds(),
        ]
    });
    for (along, count) in [Along::Width, Along::Length, Along::Depth]
        .into_iter()
        .zip(&counted.each)
    {
        agrees(*count, inside(&found, along).share, along.name());
    }
    // Glue is never short in this box, so that room alone decides.
    let glue = found
        .measures
        .iter()
        .filter(|it| matches!(it.kind, MeasureKind::Glue { .. }));
    assert!(
        glue.clone().count() > 0 && glue.clone().all(|it| it.share > 0.999_99),
        "{found:?}"
    );
    agrees(counted.all, found.together.share, "together");
}

/// The base's room and the lid's play share the base's settings: as computed together, and not
/// as their product.
#[test]
fn makers_of_the_tray_succeed_as_often_as_computed() {
    let (made, hands) = (tray(), Hands::beginner());
    let rooms = [0.9, 0.6, 0.5];
    let found = tolerance(&made, &contents(&made, rooms), &hands);
    let plays = [Along::Width, Along::Length].map(|along| play(&found, along).room_mm);
    let mut lot = Lot(11);
    let counted = count(|| {
        let [bw, bl, lw, ll] = [(); 4].map(|()| lot.off(&hands, Operation::Cut));
        let [bs, ls] = [(); 2].map(|()| lot.off(&hands, Operation::Score));
        let mut folds = |times| {
            (0..times)
                .map(|_| lot.off(&hands, Operation::Fold))
                .sum::<f64>()
        };
        vec![
            rooms[0] + bw - 2.0 * bs + folds(2),
            rooms[1] + bl - 2.0 * bs + folds(2),
            rooms[2] + bs + folds(1),
            plays[0] + lw - 2.0 * ls - bw + 2.0 * bs + folds(4),
            plays[1] + ll - 2.0 * ls - bl + 2.0 * bs + folds(4),
        ]
    });
    let kinds = [
        inside(&found, Along::Width),
        inside(&found, Along::Length),
        inside(&found, Along::Depth),
        play(&found, Along::Width),
        play(&found, Along::Length),
    ];
    for (measure, count) in kinds.iter().zip(&counted.each) {
        agrees(*count, measure.share, &measure.kind.name());
    }
    agrees(counted.all, found.together.share, "together");
    let product: f64 = found.measures.iter().map(|it| it.share).product();
    assert!(
        (product - found.together.share).abs() > 0.005,
        "{product} {found:?}"
    );
    let together = found.together;
    assert!(together.error < 1e-3, "{together:?}");
    assert!(
        together.at_least <= together.share && together.share <= together.at_most,
        "{together:?}"
    );
}

/// How often the measures of drawn pieces hold, each apart and all together, and how many pieces
/// can no longer be made.
fn count_drawn(made: &Structure, contents: &ContentsBox, found: &Tolerance) -> (Count, u32) {
    let sources = sources(made);
    let (mut lot, mut lost) = (Lot(23), 0);
    let counted = count_of(FEW_MAKERS, || {
        let off: Vec<(Source, Length)> = sources
            .iter()
            .map(|source| {
                let off = lot.off(&found.hands, source.operation);
                let by = Length::nearest_multiple(off, Length::from_nm(1)).unwrap();
                (*source, by)
            })
            .collect();
        let Some(piece) = varied(made, &off) else {
            lost += 1;
            return vec![-1.0; found.measures.len()];
        };
        let readings = read(&piece, contents).0;
        let rooms = found.measures.iter().map(|measure| {
            let is = |it: &&Reading| it.kind == measure.kind;
            let reading = readings.iter().find(is).unwrap();
            let folds = (0..reading.folds).map(|_| lot.off(&found.hands, Operation::Fold));
            reading.room_mm + folds.sum::<f64>()
        });
        rooms.collect()
    });
    (counted, lost)
}

/// The same design with each setting moved away from where the next millimetre can no longer be
/// made.
fn clear_of_limits(mut made: Structure) -> Structure {
    for source in sources(&made) {
        for far in [micrometres(-1000), micrometres(1000)] {
            if varied(&made, &[(source, far)]).is_none() {
                made = varied(&made, &[(source, -far)]).unwrap_or(made);
            }
        }
    }
    made
}

/// How far a share may be off because the measure is bent.
fn bent(measure: &Measure) -> f64 {
    if measure.bend_mm == 0.0 {
        return 0.0;
    }
    let at = |off: f64| normal_cdf((measure.room_mm + off) / measure.sigma_mm);
    at(measure.bend_mm) - at(-measure.bend_mm)
}

/// The same contents with half a millimetre to spare; not in depth where that would fill a pouch,
/// which is as deep as what is in it.
fn with_little_room(made: &Structure, mut contents: ContentsBox) -> ContentsBox {
    for reading in read(made, &contents).0 {
        match reading.kind {
            MeasureKind::Inside(Along::Width) => contents.x += reading.room_mm - 0.5,
            MeasureKind::Inside(Along::Length) => contents.y += reading.room_mm - 0.5,
            MeasureKind::Inside(Along::Depth) if reading.room_mm < 5.0 => {
                contents.z += reading.room_mm - 0.5;
            }
            _ => {}
        }
    }
    contents
}

/// No formula of a measure is linear to the end, and measures share settings: here each maker's
/// piece is made with everything off at once, and measured.
#[test]
fn makers_of_every_structure_succeed_about_as_often_as_computed() {
    for kind in StructureKind::all() {
        let middle = |it: FitLimits| f64::midpoint(it.least_mm, it.most_mm);
        let play = kind.fit().map(|it| Ruler::inch(32).up(middle(it)).unwrap());
        let (answer, contents) = asked::sized(*kind, inch("1/64"), play);
        let made = clear_of_limits(answer.structure);
        let contents = with_little_room(&made, contents);
        let found = tolerance(&made, &contents, &Hands::practised());
        let (counted, lost) = count_drawn(&made, &contents, &found);
        assert!(lost < FEW_MAKERS / 200, "{kind:?} {lost} cannot be made");
        let unsure = f64::from(lost) / f64::from(FEW_MAKERS);
        let mut most_bent = 0.0_f64;
        for (measure, count) in found.measures.iter().zip(&counted.each) {
            let what = format!("{kind:?}, {}", measure.kind.name());
            most_bent = most_bent.max(bent(measure));
            agrees_of(
                FEW_MAKERS,
                *count,
                measure.share,
                bent(measure) + unsure,
                &what,
            );
        }
        let (all, share) = (counted.all, found.together.share);
        assert!(
            (0.3..0.999).contains(&share),
            "{kind:?} tells little: {share}"
        );
        agrees_of(
            FEW_MAKERS,
            all,
            share,
            most_bent + unsure,
            &format!("{kind:?} together"),
        );
    }
}
