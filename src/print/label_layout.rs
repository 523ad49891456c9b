//! What stands where on one label, mm from its left top corner: words at the left, the code at
//! the right, or below where a label is narrow. The preview and the PDF draw this same layout.

use super::area::Area;
use super::font::{CAPITALS, LINE, MM_PER_POINT, Weight, can_write, printable};
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

/// Letters on a line are not made smaller than this where the words go on two, points.
const CLEAR_PT: f64 = 12.0;

/// A line of a label: its words, and how large they are at most.
#[derive(Clone, Debug, PartialEq)]
pub struct LabelLine {
    /// The words.
    pub text: String,
    /// Whether they are bold.
    pub bold: bool,
    /// Their size where they fit, points.
    pub most_pt: f64,
    /// What stands there where the font cannot write the words; nothing if empty.
    pub instead: String,
    /// Whether the line goes before the code gets smaller.
    pub is_extra: bool,
}

impl LabelLine {
    /// A line that is left out where the font cannot write it, and else stays.
    #[must_use]
    pub fn new(text: &str, bold: bool, most_pt: f64) -> Self {
        Self {
            text: text.to_owned(),
            bold,
            most_pt,
            instead: String::new(),
            is_extra: false,
        }
    }

    /// The words that are printed.
    fn printed(&self) -> String {
        let is_whole = can_write(&self.text);
        printable(if is_whole { &self.text } else { &self.instead })
    }
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

    /// Side of its code with the least squares, and the least height and width of a label with it
    /// beside the words, mm; nothing without an address.
    #[must_use]
    pub fn code_takes_mm(&self) -> Option<(f64, f64, f64)> {
        let code = QrCode::new(self.address.as_deref()?).ok()?;
        let side = code.whole_side() as f64 * LEAST_MODULE_MM;
        let height = side + 2.0 * CODE_MARGIN_MM;
        Some((
            side,
            height,
            side + CODE_MARGIN_MM + MARGIN_MM + WORDS_ACROSS_MM,
        ))
    }

