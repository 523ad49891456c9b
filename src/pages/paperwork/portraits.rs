//! What is made, as it looks when it is finished.

use crate::pages::picture::Picture;
use crate::recipe::{MadePiece, finished};

/// A piece that is made.
#[derive(Clone, Debug)]
pub struct Portrait {
    /// What it is called.
    pub name: String,
    /// The finished piece.
    pub picture: Picture,
}

/// All pieces; `prefix` is its own for each list on a page.
#[must_use]
pub fn portraits(pieces: &[MadePiece], prefix: &str) -> Vec<Portrait> {
    let drawn = pieces.iter().enumerate().map(|(at, piece)| Portrait {
        name: piece.name.clone(),
        picture: Picture::of(&finished(piece), &format!("{prefix}{at}")),
    });
    drawn.collect()
}
