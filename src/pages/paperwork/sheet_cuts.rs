//! How sheets are cut: a picture of each pattern, and the cuts by fence setting.

use tablefold_geometry::{
    CutDirection, CutPart, Length, PatternUse, Ruler, SheetPicture, both, part_letter,
    sheet_picture,
};

use super::batches::Helper;
use super::counted;
use crate::pages::both::Both;
use crate::pages::picture::Picture;
use crate::pages::picture_sizes::on_cut_card;
use crate::workshop::{ClassFacts, CutBatch, CutRow, Freed, Packet, PaperPull};

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

/// Work at the trimmer from the first fence setting to the last.
#[derive(Clone, Debug)]
pub struct PassView {
    /// What it is about.
    pub title: String,
    /// Its fence settings.
    pub settings: Vec<CutView>,
}

/// All cuts at one setting.
#[derive(Clone, Debug)]
pub struct CutView {
    /// Who cuts.
    pub helper: Helper,
    /// On the trimmer's ruler.
    pub setting: String,
    /// On the other ruler; where the trimmer has no such mark, that too.
    pub other: String,
    /// Sheets that are cut alike, with how many pieces of what each cut frees.
    pub sheets: Vec<(String, Vec<(u32, String)>)>,
}

pub(super) fn layouts(paper_index: usize, paper: &PaperPull, ruler: &Ruler) -> Vec<LayoutView> {
    let view = |(index, sheets): (usize, &PatternUse)| LayoutView {
        paper: way(paper, index),
        count: {
            let count = counted(u64::from(sheets.count), "sheet", "sheets");
            format!("{count}{} like this", of_size(paper, sheets, ruler))
        },
        picture: picture((paper_index, paper), (index, sheets), ruler),
        key: key(paper, sheets, ruler),
    };
    paper.plan().sheets.iter().enumerate().map(view).collect()
}

pub(super) fn picture(
    (paper_index, paper): (usize, &PaperPull),
    (index, sheets): (usize, &PatternUse),
    ruler: &Ruler,
) -> Picture {
    let facts = SheetPicture {
        ruler,
        sheet: {
            let sheet = &paper.size_of(sheets).paper;
            (sheet.width, sheet.height)
        },
        placed: &sheets.placed,
        cuts: &sheets.cuts,
    };
    Picture::of(
        &sheet_picture(facts, on_cut_card()),
        &format!("l{paper_index}-{index}"),
    )
}

pub(super) fn key(paper: &PaperPull, sheets: &PatternUse, ruler: &Ruler) -> Vec<KeyLine> {
    let line = |(index, part): (usize, &CutPart)| {
        let count = sheets.placed.iter().filter(|p| p.demand == index).count();
        (count > 0).then(|| KeyLine {
            letter: part_letter(index),
            part: part.name.clone(),
            width: ruler.text(part.width),
            height: ruler.text(part.height),
            count,
        })
    };
    paper.demands.iter().enumerate().filter_map(line).collect()
}

/// All cuts of the class, one fence setting after the other.
pub(super) fn passes(facts: &ClassFacts, packet: &Packet) -> Vec<PassView> {
    let trimmer = facts.project.trimmer;
    let view = |batch: &CutBatch| {
        let (setting, other) = fence(trimmer.ruler(), batch.setting);
        let mut sheets: Vec<(String, Vec<(u32, String)>)> = Vec::new();
        for row in &batch.rows {
            let paper = &packet.pull.papers[row.sheet.0];
            let what = freed(paper, row, trimmer.ruler());
            let from = cut_from(row, trimmer.ruler());
            let line = (row.pieces, format!("{what}, {from}"));
            let title = way(paper, row.sheet.1);
            match sheets.last_mut().filter(|(last, _)| *last == title) {
                Some((_, lines)) => lines.push(line),
                None => sheets.push((title, vec![line])),
            }
        }
        CutView {
            helper: Helper::new(vec![batch.key()], format!("cutting at {setting}")),
            setting,
            other,
            sheets,
        }
    };
    let settings: Vec<CutView> = packet.prep.cuts.iter().map(view).collect();
    if settings.is_empty() {
        return Vec::new();
    }
    let at_once = u64::from(trimmer.at_once());
    vec![PassView {
        title: format!(
            "One fence setting after the other, {}",
            counted(at_once, "sheet at a time", "sheets at once"),
        ),
        settings,
    }]
}

