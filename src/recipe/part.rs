//! Parts: what is cut, punched, pulled from a spool or taken from a shelf for one kit.

use serde::{Deserialize, Serialize};
use tablefold_geometry::Length;

/// What paper is for, such as "box" or "band"; a colourway gives each role a stock paper.
pub type Role = String;

/// One kind of part of a kit.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Part {
    /// Unique in the project: `p3.band`.
    pub key: String,
    /// The piece it belongs to, by place in the project.
    pub piece: usize,
    /// What it is called on lists: "Seed box: band".
    pub name: String,
    /// What it is made of.
    pub kind: PartKind,
    /// How many for one kit.
    pub per_kit: u32,
}

/// What a part is made of.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum PartKind {
    /// A rectangle cut from a sheet.
    Cut {
        /// Which paper.
        role: Role,
        /// Along the sheet's width, where it may not be turned.
        width: Length,
        /// Along the sheet's height.
        height: Length,
    },
    /// A length of ribbon.
    Ribbon {
        /// Supply row.
        supply: i64,
        /// What the supply is called.
        name: String,
        /// For one.
        length: Length,
    },
    /// A thing that is bought by count.
    Counted {
        /// Supply row.
        supply: i64,
        /// What the supply is called.
        name: String,
    },
    /// A template, printed at true size from the pattern of the piece.
    Template,
}

impl Part {
    /// The template that this part is worked along.
    #[must_use]
    pub(super) fn template(&self) -> Self {
        let name = self.name.strip_suffix(" sheet").unwrap_or(&self.name);
        Self {
            key: format!("{}-template", self.key),
            piece: self.piece,
            name: format!("{name} template"),
            kind: PartKind::Template,
            per_kit: 1,
        }
    }

    /// The role whose paper it is cut from.
    #[must_use]
    pub fn role(&self) -> Option<&str> {
        match &self.kind {
            PartKind::Cut { role, .. } => Some(role),
            _ => None,
        }
    }
}
