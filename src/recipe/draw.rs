//! Draws a step's picture from the piece and the tools it is made with.

use tablefold_geometry::{
    CutPicture, FlatNow, FlatPicture, Pattern, PunchNow, PunchPicture, Scene, Settings,
    WasteReason, cut_picture, flat_picture, punch_picture,
};

use super::facts::ProjectFacts;
use super::made::MadePiece;
use super::operation::Operation;
use super::step_picture::StepPicture;

/// The picture of a step, if it has one. `mirrored` is for left-handers.
#[must_use]
pub fn draw(
    project: &ProjectFacts,
    pieces: &[MadePiece],
    operation: &Operation,
    mirrored: bool,
) -> Option<Scene> {
    let piece = pieces.get(operation.piece?)?;
    let facts = project.pieces.get(operation.piece?)?;
    let ruler = project.board.ruler();
    let flat = |now: FlatNow, is_cut: bool| {
        Some(flat_picture(FlatPicture {
            pattern: &piece.pattern,
            ruler,
            now,
            is_cut,
            mirrored,
        }))
    };
    match &operation.picture {
        StepPicture::Cut { width, height } => Some(cut_picture(CutPicture {
            ruler: project.trimmer.ruler(),
            sheet: (facts.paper.width, facts.paper.height),
            setting: *width,
            strips: u32::try_from(facts.paper.width.nm() / width.nm().max(1))
                .unwrap_or(1)
                .max(1),
        }))
        .filter(|_| *height > tablefold_geometry::Length::ZERO),
        StepPicture::Punch { side, punch } => Some(punches(project, piece, *side, *punch)),
        StepPicture::FreeTabs => flat(FlatNow::Cuts, false),
        StepPicture::Trim => flat(FlatNow::TakeOff(WasteReason::Trim), true),
        StepPicture::Round => flat(FlatNow::TakeOff(WasteReason::Rounded), true),
        StepPicture::Burnish => flat(FlatNow::Burnish, true),
        StepPicture::Folds { from, .. } => flat(FlatNow::Fold(fold(&piece.pattern, from)?), true),
        StepPicture::Glue { fold: name } => {
            let fold = fold(&piece.pattern, name)?;
            let zone = piece
                .pattern
                .glue
                .iter()
                .position(|zone| zone.with_fold == fold)?;
            flat(FlatNow::Glue(zone), true)
        }
        _ => None,
    }
}

fn fold(pattern: &Pattern, name: &str) -> Option<usize> {
    pattern.folds.iter().position(|step| step.name == name)
}

fn punches(project: &ProjectFacts, piece: &MadePiece, side: u8, punch: Option<usize>) -> Scene {
    let (sheet, punches) = match piece.structure.settings() {
        Settings::Box(at) => (at.sheet, vec![at.punch_1, at.punch_2]),
        Settings::Envelope(at) => (at.sheet, vec![at.punch]),
    };
    punch_picture(PunchPicture {
        board: &project.board,
        sheet,
        punches: &punches,
        side,
        now: punch.map_or(PunchNow::AlongGuide, PunchNow::Punch),
    })
}
