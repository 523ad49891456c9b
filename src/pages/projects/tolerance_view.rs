//! What the hands of a class make of a piece: how many of 100 succeed, and why the rest do not.

use tablefold_geometry::{
    Clearance, ClearanceError, ContentsBox, Hands, Length, Looser, Measure, MeasureKind,
    NotReached, Ruler, Structure, Unit, WantedShare, looser_for, tolerance,
};

use super::fit_fields::fine;
use crate::forms::length_text;
use crate::pages::both::Both;
use crate::recipe::{MadePiece, PieceFacts, ProjectFacts, capital, sizing_request};

/// What hands make of a piece.
pub(super) struct ToleranceView {
    /// Of 100 makers, how many make a piece that takes its contents and closes.
    pub(super) of_100: u32,
    pub(super) wanted: u32,
    /// "beginners", "practised hands", "hands with your numbers".
    pub(super) whose: &'static str,
    pub(super) measures: Vec<MeasureRow>,
    pub(super) left_out: Vec<String>,
    pub(super) advice: Option<Advice>,
}

/// A measure with what is left, and how much it is off.
pub(super) struct MeasureRow {
    pub(super) name: String,
    pub(super) room: Both,
    pub(super) worst: Both,
    pub(super) likely: Both,
    pub(super) of_100: u32,
}

/// What would do for the wanted share.
pub(crate) enum Advice {
    /// A button that takes it.
    Take(Take),
    /// Nothing does: why, and what else would.
    None(String),
}

/// A clearance, and play where it takes that too.
pub(crate) struct Take {
    /// "Take 5/32 in of clearance".
    pub(super) label: String,
    /// What the button sends: the clearance, then the play.
    pub(super) value: String,
    pub(super) of_100: u32,
    /// Whether the piece has it already.
    pub(super) is_now: bool,
}

/// Splits what a [`Take`] sends.
pub(super) fn taken(value: &str) -> (&str, Option<&str>) {
    match value.split_once(" + ") {
        Some((clearance, play)) => (clearance, Some(play)),
        None => (value, None),
    }
}

impl ToleranceView {
    pub(super) fn new(
        project: &ProjectFacts,
        facts: &PieceFacts,
        made: &MadePiece,
    ) -> Option<Self> {
        let contents = made.structure.block_of(&made.axes, &facts.spec.contents)?;
        Some(Self::of(project, &made.structure, &contents))
    }

    fn of(project: &ProjectFacts, structure: &Structure, contents: &ContentsBox) -> Self {
        let found = tolerance(structure, contents, &project.hands);
        let ruler = fine(project.board.ruler());
        Self {
            of_100: of_100(found.together.share),
            wanted: project.wanted_of_100,
            whose: whose(&project.hands),
            measures: found.measures.iter().map(|it| row(it, &ruler)).collect(),
            left_out: found.left_out,
            advice: None,
        }
    }

    /// With the least clearance that does for the share that is wanted.
    pub(super) fn advised(mut self, project: &ProjectFacts, facts: &PieceFacts) -> Self {
        if facts.spec.by_hand.is_none() {
            self.advice = Some(advice(project, facts));
        }
        self
    }

    pub(super) fn is_enough(&self) -> bool {
        self.of_100 >= self.wanted
    }
}

/// "beginners", "practised hands", or that the numbers are the instructor's own.
fn whose(hands: &Hands) -> &'static str {
    if *hands == Hands::beginner() {
        "beginners"
    } else if *hands == Hands::practised() {
        "practised makers"
    } else {
        "makers with your numbers"
    }
}

/// Whole makers: 94.9 of 100 are not 95.
fn of_100(share: f64) -> u32 {
    (100.0 * share + 1e-9).floor().clamp(0.0, 100.0) as u32
}

fn row(measure: &Measure, ruler: &Ruler) -> MeasureRow {
    MeasureRow {
        name: capital(&measure.kind.name()),
        room: Both::mm(ruler, measure.room_mm.max(0.0)),
        worst: Both::mm(ruler, measure.worst_mm),
        likely: Both::mm(ruler, measure.likely_mm),
        of_100: of_100(measure.share),
    }
}

fn advice(project: &ProjectFacts, facts: &PieceFacts) -> Advice {
    let kind = facts.spec.structure;
    let ruler = project.board.ruler();
    let (grid, most) = grid(ruler.unit());
    let wanted = WantedShare {
        share: f64::from(project.wanted_of_100) / 100.0,
        grid,
        most,
    };
    let request = sizing_request(project, facts, Some(kind));
    match looser_for(&request, kind, &project.hands, &wanted) {
        Ok(found) => Advice::Take(take(&found, facts.spec.clearance, ruler)),
        Err(ClearanceError::NotReached(best)) => Advice::None(not_reached(&best, facts, ruler)),
        Err(error) => Advice::None(error.to_string()),
    }
}

/// Steps in which clearance is tried, and the most.
fn grid(unit: Unit) -> (Length, Length) {
    match unit {
        Unit::Inch => (Length::from_nm(793_750), Length::from_nm(9_525_000)),
        _ => (Length::from_nm(500_000), Length::from_mm(9)),
    }
}

fn take(found: &Looser, now: Length, ruler: &Ruler) -> Take {
    let Clearance {
        clearance,
        tolerance,
        ..
    } = &found.clearance;
    let is_now = *clearance == now && found.play.is_none();
    let clearance = length_text(ruler, *clearance);
    let play = found.play.map(|play| length_text(ruler, play));
    let (label, value) = match play {
        Some(play) => (
            format!("Take {clearance} of clearance and {play} of play"),
            format!("{clearance} + {play}"),
        ),
        None => (format!("Take {clearance} of clearance"), clearance),
    };
    Take {
        label,
        value,
        of_100: of_100(tolerance.together.share),
        is_now,
    }
}

fn not_reached(best: &NotReached, facts: &PieceFacts, ruler: &Ruler) -> String {
    let fine = fine(ruler);
    let tried = match facts.spec.structure.fit() {
        Some(_) => "No clearance and no play that this program tries",
        None => "No clearance that this program tries",
    };
    let mut text = format!(
        "{tried} is enough for {} of 100. The best reaches {}, with {} of clearance.",
        of_100(best.wanted.share),
        of_100(best.best.tolerance.together.share),
        length_text(ruler, best.best.clearance),
    );
    if let Some(measure) = best.held_back_by() {
        let (room, needs) = (measure.room_mm, measure.room_for_mm(best.wanted.share));
        text.push_str(&format!(
            " The {} fails most often: it has {} to spare and needs {}.",
            measure.kind.name(),
            fine.text_mm(room.max(0.0)),
            fine.text_mm(needs),
        ));
    }
    text.push(' ');
    text.push_str(match best.held_back_by().map(|it| it.kind) {
        Some(MeasureKind::Glue { .. }) => {
            "Clearance does not widen it. Choose another structure, or cut and score the sheets yourself before the class."
        }
        _ => "Cut and score the sheets yourself before the class, choose another structure, or ask for fewer of 100.",
    });
    text
}
