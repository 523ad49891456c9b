//! What an instructor has said about a project. Everything else is computed from this.

use serde::{Deserialize, Serialize};
use tablefold_geometry::{
    Contents, Fit, Hands, Length, Paper, PunchBoard, Ruler, Settings, Stock, StructureKind, Trimmer,
};

use super::joined::Share;

/// A kind of tool that an operation needs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum ToolKind {
    /// Guillotine or rotary trimmer with a fence.
    Trimmer,
    /// Punch board for notches and scores.
    PunchBoard,
    /// Board or trimmer with a blunt blade for straight scores.
    ScoreBoard,
    /// Scissors.
    Scissors,
    /// Craft knife, on a mat.
    CraftKnife,
    /// Bone folder.
    BoneFolder,
    /// Corner rounder.
    CornerRounder,
    /// Shape punch for tags and circles.
    ShapePunch,
    /// Hole punch, also used at half its depth for a finger notch.
    HolePunch,
    /// Dry adhesive: double-sided tape.
    Tape,
    /// Wet glue.
    Glue,
}

impl ToolKind {
    /// Every kind, in the order in which a bench lists them.
    pub const ALL: [Self; 11] = [
        Self::Trimmer,
        Self::PunchBoard,
        Self::ScoreBoard,
        Self::Scissors,
        Self::CraftKnife,
        Self::BoneFolder,
        Self::CornerRounder,
        Self::ShapePunch,
        Self::HolePunch,
        Self::Tape,
        Self::Glue,
    ];

    /// The name people use.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Trimmer => "trimmer",
            Self::PunchBoard => "punch board",
            Self::ScoreBoard => "score board",
            Self::Scissors => "scissors",
            Self::CraftKnife => "craft knife",
            Self::BoneFolder => "bone folder",
            Self::CornerRounder => "corner rounder",
            Self::ShapePunch => "shape punch",
            Self::HolePunch => "hole punch",
            Self::Tape => "double-sided tape",
            Self::Glue => "paper glue",
        }
    }

    /// The word in forms and in the database.
    #[must_use]
    pub fn slug(self) -> &'static str {
        match self {
            Self::Trimmer => "trimmer",
            Self::PunchBoard => "punch_board",
            Self::ScoreBoard => "score_board",
            Self::Scissors => "scissors",
            Self::CraftKnife => "craft_knife",
            Self::BoneFolder => "bone_folder",
            Self::CornerRounder => "corner_rounder",
            Self::ShapePunch => "shape_punch",
            Self::HolePunch => "hole_punch",
            Self::Tape => "tape",
            Self::Glue => "glue",
        }
    }

    /// The kind that `slug` names.
    #[must_use]
    pub fn from_slug(slug: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|kind| kind.slug() == slug)
    }

    /// Seconds to fetch the tool and set its fence once: a starting estimate, no source.
    #[must_use]
    pub fn set_up_seconds(self) -> u32 {
        match self {
            Self::Trimmer | Self::PunchBoard | Self::ScoreBoard => 60,
            Self::ShapePunch | Self::HolePunch | Self::CornerRounder => 30,
            _ => 15,
        }
    }
}

/// When a step is done: by the instructor beforehand, or by the attendee in class.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Phase {
    /// Before the class, in batches.
    Prep,
    /// In class, by each attendee.
    Class,
}

/// A project with everything of the bench that it uses.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct ProjectFacts {
    /// What it is called.
    pub title: String,
    /// How many are usually made: yields and break points are counted for it.
    pub makes: u32,
    /// The punch board it is made on; one that is never used where there is none.
    pub board: PunchBoard,
    /// Whether it has a punch board; without one, structures that are punched are refused.
    #[serde(default = "yes")]
    pub has_punch_board: bool,
    /// The trimmer it is cut on.
    pub trimmer: Trimmer,
    /// The ruler of the board that bands are scored on.
    pub score_ruler: Ruler,
    /// Whether the bench has a score board; without one, bands are scored on the trimmer, and
    /// structures that are scored are refused.
    #[serde(default = "yes")]
    pub has_score_board: bool,
    /// How far off the hands of a class are.
    #[serde(default = "Hands::beginner")]
    pub hands: Hands,
    /// Of 100 makers, how many should succeed.
    #[serde(default = "usual_share")]
    pub wanted_of_100: u32,
    /// What is made, in order.
    pub pieces: Vec<PieceFacts>,
    /// What the instructor changed in the steps.
    pub edits: Vec<StepEdit>,
    /// The projects it was joined from, in order; none where it is one.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub joined: Vec<Share>,
}

fn usual_share() -> u32 {
    ProjectFacts::USUAL_SHARE
}

impl ProjectFacts {
    /// Of 100 makers, how many should succeed where nobody says so (common practice, no source).
    pub const USUAL_SHARE: u32 = 95;
}

/// What was frozen before this was asked has only structures from the punch board.
fn yes() -> bool {
    true
}

/// A piece of a project with the paper that it is designed for.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct PieceFacts {
    /// Row number; steps and parts are named after it.
    pub id: i64,
    /// What the instructor calls it.
    pub name: String,
    /// What was asked for.
    pub spec: PieceSpec,
    /// Row number of `paper`.
    pub paper_id: i64,
    /// The paper that gives caliper and sheet size.
    pub paper: Paper,
    /// The sheets it may be cut from.
    pub sheets: Vec<Stock>,
    /// Supplies named in `spec`, in the order of `spec.supplies()`.
    pub supplies: Vec<SupplyFacts>,
}

/// A bought thing as a recipe needs it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct SupplyFacts {
    /// Row number.
    pub id: i64,
    /// What it is called.
    pub name: String,
}

/// What was asked of one piece: stored as JSON with a version.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(tag = "version")]
pub enum StoredSpec {
    /// The first form.
    #[serde(rename = "1")]
    V1(PieceSpec),
}

