//! The form that describes a sheet of labels and what goes on it. What was typed stays text; the
//! same pairs make the address of the page and of the PDF.

use tablefold_geometry::{Length, Ruler, Unit};

use super::super::typed::Typed;
use crate::forms::{FormErrors, length_text, quoted_part};
use crate::print::LabelOptions;
use crate::store::label_sheet::KeptLabelSheet;
use crate::workshop::{
    LabelMeasure, LabelMeasures, LabelSheet, LabelSheetProblem, MOST_LABELS_ALONG,
};

/// 210 by 297 mm, ISO 216.
const A4: (Length, Length) = (Length::from_mm(210), Length::from_mm(297));

/// 8 1/2 by 11 in.
const LETTER: (Length, Length) = (Length::from_nm(215_900_000), Length::from_nm(279_400_000));

/// Tables of one class at most.
const MOST_TABLES: u32 = 200;

/// So many share a table until the form says something else (common practice, no source).
const ATTENDEES_A_TABLE: usize = 6;

/// What gets labels.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum What {
    Packs,
    Tables,
    Tools,
    All,
}

impl What {
    const ALL: [(&'static str, Self, &'static str); 4] = [
        ("packs", Self::Packs, "Packs"),
        ("tables", Self::Tables, "Tables"),
        ("tools", Self::Tools, "Tools"),
        ("all", Self::All, "Packs, tables and tools"),
    ];

    pub(super) fn has(self, one: Self) -> bool {
        self == one || self == Self::All
    }
}

#[derive(Clone, Copy)]
enum PaperChoice {
    Fixed((Length, Length)),
    Own,
}

const PAPERS: [(&str, PaperChoice, &str); 3] = [
    ("a4", PaperChoice::Fixed(A4), "A4"),
    ("letter", PaperChoice::Fixed(LETTER), "Letter"),
    ("own", PaperChoice::Own, "Another size"),
];

/// What the form asks for, read.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Choice {
    pub(super) what: What,
    pub(super) tables: u32,
    pub(super) options: LabelOptions,
}

impl Choice {
    /// What is kept of it for the next time.
    pub(super) fn kept(&self) -> KeptLabelSheet {
        KeptLabelSheet {
            sheet: self.options.sheet,
            outline: self.options.outline,
        }
    }
}

/// Every field with what stands in it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct LabelForm(Vec<(&'static str, String)>);

impl LabelForm {
    /// The sheet that was kept, or else plain paper that is cut apart along the lines.
    pub(super) fn usual(kept: Option<KeptLabelSheet>, ruler: &Ruler, attendees: usize) -> Self {
        let outline = kept.is_none_or(|kept| kept.outline);
        let measures = kept.map_or_else(|| plain(ruler), |kept| *kept.sheet.measures());
        let (paper, size) = match measures.paper {
            A4 => ("a4", None),
            LETTER => ("letter", None),
            own => ("own", Some(own)),
        };
        let text = |length| length_text(ruler, length);
        let size = size.map_or_else(Default::default, |(w, h)| (text(w), text(h)));
        let tables = attendees.div_ceil(ATTENDEES_A_TABLE).max(1);
        Self(vec![
            ("what", "packs".to_owned()),
            ("tables", tables.to_string()),
            ("paper", paper.to_owned()),
            ("paper_width", size.0),
            ("paper_height", size.1),
            ("columns", measures.columns.to_string()),
            ("rows", measures.rows.to_string()),
            ("left", text(measures.left)),
            ("top", text(measures.top)),
            ("width", text(measures.width)),
            ("height", text(measures.height)),
            ("across", text(measures.across)),
            ("down", text(measures.down)),
            ("first", "1".to_owned()),
            ("outline", if outline { "yes" } else { "no" }.to_owned()),
        ])
    }

    /// With everything that was typed in place of what stood there.
    pub(super) fn with(mut self, typed: &Typed) -> Self {
        for (name, value) in &mut self.0 {
            if typed.has(name) {
                typed.get(name).clone_into(value);
            }
        }
        self
    }

    /// What stands in a field.
    pub(super) fn get(&self, name: &str) -> &str {
        let found = self.0.iter().find(|(field, _)| *field == name);
        found.map_or("", |(_, value)| value)
    }

