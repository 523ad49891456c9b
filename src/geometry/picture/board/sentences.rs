//! The title of a punch picture and its text alternative.

use super::{OnBoard, PunchNow};

impl OnBoard<'_> {
    pub(super) fn title(&self) -> String {
        match self.facts.now {
            PunchNow::Turn => format!("Turn the sheet to side {} of 4", self.side),
            _ => format!("Punch and score side {} of 4", self.side),
        }
    }

    pub(super) fn description(&self) -> String {
        let ruler = self.facts.board.ruler();
        let sheet = ruler.text(self.facts.sheet);
        let side = self.side;
        let count = self.facts.punches.len();
        match self.facts.now {
            PunchNow::Turn => format!(
                "A sheet {sheet} square, turned a quarter counter-clockwise. Side {side} of 4 is now \
                 at the fence."
            ),
            PunchNow::Punch(index) if side == 1 => {
                let at = self
                    .facts
                    .punches
                    .get(index)
                    .map(|p| ruler.text(*p))
                    .unwrap_or_default();
                format!(
                    "A sheet {sheet} square with its edge at the fence, its left corner at {at} on \
                     the ruler. Punch, then score down to the right. Punch {} of {count}. Side 1 of 4.",
                    index + 1,
                )
            }
            PunchNow::AlongGuide if side == 1 => format!(
                "A sheet {sheet} square with its edge at the fence. Punch and score at {}. Side 1 of 4.",
                self.facts
                    .punches
                    .iter()
                    .map(|p| ruler.text(*p))
                    .collect::<Vec<_>>()
                    .join(", then at "),
            ),
            PunchNow::Punch(index) => format!(
                "A sheet {sheet} square with its edge at the fence, moved until score {} of side {} \
                 meets the guide. Punch, then score down to the right. Punch {} of {count}. Side {side} \
                 of 4.",
                index + 1,
                side - 1,
                index + 1,
            ),
            PunchNow::AlongGuide => format!(
                "A sheet {sheet} square with its edge at the fence. For each score of side {}: move the \
                 sheet until that score meets the guide, punch, then score down to the right. Side \
                 {side} of 4.",
                side - 1,
            ),
        }
    }
}