/// What was asked of one piece.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct PieceSpec {
    /// What goes in, in words: "round seed tin".
    pub contents_name: String,
    /// What goes in, measured.
    pub contents: Contents,
    /// The thing that goes in is bought and packed too: its supply.
    pub contents_supply: Option<i64>,
    /// What the contents make it wise to say.
    #[serde(default)]
    pub hazards: Vec<Hazard>,
    /// How it is made.
    pub structure: StructureKind,
    /// Total play in each axis.
    pub clearance: Length,
    /// How a lid, a drawer or a card goes into what holds it; a window in a lid.
    #[serde(default)]
    pub fit: Fit,
    /// What the sheet's paper is called in colourways.
    pub role: String,
    /// What the paper of the other bodies is called (a lid, a sleeve); as the first one's if none.
    #[serde(default)]
    pub second_role: Option<String>,
    /// Settings chosen by hand in place of the computed ones.
    pub by_hand: Option<Settings>,
    /// Mats on the front of a card.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub mats: Option<MatsSpec>,
    /// A band round the finished piece.
    pub band: Option<BandSpec>,
    /// A tag of one or two layers.
    pub tag: Option<TagSpec>,
    /// A ribbon.
    pub ribbon: Option<RibbonSpec>,
    /// Other bought things for each piece.
    pub extras: Vec<ExtraSpec>,
}

impl PieceSpec {
    /// What the paper of a lid, a sleeve or another second body is called in colourways.
    #[must_use]
    pub fn second_role(&self) -> &str {
        self.second_role.as_deref().unwrap_or(&self.role)
    }

    /// The supplies that the piece names, in a fixed order.
    #[must_use]
    pub fn supplies(&self) -> Vec<i64> {
        let mut ids: Vec<i64> = self.contents_supply.into_iter().collect();
        ids.extend(self.ribbon.iter().map(|ribbon| ribbon.supply));
        ids.extend(self.extras.iter().map(|extra| extra.supply));
        ids
    }
}

/// Mats on the front of a folded card, each in the middle of what lies below it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct MatsSpec {
    /// How much of what lies below shows all round.
    pub reveal: Length,
    /// What the paper of each mat is called in colourways, the first on the card itself.
    pub roles: Vec<String>,
}

/// A band round a box.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct BandSpec {
    /// How far the ends lie on each other.
    pub overlap: Length,
    /// How much of the box shows at each end.
    pub reveal: Length,
    /// Diameter of the punch for a finger notch in the edge over the opening.
    pub notch: Option<Length>,
    /// What its paper is called in colourways.
    pub role: String,
}

/// A tag: a punched shape, on a larger one if there is a mat.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct TagSpec {
    /// The shape on top.
    pub shape: TagShape,
    /// What its paper is called in colourways.
    pub role: String,
    /// A layer below that shows all round.
    pub mat: Option<MatSpec>,
}

/// The layer below a tag.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct MatSpec {
    /// How much of it shows all round.
    pub reveal: Length,
    /// What its paper is called in colourways.
    pub role: String,
}

/// The shape of a tag.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(tag = "shape", rename_all = "snake_case")]
pub enum TagShape {
    /// A circle.
    Circle {
        /// Across.
        diameter: Length,
    },
    /// A rectangle.
    Rectangle {
        /// Across.
        width: Length,
        /// Down.
        height: Length,
    },
}

/// A ribbon for each piece.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct RibbonSpec {
    /// How it is used.
    pub style: RibbonStyle,
    /// Which ribbon.
    pub supply: i64,
    /// Length for the bow (and the knot), as the instructor set it.
    pub bow: Length,
}

/// How a ribbon is used.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum RibbonStyle {
    /// A ready bow stuck on.
    Bow,
    /// Once round, with a bow.
    Wrap,
    /// A cross tie, with a bow.
    Cross,
}

/// A bought thing that each piece gets.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct ExtraSpec {
    /// Which.
    pub supply: i64,
    /// How many for each piece.
    pub count: u32,
}

/// What the instructor changed in one step, or a step of their own.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct StepEdit {
    /// The operation's key, or `own-N`.
    pub key: String,
    /// A title of at most a few words.
    pub title: Option<String>,
    /// The instruction; measures stand in braces and stay live.
    pub text: Option<String>,
    /// A tip.
    pub tip: Option<String>,
    /// Not shown, not counted.
    pub hidden: bool,
    /// Moved between prep and class.
    pub phase: Option<Phase>,
    /// Place in the order, where it was moved.
    pub position: Option<f64>,
    /// Time for one, in seconds.
    pub seconds: Option<u32>,
}

impl StepEdit {
    /// Whether this is a step that the instructor added.
    #[must_use]
    pub fn is_own(&self) -> bool {
        self.key.starts_with("own-")
    }
}

/// Something about the contents that a host and an attendee should be told.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Hazard {
    /// A candle or another thing that burns.
    Flame,
    /// Food that touches the paper.
    Food,
    /// Parts that a small child can swallow.
    SmallParts,
}

impl Hazard {
    /// All of them, in the order of the form.
    pub const ALL: [Self; 3] = [Self::Flame, Self::Food, Self::SmallParts];

    /// The word in forms.
    #[must_use]
    pub fn slug(self) -> &'static str {
        match self {
            Self::Flame => "flame",
            Self::Food => "food",
            Self::SmallParts => "small_parts",
        }
    }

    /// The label in forms.
    #[must_use]
    pub fn label(self) -> &'static str {
        match self {
            Self::Flame => "A candle, or something else that burns",
            Self::Food => "Food that touches the paper",
            Self::SmallParts => "Small parts: seeds, buttons, beads",
        }
    }
}
