//! Why a packet can't be made: what is missing, named, and what would do.

use crate::recipe::CannotJoin;

/// Something that keeps a class from having a packet.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum PacketProblem {
    /// Nobody comes.
    #[error("The class has no attendees. Add at least 1.")]
    NoAttendees,
    /// The project makes nothing.
    #[error("The project \"{project}\" has no piece. Add one to the project first.")]
    NoPieces {
        /// The project's title.
        project: String,
    },
    /// The class's projects are made on different tools.
    #[error(transparent)]
    Apart(#[from] CannotJoin),
    /// Too many kits.
    #[error(
        "{kits} kits are more than a class can have. Plan at most {most} attendees and spares."
    )]
    TooManyKits {
        /// Attendees and spares.
        kits: usize,
        /// The most.
        most: usize,
    },
    /// More of one thing than anybody packs.
    #[error(
        "{per_kit} of {part} in each kit are more than a class can pack. Plan at most {most} in all kits together."
    )]
    TooManyThings {
        /// The part.
        part: String,
        /// How many each kit has.
        per_kit: u32,
        /// The most.
        most: u64,
    },
    /// A piece can't be made as asked.
    #[error("{piece} can't be made: {why}")]
    Piece {
        /// The piece's name.
        piece: String,
        /// What the recipe says.
        why: String,
    },
    /// A role without a paper.
    #[error("Colourway \"{colourway}\" has no paper for \"{role}\". Choose one under Colourways.")]
    NoPaper {
        /// The colourway's name.
        colourway: String,
        /// The role.
        role: String,
    },
    /// An attendee whose colourway is gone.
    #[error("{attendee} has no colourway. Choose one under Attendees.")]
    NoColourway {
        /// Who.
        attendee: String,
    },
    /// Thicker than the piece was designed for.
    #[error(
        "Colourway \"{colourway}\" uses {paper} ({caliper_mm} mm thick) for \"{role}\", but {piece} is designed for {designed_mm} mm. Choose a thinner paper, or design the piece for this one."
    )]
    TooThick {
        /// The colourway's name.
        colourway: String,
        /// The paper's name.
        paper: String,
        /// Its caliper, mm.
        caliper_mm: f64,
        /// The role.
        role: String,
        /// The piece's name.
        piece: String,
        /// The caliper it is designed for, mm.
        designed_mm: f64,
    },
    /// No sheet holds a part.
    #[error("{paper}: {why}")]
    NoCutPlan {
        /// The paper's name.
        paper: String,
        /// What the cut plan says.
        why: String,
    },
    /// A class step needs a tool that is not there.
    #[error(
        "\"{step}\" needs a {tool}, and none is there on the day. Add one under Tools on the day, or move the step to prep."
    )]
    NoTool {
        /// The step's title.
        step: String,
        /// The tool.
        tool: &'static str,
    },
    /// Counts that do not agree: a fault of the program, caught before it is printed.
    #[error(
        "The packet does not balance: packs and spares need {need} of {what}, and {yields} are made. Please report this."
    )]
    Unbalanced {
        /// Part and paper.
        what: String,
        /// What packs and spares need.
        need: u64,
        /// What the lists yield.
        yields: u64,
    },
}
