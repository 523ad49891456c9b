//! Pictures of random facts pass every check.

use super::*;

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn punch_pictures_are_sound(
        size in size(), ruler in ruler(), sheet in length(40.0..320.0), first in 0.1..0.5_f64,
        second in 0.1..0.4_f64, side in 0..6_u8, now in 0..4_usize,
    ) {
        let (shortest, longest) = (Length::from_mm(10), Length::from_mm(3000));
        let ruler = Ruler::new(ruler.unit(), ruler.step(), shortest, longest);
        let board = ruler.map(|ruler| PunchBoard::new(Length::from_mm(6), ruler));
        let Ok(Ok(board)) = board else {
            return Err(TestCaseError::fail("no board"));
        };
        let at = |share: f64| Length::from_nm((sheet.nm() as f64 * share) as i64);
        let punches = [at(first), at(first + second)];
        let now = [PunchNow::Turn, PunchNow::Punch(0), PunchNow::Punch(1), PunchNow::AlongGuide][now];
        sound(&punch_picture(PunchPicture { board: &board, sheet, punches: &punches, side, now }, size), size)?;
    }

    #[test]
    fn cut_pictures_are_sound(
        size in size(), ruler in ruler(), across in length(20.0..900.0), along in length(5.0..900.0),
        share in 0.01..1.2_f64, strips in 0..40_u32,
    ) {
        let setting = Length::from_nm((across.nm() as f64 * share) as i64);
        let sheet = (across, along);
        sound(&cut_picture(CutPicture { ruler: &ruler, sheet, setting, strips }, size), size)?;
    }

    #[test]
    fn score_pictures_are_sound(
        size in size(), ruler in ruler(), along in length(20.0..600.0), across in length(5.0..300.0),
        shares in prop::collection::vec(0.0..1.0_f64, 0..6), turned: bool,
    ) {
        let marks: Vec<Length> =
            shares.iter().map(|share| Length::from_nm((along.nm() as f64 * share) as i64)).collect();
        let (strip, x) = ((along, across), along.mm() / 3.0);
        let done = [Line::new((x, 0.0), (x, across.mm()))];
        let facts =
            ScorePicture { ruler: &ruler, part: "band", strip, marks: &marks, lines: &[], done: &done, windows: &[], turned };
        sound(&score_picture(facts, size), size)?;
    }

    #[test]
    fn flat_pictures_are_sound(
        size in size(), ruler in ruler(), sheet in 60.0..300.0_f64, first in 0.15..0.5_f64, second in 0.1..0.35_f64,
        mirrored: bool,
    ) {
        let made = [PunchEnvelope::KIND, PunchBox::KIND];
        let patterns: Vec<Pattern> =
            made.into_iter().filter_map(|kind| pattern(kind, sheet, first, second)).collect();
        prop_assume!(!patterns.is_empty());
        for pattern in patterns {
            for scene in every_flat_picture(&pattern, &ruler, mirrored, size) {
                sound(&scene, size)?;
            }
        }
    }

    #[test]
    fn pictures_in_space_are_sound(
        size in size(), sheet in 60.0..300.0_f64, first in 0.15..0.5_f64, second in 0.1..0.35_f64, mirrored: bool,
        name in "\\PC{0,60}",
    ) {
        let made = StructureKind::all().iter();
        let patterns: Vec<Pattern> =
            made.filter_map(|kind| pattern(*kind, sheet, first, second)).collect();
        prop_assume!(!patterns.is_empty());
        for pattern in patterns {
            for scene in every_picture_in_space(&pattern, &name, mirrored, size) {
                sound(&scene, size)?;
            }
        }
    }

    #[test]
    fn flat_pictures_of_what_is_scored_are_sound(size in size(), ruler in ruler(), mirrored: bool, which in 0..5_usize) {
        for scene in every_flat_picture(&scored()[which], &ruler, mirrored, size) {
            sound(&scene, size)?;
        }
    }

    #[test]
    fn pictures_of_trimmings_are_sound(
        size in size(), ruler in ruler(), w in 3.0..400.0_f64, h in 3.0..400.0_f64, share in 0.01..1.5_f64,
        name in "\\PC{0,60}", now: bool,
    ) {
        let wrap = WrapPicture {
            ruler: &ruler, part: &name, around_mm: (w, h), overlap_mm: w * share, glued: now,
        };
        sound(&wrap_picture(wrap, size), size)?;
        let shape = Rect::new(-w / 2.0, -h / 2.0, w / 2.0, h / 2.0).to_path(0.1);
        let small = Affine::scale(share.min(0.98)) * shape.clone();
        let layer = |outline: &kurbo::BezPath| PictureLayer { name: &name, outline: outline.clone() };
        let layers = [layer(&shape), layer(&small)];
        let card = layer(&(Affine::scale(1.2) * shape.clone()));
        for layers in [&layers[..], &[card, layer(&shape), layer(&small)]] {
            sound(&layers_picture(LayersPicture { ruler: &ruler, layers, has_fold: now }, size), size)?;
        }
        let blank = [w + 10.0, h + 10.0].map(|mm| Length::from_nm((mm * 1e6) as i64));
        let punched = ShapePicture { ruler: &ruler, name: &name, outline: small, blank: blank.into() };
        sound(&shape_picture(&punched, size), size)?;
        let notch =
            NotchPicture { ruler: &ruler, part: &name, edge_mm: w, depth_mm: h, radius_mm: w * share };
        sound(&notch_picture(notch, size), size)?;
        let finished = FinishedPicture {
            ruler: &ruler, name: &name, front_mm: (w, h), band_mm: Some(h * share),
            on_front: &layers, attach_now: now,
        };
        sound(&finished_picture(finished, size), size)?;
        use RibbonPictureKind::{Bow, Cross, Round};
        for kind in [Round, Cross, Bow] {
            let (bow, front_mm, length) = (now, (w, h), blank[0]);
            sound(&ribbon_picture(RibbonPicture {
                ruler: &ruler, kind, bow, front_mm, band_mm: None, on_front: &[], length,
            }, size), size)?;
        }
        sound(&length_picture(&name, blank[0], &ruler, size), size)?;
    }
}