    /// All fields for an address.
    pub(super) fn query(&self) -> String {
        serde_html_form::to_string(&self.0).unwrap_or_default()
    }

    pub(super) fn whats() -> Vec<(&'static str, &'static str)> {
        What::ALL.map(|(slug, _, label)| (slug, label)).to_vec()
    }

    pub(super) fn papers() -> Vec<(&'static str, &'static str)> {
        PAPERS.map(|(slug, _, label)| (slug, label)).to_vec()
    }

    pub(super) fn read(&self, ruler: &Ruler, errors: &mut FormErrors) -> Option<Choice> {
        let what = What::ALL.map(|(slug, what, _)| (slug, what));
        let what = errors.choice("what", "Labels for", self.get("what"), &what);
        let tables = errors.count("tables", "Tables", self.get("tables"), 1..=MOST_TABLES);
        let sheet = self.sheet(ruler, errors);
        let offered = [("yes", true), ("no", false)];
        let outline = errors.choice("outline", "Outline", self.get("outline"), &offered);
        let first = self.first(sheet, errors);
        Some(Choice {
            what: what?,
            tables: tables?,
            options: LabelOptions {
                sheet: sheet?,
                used: first? as usize - 1,
                outline: outline?,
            },
        })
    }

    /// The first free label; a sheet that is wrong itself does not say how many there are.
    fn first(&self, sheet: Option<LabelSheet>, errors: &mut FormErrors) -> Option<u32> {
        let count = sheet.map_or(MOST_LABELS_ALONG * MOST_LABELS_ALONG, |sheet| {
            sheet.measures().columns * sheet.measures().rows
        });
        errors.count("first", "First free label", self.get("first"), 1..=count)
    }

    fn sheet(&self, ruler: &Ruler, errors: &mut FormErrors) -> Option<LabelSheet> {
        let paper = self.paper(ruler, errors);
        let count = |errors: &mut FormErrors, measure| {
            let (field, label) = named(measure);
            errors.count(field, label, self.get(field), 1..=MOST_LABELS_ALONG)
        };
        let columns = count(errors, LabelMeasure::Columns);
        let rows = count(errors, LabelMeasure::Rows);
        let mut length = |measure| {
            let (field, label) = named(measure);
            errors.length(field, label, self.get(field), ruler.unit())
        };
        let [left, top, width, height, across, down] = [
            LabelMeasure::Left,
            LabelMeasure::Top,
            LabelMeasure::Width,
            LabelMeasure::Height,
            LabelMeasure::Across,
            LabelMeasure::Down,
        ]
        .map(&mut length);
        let measures = LabelMeasures {
            paper: paper?,
            columns: columns?,
            rows: rows?,
            left: left?,
            top: top?,
            width: width?,
            height: height?,
            across: across?,
            down: down?,
        };
        let refuse = |problems: Vec<LabelSheetProblem>| {
            for problem in problems {
                let (field, message) = self.say(problem, &measures, ruler);
                errors.add(field, message);
            }
        };
        LabelSheet::new(measures).map_err(refuse).ok()
    }

    fn paper(&self, ruler: &Ruler, errors: &mut FormErrors) -> Option<(Length, Length)> {
        let offered = PAPERS.map(|(slug, paper, _)| (slug, paper));
        match errors.choice("paper", "Sheet", self.get("paper"), &offered)? {
            PaperChoice::Fixed(size) => Some(size),
            PaperChoice::Own => {
                let mut side = |measure| {
                    let (field, label) = named(measure);
                    errors.size(field, label, self.get(field), ruler.unit())
                };
                let width = side(LabelMeasure::PaperWidth);
                let height = side(LabelMeasure::PaperHeight);
                Some((width?, height?))
            }
        }
    }

