//! What stands where on one label, mm from its left top corner: words at the left, the code at
//! the right, or below where a label is narrow. The preview and the PDF draw this same layout.

use super::area::Area;
use super::font::{CAPITALS, LINE, MM_PER_POINT, Weight, printable};
use super::qr::QrCode;

/// Words stay so far from the edges of a label, mm: printers feed a sheet a millimetre off
/// (common practice, no source).
const MARGIN_MM: f64 = 2.0;

/// A code brings its own quiet zone, so it comes closer, mm.
const CODE_MARGIN_MM: f64 = 1.0;

/// Words beside a code have at least this much room across, and below it down, mm.
const WORDS_ACROSS_MM: f64 = 22.0;
const WORDS_DOWN_MM: f64 = 8.0;

/// Sides of a module, tenths of a millimetre, the largest first: 0.396 to 0.990 mm, GS1 General
/// Specifications 5.12.3.1, and at least 0.5 mm so that office printers do.
const MODULES: [u32; 5] = [9, 8, 7, 6, 5];

/// The last of them.
const LEAST_MODULE_MM: f64 = 0.5;

/// A code takes at most this share of a label's longer side where a smaller one would do.
const CODE_SHARE: f64 = 0.45;

/// Smaller words than this are cut instead, points.
const LEAST_PT: f64 = 8.0;

/// A line of a label: its words, and how large they are at most.
#[derive(Clone, Debug, PartialEq)]
pub struct LabelLine {
    /// The words.
    pub text: String,
    /// Whether they are bold.
    pub bold: bool,
    /// Their size where they fit, points.
    pub most_pt: f64,
}

/// What a label says, the most important line first but one.
#[derive(Clone, Debug, PartialEq)]
pub struct Label {
    /// The lines, from the top. What has no room is left out from the bottom.
    pub lines: Vec<LabelLine>,
    /// The address that its code holds.
    pub address: Option<String>,
}

/// A line in its place.
#[derive(Clone, Debug, PartialEq)]
pub struct PlacedLine {
    /// The words that fit.
    pub text: String,
    /// Whether they are bold.
    pub bold: bool,
    /// Their size, points.
    pub size_pt: f64,
    /// Where they start, mm.
    pub left_mm: f64,
    /// The line they stand on, mm.
    pub baseline_mm: f64,
}

/// A code in its place.
#[derive(Clone, Debug, PartialEq)]
pub struct PlacedCode {
    /// The code.
    pub code: QrCode,
    /// Left edge of its quiet zone, mm.
    pub left_mm: f64,
    /// Top edge of its quiet zone, mm.
    pub top_mm: f64,
    /// Side of a module, mm.
    pub module_mm: f64,
}

/// A label with everything in its place.
#[derive(Clone, Debug, PartialEq)]
pub struct PlacedLabel {
    /// Its lines.
    pub lines: Vec<PlacedLine>,
    /// Its code, where there is room for one.
    pub code: Option<PlacedCode>,
    /// Whether words were cut or left out.
    pub is_cut: bool,
}

impl PlacedLine {
    /// Size of the letters, mm.
    #[must_use]
    pub fn size_mm(&self) -> f64 {
        self.size_pt * MM_PER_POINT
    }

    /// Width of the words in the font of the PDF, mm.
    #[must_use]
    pub fn width_mm(&self) -> f64 {
        weight(self.bold).width_mm(&self.text, self.size_pt)
    }
}

impl PlacedCode {
    /// Side of the code with its quiet zone, mm.
    #[must_use]
    pub fn side_mm(&self) -> f64 {
        self.code.whole_side() as f64 * self.module_mm
    }
}

impl Label {
    /// Puts everything in its place on a label of this width and height, mm. The code is as large
    /// as leaves all words whole; where none does, as small as can be.
    #[must_use]
    pub fn place(&self, size: (f64, f64)) -> PlacedLabel {
        self.printable().place_all(size)
    }

    /// Without letters that the font lacks, and lines that have no others.
    fn printable(&self) -> Self {
        let lines = self.lines.iter().map(|line| LabelLine {
            text: printable(&line.text),
            ..line.clone()
        });
        Self {
            lines: lines.filter(|line| !line.text.is_empty()).collect(),
            address: self.address.clone(),
        }
    }

    fn place_all(&self, size: (f64, f64)) -> PlacedLabel {
        let code = self.address.as_deref().and_then(|it| QrCode::new(it).ok());
        let mut smallest = None;
        for tenths in MODULES {
            let module = f64::from(tenths) / 10.0;
            let placed = code.as_ref().and_then(|it| place_code(it, module, size));
            let Some((code, room)) = placed else { continue };
            let placed = self.placed(Some(code), room);
            if !placed.is_cut {
                return placed;
            }
            smallest = Some(placed);
        }
        let whole = Area::new(0.0, 0.0, size.0, size.1).inset(MARGIN_MM);
        smallest.unwrap_or_else(|| self.placed(None, whole))
    }

