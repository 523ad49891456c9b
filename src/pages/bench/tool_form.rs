//! The fields of a tool.

use serde::{Deserialize, Serialize};
use tablefold_geometry::{Length, MOST_AT_ONCE, PunchBoard, Ruler, Trimmer, Unit};

use crate::forms::{FormErrors, length_text};
use crate::recipe::ToolKind;
pub(super) use crate::recipe::capital;
use crate::store::bench::{BenchTool, ToolParams};
use crate::workshop::BroughtBy;

/// What was typed.
#[derive(Clone, Debug, Default, Serialize, Deserialize)]
#[serde(default)]
pub(super) struct ToolForm {
    pub(super) version: String,
    pub(super) once: String,
    pub(super) kind: String,
    pub(super) name: String,
    pub(super) count: String,
    pub(super) brought_by: String,
    pub(super) unit: String,
    pub(super) step: String,
    pub(super) shortest: String,
    pub(super) longest: String,
    pub(super) notch_depth: String,
    pub(super) at_once: String,
}

/// The units that a ruler is read in.
pub(super) const UNITS: [(&str, Unit); 3] = [
    ("in", Unit::Inch),
    ("mm", Unit::Millimetre),
    ("cm", Unit::Centimetre),
];

impl ToolForm {
    /// An empty form for a kind of tool, filled with what is usual.
    pub(super) fn usual(kind: ToolKind, ruler: &Ruler) -> Self {
        let params = usual_params(kind, ruler.unit());
        Self::of(
            &BenchTool {
                kind,
                name: capital(kind.name()),
                count: 1,
                brought_by: BroughtBy::Instructor,
                params,
            },
            0,
        )
    }

    /// The form of a stored tool.
    pub(super) fn of(tool: &BenchTool, version: i64) -> Self {
        let ruler = tool.params.ruler();
        let text = |length: fn(&Ruler) -> Length| {
            ruler.map_or_else(String::new, |ruler| length_text(ruler, length(ruler)))
        };
        let notch_depth = match (&tool.params, ruler) {
            (ToolParams::Board(board), Some(ruler)) => length_text(ruler, board.notch_depth()),
            _ => String::new(),
        };
        Self {
            version: version.to_string(),
            once: String::new(),
            kind: tool.kind.slug().to_owned(),
            name: tool.name.clone(),
            count: tool.count.to_string(),
            brought_by: tool.brought_by.slug().to_owned(),
            unit: ruler.map_or_else(String::new, |ruler| ruler.unit().symbol().to_owned()),
            step: text(Ruler::step),
            shortest: text(Ruler::shortest),
            longest: text(Ruler::longest),
            notch_depth,
            at_once: tool
                .trimmer()
                .map_or_else(String::new, |trimmer| trimmer.at_once().to_string()),
        }
    }

    /// The tool that was typed.
    pub(super) fn read(&self, kind: ToolKind, errors: &mut FormErrors) -> Option<BenchTool> {
        let name = errors.text("name", "Name", &self.name, 80);
        let count = errors.count("count", "How many", &self.count, 0..=1000);
        let offered = BroughtBy::ALL.map(|by| (by.slug(), by));
        let by = errors.choice("brought_by", "Who brings it", &self.brought_by, &offered);
        let params = self.read_params(kind, errors);
        Some(BenchTool {
            kind,
            name: name?,
            count: count?,
            brought_by: by?,
            params: params?,
        })
    }

    fn read_params(&self, kind: ToolKind, errors: &mut FormErrors) -> Option<ToolParams> {
        if !is_ruled(kind) {
            return Some(ToolParams::None);
        }
        let ruler = self.read_ruler(errors);
        if kind == ToolKind::Trimmer {
            let label = "Sheets at once";
            let at_once = errors.count("at_once", label, &self.at_once, 1..=MOST_AT_ONCE);
            let trimmer = Trimmer::new(ruler?).taking(at_once?);
            return Some(ToolParams::Trims(trimmer));
        }
        if kind != ToolKind::PunchBoard {
            return ruler.map(ToolParams::Ruled);
        }
        let unit = self.unit();
        let notch = errors.size("notch_depth", "Notch depth", &self.notch_depth, unit);
        let ruler = ruler?;
        let board = PunchBoard::new(notch?, ruler).map_err(|error| error.text(&ruler));
        errors
            .keep("notch_depth", "Notch depth", board)
            .map(ToolParams::Board)
    }

    fn read_ruler(&self, errors: &mut FormErrors) -> Option<Ruler> {
        let chosen = errors.choice("unit", "Reads in", &self.unit, &UNITS);
        let unit = self.unit();
        let step = errors.size("step", "A mark every", &self.step, unit);
        let shortest = errors.length("shortest", "First mark you can set", &self.shortest, unit);
        let longest = errors.size("longest", "Last mark you can set", &self.longest, unit);
        let ruler = Ruler::new(chosen?, step?, shortest?, longest?);
        let field = match &ruler {
            Err(tablefold_geometry::RulerError::NoMarks { .. }) => "longest",
            Err(tablefold_geometry::RulerError::Reach { .. }) => "longest",
            _ => "step",
        };
        let usual = if unit == Unit::Inch {
            Ruler::inch(64)
        } else {
            Ruler::millimetre()
        };
        errors.keep(field, "Ruler", ruler.map_err(|error| error.text(&usual)))
    }

    fn unit(&self) -> Unit {
        let found = UNITS.iter().find(|(slug, _)| *slug == self.unit);
        found.map_or(Unit::Inch, |(_, unit)| *unit)
    }
}

/// Whether a tool is set by a ruler.
pub(super) const fn is_ruled(kind: ToolKind) -> bool {
    matches!(
        kind,
        ToolKind::PunchBoard | ToolKind::Trimmer | ToolKind::ScoreBoard
    )
}

/// What a tool of that kind usually has, in the units of the bench.
pub(super) fn usual_params(kind: ToolKind, unit: Unit) -> ToolParams {
    let inch = unit == Unit::Inch;
    match kind {
        ToolKind::PunchBoard if inch => ToolParams::Board(PunchBoard::default_inch()),
        ToolKind::PunchBoard => {
            let usual = PunchBoard::default_metric();
            // 6 mm is what metric boards say, common practice, no source.
            let board = PunchBoard::new(Length::from_mm(6), *usual.ruler());
            ToolParams::Board(board.unwrap_or(usual))
        }
        kind if !is_ruled(kind) => ToolParams::None,
        _ if inch => ToolParams::Ruled(Ruler::inch(16)),
        _ => ToolParams::Ruled(Ruler::millimetre()),
    }
}
