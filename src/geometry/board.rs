//! The punch board and the trimmer: tools with a ruler.
//!
//! Paper lies with one edge against the board's fence. A button punches a right-angled V in that
//! edge, `e` deep and `2 e` wide at the mouth, and a groove at 45° takes a score line from the
//! bottom of the notch. The ruler says how far the paper's left corner is from the notch.
//!
//! ```text
//!   corner |<-------- measure -------->|
//!          +------------------------\     /---- fence
//!          |                         \   /   e
//!          |                          \ /
//!          | paper                     \
//!          |                            \  score, 45°
//! ```

use serde::{Deserialize, Serialize};

use crate::length::{Length, Unit};
use crate::ruler::Ruler;
use crate::words::exact;

/// The deepest notch a hand-pressed punch is taken to make: 1/2 in. Common practice, no source;
/// boards are near 1/4 in, so a deeper one is a slip in typing or measuring.
const DEEPEST_NOTCH: Length = Length::from_nm(12_700_000);
/// 1/4 in until calibrated (common practice, no source).
const USUAL_NOTCH: Length = Length::from_nm(6_350_000);
/// Hands and rulers are coarser than this, so a calibrated depth is kept to 0.01 mm.
const CALIBRATION_STEP: Length = Length::from_nm(10_000);

/// A punch board: its notch depth and the ruler along its fence.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(try_from = "BoardParts", into = "BoardParts")]
pub struct PunchBoard {
    notch_depth: Length,
    ruler: Ruler,
}

/// Why a punch board cannot be, or cannot be calibrated from these measures.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[error("{}", self.say(None))]
pub enum BoardError {
    /// No notch.
    NoNotch(Length),
    /// Over 1/2 in.
    NotchTooDeep(Length),
    /// A notch at the shortest mark would take the corner off.
    ShortestInNotch {
        /// The shortest measure asked for.
        shortest: Length,
        /// The notch depth.
        notch_depth: Length,
        /// The least mark that leaves some corner.
        would_do: Length,
        /// The ruler, for printing.
        ruler: Ruler,
    },
    /// The calibration square has no size.
    NoSquare(Length),
    /// The small square does not fit what a punch does.
    Calibration {
        /// The side of the punched square.
        square: Length,
        /// The side of the small square that the scores make.
        small: Length,
        /// The depth that would follow, in mm.
        depth_mm: f64,
        /// The least side that would do, in mm.
        least_mm: f64,
        /// The greatest side that would do, in mm.
        most_mm: f64,
    },
}

/// Finer than the marks: what was measured wrong shows in hundredths.
fn to_hundredths(ruler: Option<&Ruler>, mm: f64) -> String {
    match ruler.map(Ruler::unit) {
        Some(Unit::Inch) => format!("{:.2} in", mm / 25.4),
        _ => format!("{mm:.2} mm"),
    }
}

impl BoardError {
    /// The sentence with its measures on `ruler`.
    #[must_use]
    pub fn text(&self, ruler: &Ruler) -> String {
        self.say(Some(ruler))
    }

    pub(crate) fn say(&self, ruler: Option<&Ruler>) -> String {
        match self {
            Self::NoNotch(it) => format!(
                "A notch depth of {} makes no notch. Type a depth above 0, usually 1/4 in.",
                exact(ruler, *it)
            ),
            Self::NotchTooDeep(it) => format!(
                "A notch depth of {} is more than a punch makes. Type a depth up to 1/2 in (12.7 mm).",
                exact(ruler, *it)
            ),
            Self::ShortestInNotch {
                shortest,
                notch_depth,
                would_do,
                ruler: marks,
            } => format!(
                "At the shortest measure, {}, a notch {} deep would take the corner of the paper off. Type a shortest measure of {} or more.",
                marks.text(*shortest),
                exact(ruler, *notch_depth),
                marks.text(*would_do)
            ),
            Self::NoSquare(it) => format!(
                "A calibration square of {} has no size. Type the side of the square you punched.",
                exact(ruler, *it)
            ),
            Self::Calibration {
                square,
                small,
                depth_mm,
                least_mm,
                most_mm,
            } => format!(
                "A small square of {} in a square of {} gives a notch depth of {}, which no punch makes. Measure again: the small square's side is between {} and {}.",
                exact(ruler, *small),
                exact(ruler, *square),
                to_hundredths(ruler, *depth_mm),
                to_hundredths(ruler, *least_mm),
                to_hundredths(ruler, *most_mm)
            ),
        }
    }
}

