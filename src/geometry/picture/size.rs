//! How large a picture is shown, counted in its letters: what is drawn for a small place has few
//! and large words, so that each can be read there.
//!
//! ```text
//!   place 92 x 88 mm, least letters 12 pt = 4.23 mm     1 u = 4.23 mm / 3.6 = 1.18 mm
//!     -> 78 u wide, 75 u high: all that has to hold the drawing, its margins and its words
//! ```

use kurbo::{Rect, Size};

use super::scene::{Scene, TextSize};

/// A picture is never drawn for less than this, `u`: below, no words fit at all.
const LEAST: f64 = 30.0;
/// A picture is at least so wide where its place is, `u`.
const WORDS: f64 = 48.0;
/// Lower than this, `u`, a picture is small.
const SMALL: f64 = 90.0;
/// So often a picture is drawn again, lower, for rows of words that came below it.
const TRIES: usize = 2;

/// The place a picture is shown in; or two places, of which the picture takes the one that
/// shows it larger.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PictureSize {
    places: [Size; 2],
    /// Whether words without a place are left out rather than put into rows below.
    is_terse: bool,
}

impl PictureSize {
    /// As wide as the page, 28 letters across, and as high as it needs.
    pub const FREE: Self = Self {
        places: [Size::new(100.0, f64::INFINITY); 2],
        is_terse: false,
    };

    /// A place so wide and high, for letters of at least this type size, all in one unit.
    #[must_use]
    pub fn new(width: f64, height: f64, letters: f64) -> Self {
        let u = letters / TextSize::Small.in_u();
        let in_u = |side: f64| (side / u).max(LEAST);
        Self {
            places: [Size::new(in_u(width), in_u(height)); 2],
            is_terse: false,
        }
    }

    /// Or another place, where that shows the picture larger.
    #[must_use]
    pub const fn or(self, other: Self) -> Self {
        Self {
            places: [self.places[0], other.places[0]],
            is_terse: false,
        }
    }

    /// As large as both allow.
    #[must_use]
    pub fn within(self, other: Self) -> Self {
        let [a, b] = self.places;
        let least = |place: Size| {
            let most = other.places[0];
            Size::new(place.width.min(most.width), place.height.min(most.height))
        };
        Self {
            places: [least(a), least(b)],
            is_terse: false,
        }
    }

    /// Whether there is no room for words that stand beside the picture as well.
    pub(crate) fn is_small(&self) -> bool {
        self.places.iter().all(|it| it.height < SMALL)
    }

    /// The width that words need, however narrow the drawing is, `u`.
    fn words(&self) -> f64 {
        self.places.iter().map(|it| it.width).fold(WORDS, f64::min)
    }

    /// The least `u`, mm, at which content and margins (in `u`, across and up) have room.
    pub(crate) fn u_for(&self, content: Size, across: f64, up: f64) -> f64 {
        let least = |place: &Size| {
            let wide = content.width / (place.width - across).max(0.1 * LEAST);
            wide.max(content.height / (place.height - up).max(0.1 * LEAST))
        };
        self.places.iter().map(least).fold(f64::INFINITY, f64::min)
    }

    /// The view round content with margins left, top, right and below, in `u`; and its `u`, mm.
    pub(crate) fn view(&self, content: Rect, [left, top, right, below]: [f64; 4]) -> (Rect, f64) {
        let size = Size::new(content.width().max(1.0), content.height());
        let u = self.u_for(size, left + right, top + below);
        let view = Rect::new(
            content.x0 - left * u,
            content.y0 - top * u,
            content.x0 + size.width + right * u,
            content.y1 + below * u,
        );
        let spare = (self.words() * u - view.width()).max(0.0) / 2.0;
        (view.inflate(spare, 0.0), u)
    }

    /// How much wider a view could be without a larger `u`, up to a width that it wants, `u`.
    pub(crate) fn spare_width(&self, content: Rect, margins: [f64; 4], wanted: f64) -> f64 {
        let (view, u) = self.view(content, margins);
        let height = view.height() / u;
        let holds = self.places.iter().filter(|it| height <= it.height + 1e-6);
        let widest = holds.map(|it| it.width).fold(0.0, f64::max);
        (widest.min(wanted) - view.width() / u).max(0.0)
    }

    /// Whether a view of this `u` has room in one of the places.
    pub(crate) fn admits(&self, view: Rect, u: f64) -> bool {
        self.excess(view, u) <= 1e-6
    }

    /// By how much a view is too high for its place, `u`.
    fn excess(&self, view: Rect, u: f64) -> f64 {
        let (width, height) = (view.width() / u, view.height() / u);
        let holds = self.places.iter().filter(|it| width <= it.width + 1e-6);
        let highest = holds.map(|it| it.height).fold(0.0, f64::max);
        height - highest
    }

    /// Draws, and again lower where rows of words below made the picture too high; where that does
    /// not help, without these words: they stand beside the picture as well.
    pub(crate) fn fitted(self, draw: impl Fn(Self) -> Scene) -> Scene {
        let mut size = self;
        for _ in 0..TRIES {
            let scene = draw(size);
            let excess = self.excess(scene.view, scene.u);
            if excess <= 1e-6 {
                return scene;
            }
            for place in &mut size.places {
                place.height -= excess;
            }
        }
        draw(Self {
            is_terse: true,
            ..self
        })
    }

    /// Whether words without a place are left out.
    pub(crate) const fn is_terse(&self) -> bool {
        self.is_terse
    }

    /// Whether a scene has room in one of the places with all its letters at their size.
    #[must_use]
    pub fn holds(&self, scene: &Scene) -> bool {
        self.admits(scene.view, scene.u)
    }
}
