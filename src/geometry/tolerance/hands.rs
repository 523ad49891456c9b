//! Hands: the standard deviation of each operation.
//!
//! Beginners keep to about 1/32 in of the mark, practised hands to 1/64 in (common practice, no
//! source). "Keep to" is read as 95 of 100 times, which in a normal spread is two standard
//! deviations (1.96): hence 1/64 in and 1/128 in, rounded to 0.4 mm and 0.2 mm. A fold follows its
//! score and is off by half as much (common practice, no source).
//!
//! The notch depth is calibrated once, by practised hands: e = S/2 - a/√2, with S cut and a read
//! to 0.2 mm, is good to 0.2 √(1/4 + 1/2) = 0.17 mm, whoever punches afterwards.

use serde::{Deserialize, Serialize};

use super::Operation;
use crate::Length;

/// A deviation above this is a slip in typing.
const MOST: Length = Length::from_mm(10);

/// How far off the hands of a maker are, one standard deviation for each operation.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(try_from = "HandsParts", into = "HandsParts")]
pub struct Hands {
    /// In the order of [`Operation::ALL`].
    deviations: [Length; 6],
}

/// Why hands cannot be. Prints as the sentence that the user reads.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum HandsError {
    /// A deviation below 0 or above 10 mm.
    #[error(
        "{}: {} is no deviation of hands. Type one from 0 to {}, such as 0.4 mm.",
        operation.key(), asked.exact_text(), MOST.exact_text()
    )]
    Deviation {
        /// Of what.
        operation: Operation,
        /// The deviation asked for.
        asked: Length,
    },
}

impl Hands {
    /// Who does it for the first or second time: within 1/32 in, 95 times of 100.
    #[must_use]
    pub const fn beginner() -> Self {
        Self::of_micrometres([400, 400, 400, 170, 400, 200])
    }

    /// Who has done it often: within 1/64 in, 95 times of 100.
    #[must_use]
    pub const fn practised() -> Self {
        Self::of_micrometres([200, 200, 200, 170, 200, 100])
    }

    const fn of_micrometres(at: [i64; 6]) -> Self {
        let [cut, score, punch, calibration, draw, fold] = at;
        Self {
            deviations: [
                Length::from_nm(cut * 1000),
                Length::from_nm(score * 1000),
                Length::from_nm(punch * 1000),
                Length::from_nm(calibration * 1000),
                Length::from_nm(draw * 1000),
                Length::from_nm(fold * 1000),
            ],
        }
    }

    /// The standard deviation of an operation.
    #[must_use]
    pub fn deviation(&self, operation: Operation) -> Length {
        let all = Operation::ALL.iter().zip(self.deviations);
        let found = all.into_iter().find(|(one, _)| **one == operation);
        found.map_or(Length::ZERO, |(_, deviation)| deviation)
    }

    /// How far off the operation is at most, 95 times of 100: two deviations, mm.
    pub(super) fn limit_mm(&self, operation: Operation) -> f64 {
        2.0 * self.deviation(operation).mm()
    }

    /// The same hands with another deviation for one operation.
    ///
    /// # Errors
    /// A deviation below 0 or above 10 mm.
    pub fn with(mut self, operation: Operation, deviation: Length) -> Result<Self, HandsError> {
        if deviation < Length::ZERO || deviation > MOST {
            return Err(HandsError::Deviation {
                operation,
                asked: deviation,
            });
        }
        for (one, slot) in Operation::ALL.iter().zip(&mut self.deviations) {
            if *one == operation {
                *slot = deviation;
            }
        }
        Ok(self)
    }
}

/// Hands as stored: checked on the way in.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct HandsParts {
    cut: Length,
    score: Length,
    punch: Length,
    calibration: Length,
    draw: Length,
    fold: Length,
}

impl TryFrom<HandsParts> for Hands {
    type Error = HandsError;

    fn try_from(parts: HandsParts) -> Result<Self, HandsError> {
        let given = [
            parts.cut,
            parts.score,
            parts.punch,
            parts.calibration,
            parts.draw,
            parts.fold,
        ];
        let all = Operation::ALL.into_iter().zip(given);
        all.into_iter()
            .try_fold(Self::beginner(), |hands, (operation, deviation)| {
                hands.with(operation, deviation)
            })
    }
}

impl From<Hands> for HandsParts {
    fn from(hands: Hands) -> Self {
        let [cut, score, punch, calibration, draw, fold] = hands.deviations;
        Self {
            cut,
            score,
            punch,
            calibration,
            draw,
            fold,
        }
    }
}

#[cfg(test)]
mod tests {
    use insta::assert_snapshot;

    use super::*;

    #[test]
    fn hands_are_stored_by_name_and_come_back() {
        let json = serde_json::to_string(&Hands::beginner()).unwrap();
        assert_snapshot!(json, @r#"{"cut":"0.4 mm","score":"0.4 mm","punch":"0.4 mm","calibration":"0.17 mm","draw":"0.4 mm","fold":"0.2 mm"}"#);
        assert_eq!(
            serde_json::from_str::<Hands>(&json).unwrap(),
            Hands::beginner()
        );
        let typed = json.replace("0.4 mm", "1/64 in");
        let hands: Hands = serde_json::from_str(&typed).unwrap();
        assert_eq!(hands.deviation(Operation::Cut).nm(), 396_875);
    }

    #[test]
    fn a_deviation_that_no_hand_has_is_refused_by_name() {
        let wrong = Hands::beginner().with(Operation::Score, Length::from_mm(25));
        assert_snapshot!(wrong.expect_err("refused"), @"score: 25 mm is no deviation of hands. Type one from 0 to 10 mm, such as 0.4 mm.");
        let json = serde_json::to_string(&Hands::practised()).unwrap();
        let wrong = serde_json::from_str::<Hands>(&json.replace("0.17 mm", "11 mm"));
        assert_snapshot!(wrong.expect_err("refused"), @"calibration: 11 mm is no deviation of hands. Type one from 0 to 10 mm, such as 0.4 mm.");
    }

    /// Two deviations are the usual 1/32 in and 1/64 in, to a twentieth of a millimetre (common
    /// practice, no source).
    #[test]
    fn two_deviations_are_the_usual_limits() {
        for (hands, limit) in [
            (Hands::beginner(), 25.4 / 32.0),
            (Hands::practised(), 25.4 / 64.0),
        ] {
            for operation in [Operation::Cut, Operation::Score, Operation::Punch] {
                assert!((hands.limit_mm(operation) - limit).abs() < 0.05);
            }
        }
    }
}
