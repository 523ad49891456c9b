//! A card with one fold and the envelope that fits it, from a sheet each.
//!
//! ```text
//!   card, from the inside        envelope, from the inside
//!   +--------+--------+               _______________
//!   |        :        |              /   top flap    \      c
//!   | front  :  back  | L       ____/.................\____
//!   |        :        |        / :                       : \
//!   +--------+--------+       |s :        front          :s |  H
//!       W        W             \_:.......................:_/
//!                                   \   bottom flap   /     b
//!                                    \_______________/
//!                                           W
//! ```
//!
//! The fold is the card's left edge; turned a quarter it is the top, and the card stands. A front
//! higher than wide folds on its long side, one wider than high on its short side. It lies in the
//! envelope on its longer side, so that the large flaps are on the long edges.
//!
//! Paper that lies flat goes round what is in it: inside, width and length lose one caliper and
//! the depth of what is in. The envelope's contents are the card: 2 t, and what the card holds.
//! Bottom and top flap overlap on the back: b + c >= H + 12 mm.

use super::folded_card_family::FoldedCardFamily;
use super::limits::{Asked, no_room};
use super::{Inside, Settings, Structure, StructureError, StructureKind, Tools};
use crate::{Length, Mailpiece, MatShape, Mats, MatsError, Ruler, SheetSize, envelope_sizes};

/// Shortest side of a card, mm (common practice, no source).
pub(super) const LEAST_CARD_MM: f64 = 30.0;
/// Least play of a card in its envelope beyond its thickness, side to side, mm (common practice,
/// no source; an A2 envelope leaves 3.2 mm round its card).
pub(super) const LEAST_PLAY_MM: f64 = 2.0;
/// A card with more play slides about, mm (common practice, no source; a C5 envelope leaves 19 mm
/// round A5).
const MOST_PLAY_MM: f64 = 20.0;
/// Narrowest side flap that is glued, mm (common practice, no source).
const LEAST_SIDE_MM: f64 = 10.0;
/// Least overlap of the bottom and the top flap, mm (common practice, no source).
pub(super) const OVERLAP_MM: f64 = 12.0;
/// Shortest top flap that stays shut, mm (common practice, no source).
pub(super) const LEAST_TOP_MM: f64 = 15.0;
/// A card with its envelope that can be made.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FoldedCard {
    settings: Settings,
    pub(super) caliper: Length,
    /// Front of the card.
    pub(super) front: (f64, f64),
    /// Width of its back page: the front's, unless hands were off.
    pub(super) back: f64,
    /// Front of the envelope, crease to crease.
    pub(super) envelope: (f64, f64),
    /// Reach of the side flaps, of the bottom flap and of the top flap.
    pub(super) flaps: [f64; 3],
    pub(super) t: f64,
}

/// An envelope that can be bought, and the play of the card in it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct EnvelopeFit {
    /// The envelope, upright.
    pub size: &'static SheetSize,
    /// How much wider and how much taller than the card it is, both upright.
    pub play: (Length, Length),
}

impl FoldedCard {
    /// Its entry in the registry.
    pub const KIND: StructureKind = FoldedCardFamily::KIND;

    /// The card and envelope that these settings make, both from paper of this caliper.
    ///
    /// # Errors
    /// A length that is not above 0 and at most 10 m; a score that is no mark of the score
    /// board's ruler; a card under 30 mm, or not twice as wide as its score; side flaps under
    /// 10 mm or over a quarter of the sheet; a top flap under 15 mm, a bottom flap less than
    /// 2 mm longer than the side flaps are wide; flaps that leave the back open or are longer than the envelope; a
    /// card with less than 2 mm of play beyond its thickness, or more than 20 mm; paper that
    /// fills the card.
    pub fn new(settings: Settings, tools: &Tools, caliper: Length) -> Result<Self, StructureError> {
        let made = Self::off(settings, tools, caliper)?;
        made.check_pages(&tools.trimmer)?;
        Ok(made)
    }

