//! Labels, sizes and sentences of a flat picture.

use super::{Anchor, Canvas, Flat, FlatNow, LabelStyle, PanelId, Point, Shape, Side, Solid};
use super::{WasteReason, middle};
use crate::picture::scene::{TextSize, for_other_hand};

const SMALL_NOW: LabelStyle = LabelStyle {
    size: TextSize::Small,
    now: true,
};

impl Flat<'_> {
    pub(super) fn write(&self, canvas: &mut Canvas) {
        match self.facts.now {
            FlatNow::Template => self.write_sizes(canvas),
            FlatNow::Fold(_) => self.write_panels(canvas, &self.moving(), SMALL_NOW),
            FlatNow::Glue(_) => {
                if let Some(zone) = self.zone() {
                    let words = match (zone.on_side, self.up) {
                        (Side::Outside, Side::Inside) => "glue on its outside",
                        _ => "glue",
                    };
                    let area = self.on(zone.on, &zone.area);
                    canvas.name(words, SMALL_NOW, &area, self.glue_at(zone), &self.paper());
                    self.write_panels(canvas, &[zone.to], LabelStyle::SMALL);
                }
            }
            FlatNow::TakeOff(_) => {
                let off: Vec<_> = self.attached().filter(|(_, now)| *now).collect();
                for (waste, _) in off {
                    let at = self.turn() * middle(&waste.outline);
                    canvas.label_if_room("off", LabelStyle::NOW, &canvas.around(at)[1..]);
                }
            }
            FlatNow::Cuts => {
                for (index, cut) in self.pattern.cuts.iter().enumerate() {
                    let at = self.turn() * cut.a.midpoint(cut.b);
                    let number = (index + 1).to_string();
                    canvas.label_if_room(&number, LabelStyle::NOW, &canvas.around(at)[1..]);
                }
            }
            FlatNow::TurnOver => {
                let view = canvas.view();
                let at = Point::new(view.center().x, view.y0 + 17.0 * canvas.u());
                canvas.label("turn over", LabelStyle::NOW, &[(at, Anchor::Middle)], None);
            }
            FlatNow::Burnish => {}
        }
        self.write_side(canvas);
    }

    /// Which side of the paper faces you, in a corner below the paper.
    fn write_side(&self, canvas: &mut Canvas) {
        let (u, view) = (canvas.u(), canvas.view());
        let words = match (self.up, self.facts.now) {
            (_, FlatNow::TurnOver) => "inside up, then outside up",
            (Side::Inside, _) => "inside up",
            (Side::Outside, _) => "turned over: outside up",
        };
        let y = view.y1 - 3.2 * u;
        let places = [
            (Point::new(view.x0 + 2.0 * u, y), Anchor::Start),
            (Point::new(view.x1 - 2.0 * u, y), Anchor::End),
        ];
        canvas.label(words, LabelStyle::SMALL, &places, None);
    }

    fn write_panels(&self, canvas: &mut Canvas, panels: &[PanelId], style: LabelStyle) {
        for id in panels {
            if let Some(panel) = self.pattern.panel(*id) {
                let at = self.middle_of(*id);
                canvas.name(
                    &self.said(panel.name),
                    style,
                    &self.panel(*id),
                    at,
                    &self.paper(),
                );
            }
        }
    }

    fn write_sizes(&self, canvas: &mut Canvas) {
        let text = |mm: f64| self.facts.ruler.text_mm(mm);
        let turned: Vec<Point> = self
            .pattern
            .blank
            .iter()
            .map(|p| self.turn() * *p)
            .collect();
        let first = turned.iter().zip(turned.iter().cycle().skip(1)).take(2);
        for (a, b) in first {
            // The pattern runs counter-clockwise, so in the picture the outside is to the right.
            canvas.dimension(*a, *b, -3.0, &text((*b - *a).hypot()), LabelStyle::SMALL);
        }
        let Some(root) = self.pattern.panel(self.pattern.root) else {
            return;
        };
        let bounds = self.sheet(&root.outline).bounding_box();
        let (a, b) = (
            Point::new(bounds.x0, bounds.y1),
            Point::new(bounds.x1, bounds.y1),
        );
        let c = Point::new(bounds.x1, bounds.y0);
        canvas.dimension(a, b, 4.0, &text(bounds.width()), LabelStyle::SMALL);
        canvas.dimension(b, c, 4.0, &text(bounds.height()), LabelStyle::SMALL);
        if let Solid::Box { z, .. } = self.pattern.solid {
            let y = bounds.y0 + 0.35 * bounds.height();
            let (from, to) = (Point::new(bounds.x1, y), Point::new(bounds.x1 + z, y));
            canvas.dimension(from, to, 0.0, &text(z), LabelStyle::SMALL);
        }
        self.write_names(canvas);
    }

    /// Names of the panels that have room for theirs.
    fn write_names(&self, canvas: &mut Canvas) {
        for panel in &self.pattern.panels {
            let at = self.turn() * middle(&panel.outline);
            let room = self.sheet(&panel.outline).bounding_box();
            let places: Vec<_> = canvas.around(at).into_iter().take(9).collect();
            canvas.label_if_inside(&self.said(panel.name), LabelStyle::SMALL, &places, room);
        }
    }

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
            FlatNow::Cuts => "Cut along the thick lines".to_owned(),
            FlatNow::TakeOff(WasteReason::Notch) => "Cut the notches out".to_owned(),
            FlatNow::TakeOff(WasteReason::Trim) => "Trim the points off".to_owned(),
            FlatNow::TakeOff(WasteReason::Rounded) => "Round the corners".to_owned(),
            FlatNow::Burnish => "Fold every score sharply".to_owned(),
            FlatNow::Fold(_) => format!("Fold {}", self.fold().map_or("", |step| step.name)),
            FlatNow::Glue(_) => format!("Glue {}", self.zone().map_or("", |zone| zone.name)),
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
            FlatNow::TakeOff(why) => {
                let count = self
                    .pattern
                    .waste
                    .iter()
                    .filter(|waste| waste.why == why)
                    .count();
                let what = match why {
                    WasteReason::Notch => "notches are cut out",
                    WasteReason::Trim => "points are cut off along the thick lines",
                    WasteReason::Rounded => "corners are rounded along the thick lines",
                };
                format!("{lies} {count} {what}.")
            }
            FlatNow::Burnish => format!(
                "{lies} Fold along each of its {} scores towards you, press it sharp, and open it.",
                self.pattern.creases.len()
            ),
            FlatNow::Fold(_) => self.fold_in_words(&lies),
            FlatNow::Glue(_) => self.zone().map_or(lies.clone(), |zone| {
                let panel = |id| self.pattern.panel(id).map_or("paper", |panel| panel.name);
                let side = match zone.on_side {
                    Side::Inside => "inside",
                    Side::Outside => "outside",
                };
                format!(
                    "{lies} Glue goes on the {side} of the {}, on the hatched area; it sticks to \
                     the {}.",
                    panel(zone.on),
                    panel(zone.to)
                )
            }),
            FlatNow::TurnOver => {
                format!("{lies} Turn it over like a page, so that the outside is up.")
            }
        }
    }

    fn fold_in_words(&self, lies: &str) -> String {
        let Some(step) = self.fold() else {
            return lies.to_owned();
        };
        let folds = step.creases.iter().filter_map(|(id, angle)| {
            let crease = self.pattern.creases.get(id.0)?;
            let panel = self.pattern.panel(crease.child)?;
            let way = if *angle < 0.0 {
                "away from you"
            } else {
                "towards you"
            };
            Some(match angle.abs().round() as u32 {
                90 => format!("Fold the {} {way} until it stands up straight.", panel.name),
                180 => format!("Fold the {} {way} until it lies flat.", panel.name),
                degrees => format!("Fold the {} {way} by {degrees}°.", panel.name),
            })
        });
        std::iter::once(lies.to_owned())
            .chain(folds)
            .collect::<Vec<_>>()
            .join(" ")
    }

    fn sizes_in_words(&self) -> String {
        let text = |mm: f64| self.facts.ruler.text_mm(mm);
        match &self.pattern.solid {
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
