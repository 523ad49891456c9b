//! A structure that is made: one body or several, each from a sheet of its own.

use super::work::Work;
use super::{Inside, Settings, StructureError, StructureKind, Tools};
use crate::fold_check::{bodies_check, nest_check};
use crate::{Check, ContentsBox, Face, Length, Pattern, Pose};

/// One body of a structure: what is made from one sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct Body {
    /// What it is called beside the others: "base", "lid".
    pub name: &'static str,
    /// Width and height of the sheet: what runs along x and along y of the pattern, except that a
    /// punched square stands on its corner.
    pub blank: (Length, Length),
    /// The flat pattern.
    pub pattern: Pattern,
    /// What the hands do, in order, from the cut sheet to the finished body. Empty where the
    /// structure's steps are written elsewhere (the punch board's).
    pub work: Vec<Work>,
    /// Where the body is in the finished piece.
    pub place: Pose,
}

/// One body goes into another: the lid over the base, the drawer into the sleeve.
#[derive(Clone, Debug, PartialEq)]
pub struct Nest {
    /// Which body goes in, by its place in [`Structure::bodies`].
    pub inner: usize,
    /// Which body it goes into.
    pub outer: usize,
    /// The faces of the outer one that hold it.
    pub faces: Vec<Face>,
    /// Play that it needs from one wall to the opposite one, mm.
    pub play_mm: f64,
}

/// What is in a structure and on it beyond what its settings say.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Laden {
    /// Thickness of what is stuck on the body that goes into another.
    pub stuck_on: Length,
    /// Whether it holds a ball, and no block.
    pub ball: bool,
}

/// A structure whose settings can be made.
#[derive(Clone, Debug, PartialEq)]
pub struct Structure {
    pub(super) settings: Settings,
    pub(super) tools: Tools,
    pub(super) caliper: Length,
    /// The body that holds the contents.
    pub(super) main: Body,
    pub(super) others: Vec<Body>,
    pub(super) nests: Vec<Nest>,
    pub(super) inside: Inside,
    pub(super) outside: Inside,
    pub(super) volume_mm3: f64,
    pub(super) laden: Laden,
}

impl Structure {
    /// The structure that these settings make with these tools, from paper of this caliper.
    ///
    /// # Errors
    /// A tool that the bench lacks; what the structure itself refuses (see its own constructor).
    pub fn new(settings: Settings, tools: &Tools, caliper: Length) -> Result<Self, StructureError> {
        let kind = settings.kind();
        if let Some(tool) = kind.lacks(tools) {
            return Err(StructureError::no_tool(kind, tool, tools.main_ruler()));
        }
        kind.family().make(&settings, tools, caliper)
    }

    /// The structure as hands may make it that are off.
    pub(crate) fn off(
        settings: Settings,
        tools: &Tools,
        caliper: Length,
    ) -> Result<Self, StructureError> {
        // How well a piece fits has nothing to do with its window, which may be as large as can be.
        let settings = settings.with_opening(None);
        settings.kind().family().make_off(&settings, tools, caliper)
    }

    /// The same with this in it and on it.
    #[must_use]
    pub fn laden(self, laden: Laden) -> Self {
        Self { laden, ..self }
    }

    /// What it was made as, by the constructor of its kind; `None` if it is of another.
    pub(super) fn again<T>(
        &self,
        kind: StructureKind,
        new: impl Fn(Settings, &Tools, Length) -> Result<T, StructureError>,
    ) -> Option<T> {
        if self.kind() != kind {
            return None;
        }
        new(self.settings, &self.tools, self.caliper).ok()
    }

    /// Which structure it is.
    #[must_use]
    pub fn kind(&self) -> StructureKind {
        self.settings.kind()
    }

    /// The settings it was made from.
    #[must_use]
    pub fn settings(&self) -> Settings {
        self.settings
    }

    /// The tools it is made with.
    #[must_use]
    pub fn tools(&self) -> &Tools {
        &self.tools
    }

    /// Thickness of its paper.
    #[must_use]
    pub fn caliper(&self) -> Length {
        self.caliper
    }

    /// The body that holds the contents.
    #[must_use]
    pub fn main(&self) -> &Body {
        &self.main
    }

    /// Every body, the main one first.
    pub fn bodies(&self) -> impl Iterator<Item = &Body> {
        std::iter::once(&self.main).chain(&self.others)
    }

    /// The body of that name.
    #[must_use]
    pub fn body(&self, name: &str) -> Option<&Body> {
        self.bodies()
            .find(|body| body.name.eq_ignore_ascii_case(name.trim()))
    }

    /// What is in it and on it: what is stuck on takes as much of the play as it is thick.
    #[must_use]
    pub fn load(&self) -> Laden {
        self.laden
    }

    /// Which body goes into which.
    #[must_use]
    pub fn nests(&self) -> &[Nest] {
        &self.nests
    }

    /// The flat pattern of the main body.
    #[must_use]
    pub fn pattern(&self) -> &Pattern {
        &self.main.pattern
    }

    /// Width and height of the sheet of the main body.
    #[must_use]
    pub fn blank(&self) -> (Length, Length) {
        self.main.blank
    }

    /// Width and height of the sheet of each body.
    #[must_use]
    pub fn blanks(&self) -> Vec<(Length, Length)> {
        self.bodies().map(|body| body.blank).collect()
    }

    /// Room inside the closed piece; of one that takes the depth of its contents, with nothing in.
    #[must_use]
    pub fn inside(&self) -> Inside {
        self.inside
    }

    /// Room inside for contents `depth_mm` deep: they take room from width and length where the
    /// piece lies flat or is round.
    #[must_use]
    pub fn inside_for(&self, depth_mm: f64) -> Inside {
        self.kind().family().inside_for(self, depth_mm)
    }

    /// Room inside for contents of these extents with their play, if they are a block or, where
    /// `round`, a cylinder that stands: it differs from [`Self::inside_for`] in a piece that is no
    /// box.
    #[must_use]
    pub fn room_for(&self, contents: &ContentsBox, round: bool) -> Inside {
        self.kind().family().room_for(self, contents, round)
    }

    /// Outside of the closed piece, mm; of one that takes the depth of its contents, with nothing
    /// in.
    #[must_use]
    pub fn outside(&self) -> Inside {
        self.outside
    }

    /// The volume that the main body closes, crease to crease, mm³, by the structure's own
    /// formula; 0 where it lies flat.
    #[must_use]
    pub fn volume_mm3(&self) -> f64 {
        self.volume_mm3
    }

    /// Width and length of the front, crease to crease, mm.
    #[must_use]
    pub fn front_mm(&self) -> (f64, f64) {
        let (low, high) = self.main.pattern.solid.bounds();
        (high.x - low.x, high.y - low.y)
    }

    /// The fold check of every body, the worst of each point, with the contents in the main one;
    /// and, where bodies go into each other, whether they do.
    #[must_use]
    pub fn checks(&self, contents: Option<&ContentsBox>) -> Vec<Check> {
        let mut checks = bodies_check(self, contents);
        checks.extend(nest_check(self));
        checks
    }
}
