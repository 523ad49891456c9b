//! What an instructor has said about a class. The packet is computed from this alone.

use std::collections::BTreeMap;

use jiff::civil::{Date, Time};
use serde::{Deserialize, Serialize};
use tablefold_geometry::{Length, Paper};

use crate::recipe::{CannotJoin, ProjectFacts, Role, ToolKind};

/// Attendees and spare kits together, at most.
pub const MOST_KITS: usize = 400;

/// Things of one kind in all kits together, at most.
pub(super) const MOST_THINGS: u64 = 1_000_000;

/// A class, its project, and what of the bench it uses.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct ClassFacts {
    /// What it is called.
    pub title: String,
    /// The day.
    pub date: Date,
    /// When it begins, by the hall's clock.
    pub starts: Time,
    /// How long it lasts.
    pub minutes: u32,
    /// Where.
    pub place: String,
    /// What is made: one project, or several joined.
    pub project: ProjectFacts,
    /// Why the class's projects can't be joined; `project` is the first alone then.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub apart: Option<CannotJoin>,
    /// The choices that attendees have.
    pub colourways: Vec<Colourway>,
    /// Who comes.
    pub attendees: Vec<Attendee>,
    /// What stands on the tables.
    pub tools: Vec<ToolOnDay>,
    /// Bought things on hand.
    pub supplies: Vec<SupplyStock>,
    /// Which plan the sheets are cut by.
    #[serde(default)]
    pub cut_plan: PlanChoice,
}

/// Which of the two plans the sheets of a class are cut by.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum PlanChoice {
    /// The fewest sheets.
    #[default]
    LeastPaper,
    /// The fewest ways of cutting and fence settings, for 1 sheet or 1 % more of a paper at most.
    LeastFiddling,
}

impl PlanChoice {
    /// Both, in the order of the page.
    pub const ALL: [Self; 2] = [Self::LeastPaper, Self::LeastFiddling];

    /// The word in forms and in the database.
    #[must_use]
    pub fn slug(self) -> &'static str {
        match self {
            Self::LeastPaper => "least_paper",
            Self::LeastFiddling => "least_fiddling",
        }
    }

    /// As pages say it.
    #[must_use]
    pub fn label(self) -> &'static str {
        match self {
            Self::LeastPaper => "Least paper",
            Self::LeastFiddling => "Least fiddling",
        }
    }

    /// The one that `slug` names.
    #[must_use]
    pub fn from_slug(slug: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|choice| choice.slug() == slug)
    }
}

/// A choice of papers.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Colourway {
    /// Row number.
    pub id: i64,
    /// What it is called.
    pub name: String,
    /// A stock paper for each role.
    pub papers: BTreeMap<Role, StockPaper>,
    /// Whole kits to spare.
    pub spare_kits: u32,
}

/// A paper with what is on hand.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct StockPaper {
    /// Row number.
    pub id: i64,
    /// The sheet.
    pub paper: Paper,
    /// The lowest price of one sheet, in minor units.
    pub price_minor: Option<u64>,
    /// Sheets on hand.
    pub on_hand: u32,
    /// Row number of the paper that this one is another size of.
    #[serde(default)]
    pub same_as: Option<i64>,
    /// The same paper in its other sizes; these list none themselves.
    #[serde(default)]
    pub sizes: Vec<StockPaper>,
}

impl StockPaper {
    /// Row number that stands for the paper in all its sizes.
    #[must_use]
    pub fn kind(&self) -> i64 {
        self.same_as.unwrap_or(self.id)
    }

    /// What the paper is called in all its sizes.
    #[must_use]
    pub fn kind_name(&self) -> &str {
        let main = self.all_sizes().find(|size| size.id == self.kind());
        &main.unwrap_or(self).paper.name
    }

    /// This size, then the others.
    pub fn all_sizes(&self) -> impl Iterator<Item = &Self> {
        std::iter::once(self).chain(&self.sizes)
    }
}

/// One who comes.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Attendee {
    /// Row number; 0 in what was published before attendees had links of their own.
    #[serde(default)]
    pub id: i64,
    /// A name, or "Seat 3".
    pub name: String,
    /// Their colourway's row number.
    pub colourway: i64,
}

/// How many of a tool are there on the day.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct ToolOnDay {
    /// Which.
    pub kind: ToolKind,
    /// How many in all; for a tool that attendees bring, one each.
    pub count: u32,
    /// Who brings them.
    pub brought_by: BroughtBy,
}

/// Who brings a tool.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum BroughtBy {
    /// The instructor.
    Instructor,
    /// Each attendee brings their own.
    Attendee,
    /// The venue has them.
    Venue,
}

impl BroughtBy {
    /// All, in the order of the form.
    pub const ALL: [Self; 3] = [Self::Instructor, Self::Attendee, Self::Venue];

    /// The word in forms and in the database.
    #[must_use]
    pub fn slug(self) -> &'static str {
        match self {
            Self::Instructor => "instructor",
            Self::Attendee => "attendee",
            Self::Venue => "venue",
        }
    }

    /// As lists say it.
    #[must_use]
    pub fn label(self) -> &'static str {
        match self {
            Self::Instructor => "instructor brings",
            Self::Attendee => "each attendee brings one",
            Self::Venue => "at the venue",
        }
    }

    /// The one that `slug` names.
    #[must_use]
    pub fn from_slug(slug: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|by| by.slug() == slug)
    }
}

/// A bought thing with what is on hand.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct SupplyStock {
    /// Row number.
    pub id: i64,
    /// What it is called.
    pub name: String,
    /// On hand, where it is counted.
    pub on_hand: u32,
    /// Spools on hand, where it is a length: a piece comes from one of them.
    #[serde(default)]
    pub spools: Vec<Length>,
}

impl ClassFacts {
    /// The colourway with this row number.
    #[must_use]
    pub fn colourway(&self, id: i64) -> Option<&Colourway> {
        self.colourways.iter().find(|colourway| colourway.id == id)
    }

    /// Attendees and spare kits.
    #[must_use]
    pub fn kits(&self) -> usize {
        self.attendees.len()
            + self
                .colourways
                .iter()
                .map(|c| c.spare_kits as usize)
                .sum::<usize>()
    }
}
