//! Which picture an operation has: facts only; `draw` turns them into a scene.

use tablefold_geometry::{Length, WasteReason};

/// The picture of a step, as facts. Sizes that the piece knows are not said again.
#[derive(Clone, Debug, PartialEq)]
pub enum StepPicture {
    /// No picture: an instructor's own step.
    None,
    /// A part cut from a sheet on the trimmer.
    Cut {
        /// The part's width.
        width: Length,
        /// The part's height.
        height: Length,
    },
    /// The square on the punch board.
    Punch {
        /// The side at the fence, from 1 to 4.
        side: u8,
        /// Which punch of that side, from 0; `None` for all, along the guide.
        punch: Option<usize>,
    },
    /// Cuts that free the tabs.
    FreeTabs,
    /// Points that stick out are trimmed.
    Trim,
    /// Tips are rounded.
    Round,
    /// All creases are folded and pressed.
    Burnish,
    /// Folds of the pattern's order, from one to another, by name.
    Folds {
        /// The first.
        from: &'static str,
        /// The last.
        to: &'static str,
    },
    /// The folds that close the piece after the contents went in.
    Close,
    /// Glue on everything that a fold presses together.
    Glue {
        /// The fold, by name.
        fold: &'static str,
    },
    /// Contents go in.
    PutIn,
    /// The band: score marks along the strip.
    BandScore,
    /// The band: a notch in its edge.
    BandNotch,
    /// The band: round the piece.
    BandWrap,
    /// A layer of the tag is punched; 0 is the top one.
    Stamp {
        /// Which layer.
        layer: usize,
    },
    /// A mat on the front of a card.
    Mat {
        /// Which, from 0: the one on the card itself.
        index: usize,
    },
    /// Layers of the tag on each other.
    Layers,
    /// The tag on the finished piece.
    AttachTag,
    /// Ribbon cut to length.
    RibbonCut {
        /// How long.
        length: Length,
    },
    /// Ribbon on the finished piece.
    Tie,
    /// Work on one body of the structure.
    Body {
        /// Which, by its place in the structure.
        body: usize,
        /// What is done to it.
        now: BodyNow,
    },
}

/// What is done to one body of a structure.
#[derive(Clone, Debug, PartialEq)]
pub enum BodyNow {
    /// Scored on the score board: an index into the body's work.
    Score(usize),
    /// Slits are cut.
    Slits,
    /// Something is cut away.
    TakeOff(WasteReason),
    /// Cut or scored along a template.
    Template {
        /// Cut, else scored.
        cut: bool,
    },
    /// Film is glued over the window.
    Film {
        /// Its side.
        side: Length,
    },
    /// Turned over.
    TurnOver,
    /// All creases are folded and pressed.
    Burnish,
    /// A fold of the pattern, by index.
    Fold(usize),
    /// Glue on zones.
    Glue {
        /// The first zone, by index.
        zone: usize,
        /// The fold that presses it.
        fold: Option<usize>,
    },
    /// All bodies come together.
    Together,
}
