//! The first sheet as it will be printed, to scale, in mm.

use crate::pages::paperwork::counted;
use crate::print::{LabelOptions, PlacedLabel, QUIET_ZONE};

/// A sheet with its labels.
pub(super) struct Preview {
    pub(super) width: String,
    pub(super) height: String,
    /// Width and height of the picture, with a little table round the sheet.
    pub(super) view: String,
    pub(super) title: String,
    pub(super) labels: Vec<PreviewLabel>,
}

/// A place on the sheet; its words and code are measured from its left top corner.
pub(super) struct PreviewLabel {
    pub(super) left: String,
    pub(super) top: String,
    pub(super) width: String,
    pub(super) height: String,
    /// Gone from the sheet before.
    pub(super) used: bool,
    pub(super) lines: Vec<PreviewLine>,
    pub(super) code: Option<PreviewCode>,
}

pub(super) struct PreviewLine {
    pub(super) left: String,
    pub(super) baseline: String,
    pub(super) size: String,
    /// Width in the font of the PDF, which the browser's own need not have.
    pub(super) width: String,
    pub(super) bold: bool,
    pub(super) text: String,
}

/// A code as a grey square with its three corner squares: all modules would be a page of their own.
pub(super) struct PreviewCode {
    pub(super) left: String,
    pub(super) top: String,
    pub(super) side: String,
    pub(super) corners: Vec<(String, String)>,
    pub(super) finder: String,
    pub(super) ring: String,
    pub(super) core: Vec<(String, String)>,
    pub(super) core_side: String,
}

impl Preview {
    pub(super) fn of(placed: &[PlacedLabel], options: &LabelOptions) -> Self {
        let measures = options.sheet.measures();
        let on_first = options.sheet.count().saturating_sub(options.used);
        let shown = placed.len().min(on_first);
        let place = |at: usize| {
            let (left, top) = options.sheet.corner(at);
            let printed = at.checked_sub(options.used).and_then(|n| placed.get(n));
            PreviewLabel {
                left: mm(left.mm()),
                top: mm(top.mm()),
                width: mm(measures.width.mm()),
                height: mm(measures.height.mm()),
                used: at < options.used,
                lines: printed.map_or_else(Vec::new, lines),
                code: printed.and_then(code),
            }
        };
        Self {
            width: mm(measures.paper.0.mm()),
            height: mm(measures.paper.1.mm()),
            view: format!(
                "{} {}",
                mm(measures.paper.0.mm() + 4.0),
                mm(measures.paper.1.mm() + 4.0)
            ),
            title: format!(
                "Sheet 1 of {} with {}",
                options.sheets(placed.len()).max(1),
                counted(shown as u64, "label", "labels")
            ),
            labels: (0..options.sheet.count()).map(place).collect(),
        }
    }
}

fn lines(placed: &PlacedLabel) -> Vec<PreviewLine> {
    let line = placed.lines.iter().map(|line| PreviewLine {
        left: mm(line.left_mm),
        baseline: mm(line.baseline_mm),
        size: mm(line.size_mm()),
        width: mm(line.width_mm()),
        bold: line.bold,
        text: line.text.clone(),
    });
    line.collect()
}

/// Finder patterns are 7 modules wide with a core of 3, in three corners (ISO/IEC 18004).
fn code(placed: &PlacedLabel) -> Option<PreviewCode> {
    let placed = placed.code.as_ref()?;
    let module = placed.module_mm;
    let quiet = QUIET_ZONE as f64 * module;
    let (left, top) = (placed.left_mm + quiet, placed.top_mm + quiet);
    let far = placed.code.side() as f64 * module - 7.0 * module;
    let corners = [(left, top), (left + far, top), (left, top + far)];
    let inset = |by: f64| {
        let at = corners.iter().map(|(x, y)| (mm(x + by), mm(y + by)));
        at.collect::<Vec<_>>()
    };
    Some(PreviewCode {
        left: mm(left),
        top: mm(top),
        side: mm(placed.code.side() as f64 * module),
        // The ring is one module wide: its stroke runs along its middle.
        corners: inset(0.5 * module),
        finder: mm(6.0 * module),
        ring: mm(module),
        core: inset(2.0 * module),
        core_side: mm(3.0 * module),
    })
}

fn mm(value: f64) -> String {
    format!("{value:.2}")
}