    /// The field of a problem and what is said beside it.
    fn say(
        &self,
        problem: LabelSheetProblem,
        measures: &LabelMeasures,
        ruler: &Ruler,
    ) -> (&'static str, String) {
        let text = |length| length_text(ruler, length);
        let said = |measure| {
            let (field, label) = named(measure);
            (
                field,
                format!("{label}: \"{}\"", quoted_part(self.get(field))),
            )
        };
        match problem {
            LabelSheetProblem::TooSmall(measure, least) => {
                let (field, start) = said(measure);
                let least = text(up(ruler, least));
                (
                    field,
                    format!("{start} is too small. Type at least {least}."),
                )
            }
            LabelSheetProblem::TooLarge(measure, most) => {
                let (field, start) = said(measure);
                (
                    field,
                    format!("{start} is too large. Type at most {}.", text(most)),
                )
            }
            LabelSheetProblem::Count(measure) => {
                let (field, start) = said(measure);
                let instead = format!("Type a number from 1 to {MOST_LABELS_ALONG}.");
                (field, format!("{start} does not do. {instead}"))
            }
            LabelSheetProblem::PastTheEdge {
                measure,
                reach,
                most,
            } => {
                let (field, start) = said(measure);
                let (count, along, side) = match measure {
                    LabelMeasure::Height => (measures.rows, "row", measures.paper.1),
                    _ => (measures.columns, "column", measures.paper.0),
                };
                let many = if count == 1 { "" } else { "s" };
                let reach = text(reach);
                let side = text(side);
                let most = most.map(|most| format!("at most {}, ", text(down(ruler, most))));
                let instead = match most {
                    Some(most) => format!("Type {most}fewer {along}s, or a smaller margin or gap."),
                    None => format!("Type fewer {along}s, or a smaller margin or gap."),
                };
                let message = format!(
                    "{start} does not fit: {count} {along}{many} reach to {reach}, and the sheet ends at {side}. {instead}"
                );
                (field, message)
            }
        }
    }
}

/// The next mark up, or the length itself beyond the ruler.
fn up(ruler: &Ruler, length: Length) -> Length {
    ruler.up(length.mm()).unwrap_or(length)
}

fn down(ruler: &Ruler, length: Length) -> Length {
    ruler.down(length.mm()).unwrap_or(length)
}

/// Field and label of a measure.
const fn named(measure: LabelMeasure) -> (&'static str, &'static str) {
    match measure {
        LabelMeasure::PaperWidth => ("paper_width", "Width of the sheet"),
        LabelMeasure::PaperHeight => ("paper_height", "Height of the sheet"),
        LabelMeasure::Columns => ("columns", "Columns"),
        LabelMeasure::Rows => ("rows", "Rows"),
        LabelMeasure::Left => ("left", "Left margin"),
        LabelMeasure::Top => ("top", "Top margin"),
        LabelMeasure::Width => ("width", "Width of a label"),
        LabelMeasure::Height => ("height", "Height of a label"),
        LabelMeasure::Across => ("across", "Gap across"),
        LabelMeasure::Down => ("down", "Gap down"),
    }
}