    /// The same where hands were off: its edges need not meet.
    pub(super) fn off(
        settings: Settings,
        tools: &Tools,
        caliper: Length,
    ) -> Result<Self, StructureError> {
        let score = tools.score_for(Self::KIND)?;
        settings.check_marks(tools, caliper)?;
        let made = Self::of_settings(settings, caliper);
        made.check_card(&score, &tools.trimmer)?;
        made.check_envelope(&score, &tools.trimmer)?;
        made.check_play(&tools.trimmer)?;
        Ok(made)
    }

    /// Whatever the settings come to.
    fn of_settings(settings: Settings, caliper: Length) -> Self {
        let [
            card_width,
            card_length,
            card_score,
            width,
            length,
            side,
            bottom,
            top,
        ] = settings.first();
        Self {
            settings,
            caliper,
            front: (card_score.mm(), card_length.mm()),
            back: (card_width - card_score).mm(),
            envelope: ((width - side * 2).mm(), (length - bottom - top).mm()),
            flaps: [side, bottom, top].map(Length::mm),
            t: caliper.mm(),
        }
    }

    fn check_card(&self, score: &Ruler, trimmer: &Ruler) -> Result<(), StructureError> {
        let [_, card_length, card_score, ..] = self.settings.first::<8>();
        let small = "so small a card is not folded by hand";
        Asked::new("card_score", card_score, score).at_least(LEAST_CARD_MM, small)?;
        Asked::new("card_length", card_length, trimmer).at_least(LEAST_CARD_MM, small)?;
        let room = self.front.0.min(self.front.1) - self.t;
        if room > 0.0 {
            return Ok(());
        }
        let shorter = self.front.0.min(self.front.1);
        Err(no_room("width", shorter, self.caliper, score))
    }

    fn check_pages(&self, trimmer: &Ruler) -> Result<(), StructureError> {
        let [card_width, _, card_score, ..] = self.settings.first::<8>();
        let twice = (card_score * 2).mm();
        let uneven = "the edges of front and back do not meet";
        let asked = Asked::new("card_width", card_width, trimmer);
        asked.at_least(twice, uneven)?;
        asked.at_most(twice, uneven)
    }

    fn check_envelope(&self, score: &Ruler, trimmer: &Ruler) -> Result<(), StructureError> {
        let [_, _, _, width, length, side, bottom, top] = self.settings.first();
        let why = "the side flaps have no room for glue";
        Asked::new("side_score", side, score).at_least(LEAST_SIDE_MM, why)?;
        Asked::new("envelope_width", width, trimmer).at_least(4.0 * LEAST_SIDE_MM, why)?;
        Asked::new("side_score", side, score).at_most(width.mm() / 4.0, "the side flaps meet")?;
        let why = "the bottom flap has no room for glue";
        Asked::new("bottom_score", bottom, score).at_least(side.mm() + 2.0, why)?;
        let why = "so short a flap does not stay shut";
        Asked::new("top_score", top, score).at_least(LEAST_TOP_MM, why)?;
        let both = (bottom + top).mm();
        let longer = both + bottom.max(top).mm();
        let why = "a flap is longer than the envelope";
        Asked::new("envelope_length", length, trimmer).at_least(longer, why)?;
        let open = 2.0 * both - OVERLAP_MM;
        let why = "bottom and top flap leave the back open";
        Asked::new("envelope_length", length, trimmer).at_most(open, why)
    }

    fn check_play(&self, trimmer: &Ruler) -> Result<(), StructureError> {
        let [_, _, _, width, length, ..] = self.settings.first::<8>();
        let play = self.play_mm();
        for (field, asked, play) in [
            ("envelope_width", width, play.0),
            ("envelope_length", length, play.1),
        ] {
            let with = |wanted: f64| asked.mm() - play + wanted;
            let least = with(LEAST_PLAY_MM + self.card_thickness_mm());
            let asked = Asked::new(field, asked, trimmer);
            asked.at_least(least, "the card does not go in")?;
            asked.at_most(with(MOST_PLAY_MM), "the card is loose in it")?;
        }
        Ok(())
    }