    fn placed(&self, code: Option<PlacedCode>, room: Area) -> PlacedLabel {
        let (lines, is_cut) = self.place_lines(room);
        PlacedLabel {
            lines,
            code,
            is_cut,
        }
    }

    /// All lines one size down until they fit; then each line until it is short enough.
    fn place_lines(&self, room: Area) -> (Vec<PlacedLine>, bool) {
        let (sizes, fitting) = self.sizes(room.height());
        let mut is_cut = fitting < self.lines.len();
        let lines = self.lines.iter().zip(sizes).take(fitting);
        let lines: Vec<PlacedLine> = lines
            .map(|(line, size)| {
                let weight = weight(line.bold);
                let size = narrowed(line, size, room.width());
                is_cut |= weight.width_mm(&line.text, size) > room.width();
                PlacedLine {
                    text: weight.fitted(&line.text, size, room.width()),
                    bold: line.bold,
                    size_pt: size,
                    left_mm: room.left,
                    baseline_mm: 0.0,
                }
            })
            .collect();
        (stacked(lines, room), is_cut)
    }

    /// The sizes at which the lines fit one below the other, and how many of them do.
    fn sizes(&self, height: f64) -> (Vec<f64>, usize) {
        let largest = self.lines.iter().map(|line| line.most_pt);
        let mut cap = largest.fold(LEAST_PT, f64::max);
        loop {
            let sizes = self.lines.iter().map(|line| line.most_pt.min(cap));
            let sizes: Vec<f64> = sizes.map(|size| size.max(LEAST_PT)).collect();
            let mut tall = 0.0;
            let fits = |size: &&f64| {
                tall += *size * LINE * MM_PER_POINT;
                tall <= height
            };
            let fitting = sizes.iter().take_while(fits).count();
            if fitting == sizes.len() || cap <= LEAST_PT {
                // One line is always there, however low the label.
                return (sizes, fitting.max(1));
            }
            cap = (cap - 0.5).max(LEAST_PT);
        }
    }
}

/// Half a point down at a time until a line is short enough.
fn narrowed(line: &LabelLine, size: f64, width: f64) -> f64 {
    let wide = weight(line.bold).width_mm(&line.text, size);
    if wide <= width {
        return size;
    }
    let halves = (size * width / wide * 2.0).floor() / 2.0;
    halves.max(LEAST_PT).min(size)
}

/// One below the other, all of them half-way down the room.
fn stacked(mut lines: Vec<PlacedLine>, room: Area) -> Vec<PlacedLine> {
    let step = |line: &PlacedLine| line.size_mm() * LINE;
    let tall: f64 = lines.iter().map(step).sum();
    let mut top = room.middle().y - tall / 2.0;
    for line in &mut lines {
        let height = step(line);
        line.baseline_mm = top + (height + line.size_mm() * CAPITALS) / 2.0;
        top += height;
    }
    lines
}

/// The code with the room that it leaves for words; `None` where it would leave too little.
fn place_code(
    code: &QrCode,
    module_mm: f64,
    (width, height): (f64, f64),
) -> Option<(PlacedCode, Area)> {
    let whole = code.whole_side() as f64;
    let side = whole * module_mm;
    let share = (CODE_SHARE * width.max(height)).max(whole * LEAST_MODULE_MM);
    let reach = side + CODE_MARGIN_MM;
    let beside = width - reach - MARGIN_MM >= WORDS_ACROSS_MM && reach + CODE_MARGIN_MM <= height;
    let below = height - reach - MARGIN_MM >= WORDS_DOWN_MM && reach + CODE_MARGIN_MM <= width;
    if side > share || !(beside || below) {
        return None;
    }
    let mut room = Area::new(0.0, 0.0, width, height).inset(MARGIN_MM);
    let (left_mm, top_mm) = if beside {
        room.right = width - reach;
        (room.right, (height - side) / 2.0)
    } else {
        room.bottom = height - reach;
        (CODE_MARGIN_MM, room.bottom)
    };
    let placed = PlacedCode {
        code: code.clone(),
        left_mm,
        top_mm,
        module_mm,
    };
    Some((placed, room))
}