/// Plain paper divided so that each label has room for a code.
fn plain(ruler: &Ruler) -> LabelMeasures {
    let quarters = |count: i64| Length::from_nm(6_350_000) * count;
    let is_inch = matches!(ruler.unit(), Unit::Inch | Unit::Foot);
    let (paper, rows, margins, size) = if is_inch {
        let margins = (quarters(2), quarters(2));
        (LETTER, 8, margins, (quarters(15), quarters(5)))
    } else {
        let mm = Length::from_mm;
        (A4, 7, (mm(10), mm(12)), (mm(95), mm(39)))
    };
    LabelMeasures {
        paper,
        columns: 2,
        rows,
        left: margins.0,
        top: margins.1,
        width: size.0,
        height: size.1,
        across: Length::ZERO,
        down: Length::ZERO,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(ruler: &Ruler, typed: &[(&str, &str)]) -> Result<Choice, String> {
        let typed = serde_html_form::to_string(typed).unwrap();
        let typed: Typed = serde_html_form::from_str(&typed).unwrap();
        let form = LabelForm::usual(None, ruler, 14).with(&typed);
        let mut errors = FormErrors::default();
        let choice = form.read(ruler, &mut errors);
        let said = errors.iter().map(|error| error.message.as_str());
        let said = said.collect::<Vec<_>>().join("\n");
        choice.ok_or(said)
    }

    #[test]
    fn plain_paper_is_a_sheet_in_both_units() {
        for ruler in [Ruler::inch(16), Ruler::millimetre()] {
            let choice = read(&ruler, &[]).unwrap();
            assert!(choice.options.outline && choice.options.used == 0);
            assert_eq!(choice.tables, 3, "14 attendees, 6 to a table");
            // Room for a code of 33 modules: 20.5 mm and 1 mm all round.
            assert!(choice.options.sheet.measures().height.mm() >= 22.5);
        }
    }

    #[test]
    fn a_sheet_that_was_kept_comes_back_as_it_was() {
        let ruler = Ruler::inch(16);
        let typed = [
            ("paper", "own"),
            ("paper_width", "100 mm"),
            ("paper_height", "6 in"),
            ("columns", "1"),
            ("rows", "3"),
            ("width", "3 1/64"),
            ("down", "3/64 in"),
            ("outline", "no"),
        ];
        let kept = read(&ruler, &typed).unwrap().kept();
        let form = LabelForm::usual(Some(kept), &ruler, 14);
        let again = form.read(&ruler, &mut FormErrors::default()).unwrap();
        assert_eq!(again.kept(), kept);
        assert_eq!(
            (form.get("paper"), form.get("paper_width")),
            ("own", "100 mm")
        );
    }

    #[test]
    fn what_does_not_fit_is_said_with_what_would() {
        let metric = Ruler::millimetre();
        let said = |typed: &[(&str, &str)]| read(&metric, typed).unwrap_err();
        insta::assert_snapshot!(said(&[("columns", "3")]), @r#"Width of a label: "95 mm" does not fit: 3 columns reach to 295 mm, and the sheet ends at 210 mm. Type at most 66 mm, fewer columns, or a smaller margin or gap."#);
        insta::assert_snapshot!(said(&[("rows", "20")]), @r#"Height of a label: "39 mm" does not fit: 20 rows reach to 792 mm, and the sheet ends at 297 mm. Type at most 14 mm, fewer rows, or a smaller margin or gap."#);
        insta::assert_snapshot!(said(&[("left", "205"), ("width", "14 mm")]), @r#"Width of a label: "14 mm" is too small. Type at least 15 mm."#);
        insta::assert_snapshot!(said(&[("top", "20 cm"), ("rows", "13")]), @r#"Height of a label: "39 mm" does not fit: 13 rows reach to 707 mm, and the sheet ends at 297 mm. Type fewer rows, or a smaller margin or gap."#);
        insta::assert_snapshot!(said(&[("across", "-2")]), @r#"Gap across: "-2" is below zero. Type a length of 0 or more."#);
        insta::assert_snapshot!(said(&[("rows", "0"), ("columns", "61")]), @r#"
        Columns: "61" is too many. Type a number from 1 to 60.
        Rows: "0" is too few. Type a number from 1 to 60.
        "#);
        insta::assert_snapshot!(said(&[("first", "15"), ("tables", "0"), ("what", "x")]), @r#"
        Labels for: "x" is not in the list. Choose one from the list.
        Tables: "0" is too few. Type a number from 1 to 200.
        First free label: "15" is too many. Type a number from 1 to 14.
        "#);
        insta::assert_snapshot!(said(&[("paper", "own")]), @"
        Width of the sheet: Nothing is typed here. Type a length such as 5 1/4 in or 133 mm.
        Height of the sheet: Nothing is typed here. Type a length such as 5 1/4 in or 133 mm.
        ");
        insta::assert_snapshot!(said(&[("paper", "own"), ("paper_width", "20"), ("paper_height", "9000")]), @r#"
        Width of the sheet: "20" is too small. Type at least 30 mm.
        Height of the sheet: "9000" is too large. Type at most 5080 mm.
        "#);
    }

    #[test]
    fn in_inches_what_would_do_is_a_mark() {
        let said = read(&Ruler::inch(16), &[("columns", "3"), ("height", "1/8")]).unwrap_err();
        insta::assert_snapshot!(said, @r#"
        Width of a label: "3 3/4 in" does not fit: 3 columns reach to 11 3/4 in, and the sheet ends at 8 1/2 in. Type at most 2 5/8 in, fewer columns, or a smaller margin or gap.
        Height of a label: "1/8" is too small. Type at least 3/8 in.
        "#);
    }
}
