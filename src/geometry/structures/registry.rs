//! The registry: every structure that can be made, each known by what it says of itself.
//!
//! A structure is one file that implements [`Family`], and one line in [`ALL`]. Nothing outside
//! that file asks which structure it is.

use std::cmp::Ordering;
use std::fmt;
use std::hash::{Hash, Hasher};

use serde::de::Error as _;
use serde::{Deserialize, Deserializer, Serialize, Serializer};

use super::box_family::PunchBoxFamily;
use super::carton_size::FilledAt;
use super::drawer::DrawerFamily;
use super::envelope_family::PunchEnvelopeFamily;
use super::folded_card_family::FoldedCardFamily;
use super::four_faced_family::FourFacedFamily;
use super::gable_carton::GableCartonFamily;
use super::hexagon::HexagonFamily;
use super::pouch_family::PouchFamily;
use super::tray::TrayFamily;
use super::tuck_carton::TuckCartonFamily;
use super::{Inside, Opening, SetOn, SettingField, Settings, Structure, StructureError, Tools};
use crate::sizing::{Candidate, Offers, RefusalReason, Search, Wanted, explain_in_general};
use crate::{ContentsBox, FitLimits, Length, Pose, SizingRequest};

/// Every structure, in the order in which they are offered.
static ALL: &[StructureKind] = &[
    PunchEnvelopeFamily::KIND,
    PunchBoxFamily::KIND,
    TrayFamily::KIND,
    DrawerFamily::KIND,
    HexagonFamily::KIND,
    PouchFamily::KIND,
    FourFacedFamily::KIND,
    FoldedCardFamily::KIND,
    TuckCartonFamily::STRAIGHT,
    TuckCartonFamily::REVERSE,
    GableCartonFamily::KIND,
];

/// What a structure is good for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Serves {
    /// Things with three sizes: tins, jars, boxes.
    Solids,
    /// Cards, packets, papers.
    FlatThings,
    /// Cards that are the gift themselves.
    Cards,
}

/// Play of a part of one body in another that no nest shows.
pub(crate) struct FurtherPlay {
    pub(crate) inner: &'static str,
    pub(crate) outer: &'static str,
    /// Along the width of the outer one, else along its length.
    pub(crate) along_width: bool,
    /// From wall to wall, mm.
    pub(crate) play_mm: f64,
    /// Folds that it lies between.
    pub(crate) folds: u32,
}

/// What a structure has to say of itself. One unit struct a structure.
pub(crate) trait Family: Sync {
    /// The name in an address and in JSON; never changes once pieces are stored with it.
    fn slug(&self) -> &'static str;

    /// The name in a sentence.
    fn name(&self) -> &'static str;

    /// What it is, which faces are open, where the contents go in: one sentence or two.
    fn about(&self) -> &'static str;

    /// What it is good for.
    fn serves(&self) -> Serves;

    /// Its settings in the order of the hands, at most [`super::settings::MOST_SETTINGS`].
    fn fields(&self) -> &'static [SettingField];

    /// How it is kept shut, in words; `None` if gravity and friction do.
    fn closing(&self) -> Option<&'static str> {
        None
    }

    /// Where it is filled, if it is a box with four sides.
    fn filled_at(&self) -> Option<FilledAt> {
        None
    }

    /// The structure that settings of this family make.
    fn make(
        &self,
        settings: &Settings,
        tools: &Tools,
        caliper: Length,
    ) -> Result<Structure, StructureError>;

    /// The structure as hands may make it that are off: without what only holds between settings
    /// that are exact.
    fn make_off(
        &self,
        settings: &Settings,
        tools: &Tools,
        caliper: Length,
    ) -> Result<Structure, StructureError> {
        self.make(settings, tools, caliper)
    }

    /// What the inner body itself takes of the play of a nest, beside its sides, mm.
    fn takes_play_mm(&self, _structure: &Structure, _contents: &ContentsBox) -> f64 {
        0.0
    }

    /// Play of parts that its nests do not show.
    fn further_play(&self, _structure: &Structure) -> Vec<FurtherPlay> {
        Vec::new()
    }

    /// What can be asked of how its bodies go into each other, where there are several.
    fn fit(&self) -> Option<FitLimits> {
        None
    }

    /// An opening that it has if it is asked for: its size is [`Settings::opening`].
    fn opening(&self) -> Option<&'static Opening> {
        None
    }

    /// Whether it has a depth of its own; one that lies flat takes the depth of its contents.
    fn has_depth(&self) -> bool {
        true
    }

    /// Room inside for contents `depth_mm` deep.
    fn inside_for(&self, structure: &Structure, _depth_mm: f64) -> Inside {
        structure.inside()
    }

    /// Room inside for these contents, a block or a cylinder that stands (then across is both
    /// width and length), in a piece that is no box.
    fn room_for(&self, structure: &Structure, contents: &ContentsBox, _round: bool) -> Inside {
        self.inside_for(structure, contents.z)
    }

    /// The block that has to fit where a ball of the sides of this one goes in: one that touches
    /// the walls just when the ball does.
    fn block_for_ball(&self, _structure: &Structure, around: ContentsBox) -> ContentsBox {
        around
    }

    /// The block that has to fit where a cylinder stands: one that touches the walls just when
    /// the cylinder does.
    fn block_for_round(&self, contents: &ContentsBox) -> ContentsBox {
        *contents
    }

    /// Where contents lie in the main body, from the middle of a block, along its sides; `None`
    /// where that is the middle of the solid, along its axes.
    fn contents_lie(&self, _structure: &Structure) -> Option<Pose> {
        None
    }

    /// All settings that could be best for contents that lie in one way: none that fits is left
    /// out unless another one has no larger sheet in any measure, and no more play. None where
    /// the structure has a search of its own ([`Family::best`]).
    fn offers(&self, _wanted: &Wanted<'_>) -> Offers {
        Offers::default()
    }

    /// The best settings over all ways to lay the contents.
    fn best(&self, search: &Search<'_>) -> Option<Candidate> {
        search.best_offer(|wanted| self.offers(wanted))
    }

    /// Why there are no settings.
    fn explain(&self, kind: StructureKind, request: &SizingRequest) -> RefusalReason {
        explain_in_general(kind, request)
    }
}

