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
        let sheet = self.facts.board.ruler().text(self.facts.sheet);
        let side = self.side;
        match self.facts.now {
            PunchNow::Turn => format!(
                "A sheet {sheet} square, turned a quarter counter-clockwise. Side {side} of 4 is now \
                 at the fence."
            ),
            _ => {
                let what = if side == 1 {
                    self.by_the_ruler()
                } else {
                    self.by_the_guide()
                };
                format!("A sheet {sheet} square with its edge at the fence{what} Side {side} of 4.")
            }
        }
    }

    fn by_the_ruler(&self) -> String {
        let ruler = self.facts.board.ruler();
        let punches: Vec<String> = self.facts.punches.iter().map(|p| ruler.text(*p)).collect();
        match self.facts.now {
            PunchNow::Punch(index) => format!(
                ", its left corner at {} on the ruler. Punch, then score down to the right. Punch {} \
                 of {}.",
                punches.get(index).map_or("no mark", String::as_str),
                index.saturating_add(1),
                punches.len(),
            ),
            _ => format!(". Punch and score at {}.", punches.join(", then at ")),
        }
    }

    fn by_the_guide(&self) -> String {
        let before = self.side - 1;
        match self.facts.now {
            PunchNow::Punch(index) => format!(
                ", moved until score {} of side {before} meets the guide. Punch, then score down to \
                 the right. Punch {} of {}.",
                index.saturating_add(1),
                index.saturating_add(1),
                self.facts.punches.len(),
            ),
            _ => format!(
                ". For each score of side {before}: move the sheet until that score meets the guide, \
                 punch, then score down to the right."
            ),
        }
    }
}
