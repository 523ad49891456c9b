//! The envelope for a card as a piece of its own, made on the punch board.

use tablefold_geometry::{Contents, FoldedCard, Length, PunchEnvelope};

use super::facts::{PieceFacts, PieceSpec};
use super::made::MadePiece;
use super::mats;

/// Longest name of a piece, in characters.
const NAME_CHARS: usize = 80;

/// The punch-board envelope that takes a card as it lies there shut, with what is in it and on it,
/// as a further piece of the project; `None` of what is no card, or without a punch board.
#[must_use]
pub fn matching_envelope(card: &PieceFacts, made: &MadePiece) -> Option<PieceFacts> {
    made.structure.tools().punch_board?;
    let shut = FoldedCard::of(&made.structure)?;
    let (width, height) = shut.front();
    let spec = PieceSpec {
        contents_name: card.name.clone(),
        contents: Contents::Stack {
            width,
            height,
            each_thickness: thickness(card, made)?,
            count: 1,
        },
        contents_supply: None,
        hazards: Vec::new(),
        structure: PunchEnvelope::KIND,
        clearance: play(card)?,
        fit: Default::default(),
        role: card.spec.second_role().to_owned(),
        second_role: None,
        by_hand: None,
        mats: None,
        band: None,
        tag: None,
        ribbon: None,
        extras: Vec::new(),
    };
    let name = format!("Envelope for {}", card.name);
    Some(PieceFacts {
        id: 0,
        name: name.chars().take(NAME_CHARS).collect(),
        spec,
        supplies: Vec::new(),
        ..card.clone()
    })
}

/// Two sheets, what is laid between them and what is stuck on.
fn thickness(card: &PieceFacts, made: &MadePiece) -> Option<Length> {
    let block = made.structure.block_of(&made.axes, &card.spec.contents)?;
    let inside = Length::nearest_multiple(block.z, Length::from_nm(1))?;
    Some(card.paper.caliper * 2 + inside + mats::thickness(card))
}

/// The play that the card has in its own envelope too.
fn play(card: &PieceFacts) -> Option<Length> {
    let least = card.spec.structure.fit()?.least_mm;
    let least = Length::nearest_multiple(least, Length::from_nm(1))?;
    Some(card.spec.fit.play.map_or(least, |play| play.max(least)))
}
