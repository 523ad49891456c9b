//! How sheets are cut: a picture of each layout, and the cuts by fence setting.

use tablefold_geometry::{Ruler, SheetLayout, SheetPicture, both, part_letter, sheet_picture};

use super::counted;
use crate::pages::picture::Picture;
use crate::workshop::{ClassFacts, Packet, PaperPull, Pass};

/// Sheets that are cut alike.
#[derive(Clone, Debug)]
pub struct LayoutView {
    /// The paper.
    pub paper: String,
    /// "2 sheets like this".
    pub count: String,
    /// How the parts lie.
    pub picture: Picture,
    /// What the letters stand for.
    pub key: Vec<KeyLine>,
}

/// What a letter on a sheet stands for.
#[derive(Clone, Debug)]
pub struct KeyLine {
    /// As it stands in the picture.
    pub letter: String,
    /// Which part.
    pub part: String,
    /// Along the sheet's width, where it may not be turned.
    pub width: String,
    /// Along the sheet's height.
    pub height: String,
    /// How many on a sheet.
    pub count: usize,
}

/// One pass of the trimmer.
#[derive(Clone, Debug)]
pub struct PassView {
    /// What it is about.
    pub title: &'static str,
    /// Its fence settings.
    pub settings: Vec<CutView>,
}

/// All cuts at one setting.
#[derive(Clone, Debug)]
pub struct CutView {
    /// On the trimmer's ruler.
    pub setting: String,
    /// On the other ruler.
    pub other: String,
    /// Paper, what comes off, how many.
    pub rows: Vec<(String, String, u32)>,
}

pub(super) fn layouts(paper_index: usize, paper: &PaperPull, ruler: &Ruler) -> Vec<LayoutView> {
    let plan = &paper.plan;
    let view = |(index, layout): (usize, &SheetLayout)| {
        let facts = SheetPicture {
            ruler,
            plan,
            layout,
        };
        LayoutView {
            paper: paper.paper.name.clone(),
            count: counted(
                u64::from(layout.count),
                "sheet like this",
                "sheets like this",
            ),
            picture: Picture::of(&sheet_picture(facts), &format!("l{paper_index}-{index}")),
            key: key(paper, layout, ruler),
        }
    };
    plan.layouts.iter().enumerate().map(view).collect()
}

fn key(paper: &PaperPull, layout: &SheetLayout, ruler: &Ruler) -> Vec<KeyLine> {
    let line = |(index, demand): (usize, &tablefold_geometry::Demand)| {
        let count = layout.placed.iter().filter(|p| p.demand == index).count();
        (count > 0).then(|| KeyLine {
            letter: part_letter(index),
            part: demand.part.clone(),
            width: ruler.text(demand.width),
            height: ruler.text(demand.height),
            count,
        })
    };
    paper.demands.iter().enumerate().filter_map(line).collect()
}

pub(super) fn passes(facts: &ClassFacts, packet: &Packet) -> Vec<PassView> {
    let titles = [
        (
            Pass::Strips,
            "First: strips, the sheet's width along the blade",
        ),
        (Pass::Across, "Second: across the strips"),
        (Pass::Trim, "Third: trim what is lower than its strip"),
    ];
    let ruler = facts.project.trimmer.ruler();
    let view = |(pass, title)| {
        let of_pass = packet.prep.cuts.iter().filter(|batch| batch.pass == pass);
        let settings: Vec<CutView> = of_pass.map(|batch| cut_view(batch, ruler)).collect();
        (!settings.is_empty()).then_some(PassView { title, settings })
    };
    titles.into_iter().filter_map(view).collect()
}

fn cut_view(batch: &crate::workshop::CutBatch, ruler: &Ruler) -> CutView {
    let (setting, other) = both(ruler, batch.setting);
    let what = |row: &crate::workshop::CutRow| match (row.what.as_str(), row.pieces) {
        ("strips", 1) => "strip".to_owned(),
        (what, _) => what.to_owned(),
    };
    let row = |row: &crate::workshop::CutRow| (row.paper.clone(), what(row), row.pieces);
    CutView {
        setting,
        other,
        rows: batch.rows.iter().map(row).collect(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::demo;
    use crate::workshop::packet;

    #[test]
    fn layouts_hold_every_part_that_is_cut() {
        let facts = demo::class(14);
        let packet = packet(&facts).expect("balances");
        for paper in &packet.pull.papers {
            let views = paper.plan.layouts.iter().map(|layout| {
                let key = key(paper, layout, facts.project.trimmer.ruler());
                key.iter().map(|line| line.count).sum::<usize>() * layout.count as usize
            });
            let wanted: u32 = paper.demands.iter().map(|demand| demand.quantity).sum();
            assert_eq!(
                views.sum::<usize>(),
                wanted as usize,
                "{}",
                paper.paper.name
            );
        }
    }
}
