//! One page: the template's lines and names, and what stands round them.

use tablefold_geometry::{Fold, Point};

use super::drawing::Drawing;
use super::frame::{self, Entry, Words};
use super::labels::labels;
use super::laid::Laid;
use super::pen::{Line, Pen};
use super::quad::Quad;
use super::tiles::Place;

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Shows {
    All,
    Cuts,
    Scores,
}

impl Shows {
    pub(super) fn cuts(self) -> bool {
        self != Self::Scores
    }

    pub(super) fn scores(self) -> bool {
        self != Self::Cuts
    }
}

impl Laid<'_> {
    /// Draws one tile of the template; `page` is its number and how many there are.
    pub(super) fn draw(
        &self,
        pen: &mut Pen<'_, '_>,
        tile: Place,
        shows: Shows,
        page: (usize, usize),
    ) {
        let shown = self.tiling.shows(tile);
        let to_page = Point::new(self.window.left - shown.left, self.window.top - shown.top);
        let words = self.words(tile, shows, page);
        let mut taken = Vec::new();
        if self.is_sheet {
            for block in self.notes(words.legend.len()) {
                block.draw(pen, &words);
                let corners = block.takes().0;
                let back = |p: Point| Point::new(p.x - to_page.x, p.y - to_page.y);
                taken.push(Quad(corners.map(back)));
            }
        } else {
            frame::draw(pen, self.page, &words);
        }
        let joins = self.joins(tile);
        taken.extend(joins.iter().map(|join| join.takes()));
        pen.within(to_page, 0.0, |pen| {
            pen.clipped(&shown.corners(), |pen| {
                joins.iter().for_each(|join| join.draw(pen));
                self.draw_lines(pen, shows);
                for label in labels(&self.drawing, &self.own(tile), taken) {
                    pen.fill(&label.takes.0, 255);
                    pen.within(label.middle, label.angle_deg, |pen| {
                        pen.words(Point::new(0.0, 0.0), label.size, &label.lines);
                    });
                }
            });
        });
    }

    fn draw_lines(&self, pen: &mut Pen<'_, '_>, shows: Shows) {
        let drawing = &self.drawing;
        if shows.scores() {
            for glue in &drawing.glue {
                let line = match glue.behind {
                    true => Line::HatchBehind,
                    false => Line::Hatch,
                };
                pen.hatch(&glue.outline, line);
            }
            for crease in &drawing.creases {
                pen.line(&crease.points, false, Line::Fold(crease.fold));
            }
        }
        // Scores alone would not say where the paper lies.
        let edge = if shows.cuts() { Line::Cut } else { Line::Edge };
        for cut in &drawing.cuts {
            pen.line(&cut.points, cut.closed, edge);
        }
    }

    fn words(&self, tile: Place, shows: Shows, page: (usize, usize)) -> Words<'_> {
        let lines = match shows {
            Shows::All => "",
            Shows::Cuts => " (cuts only)",
            Shows::Scores => " (scores only)",
        };
        Words {
            title: format!("{}{lines}", self.template.title),
            notes: &self.template.notes,
            page,
            legend: self.legend(shows),
            tile: (self.tiles.len() > 1).then_some((&self.tiling, &self.tiles, tile)),
        }
    }

    fn legend(&self, shows: Shows) -> Vec<Entry> {
        let Drawing { creases, glue, .. } = &self.drawing;
        let folds = |fold| shows.scores() && creases.iter().any(|crease| crease.fold == fold);
        let glued = |behind| shows.scores() && glue.iter().any(|area| area.behind == behind);
        let entries = [
            (shows.cuts(), Entry::CUT),
            (!shows.cuts(), Entry::EDGE),
            (self.tiles.len() > 1, Entry::JOIN),
            (folds(Fold::Valley), Entry::VALLEY),
            (folds(Fold::Mountain), Entry::MOUNTAIN),
            (glued(false), Entry::GLUE),
            (glued(true), Entry::GLUE_BEHIND),
        ];
        let shown = entries.into_iter().filter(|(shown, _)| *shown);
        shown.map(|(_, entry)| entry).collect()
    }
}