impl PunchBoard {
    /// A board that punches notches `notch_depth` deep at the marks of `ruler`.
    ///
    /// # Errors
    /// - `notch_depth` is not above 0, or above 1/2 in;
    /// - the ruler's first mark is not above `notch_depth`: there the notch would swallow the
    ///   corner and leave a panel of no width.
    pub fn new(notch_depth: Length, ruler: Ruler) -> Result<Self, BoardError> {
        if notch_depth <= Length::ZERO {
            return Err(BoardError::NoNotch(notch_depth));
        }
        if notch_depth > DEEPEST_NOTCH {
            return Err(BoardError::NotchTooDeep(notch_depth));
        }
        let first = ruler.up(ruler.shortest().mm()).unwrap_or(ruler.shortest());
        if first <= notch_depth {
            let steps = notch_depth.nm() / ruler.step().nm() + 1;
            return Err(BoardError::ShortestInNotch {
                shortest: ruler.shortest(),
                notch_depth,
                would_do: ruler.step() * steps,
                ruler,
            });
        }
        Ok(Self { notch_depth, ruler })
    }

    /// The notch depth of a board and of the hands that use it. Punch and score all four sides of
    /// a square at its middle, and measure the side of the small square that the scores make:
    /// e = square / 2 - small side / √2, kept to 0.01 mm.
    ///
    /// # Errors
    /// The square has no size, or the depth that follows is not above 0 or above 1/2 in.
    pub fn calibrate(square: Length, small_square_side: Length) -> Result<Length, BoardError> {
        if square <= Length::ZERO {
            return Err(BoardError::NoSquare(square));
        }
        let root = std::f64::consts::SQRT_2;
        let depth_mm = square.mm() / 2.0 - small_square_side.mm() / root;
        let depth = Length::nearest_multiple(depth_mm, CALIBRATION_STEP)
            .filter(|depth| *depth > Length::ZERO && *depth <= DEEPEST_NOTCH);
        depth.ok_or(BoardError::Calibration {
            square,
            small: small_square_side,
            depth_mm,
            least_mm: (root * (square.mm() / 2.0 - DEEPEST_NOTCH.mm())).max(0.0),
            most_mm: root * square.mm() / 2.0,
        })
    }

    /// Edge of the paper to the bottom of the notch.
    #[must_use]
    pub fn notch_depth(&self) -> Length {
        self.notch_depth
    }

    /// The ruler along the fence.
    #[must_use]
    pub fn ruler(&self) -> &Ruler {
        &self.ruler
    }

    /// A board in sixteenths of an inch from 1/2 to 8 in, notch 1/4 in until calibrated (common
    /// practice, no source).
    #[must_use]
    pub fn default_inch() -> Self {
        Self::usual(Unit::Inch, 1_587_500, 12_700_000, 203_200_000)
    }

    /// A board in whole millimetres from 10 to 200 mm, notch 6.35 mm until calibrated (common
    /// practice, no source).
    #[must_use]
    pub fn default_metric() -> Self {
        Self::usual(Unit::Millimetre, 1_000_000, 10_000_000, 200_000_000)
    }