/// Which structure: a handle on its entry in the registry. Compares and hashes by its slug.
#[derive(Clone, Copy)]
pub struct StructureKind(&'static dyn Family);

impl StructureKind {
    pub(crate) const fn of(family: &'static dyn Family) -> Self {
        Self(family)
    }

    /// Every structure.
    #[must_use]
    pub fn all() -> &'static [Self] {
        ALL
    }

    /// The structure with that slug or name.
    #[must_use]
    pub fn find(text: &str) -> Option<Self> {
        let text = text.trim();
        Self::all().iter().copied().find(|kind| {
            kind.slug().eq_ignore_ascii_case(text) || kind.name().eq_ignore_ascii_case(text)
        })
    }

    /// The name in a sentence.
    #[must_use]
    pub fn name(self) -> &'static str {
        self.0.name()
    }

    /// The name in an address and in JSON.
    #[must_use]
    pub fn slug(self) -> &'static str {
        self.0.slug()
    }

    /// What it is, which faces are open, where the contents go in.
    #[must_use]
    pub fn about(self) -> &'static str {
        self.0.about()
    }

    /// What it is good for.
    #[must_use]
    pub fn serves(self) -> Serves {
        self.0.serves()
    }

    /// How it is kept shut, if by a feature of its own.
    #[must_use]
    pub fn closing(self) -> Option<&'static str> {
        self.0.closing()
    }

    /// Its settings, in the order of the hands.
    #[must_use]
    pub fn fields(self) -> &'static [SettingField] {
        self.0.fields()
    }

    /// Whether it has a depth of its own, and not that of its contents.
    #[must_use]
    pub fn has_depth(self) -> bool {
        self.0.has_depth()
    }

    /// What can be asked of how its bodies go into each other; `None` of a single body.
    #[must_use]
    pub fn fit(self) -> Option<FitLimits> {
        self.0.fit()
    }

    /// The opening that it has if it is asked for: a window, a slot for a hand.
    #[must_use]
    pub fn opening(self) -> Option<&'static Opening> {
        self.0.opening()
    }

    /// The first tool that it needs and the bench lacks.
    #[must_use]
    pub fn lacks(self, tools: &Tools) -> Option<SetOn> {
        let needed = self.fields().iter().map(|field| field.tool);
        needed.into_iter().find(|tool| tools.ruler(*tool).is_none())
    }

    pub(crate) fn family(self) -> &'static dyn Family {
        self.0
    }

    fn place(self) -> Option<usize> {
        ALL.iter().position(|kind| *kind == self)
    }
}

impl fmt::Debug for StructureKind {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.slug())
    }
}

impl PartialEq for StructureKind {
    fn eq(&self, other: &Self) -> bool {
        self.slug() == other.slug()
    }
}

impl Eq for StructureKind {}

impl Hash for StructureKind {
    fn hash<H: Hasher>(&self, state: &mut H) {
        self.slug().hash(state);
    }
}

impl PartialOrd for StructureKind {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

/// In the order of the registry.
impl Ord for StructureKind {
    fn cmp(&self, other: &Self) -> Ordering {
        self.place().cmp(&other.place())
    }
}

impl Serialize for StructureKind {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(self.slug())
    }
}

impl<'de> Deserialize<'de> for StructureKind {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let slug = String::deserialize(deserializer)?;
        let found = ALL.iter().copied().find(|kind| kind.slug() == slug);
        found.ok_or_else(|| {
            let known: Vec<&str> = ALL.iter().map(|kind| kind.slug()).collect();
            let known = known.join(", ");
            let slug = crate::Quoted::new(&slug);
            D::Error::custom(format_args!(
                "{slug} is no structure. The structures are {known}."
            ))
        })
    }
}