    /// The card again, if the structure is one.
    #[must_use]
    pub fn of(structure: &Structure) -> Option<Self> {
        structure.again(Self::KIND, Self::new)
    }

    /// Width and height of the card's front, with the fold upright.
    #[must_use]
    pub fn front(&self) -> (Length, Length) {
        let [_, length, score, ..] = self.settings.first::<8>();
        (score, length)
    }

    /// Whether the card folds on its longer side.
    #[must_use]
    pub fn folds_on_long_side(&self) -> bool {
        self.front.1 >= self.front.0
    }

    /// Width and height of the envelope's front, crease to crease, mm.
    #[must_use]
    pub fn envelope_mm(&self) -> (f64, f64) {
        self.envelope
    }

    /// Thickness of the folded card, mm.
    #[must_use]
    pub fn card_thickness_mm(&self) -> f64 {
        2.0 * self.t
    }

    /// Play of the card in its envelope side to side, along the envelope's width and height, mm;
    /// its thickness takes as much of it.
    #[must_use]
    pub fn play_mm(&self) -> (f64, f64) {
        let play = |envelope: f64, card: f64| envelope - self.t - card;
        let (w, l) = self.front;
        (
            play(self.envelope.0, w.max(l)),
            play(self.envelope.1, w.min(l)),
        )
    }

    /// Room in the folded card for something flat, `depth` mm thick.
    #[must_use]
    pub fn inside_for(&self, depth: f64) -> Inside {
        Inside {
            width: self.front.0 - self.t - depth,
            length: self.front.1 - self.t - depth,
            depth,
        }
    }

    /// The envelopes of `ISO` 269 and of the US trade that take the card with `more_mm` laid in it
    /// or stuck on it, least play first: at least 2 mm beyond its thickness each way, at most
    /// 20 mm.
    #[must_use]
    pub fn envelopes(&self, more_mm: f64) -> Vec<EnvelopeFit> {
        let (width, length) = self.front();
        let least = LEAST_PLAY_MM + self.card_thickness_mm() + more_mm;
        let snug = |play: Length| play.mm() >= least && play.mm() <= MOST_PLAY_MM;
        let fit = |size: &'static SheetSize| {
            let play = size.play_round(width, length)?;
            (snug(play.0) && snug(play.1)).then_some(EnvelopeFit { size, play })
        };
        let mut fits: Vec<EnvelopeFit> = envelope_sizes().iter().filter_map(fit).collect();
        fits.sort_by_key(|fit| fit.play.0 + fit.play.1);
        fits
    }

    /// Mats in the middle of the front, cut at marks of the trimmer: the lowest shows the card by
    /// the reveal, each further one shows the one below.
    ///
    /// # Errors
    /// [`MatsError`] where there are no layers or too many, the reveal is nothing, or the last mat
    /// would be too small.
    pub fn mats(&self, reveal: Length, layers: usize, trimmer: &Ruler) -> Result<Mats, MatsError> {
        Mats::on(self.front_shape(), reveal, layers, trimmer)
    }

    /// The front, as what mats lie on.
    #[must_use]
    pub fn front_shape(&self) -> MatShape {
        let (width, height) = self.front();
        MatShape::Rectangle { width, height }
    }

    /// The closed envelope with the card in it, addressed along its longer side. The thickest
    /// place has the card and four sheets of the envelope. `more_mm` is what is laid in the card
    /// or stuck on it.
    #[must_use]
    pub fn mailpiece(&self, more_mm: f64, grams: Option<f64>, uneven: bool) -> Mailpiece {
        let (w, h) = self.envelope;
        Mailpiece {
            length_mm: w.max(h) + self.t,
            height_mm: w.min(h) + self.t,
            thickness_mm: 6.0 * self.t + more_mm,
            grams,
            uneven,
        }
    }

    pub(super) fn blanks(&self) -> [(Length, Length); 2] {
        let [card_width, card_length, _, width, length, ..] = self.settings.first::<8>();
        [(card_width, card_length), (width, length)]
    }

    pub(super) fn settings(&self) -> &Settings {
        &self.settings
    }
}
