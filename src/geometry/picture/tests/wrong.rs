//! What is nothing, no number or out of reach is drawn without a crash.

use super::*;

#[test]
fn a_pattern_of_nothing_is_drawn_without_fault() {
    let pattern = Pattern {
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
        root: PanelId(7),
    };
    for scene in every_flat_picture(&pattern, &Ruler::millimetre(), false, PictureSize::FREE) {
        assert_eq!(faults(&scene), Vec::<String>::new(), "{}", scene.title);
    }
}

#[test]
fn sizes_that_are_no_sizes_are_drawn_without_a_crash() {
    let ruler = &Ruler::inch(16);
    let wrong = [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, -5.0, 0.0, 1e300];
    for (w, h) in wrong.iter().flat_map(|w| wrong.iter().map(|h| (*w, *h))) {
        let (front_mm, part) = ((w, h), "band");
        let length = Length::MAX;
        let scenes = [
            wrap_picture(
                WrapPicture {
                    ruler,
                    part,
                    around_mm: (w, h),
                    overlap_mm: h,
                    glued: true,
                },
                PictureSize::FREE,
            ),
            notch_picture(
                NotchPicture {
                    ruler,
                    part,
                    edge_mm: w,
                    depth_mm: h,
                    radius_mm: h,
                },
                PictureSize::FREE,
            ),
            ribbon_picture(
                RibbonPicture {
                    ruler,
                    kind: RibbonPictureKind::Cross,
                    bow: true,
                    front_mm,
                    band_mm: Some(20.0),
                    on_front: &[],
                    length,
                },
                PictureSize::FREE,
            ),
            finished_picture(
                FinishedPicture {
                    ruler,
                    name: "box",
                    front_mm,
                    band_mm: Some(h),
                    on_front: &[],
                    attach_now: true,
                },
                PictureSize::FREE,
            ),
        ];
        for scene in scenes {
            let svg = Svg::write(&scene, "p");
            assert_eq!(badly_formed(svg.as_str()), None, "{} {w} {h}", scene.title);
        }
    }
}

#[test]
fn lengths_that_no_tool_has_are_drawn_without_a_crash() {
    let board = PunchBoard::default_inch();
    let draws = |scene: Scene| assert_eq!(badly_formed(Svg::write(&scene, "p").as_str()), None);
    for length in [Length::ZERO, -Length::MAX, Length::MAX, Length::from_nm(1)] {
        let punches = [length, Length::MAX];
        for (side, index) in [(0, 0), (1, 1), (1, usize::MAX), (4, 0), (255, usize::MAX)] {
            let now = PunchNow::Punch(index);
            let sheet = length;
            draws(punch_picture(
                PunchPicture {
                    board: &board,
                    sheet,
                    punches: &punches,
                    side,
                    now,
                },
                PictureSize::FREE,
            ));
        }
        let (ruler, sheet) = (board.ruler(), (length, Length::MAX));
        for setting in [Length::ZERO, length, Length::MAX] {
            draws(cut_picture(
                CutPicture {
                    ruler,
                    sheet,
                    setting,
                    strips: u32::MAX,
                },
                PictureSize::FREE,
            ));
            let (part, strip, marks) = ("band", sheet, &[setting][..]);
            let done = [Line::new((f64::NAN, 0.0), (1.0, f64::INFINITY))];
            draws(score_picture(
                ScorePicture {
                    ruler,
                    part,
                    strip,
                    marks,
                    lines: &[done[0], done[0]],
                    done: &done,
                    windows: &[],
                    turned: true,
                },
                PictureSize::FREE,
            ));
        }
    }
}