    fn usual(unit: Unit, step: i64, shortest: i64, longest: i64) -> Self {
        let ruler = Ruler::new(
            unit,
            Length::from_nm(step),
            Length::from_nm(shortest),
            Length::from_nm(longest),
        );
        Self {
            notch_depth: USUAL_NOTCH,
            ruler: ruler.unwrap_or_else(|_| Ruler::millimetre()),
        }
    }
}

/// A board as stored: validated on the way in.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct BoardParts {
    notch_depth: Length,
    ruler: Ruler,
}

impl TryFrom<BoardParts> for PunchBoard {
    type Error = BoardError;
    fn try_from(parts: BoardParts) -> Result<Self, BoardError> {
        Self::new(parts.notch_depth, parts.ruler)
    }
}

impl From<PunchBoard> for BoardParts {
    fn from(board: PunchBoard) -> Self {
        Self {
            notch_depth: board.notch_depth,
            ruler: board.ruler,
        }
    }
}

/// A trimmer: blanks are cut at its marks, edge to edge, some sheets at once.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Trimmer {
    ruler: Ruler,
    #[serde(default = "usually_at_once", deserialize_with = "within_reason")]
    at_once: u32,
}

/// The most sheets that a trimmer is said to take at once.
pub const MOST_AT_ONCE: u32 = 20;

/// Two sheets of card: common practice, no source; the trimmer's maker says how many it takes.
const fn usually_at_once() -> u32 {
    2
}

fn within_reason<'de, D: serde::Deserializer<'de>>(deserializer: D) -> Result<u32, D::Error> {
    Ok(u32::deserialize(deserializer)?.clamp(1, MOST_AT_ONCE))
}

impl Trimmer {
    /// A trimmer that cuts at the marks of `ruler`.
    #[must_use]
    pub fn new(ruler: Ruler) -> Self {
        Self {
            ruler,
            at_once: usually_at_once(),
        }
    }

    /// The same trimmer for so many sheets at once: 1 to [`MOST_AT_ONCE`], else the nearest.
    #[must_use]
    pub fn taking(self, at_once: u32) -> Self {
        Self {
            at_once: at_once.clamp(1, MOST_AT_ONCE),
            ..self
        }
    }

    /// How many sheets it cuts at once.
    #[must_use]
    pub fn at_once(&self) -> u32 {
        self.at_once
    }

    /// A trimmer of 12 in with sixteenths.
    #[must_use]
    pub fn default_inch() -> Self {
        Self::new(Ruler::inch(16))
    }

    /// A trimmer of 300 mm with whole millimetres.
    #[must_use]
    pub fn default_metric() -> Self {
        Self::new(Ruler::millimetre())
    }

    /// The ruler that sheets are cut by.
    #[must_use]
    pub fn ruler(&self) -> &Ruler {
        &self.ruler
    }
}

#[cfg(test)]
mod tests {
    use insta::assert_snapshot;

    use super::*;

    fn inch(text: &str) -> Length {
        Length::read(text, Unit::Inch).unwrap_or_else(|error| panic!("{error}"))
    }

    fn board(notch: &str, shortest: &str) -> Result<PunchBoard, BoardError> {
        let ruler = Ruler::new(Unit::Inch, inch("1/16"), inch(shortest), inch("8")).unwrap();
        PunchBoard::new(inch(notch), ruler)
    }

    #[test]
    fn a_board_that_cannot_be_is_refused_in_words() {
        let wrong = |notch, shortest| board(notch, shortest).expect_err("refused").to_string();
        assert_snapshot!(wrong("0", "1/2"), @"A notch depth of 0 mm makes no notch. Type a depth above 0, usually 1/4 in.");
        assert_snapshot!(wrong("9/16", "1"), @"A notch depth of 14.2875 mm is more than a punch makes. Type a depth up to 1/2 in (12.7 mm).");
        assert_snapshot!(wrong("1/4", "1/4"), @"At the shortest measure, 1/4 in, a notch 6.35 mm deep would take the corner of the paper off. Type a shortest measure of 5/16 in or more.");
        assert_snapshot!(wrong("6.6 mm", "0"), @"At the shortest measure, 0 in, a notch 6.6 mm deep would take the corner of the paper off. Type a shortest measure of 5/16 in or more.");
        assert!(board("1/4", "5/16").is_ok());
    }

