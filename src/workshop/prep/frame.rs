//! A frame that brings many equal blanks to the same place, made of waste.
//!
//! ```text
//!   +-----------+   waste with an opening: the blank and a little play
//!   |  +-----+  |
//!   |  | (o) |  |   lay a blank in, punch or mark it, take it out, lay in the next
//!   |  +-----+  |
//!   +-----------+
//! ```

use tablefold_geometry::{Length, Placed, Unit};

use crate::recipe::{Part, PartKind, Step, ToolKind, Verb};
use crate::workshop::facts::ClassFacts;
use crate::workshop::pull::{PaperPull, Pull};

use super::batches::Batch;

/// Fewer blanks are placed by eye sooner than a frame is cut (common practice, no source).
const FEWEST: u32 = 4;
/// Paper round the opening: 1/2 in (common practice, no source).
const BORDER: Length = Length::from_nm(12_700_000);
/// Play where the ruler is in inches: 1/32 in (common practice, no source).
const PLAY_INCH: Length = Length::from_nm(793_750);
/// Play where it is metric: 0.5 mm (common practice, no source).
const PLAY_METRIC: Length = Length::from_nm(500_000);

/// A frame for one operation over many blanks.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Frame {
    /// Width and height of what lies in it.
    pub blank: (Length, Length),
    /// Width and height of the opening.
    pub opening: (Length, Length),
    /// Width and height of the frame at least.
    pub outside: (Length, Length),
    /// What comes on the blank, across; `None` where it is not known.
    pub mark: Option<Length>,
    /// What it is made of.
    pub from: FrameFrom,
}

/// What a frame is made of.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum FrameFrom {
    /// The piece that the first round blank was punched from: its hole is the opening.
    Punched {
        /// The part.
        part: String,
    },
    /// A left-over of a sheet.
    LeftOver {
        /// The paper.
        paper: String,
    },
}

/// Notes a frame at each row where one pays and can be made.
pub(super) fn suggest(
    batches: &mut [Batch],
    class: &ClassFacts,
    parts: &[Part],
    steps: &[Step],
    pull: &Pull,
) {
    let inches = class.project.board.ruler().unit() == Unit::Inch;
    let play = if inches { PLAY_INCH } else { PLAY_METRIC };
    let rows = batches.iter_mut().flat_map(|batch| &mut batch.rows);
    for row in rows.filter(|row| row.count >= FEWEST) {
        let blank = blank(parts, steps, row.step);
        row.frame = blank.and_then(|blank| frame(blank, play, pull));
    }
}

/// What lies in a frame.
struct Blank<'a> {
    part: &'a Part,
    size: (Length, Length),
    /// It was punched from the part's rectangle.
    punched_across: Option<Length>,
    mark: Option<Length>,
}

/// The blank of a step that puts the same mark on each. Boards have a fence: no frame for them.
fn blank<'a>(parts: &'a [Part], steps: &[Step], index: usize) -> Option<Blank<'a>> {
    let operation = &steps.get(index)?.operation;
    let marks = matches!(
        operation.verb,
        Verb::Stamp | Verb::Notch | Verb::ScoreAt | Verb::PunchAt
    );
    let fenced = matches!(
        operation.tool,
        Some(
            ToolKind::Trimmer
                | ToolKind::PunchBoard
                | ToolKind::ScoreBoard
                | ToolKind::CornerRounder
        )
    );
    let key = operation.part.as_ref()?;
    let part = parts.iter().find(|part| part.key == *key)?;
    let PartKind::Cut { width, height, .. } = part.kind else {
        return None;
    };
    let punched = steps[..index].iter().find(|step| {
        !step.hidden
            && step.operation.verb == Verb::Stamp
            && step.operation.part.as_ref() == Some(key)
    });
    (marks && !fenced).then(|| Blank {
        part,
        size: (width, height),
        punched_across: punched.and_then(|step| step.operation.settings.first().copied()),
        mark: match operation.settings[..] {
            [across] if operation.verb == Verb::Stamp => Some(across),
            _ => None,
        },
    })
}

fn frame(blank: Blank<'_>, play: Length, pull: &Pull) -> Option<Frame> {
    let (width, height) = blank.size;
    if let Some(across) = blank.punched_across {
        // The waste must hold together all round the hole.
        return (across < width && across < height).then(|| Frame {
            blank: (across, across),
            opening: (across, across),
            outside: blank.size,
            mark: blank.mark,
            from: FrameFrom::Punched {
                part: blank.part.name.clone(),
            },
        });
    }
    let opening = (width + play, height + play);
    let outside = (opening.0 + BORDER * 2, opening.1 + BORDER * 2);
    let paper = thickest_with_room(pull, outside)?;
    Some(Frame {
        blank: blank.size,
        opening,
        outside,
        mark: blank.mark,
        from: FrameFrom::LeftOver {
            paper: paper.name.clone(),
        },
    })
}

/// The stiffest paper makes the best frame; the first of equal ones.
fn thickest_with_room(pull: &Pull, (width, height): (Length, Length)) -> Option<&PaperPull> {
    let has_room = |paper: &&PaperPull| {
        paper.plan().sheets.iter().any(|sheets| {
            let sheet = &paper.size_of(sheets).paper;
            let sheet = (sheet.width, sheet.height);
            has_left(sheet, &sheets.placed, (width, height))
                || has_left(sheet, &sheets.placed, (height, width))
        })
    };
    let mut papers: Vec<&PaperPull> = pull.papers.iter().collect();
    let caliper = |paper: &PaperPull| paper.sizes.first().map(|size| size.paper.caliper);
    papers.sort_by_key(|paper| std::cmp::Reverse(caliper(paper)));
    papers.into_iter().find(has_room)
}

/// Whether a sheet has a free rectangle of this size. One that has can be pushed left and up
/// until it touches parts or the sheet's edge, so only their far edges need a look.
pub(super) fn has_left(
    sheet: (Length, Length),
    placed: &[Placed],
    (width, height): (Length, Length),
) -> bool {
    let mut lefts: Vec<Length> = placed.iter().map(|part| part.x + part.width).collect();
    let mut tops: Vec<Length> = placed.iter().map(|part| part.y + part.height).collect();
    for edges in [&mut lefts, &mut tops] {
        edges.push(Length::ZERO);
        edges.sort_unstable();
        edges.dedup();
    }
    let free = |x: Length, y: Length| {
        x + width <= sheet.0
            && y + height <= sheet.1
            && placed.iter().all(|part| {
                x + width <= part.x
                    || part.x + part.width <= x
                    || y + height <= part.y
                    || part.y + part.height <= y
            })
    };
    tops.iter().any(|&y| lefts.iter().any(|&x| free(x, y)))
}
