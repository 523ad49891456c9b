//! Named sizes of sheets and envelopes, upright: the short side is the width.
//!
//! ISO 216 (A and B series), ISO 269 (envelopes), US sheets (ANSI/ASME Y14.1 and trade), US
//! announcement envelopes (trade, not a standard) and the two JIS sizes that CSS names, because
//! JIS B5 is not B5.

use crate::Length;

/// A size with a name. Width is never more than height.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SheetSize {
    /// What people call it.
    pub name: &'static str,
    /// The short side.
    pub width: Length,
    /// The long side.
    pub height: Length,
}

impl SheetSize {
    const fn mm(name: &'static str, width: i64, height: i64) -> Self {
        Self {
            name,
            width: Length::from_mm(width),
            height: Length::from_mm(height),
        }
    }

    const fn eighths(name: &'static str, width: i64, height: i64) -> Self {
        const EIGHTH_INCH_NM: i64 = 3_175_000;
        Self {
            name,
            width: Length::from_nm(width * EIGHTH_INCH_NM),
            height: Length::from_nm(height * EIGHTH_INCH_NM),
        }
    }

    /// How much wider and taller this envelope is than a flat card, both upright; `None` if
    /// the card does not go in.
    #[must_use]
    pub fn play_round(&self, card_width: Length, card_height: Length) -> Option<(Length, Length)> {
        let short = card_width.min(card_height);
        let long = card_width.max(card_height);
        (short <= self.width && long <= self.height)
            .then(|| (self.width - short, self.height - long))
    }
}

/// The last two are craft pads that no standard lists; 8 1/2 x 11 in is US letter.
static SHEETS: [SheetSize; 33] = [
    SheetSize::mm("A0", 841, 1189),
    SheetSize::mm("A1", 594, 841),
    SheetSize::mm("A2", 420, 594),
    SheetSize::mm("A3", 297, 420),
    SheetSize::mm("A4", 210, 297),
    SheetSize::mm("A5", 148, 210),
    SheetSize::mm("A6", 105, 148),
    SheetSize::mm("A7", 74, 105),
    SheetSize::mm("A8", 52, 74),
    SheetSize::mm("A9", 37, 52),
    SheetSize::mm("A10", 26, 37),
    SheetSize::mm("B0", 1000, 1414),
    SheetSize::mm("B1", 707, 1000),
    SheetSize::mm("B2", 500, 707),
    SheetSize::mm("B3", 353, 500),
    SheetSize::mm("B4", 250, 353),
    SheetSize::mm("B5", 176, 250),
    SheetSize::mm("B6", 125, 176),
    SheetSize::mm("B7", 88, 125),
    SheetSize::mm("B8", 62, 88),
    SheetSize::mm("B9", 44, 62),
    SheetSize::mm("B10", 31, 44),
    SheetSize::mm("JIS B4", 257, 364),
    SheetSize::mm("JIS B5", 182, 257),
    SheetSize::eighths("US letter (ANSI A)", 68, 88),
    SheetSize::eighths("US legal", 68, 112),
    SheetSize::eighths("US tabloid or ledger (ANSI B)", 88, 136),
    SheetSize::eighths("ANSI C", 136, 176),
    SheetSize::eighths("ANSI D", 176, 272),
    SheetSize::eighths("ANSI E", 272, 352),
    SheetSize::eighths("ANSI F", 224, 320),
    SheetSize::eighths("12 x 12 in", 96, 96),
    SheetSize::eighths("6 x 6 in", 48, 48),
];

static ENVELOPES: [SheetSize; 16] = [
    SheetSize::mm("C3", 324, 458),
    SheetSize::mm("C4", 229, 324),
    SheetSize::mm("C5", 162, 229),
    SheetSize::mm("C6", 114, 162),
    SheetSize::mm("C7", 81, 114),
    SheetSize::mm("DL", 110, 220),
    SheetSize::mm("C6/C5", 114, 229),
    SheetSize::mm("C7/C6", 81, 162),
    SheetSize::mm("B4", 250, 353),
    SheetSize::mm("B5", 176, 250),
    SheetSize::mm("B6", 125, 176),
    SheetSize::mm("E4", 280, 400),
    SheetSize::eighths("US A2", 35, 46),
    SheetSize::eighths("US A6", 38, 52),
    SheetSize::eighths("US A7", 42, 58),
    SheetSize::eighths("US #10", 33, 76),
];

/// Sheets that can be bought by name: A and B series, JIS B4 and B5, US, craft pads.
#[must_use]
pub fn sheet_sizes() -> &'static [SheetSize] {
    &SHEETS
}

/// Envelopes by name: ISO 269, then the US announcement sizes and #10.
#[must_use]
pub fn envelope_sizes() -> &'static [SheetSize] {
    &ENVELOPES
}