    /// The lines as they are printed: those that the font cannot write have others instead.
    fn printable(&self) -> Self {
        let lines = self.lines.iter().map(|line| LabelLine {
            text: line.printed(),
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
            match self.whole(Some(&code), room) {
                Some(placed) => return placed,
                None => smallest = Some((code, room)),
            }
        }
        let room = Area::new(0.0, 0.0, size.0, size.1).inset(MARGIN_MM);
        let (code, room) = smallest.map_or((None, room), |(code, room)| (Some(code), room));
        self.whole(code.as_ref(), room)
            .unwrap_or_else(|| self.placed(code.as_ref(), room))
    }

    /// With all words whole, or all that are not extra; `None` where that is too much.
    fn whole(&self, code: Option<&PlacedCode>, room: Area) -> Option<PlacedLabel> {
        let all = self.placed(code, room);
        if !all.is_cut {
            return Some(all);
        }
        let needed = self.lines.iter().filter(|line| !line.is_extra).cloned();
        let needed = Self {
            lines: needed.collect(),
            address: None,
        };
        let placed = needed.placed(code, room);
        let is_less = !placed.is_cut && !needed.lines.is_empty();
        is_less.then_some(PlacedLabel {
            is_cut: true,
            ..placed
        })
    }

    fn placed(&self, code: Option<&PlacedCode>, room: Area) -> PlacedLabel {
        let (lines, is_cut) = self.place_lines(room);
        PlacedLabel {
            lines,
            code: code.cloned(),
            is_cut,
        }
    }

    /// All lines one size down until they fit below each other, the last ones left out if they
    /// never do.
    fn place_lines(&self, room: Area) -> (Vec<PlacedLine>, bool) {
        let largest = self.lines.iter().map(|line| line.most_pt);
        let mut cap = largest.fold(LEAST_PT, f64::max);
        loop {
            let rows = self.lines.iter().flat_map(|line| rows(line, cap, room));
            let mut rows: Vec<PlacedLine> = rows.collect();
            let mut tall = 0.0;
            let fits = |row: &&PlacedLine| {
                tall += row.size_mm() * LINE;
                tall <= room.height()
            };
            let fitting = rows.iter().take_while(fits).count();
            if fitting == rows.len() || cap <= LEAST_PT {
                // One line is always there, however low the label.
                rows.truncate(fitting.max(1));
                let wanted: Vec<&str> = self.lines.iter().map(|it| it.text.as_str()).collect();
                let placed: Vec<&str> = rows.iter().map(|it| it.text.as_str()).collect();
                let is_cut = wanted.join(" ") != placed.join(" ");
                return (stacked(rows, room), is_cut);
            }
            cap = (cap - 0.5).max(LEAST_PT);
        }
    }
}

/// The words on one row, or on two where one would have small letters; cut only where two rows of
/// the smallest are too short.
fn rows(line: &LabelLine, cap: f64, room: Area) -> Vec<PlacedLine> {
    let weight = weight(line.bold);
    let most = line.most_pt.min(cap).max(LEAST_PT);
    let row = |text: String, size_pt: f64| PlacedLine {
        text,
        bold: line.bold,
        size_pt,
        left_mm: room.left,
        baseline_mm: 0.0,
    };
    let fits = |text: &str, size| weight.width_mm(text, size) <= room.width();
    let one = narrowed(line, most, room.width());
    if !fits(&line.text, one) || one < CLEAR_PT.min(most) {
        let halves = ((most - LEAST_PT) * 2.0) as u32;
        let sizes = (0..=halves).map(|n| most - f64::from(n) / 2.0);
        for size in sizes.take_while(|&size| size > one || !fits(&line.text, one)) {
            let two = weight.wrapped(&line.text, size, room.width(), 2);
            if two.len() == 2 && two.join(" ") == line.text {
                return two.into_iter().map(|text| row(text, size)).collect();
            }
        }
    }
    vec![row(weight.fitted(&line.text, one, room.width()), one)]
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
        let line = LabelLine::new;
        Label {
            lines: vec![
                line("Pack 3", true, 12.0),
                LabelLine {
                    instead: "Attendee 3".to_owned(),
                    ..line(name, true, 20.0)
                },
                line("Plum", false, 14.0),
                LabelLine {
                    is_extra: true,
                    ..line("Seed swap evening, 5 December 2026", false, 9.0)
                },
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
        assert_eq!(module((62.0, 30.0)), 0.6, "24.6 of 27.9 mm");
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

    fn words(name: &str, size: (f64, f64)) -> Vec<String> {
        let placed = label(name, Some(LINK)).place(size);
        placed.lines.into_iter().map(|it| it.text).collect()
    }

    #[test]
    fn a_name_that_the_font_can_not_write_has_its_number_instead() {
        let name = |name| words(name, (95.0, 39.0))[1].clone();
        assert_eq!(name("Bea 🌱"), "Bea");
        assert_eq!(name("Søren Ἀθήνα"), "Søren Ἀθήνα");
        for foreign in ["שרה כהן-לוי", "さくら", "محمد", "प्रिया", "Bea 花"]
        {
            assert_eq!(name(foreign), "Attendee 3", "{foreign}");
        }
        assert_eq!(words("🌱", (95.0, 39.0))[..2], ["Pack 3", "Plum"]);
    }

    /// Three by eight labels of 70 by 37 mm had half of the date, and half of the label blank.
    #[test]
    fn the_class_goes_on_two_lines_before_it_is_cut_or_the_code_shrinks() {
        let placed = label("Wilhelmina Featherstonehaugh", Some(LINK)).place((70.0, 37.0));
        assert!(!placed.is_cut, "{placed:?}");
        let said: Vec<&str> = placed.lines.iter().map(|it| it.text.as_str()).collect();
        assert_eq!(said[1..3], ["Wilhelmina", "Featherstonehaugh"]);
        assert_eq!(said[4..].join(" "), "Seed swap evening, 5 December 2026");
        assert!(placed.lines[1].size_pt >= 10.0, "{placed:?}");
        assert!(placed.code.unwrap().module_mm >= 0.7);
    }

    #[test]
    fn the_class_goes_before_the_code_gets_smaller() {
        let mut long = label("Seat 3", Some(LINK));
        "The allotment society's seed swap evening, 5 December 2026"
            .clone_into(&mut long.lines[3].text);
        let placed = long.place((62.0, 30.0));
        assert_eq!(placed.code.as_ref().unwrap().module_mm, 0.6);
        let said: Vec<&str> = placed.lines.iter().map(|it| it.text.as_str()).collect();
        assert_eq!((said.len(), placed.is_cut), (3, true), "{said:?}");
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
