//! The title of a flat picture and its text alternative.

use super::{Flat, FlatNow, Shape, Side, Solid, WasteReason};
use crate::GlueZone;
use crate::picture::scene::for_other_hand;

impl Flat<'_> {
    /// Words as the hand that reads them says them.
    pub(super) fn said(&self, words: &str) -> String {
        if self.facts.mirrored {
            for_other_hand(words)
        } else {
            words.to_owned()
        }
    }

    pub(super) fn title(&self) -> String {
        let name = self.pattern.name;
        match self.facts.now {
            FlatNow::Template => format!("The {name} laid flat"),
            FlatNow::ScoreAlong => "Score along the thick lines".to_owned(),
            FlatNow::Cuts => "Cut along the thick lines".to_owned(),
            FlatNow::TakeOff(WasteReason::Notch) => "Cut the notches out".to_owned(),
            FlatNow::TakeOff(WasteReason::Trim) => "Trim the points off".to_owned(),
            FlatNow::TakeOff(WasteReason::Rounded) => "Round the corners".to_owned(),
            FlatNow::TakeOff(WasteReason::Shape) => "Cut out the shape".to_owned(),
            FlatNow::TakeOff(WasteReason::Window) => "Cut out the opening".to_owned(),
            FlatNow::Film(_) => "Glue film over the window".to_owned(),
            FlatNow::Burnish => "Fold every score sharply".to_owned(),
            FlatNow::Fold(_) | FlatNow::Folds(..) => {
                let names: Vec<&str> = self.folds.iter().map(|step| step.name).collect();
                format!("Fold {}", names.join(", then "))
            }
            FlatNow::Glue(_) | FlatNow::GlueBefore(_) => {
                let mut names: Vec<&str> = self.zones.iter().map(|zone| zone.name).collect();
                names.dedup();
                format!("Glue {}", names.join(", and "))
            }
            FlatNow::TurnOver => "Turn the paper over".to_owned(),
        }
    }

    pub(super) fn description(&self) -> String {
        let name = self.pattern.name;
        let up = match self.up {
            Side::Inside => "inside up",
            Side::Outside => "turned over, outside up",
        };
        let lies = format!("The paper for the {name} lies flat, {up}.");
        match self.facts.now {
            FlatNow::Template => format!("{lies} {}", self.sizes_in_words()),
            FlatNow::Cuts if self.pattern.cuts.is_empty() => format!("{lies} It needs no cuts."),
            FlatNow::Cuts => format!(
                "{lies} {} cuts, each from the edge up to the first score.",
                self.pattern.cuts.len()
            ),
            FlatNow::ScoreAlong => {
                format!("{lies} Score the thick lines along the template.")
            }
            FlatNow::TakeOff(why) => format!("{lies} {}", self.off_in_words(why)),
            FlatNow::Burnish => format!(
                "{lies} Fold along each of its {} scores towards you, press it sharp, and open it.",
                self.scores()
            ),
            FlatNow::Fold(_) | FlatNow::Folds(..) => format!("{lies} {}", self.folds_in_words()),
            FlatNow::Glue(_) | FlatNow::GlueBefore(_) => {
                let zones = self.zones.iter().map(|zone| self.glue_in_words(zone));
                let mut says: Vec<String> = std::iter::once(lies).chain(zones).collect();
                says.dedup();
                says.join(" ")
            }
            FlatNow::Film(side) => format!(
                "{lies} A square of film of {} lies over the window; it is glued to the paper all \
                 round, on the hatched area.",
                self.facts.ruler.text_mm(side)
            ),
            FlatNow::TurnOver => {
                format!("{lies} Turn it over like a page, so that the outside is up.")
            }
        }
    }

    /// How many scores there are: pieces of one bent crease are one.
    fn scores(&self) -> usize {
        let creases = self.pattern.creases.iter().filter(|crease| !crease.smooth);
        let mut names: Vec<&str> = creases.map(|crease| crease.name).collect();
        names.dedup();
        names.len()
    }

    fn off_in_words(&self, why: WasteReason) -> String {
        let count = self
            .pattern
            .waste
            .iter()
            .filter(|waste| waste.why == why)
            .count();
        let (one, many, how) = match why {
            WasteReason::Notch => ("notch is", "notches are", "cut out"),
            WasteReason::Trim => ("point is", "points are", "cut off along the thick line"),
            WasteReason::Rounded => ("corner is", "corners are", "rounded along the thick line"),
            WasteReason::Shape => ("bit is", "bits are", "cut off along the thick line"),
            WasteReason::Window => ("opening is", "openings are", "cut out along the thick line"),
        };
        match count {
            0 => "Nothing comes off.".to_owned(),
            1 => format!("1 {one} {how}."),
            n => format!("{n} {many} {how}."),
        }
    }

    fn glue_in_words(&self, zone: &GlueZone) -> String {
        let panel = |id| self.pattern.panel(id).map_or("paper", |panel| panel.name);
        let side = match zone.on_side {
            Side::Inside => "inside",
            Side::Outside => "outside",
        };
        format!(
            "Glue goes on the {side} of the {}, on the hatched area; it sticks to the {}.",
            panel(zone.on),
            panel(zone.to)
        )
    }

    fn folds_in_words(&self) -> String {
        let before = match self.facts.now {
            FlatNow::Fold(first) | FlatNow::Folds(first, _) => self.pattern.angles_after(first),
            _ => Vec::new(),
        };
        let folds = self.moves().into_iter().filter_map(|(id, angle)| {
            let crease = self.pattern.creases.get(id.0)?;
            let panel = self.pattern.panel(crease.child)?;
            let way = if angle < 0.0 {
                "away from you"
            } else {
                "towards you"
            };
            let opens = before
                .get(id.0)
                .map_or(0.0, |before| before.abs() - angle.abs());
            if opens > 1.0 {
                return Some(format!("Let the {} open by {opens:.0}°.", panel.name));
            }
            Some(match angle.abs().round() as u32 {
                90 => format!("Fold the {} {way} until it stands up straight.", panel.name),
                180 => format!("Fold the {} {way} until it lies flat.", panel.name),
                degrees => format!("Fold the {} {way} by {degrees}°.", panel.name),
            })
        });
        folds.collect::<Vec<_>>().join(" ")
    }

    /// Outside sizes, and how wide its openings are.
    fn sizes_in_words(&self) -> String {
        let wide = self.pattern.windows().map(|(window, _)| {
            let wide = self.sheet(&window.outline).bounding_box().width();
            format!(
                " An opening in it is {} wide.",
                self.facts.ruler.text_mm(wide)
            )
        });
        let mut said: Vec<String> = wide.collect();
        said.dedup();
        self.closed_in_words() + &said.concat()
    }

    fn closed_in_words(&self) -> String {
        let text = |mm: f64| self.facts.ruler.text_mm(mm);
        match &self.pattern.solid {
            faces @ Solid::Faces(_) => {
                let (low, high) = faces.bounds();
                let size = high - low;
                format!(
                    "Closed, it is {} wide, {} long and {} deep.",
                    text(size.x),
                    text(size.y),
                    text(size.z)
                )
            }
            Solid::Box { x, y, z, .. } => {
                format!(
                    "Closed, it is {} wide, {} long and {} deep.",
                    text(*x),
                    text(*y),
                    text(*z)
                )
            }
            Solid::Flat { x, y, .. } => format!("Closed, it is {} by {}.", text(*x), text(*y)),
        }
    }
}