    /// Common practice, no source: a 6 in square punched at 3 in shows a small square of about
    /// 3 7/8 in on a board whose notch is 1/4 in. The formula a = √2 (S/2 - e) gives 3.889 in.
    #[test]
    fn calibration_finds_the_usual_quarter_inch() {
        let depth = PunchBoard::calibrate(inch("6"), inch("3 7/8")).unwrap();
        assert!(
            (depth - inch("1/4")).nm().abs() < inch("1/64").nm(),
            "{depth:?}"
        );
        let exact = Length::nearest_multiple(2.75 * 25.4 * 2_f64.sqrt(), Length::from_nm(1));
        assert_eq!(
            PunchBoard::calibrate(inch("6"), exact.unwrap()),
            Ok(inch("1/4"))
        );
    }

    #[test]
    fn calibration_refuses_squares_that_no_punch_makes() {
        let wrong = |square, small| {
            let depth = PunchBoard::calibrate(inch(square), inch(small));
            depth.expect_err("refused").to_string()
        };
        assert_snapshot!(wrong("0", "1"), @"A calibration square of 0 mm has no size. Type the side of the square you punched.");
        assert_snapshot!(wrong("6", "4 1/4"), @"A small square of 107.95 mm in a square of 152.4 mm gives a notch depth of -0.13 mm, which no punch makes. Measure again: the small square's side is between 89.80 mm and 107.76 mm.");
        assert_snapshot!(wrong("6", "3 1/2"), @"A small square of 88.9 mm in a square of 152.4 mm gives a notch depth of 13.34 mm, which no punch makes. Measure again: the small square's side is between 89.80 mm and 107.76 mm.");
        assert_snapshot!(wrong("6", "0"), @"A small square of 0 mm in a square of 152.4 mm gives a notch depth of 76.20 mm, which no punch makes. Measure again: the small square's side is between 89.80 mm and 107.76 mm.");
    }

    #[test]
    fn the_usual_boards_pass_their_own_checks() {
        for usual in [PunchBoard::default_inch(), PunchBoard::default_metric()] {
            assert_eq!(
                PunchBoard::new(usual.notch_depth(), *usual.ruler()),
                Ok(usual)
            );
        }
        let (inch_board, metric) = (PunchBoard::default_inch(), PunchBoard::default_metric());
        assert_eq!(inch_board.ruler().longest(), Length::inches(8));
        assert_eq!(metric.ruler().step(), Length::from_mm(1));
    }

    #[test]
    fn a_trimmer_stored_before_it_had_a_number_takes_two_sheets() {
        let ruler = serde_json::to_string(&Ruler::inch(16)).unwrap();
        let read = |text: String| serde_json::from_str::<Trimmer>(&text).unwrap();
        let old = read(format!("{{\"ruler\":{ruler}}}"));
        assert_eq!(old, Trimmer::default_inch());
        assert_eq!(old.at_once(), 2);
        let none = read(format!("{{\"ruler\":{ruler},\"at_once\":0}}"));
        assert_eq!(none.at_once(), 1);
        let five = Trimmer::default_inch().taking(5);
        assert_eq!(read(serde_json::to_string(&five).unwrap()), five);
    }

    #[test]
    fn a_stored_board_is_checked_when_it_is_read() {
        let json = serde_json::to_string(&PunchBoard::default_inch()).unwrap();
        let board: PunchBoard = serde_json::from_str(&json).unwrap();
        assert_eq!(board, PunchBoard::default_inch());
        let broken = json.replace("6.35 mm", "0 mm");
        assert!(serde_json::from_str::<PunchBoard>(&broken).is_err());
    }
}
