//! The usual cautions, in plain words. They defer to the maker, the venue and local rules.

use serde::{Deserialize, Serialize};

use super::facts::{Hazard, ToolKind};

/// A caution that belongs to a step, a tool or the contents.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Caution {
    /// A trimmer's blade.
    Trimmer,
    /// Scissors and other blades.
    Blade,
    /// A punch closes on fingers.
    Punch,
    /// Glue.
    Glue,
    /// A flame near paper.
    Flame,
    /// Paper that touches food.
    Food,
    /// Parts that a small child can swallow.
    SmallParts,
    /// A ribbon that a child can put round the neck.
    Cord,
}

impl Caution {
    /// The caution as it stands on cards and lists.
    #[must_use]
    pub fn text(self) -> &'static str {
        match self {
            Self::Trimmer => {
                "Keep fingers behind the guard and lock the blade after each cut. Follow the maker's instructions and the venue's rules."
            }
            Self::Blade => {
                "Cut away from your fingers and put the blade down closed. Children use it only as the venue's rules allow."
            }
            Self::Punch => "Keep fingertips out of the throat of the punch.",
            Self::Glue => {
                "Read the glue's label. Keep it off skin and out of eyes, and air the room as the label says."
            }
            Self::Flame => {
                "Take the candle out of the paper before it is lit. Never burn it in or near the box. Follow the candle maker's instructions and the venue's fire rules."
            }
            Self::Food => {
                "Paper, ink and glue are not made for food. Put food in a food-safe liner, and ask the supplier; local food rules apply."
            }
            Self::SmallParts => {
                "Small parts: not for children under 3 years. Keep seeds and small parts away from them."
            }
            Self::Cord => {
                "Keep ribbon away from small children: a loop or a long end can go round a neck."
            }
        }
    }

    /// What goes with a tool, if anything does.
    #[must_use]
    pub fn of_tool(tool: ToolKind) -> Option<Self> {
        match tool {
            ToolKind::Trimmer => Some(Self::Trimmer),
            ToolKind::Scissors | ToolKind::CraftKnife => Some(Self::Blade),
            ToolKind::PunchBoard
            | ToolKind::CornerRounder
            | ToolKind::ShapePunch
            | ToolKind::HolePunch => Some(Self::Punch),
            ToolKind::Glue => Some(Self::Glue),
            ToolKind::ScoreBoard | ToolKind::BoneFolder | ToolKind::Tape => None,
        }
    }

    /// What goes with contents.
    #[must_use]
    pub fn of_hazard(hazard: Hazard) -> Self {
        match hazard {
            Hazard::Flame => Self::Flame,
            Hazard::Food => Self::Food,
            Hazard::SmallParts => Self::SmallParts,
        }
    }
}
