//! A piece as another structure: what does not go with it is left out, and named.

use super::mats_fields::MatsFields;
use super::piece_form::PieceForm;
use crate::forms::FormErrors;
use crate::recipe::{ProjectFacts, Recipe};
use crate::store::project_facts::Bench;

/// What may have to be left out, in the words of a sentence.
const PARTS: [&str; 3] = ["band", "ribbon", "tag"];

/// What an address says was left out, of what can be.
pub(super) fn named_in(address: &str) -> Vec<&'static str> {
    let all = ["play", "mats"].into_iter().chain(PARTS);
    all.filter(|part| address.split(',').any(|named| named == *part))
        .collect()
}

/// The form with what its structure cannot have left out, and the words for that.
pub(super) fn adapted(
    bench: &Bench,
    project: &ProjectFacts,
    form: &PieceForm,
) -> (PieceForm, Vec<&'static str>) {
    let mut form = form.clone();
    let mut left_out = Vec::new();
    if let Some(kind) = form.kind()
        && form.fit.leave_out_play(kind, project.board.ruler())
    {
        left_out.push("play");
    }
    if let Some(kind) = form.kind()
        && !MatsFields::suit(kind)
        && !form.mats.mats.is_empty()
    {
        form.mats.mats.clear();
        left_out.push("mats");
    }
    for _ in PARTS {
        let Some(part) = in_the_way(bench, project, &form) else {
            break;
        };
        form.leave_out(part);
        left_out.push(part);
    }
    (form, left_out)
}

/// The first part that keeps the piece from being made and can be left out.
fn in_the_way(bench: &Bench, project: &ProjectFacts, form: &PieceForm) -> Option<&'static str> {
    let has = |part: &&&'static str| form.has(part);
    if !PARTS.iter().any(|part| form.has(part)) {
        return None;
    }
    let piece = form
        .named()
        .read(bench, project, &mut FormErrors::default())?;
    let mut alone = project.clone();
    alone.pieces = bench.piece(0, &piece).into_iter().collect();
    alone.edits.clear();
    let problems = Recipe::build(&alone).err()?;
    let cause = |part: &&&'static str| problems.iter().any(|it| it.field.starts_with(**part));
    PARTS.iter().filter(has).find(cause).copied()
}