pub(super) fn weight(bold: bool) -> Weight {
    if bold { Weight::Bold } else { Weight::Regular }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    const LINK: &str = "http://192.168.1.20:8080/a/abcdefghijklmnopqrstuvwxyz234567";

    fn label(name: &str, address: Option<&str>) -> Label {
        let line = |text: &str, bold, most_pt| LabelLine {
            text: text.to_owned(),
            bold,
            most_pt,
        };
        Label {
            lines: vec![
                line("Pack 3", true, 12.0),
                line(name, true, 20.0),
                line("Plum", false, 14.0),
                line("Seed swap evening, 5 December 2026", false, 9.0),
            ],
            address: address.map(str::to_owned),
        }
    }

    #[test]
    fn a_code_goes_beside_the_words_or_below_or_nowhere() {
        // (33 + 8) modules of 0.5 mm are 20.5 mm.
        let place = |size| label("Seat 3", Some(LINK)).place(size).code;
        let beside = place((60.0, 23.0)).unwrap();
        assert!((beside.module_mm, beside.side_mm()) == (0.5, 20.5));
        assert!(beside.left_mm > 30.0 && beside.top_mm < 2.0);
        let below = place((24.0, 60.0)).unwrap();
        assert!(below.left_mm < 2.0 && below.top_mm > 30.0);
        assert_eq!(place((60.0, 22.0)), None, "20.5 mm and 1 mm on each side");
        assert_eq!(place((40.0, 25.0)), None, "too little left for words");
    }

    #[test]
    fn a_larger_label_has_a_larger_code_up_to_what_scanners_are_made_for() {
        let module = |size| {
            let placed = label("Seat 3", Some(LINK)).place(size);
            placed.code.unwrap().module_mm
        };
        assert_eq!(module((95.0, 39.0)), 0.9, "36.9 of 42.75 mm");
        assert_eq!(module((200.0, 200.0)), 0.9);
        assert_eq!(module((90.0, 30.0)), 0.6, "24.6 of 28 mm");
        assert_eq!(module((62.0, 30.0)), 0.5, "the words need the rest");
    }

    #[test]
    fn words_shrink_to_8_points_and_then_end_in_an_ellipsis() {
        let name = "Wilhelmina Featherstonehaugh";
        let placed = label(name, None).place((95.0, 39.0));
        assert!(!placed.is_cut && placed.lines[1].size_pt > 12.0);
        let placed = label(name, None).place((40.0, 30.0));
        assert!((8.0..=10.0).contains(&placed.lines[1].size_pt));
        let placed = label(&name.repeat(3), None).place((40.0, 30.0));
        assert!(placed.is_cut && placed.lines[1].text.ends_with('…'));
        assert_eq!(placed.lines[1].size_pt, 8.0);
    }

    #[test]
    fn a_name_that_the_font_can_not_write_leaves_its_line_out() {
        let words = |name| {
            let placed = label(name, None).place((95.0, 39.0));
            let words = placed.lines.into_iter().map(|it| it.text);
            words.collect::<Vec<_>>()
        };
        assert_eq!(words("Bea 🌱")[..3], ["Pack 3", "Bea", "Plum"]);
        assert_eq!(words("🌱")[..2], ["Pack 3", "Plum"]);
    }

    #[test]
    fn a_label_too_low_for_all_lines_leaves_out_the_last_and_says_so() {
        let placed = label("Seat 3", None).place((40.0, 12.0));
        assert!(placed.is_cut);
        let words: Vec<_> = placed.lines.iter().map(|it| it.text.as_str()).collect();
        assert_eq!(words, ["Pack 3", "Seat 3"]);
    }

    proptest! {
        /// Nothing leaves the label and no word runs into the code, whatever the label's size.
        #[test]
        fn everything_stays_on_its_label(
            width in 15.0..220.0f64, height in 8.0..300.0f64, name in "\\PC{1,90}", coded: bool,
        ) {
            let placed = label(&name, coded.then_some(LINK)).place((width, height));
            let code = placed.code.as_ref();
            if let Some(code) = code {
                prop_assert!((0.396..=0.990).contains(&code.module_mm));
                prop_assert!(code.left_mm >= 0.99 && code.left_mm + code.side_mm() <= width - 0.99);
                prop_assert!(code.top_mm >= 0.99 && code.top_mm + code.side_mm() <= height - 0.99);
            }
            prop_assert!(!placed.lines.is_empty());
            for line in &placed.lines {
                let right = line.left_mm + line.width_mm();
                let top = line.baseline_mm - line.size_mm();
                prop_assert!(line.size_pt >= 8.0);
                prop_assert!(right <= width - 1.99 && top >= 1.0 && line.baseline_mm <= height - 1.0,
                    "{line:?}");
                let clear = code.is_none_or(|code| {
                    right <= code.left_mm + 1e-6 || line.baseline_mm <= code.top_mm
                });
                prop_assert!(clear, "{line:?} {code:?}");
            }
        }
    }
}