/// "Moss card", or "Moss card, way 1 of 2" where its sheets are not all cut alike.
pub(super) fn way(paper: &PaperPull, pattern: usize) -> String {
    let all = &paper.plan().sheets;
    let Some(sheets) = all.get(pattern) else {
        return paper.name.clone();
    };
    let name = &paper.size_of(sheets).paper.name;
    let of_size = |sheets: &&PatternUse| sheets.stock == all[pattern].stock;
    let ways = all.iter().filter(of_size).count();
    let before = all[..pattern].iter().filter(of_size).count();
    match ways {
        1 => name.clone(),
        ways => format!("{name}, way {} of {ways}", before + 1),
    }
}

/// " of 8 1/4 × 11 11/16 in" where a paper has several sizes.
pub(super) fn of_size(paper: &PaperPull, sheets: &PatternUse, ruler: &Ruler) -> String {
    if paper.sizes.len() < 2 {
        return String::new();
    }
    let size = paper.size_of(sheets);
    let sides = Both::sides(ruler, size.paper.width, size.paper.height).own;
    let turned = if size.is_turned {
        ", turned a quarter for the grain"
    } else {
        ""
    };
    format!(" of {sides}{turned}")
}

/// A fence setting on the trimmer's ruler, and small beside it the other ruler; what the ruler
/// does not have is said.
pub(super) fn fence(ruler: &Ruler, setting: Length) -> (String, String) {
    let (own, other) = both(ruler, setting);
    if ruler.has(setting) {
        (own, other)
    } else if own.starts_with('≈') {
        let exact = setting.exact_text();
        (own, format!("between two marks: exactly {exact}"))
    } else {
        let end = ruler.text(ruler.longest());
        (
            own,
            format!("{other}; your ruler ends at {end}: mark it and cut"),
        )
    }
}

/// What a cut frees: "A Seed box: tag", "strips 2 × 12 in".
pub(super) fn freed(paper: &PaperPull, row: &CutRow, ruler: &Ruler) -> String {
    match row.what {
        Freed::Part(index) => {
            let name = paper
                .demands
                .get(index)
                .map_or("", |part| part.name.as_str());
            format!("{} {name}", part_letter(index))
        }
        Freed::Strip(width, height) => {
            let strips = if row.pieces == 1 { "strip" } else { "strips" };
            format!("{strips} {}", Both::sides(ruler, width, height).own)
        }
    }
}

/// What is cut: "from the sheet, along its width".
pub(super) fn cut_from(row: &CutRow, ruler: &Ruler) -> String {
    let side = match row.along {
        CutDirection::Width => "width",
        CutDirection::Height => "height",
    };
    if row.is_sheet {
        return format!("from the sheet, along its {side}");
    }
    let size = Both::sides(ruler, row.from.0, row.from.1).own;
    let along = match row.along {
        CutDirection::Width => row.from.0,
        CutDirection::Height => row.from.1,
    };
    format!("from the strip {size}, along its {}", ruler.text(along))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::demo;
    use crate::workshop::{packet, plan_now};

    #[test]
    fn pictures_hold_every_part_that_is_cut() {
        let facts = demo::class(14);
        let packet = packet(&facts, &plan_now).expect("balances");
        for paper in &packet.pull.papers {
            let views = paper.plan().sheets.iter().map(|sheets| {
                let key = key(paper, sheets, &packet.recipe.ruler);
                key.iter().map(|line| line.count).sum::<usize>() * sheets.count as usize
            });
            let wanted: u32 = paper.demands.iter().map(|part| part.quantity).sum();
            let shown = views.sum::<usize>();
            assert!(shown >= wanted as usize, "{}", paper.name);
        }
    }

    #[test]
    fn a_setting_that_the_ruler_lacks_is_named() {
        let ruler = Ruler::inch(16);
        let said = |length| {
            let (own, other) = fence(&ruler, length);
            format!("{own} ({other})")
        };
        insta::assert_snapshot!(said(Length::inches(5)), @"5 in (127 mm)");
        insta::assert_snapshot!(said(Length::from_mm(40)), @"≈ 1 9/16 in (between two marks: exactly 40 mm)");
        insta::assert_snapshot!(said(Length::inches(14)), @"14 in (≈ 356 mm; your ruler ends at 12 in: mark it and cut)");
    }
}
