//! What an instructor says about the money of a class, and what its costs are computed from.

use tablefold_geometry::Length;

use super::offers::Offers;

/// What a class earns, and what it costs beside paper and supplies.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ClassMoney {
    /// What each attendee pays, in minor units.
    pub fee_minor: Option<u64>,
    /// What of the income is to stay, in percent.
    pub margin: Option<u32>,
    /// What the venue costs, in minor units.
    pub venue_minor: Option<u64>,
    /// An hour of own time, in minor units; without it time is not counted.
    pub rate_minor: Option<u64>,
    /// Own minutes, where they differ from the plan's.
    pub own_minutes: Option<u32>,
    /// How consumables are counted.
    pub consumables: Consumables,
    /// What holds the joints: row of a supply.
    pub adhesive: Option<i64>,
    /// From one dot to the next, where the adhesive is counted.
    pub dots_apart: Length,
}

impl Default for ClassMoney {
    fn default() -> Self {
        Self {
            fee_minor: None,
            margin: None,
            venue_minor: None,
            rate_minor: None,
            own_minutes: None,
            consumables: Consumables::Use,
            adhesive: None,
            // Common practice, no source.
            dots_apart: Length::from_mm(25),
        }
    }
}

/// How ribbon, adhesive and counted things are counted. Paper always is what the plan takes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Consumables {
    /// What is used of them; the rest serves another class.
    Use,
    /// Every pack that is bought for the class, whole.
    Pack,
}

impl Consumables {
    /// Both, in the order of the form.
    pub const ALL: [Self; 2] = [Self::Use, Self::Pack];

    /// The word in forms and in the database.
    #[must_use]
    pub const fn slug(self) -> &'static str {
        match self {
            Self::Use => "use",
            Self::Pack => "pack",
        }
    }

    /// As the form says it.
    #[must_use]
    pub const fn label(self) -> &'static str {
        match self {
            Self::Use => "What is used of them",
            Self::Pack => "The whole packs that are bought",
        }
    }

    /// The one that `slug` names.
    #[must_use]
    pub fn from_slug(slug: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|it| it.slug() == slug)
    }
}

/// What holds the joints, with what is on hand.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct AdhesiveStock {
    /// Row of the supply.
    pub id: i64,
    /// What it is called.
    pub name: String,
    /// Tape from a roll; else dots by count.
    pub by_length: bool,
    /// Dots on hand.
    pub on_hand: u32,
    /// Tape on hand.
    pub on_hand_length: Length,
}

/// Prices and stock beside a class's own facts. They are the instructor's, and never published.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Bought {
    /// What shops ask.
    pub offers: Offers,
    /// What holds the joints; `None` while the instructor did not say.
    pub adhesive: Option<AdhesiveStock>,
    /// Fee, venue, own time.
    pub money: ClassMoney,
}