/// How far a trimmed side may be off, either way (ISO 216): 1.5 mm up to 150 mm, 2 mm up to
/// 600 mm, 3 mm above.
#[must_use]
pub fn trim_tolerance(side: Length) -> Length {
    if side <= Length::from_mm(150) {
        Length::from_nm(1_500_000)
    } else if side <= Length::from_mm(600) {
        Length::from_mm(2)
    } else {
        Length::from_mm(3)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn find(all: &[SheetSize], name: &str) -> SheetSize {
        *all.iter()
            .find(|size| size.name == name)
            .unwrap_or_else(|| panic!("{name} is not listed"))
    }

    fn assert_mm(all: &[SheetSize], rows: &[(&str, i64, i64)]) {
        for &(name, width, height) in rows {
            let size = find(all, name);
            assert_eq!(
                (size.width, size.height),
                (Length::from_mm(width), Length::from_mm(height)),
                "{name}"
            );
        }
    }

    /// A length as a multiple of 1/1000 in, for rows printed as decimals of an inch.
    fn thousandths(n: i64) -> Length {
        Length::from_nm(n * 25_400)
    }

    #[test]
    fn a_sizes_are_those_of_iso_216() {
        // Source: ISO 216:2007, A series.
        assert_mm(
            sheet_sizes(),
            &[
                ("A0", 841, 1189),
                ("A1", 594, 841),
                ("A2", 420, 594),
                ("A3", 297, 420),
                ("A4", 210, 297),
                ("A5", 148, 210),
                ("A6", 105, 148),
                ("A7", 74, 105),
                ("A8", 52, 74),
                ("A9", 37, 52),
                ("A10", 26, 37),
            ],
        );
    }

    #[test]
    fn each_a_size_is_half_of_the_one_before() {
        // Source: ISO 216:2007; halves are cut down to the whole millimetre.
        let a: Vec<_> = (0..=10)
            .map(|n| find(sheet_sizes(), &format!("A{n}")))
            .collect();
        for pair in a.windows(2) {
            let half_long = Length::from_mm(pair[0].height.nm() / 2_000_000);
            assert_eq!(
                (pair[1].width, pair[1].height),
                (half_long, pair[0].width),
                "{} -> {}",
                pair[0].name,
                pair[1].name
            );
        }
    }

    #[test]
    fn b_sizes_are_those_of_iso_216() {
        // Source: ISO 216:2007, B series.
        assert_mm(
            sheet_sizes(),
            &[
                ("B0", 1000, 1414),
                ("B1", 707, 1000),
                ("B2", 500, 707),
                ("B3", 353, 500),
                ("B4", 250, 353),
                ("B5", 176, 250),
                ("B6", 125, 176),
                ("B7", 88, 125),
                ("B8", 62, 88),
                ("B9", 44, 62),
                ("B10", 31, 44),
            ],
        );
    }

    #[test]
    fn b_sizes_are_at_most_1_mm_under_the_ideal_and_never_above() {
        // Source: ISO 216:2007; ideal Bn is 1000 · 2^(-n/2) mm by its square root of 2.
        for n in 0..=10 {
            let size = find(sheet_sizes(), &format!("B{n}"));
            for (side, power) in [(size.width, n), (size.height, n - 1)] {
                let ideal = 1000.0 * 2f64.powf(-f64::from(power) / 2.0);
                let under = ideal - side.mm();
                assert!((-1e-9..1.0).contains(&under), "B{n}: {under} mm under");
            }
        }
    }

    #[test]
    fn envelopes_are_those_of_iso_269() {
        // Source: ISO 269, sizes of correspondence envelopes.
        assert_mm(
            envelope_sizes(),
            &[
                ("C3", 324, 458),
                ("C4", 229, 324),
                ("C5", 162, 229),
                ("C6", 114, 162),
                ("C7", 81, 114),
                ("DL", 110, 220),
                ("C6/C5", 114, 229),
                ("C7/C6", 81, 162),
                ("E4", 280, 400),
                ("B6", 125, 176),
                ("B5", 176, 250),
                ("B4", 250, 353),
            ],
        );
    }

    #[test]
    fn c_sizes_are_within_1_mm_of_the_ideal() {
        // Source: ISO 269; ideal Cn is 1000 · 2^(-1/8 - n/2) mm.
        for n in 3..=7 {
            let size = find(envelope_sizes(), &format!("C{n}"));
            for (side, power) in [(size.width, n), (size.height, n - 1)] {
                let ideal = 1000.0 * 2f64.powf(-0.125 - f64::from(power) / 2.0);
                assert!(
                    (side.mm() - ideal).abs() < 1.0,
                    "C{n}: {} against {ideal}",
                    side.mm()
                );
            }
        }
    }

    #[test]
    fn cards_have_the_usual_play_in_their_envelopes() {
        // Source: differences of ISO 216 and ISO 269 sizes.
        let rows = [
            ("C6", (105, 148), (9, 14)),
            ("C5", (148, 210), (14, 19)),
            ("DL", (99, 210), (11, 10)),
        ];
        for (name, (width, height), (across, along)) in rows {
            let play = find(envelope_sizes(), name)
                .play_round(Length::from_mm(height), Length::from_mm(width));
            assert_eq!(
                play,
                Some((Length::from_mm(across), Length::from_mm(along))),
                "{name}"
            );
        }
        let a4 = find(sheet_sizes(), "A4");
        assert_eq!(
            find(envelope_sizes(), "C5").play_round(a4.width, a4.height),
            None,
            "A4 does not go flat into C5"
        );
    }

    #[test]
    fn us_announcement_envelopes_are_stored_because_their_play_differs() {
        // Source: US announcement envelope sizes as sold (trade, not a standard). The A7 row is
        // from memory.
        let rows = [
            ("US A2", 4375, 5750),
            ("US A6", 4750, 6500),
            ("US A7", 5250, 7250),
            ("US #10", 4125, 9500),
        ];
        for (name, width, height) in rows {
            let size = find(envelope_sizes(), name);
            assert_eq!(
                (size.width, size.height),
                (thousandths(width), thousandths(height)),
                "{name}"
            );
        }
        let play = |name, width, height| {
            find(envelope_sizes(), name).play_round(thousandths(width), thousandths(height))
        };
        assert_eq!(
            play("US A2", 4250, 5500),
            Some((thousandths(125), thousandths(250)))
        );
        assert_eq!(
            play("US A7", 5000, 7000),
            Some((thousandths(250), thousandths(250)))
        );
    }

    #[test]
    fn us_sheets_are_those_of_ansi_y14_1_and_css() {
        // Source: ANSI/ASME Y14.1 (A to F); CSS Paged Media 3 (letter, legal, ledger).
        let rows = [
            ("US letter (ANSI A)", 8500, 11_000),
            ("US legal", 8500, 14_000),
            ("US tabloid or ledger (ANSI B)", 11_000, 17_000),
            ("ANSI C", 17_000, 22_000),
            ("ANSI D", 22_000, 34_000),
            ("ANSI E", 34_000, 44_000),
            ("ANSI F", 28_000, 40_000),
            ("12 x 12 in", 12_000, 12_000),
            ("6 x 6 in", 6000, 6000),
        ];
        for (name, width, height) in rows {
            let size = find(sheet_sizes(), name);
            assert_eq!(
                (size.width, size.height),
                (thousandths(width), thousandths(height)),
                "{name}"
            );
        }
    }

    #[test]
    fn ansi_sheets_halve_exactly_from_e_to_a() {
        // Source: ANSI/ASME Y14.1.
        let names = [
            "ANSI E",
            "ANSI D",
            "ANSI C",
            "US tabloid or ledger (ANSI B)",
            "US letter (ANSI A)",
        ];
        for pair in names.windows(2) {
            let (whole, half) = (find(sheet_sizes(), pair[0]), find(sheet_sizes(), pair[1]));
            assert_eq!(half.height, whole.width, "{}", half.name);
            assert_eq!(half.width * 2, whole.height, "{}", half.name);
        }
    }

    #[test]
    fn jis_b5_is_not_b5() {
        // Source: CSS Paged Media 3, page sizes.
        assert_mm(
            sheet_sizes(),
            &[
                ("B5", 176, 250),
                ("B4", 250, 353),
                ("JIS B5", 182, 257),
                ("JIS B4", 257, 364),
            ],
        );
    }

    #[test]
    fn trim_tolerance_steps_just_after_150_and_600_mm() {
        // Source: ISO 216:2007, tolerances: 1.5 mm up to 150, 2 mm up to 600, 3 mm above.
        let nm = Length::from_nm(1);
        let rows = [
            (Length::from_mm(1), 1_500_000),
            (Length::from_mm(150), 1_500_000),
            (Length::from_mm(150) + nm, 2_000_000),
            (Length::from_mm(600), 2_000_000),
            (Length::from_mm(600) + nm, 3_000_000),
            (Length::MAX, 3_000_000),
        ];
        for (side, tolerance) in rows {
            assert_eq!(trim_tolerance(side).nm(), tolerance, "{side:?}");
        }
    }

    #[test]
    fn names_are_unique_and_sizes_stand_upright() {
        for all in [sheet_sizes(), envelope_sizes()] {
            for (i, size) in all.iter().enumerate() {
                assert!(size.width <= size.height, "{}", size.name);
                assert!(
                    all[i + 1..].iter().all(|other| other.name != size.name),
                    "{} twice",
                    size.name
                );
            }
        }
    }
}
