//! Checks a plan by doing what it says, with no knowledge of how it was found.

use super::job::CutJob;
use super::order::CutDirection;
use super::placed::Placed;
use super::plan::{PatternUse, Plan};
use crate::Length;

/// What is wrong with a plan.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum PlanFault {
    /// A stock or part number that the job doesn't have.
    #[error("pattern {pattern} names a sheet or part that the job doesn't have")]
    Unknown {
        /// Index of the pattern.
        pattern: usize,
    },
    /// Fewer parts than asked.
    #[error("part {part} is made {made} times, {wanted} are wanted")]
    TooFew {
        /// The part's name.
        part: String,
        /// How many the plan makes.
        made: u64,
        /// How many are wanted.
        wanted: u32,
    },
    /// More sheets than there are.
    #[error("sheet {stock} is used {used} times, there are {available}")]
    TooManySheets {
        /// The sheet's name.
        stock: String,
        /// How many the plan takes.
        used: u64,
        /// How many there are.
        available: u32,
    },
    /// A part that is not the size it should be, or turned where it may not be.
    #[error("pattern {pattern}: a piece for part {part} has the wrong size or is turned wrongly")]
    WrongSize {
        /// Index of the pattern.
        pattern: usize,
        /// The part's name.
        part: String,
    },
    /// A part beyond the sheet's edge.
    #[error("pattern {pattern}: part {part} lies beyond the edge")]
    BeyondEdge {
        /// Index of the pattern.
        pattern: usize,
        /// The part's name.
        part: String,
    },
    /// Two parts closer than the blade is wide.
    #[error("pattern {pattern}: two parts overlap or are closer than the kerf")]
    Overlap {
        /// Index of the pattern.
        pattern: usize,
    },
    /// A cut that can't be made.
    #[error("pattern {pattern}: cut {cut} can't be made")]
    BadCut {
        /// Index of the pattern.
        pattern: usize,
        /// Index of the cut.
        cut: usize,
    },
    /// A part that no piece of the cut sheet is.
    #[error("pattern {pattern}: the cuts do not free part {part}")]
    NotFreed {
        /// Index of the pattern.
        pattern: usize,
        /// The part's name.
        part: String,
    },
    /// More phases than allowed.
    #[error("pattern {pattern} takes {phases} phases, {most} are allowed")]
    Phases {
        /// Index of the pattern.
        pattern: usize,
        /// How many it takes.
        phases: u8,
        /// How many are allowed.
        most: u8,
    },
    /// The cost is not what the sheets cost.
    #[error("the plan says that it costs {said}, its sheets cost {cost}")]
    Cost {
        /// What the plan says.
        said: u64,
        /// What the sheets cost.
        cost: u64,
    },
}

/// Checks everything that a plan promises.
///
/// # Errors
/// [`PlanFault`], the first one found.
pub fn verify(job: &CutJob, plan: &Plan) -> Result<(), PlanFault> {
    let mut made = vec![0_u64; job.parts().len()];
    let mut used = vec![0_u64; job.stock().len()];
    for (pattern, sheets) in plan.sheets.iter().enumerate() {
        check_names(job, pattern, sheets)?;
        check_parts(job, pattern, sheets)?;
        check_apart(job, pattern, &sheets.placed)?;
        check_cuts(job, pattern, sheets)?;
        used[sheets.stock] += u64::from(sheets.count);
        for placed in &sheets.placed {
            made[placed.demand] += u64::from(sheets.count);
        }
    }
    for (part, &made) in job.parts().iter().zip(&made) {
        if made < u64::from(part.quantity) {
            return Err(PlanFault::TooFew {
                part: part.name.clone(),
                made,
                wanted: part.quantity,
            });
        }
    }
    let mut cost = 0;
    for (stock, &used) in job.stock().iter().zip(&used) {
        cost += stock.cost * used;
        if let Some(available) = stock.available.filter(|&n| used > u64::from(n)) {
            return Err(PlanFault::TooManySheets {
                stock: stock.name.clone(),
                used,
                available,
            });
        }
    }
    if cost == plan.cost {
        Ok(())
    } else {
        Err(PlanFault::Cost {
            said: plan.cost,
            cost,
        })
    }
}

fn check_names(job: &CutJob, pattern: usize, sheets: &PatternUse) -> Result<(), PlanFault> {
    let known = sheets.stock < job.stock().len()
        && sheets
            .placed
            .iter()
            .all(|placed| placed.demand < job.parts().len());
    if known {
        Ok(())
    } else {
        Err(PlanFault::Unknown { pattern })
    }
}

fn check_parts(job: &CutJob, pattern: usize, sheets: &PatternUse) -> Result<(), PlanFault> {
    let sheet = &job.stock()[sheets.stock];
    for placed in &sheets.placed {
        let part = &job.parts()[placed.demand];
        let expected = if placed.turned {
            (part.height, part.width)
        } else {
            (part.width, part.height)
        };
        if expected != (placed.width, placed.height) || (placed.turned && !part.turnable) {
            return Err(PlanFault::WrongSize {
                pattern,
                part: part.name.clone(),
            });
        }
        let inside = placed.x >= Length::ZERO
            && placed.y >= Length::ZERO
            && placed.x + placed.width <= sheet.width
            && placed.y + placed.height <= sheet.height;
        if !inside {
            return Err(PlanFault::BeyondEdge {
                pattern,
                part: part.name.clone(),
            });
        }
    }
    Ok(())
}

fn check_apart(job: &CutJob, pattern: usize, placed: &[Placed]) -> Result<(), PlanFault> {
    let kerf = job.kerf();
    let mut by_x: Vec<&Placed> = placed.iter().collect();
    by_x.sort_by_key(|placed| placed.x);
    for (index, a) in by_x.iter().enumerate() {
        for b in &by_x[index + 1..] {
            if b.x >= a.x + a.width + kerf {
                break;
            }
            if a.y + a.height + kerf > b.y && b.y + b.height + kerf > a.y {
                return Err(PlanFault::Overlap { pattern });
            }
        }
    }
    Ok(())
}

/// A piece on the table: where it was in the sheet, and the cuts it has been through.
#[derive(Clone, Copy)]
struct OnTable {
    place: [Length; 4],
    phase: u8,
    last: Option<CutDirection>,
}

fn check_cuts(job: &CutJob, pattern: usize, sheets: &PatternUse) -> Result<(), PlanFault> {
    let sheet = &job.stock()[sheets.stock];
    let mut table = vec![OnTable {
        place: [Length::ZERO, Length::ZERO, sheet.width, sheet.height],
        phase: 0,
        last: None,
    }];
    let mut phases = 0;
    for (index, cut) in sheets.cuts.iter().enumerate() {
        let bad = PlanFault::BadCut {
            pattern,
            cut: index,
        };
        if cut.off != table.len() {
            return Err(bad);
        }
        let Some(piece) = table.get_mut(cut.piece) else {
            return Err(bad);
        };
        let side = match cut.direction {
            CutDirection::Width => 0,
            CutDirection::Height => 1,
        };
        let whole = piece.place[2 + side];
        if cut.setting <= Length::ZERO || cut.setting >= whole {
            return Err(bad);
        }
        if piece.last != Some(cut.direction) {
            piece.phase = piece.phase.saturating_add(1);
            piece.last = Some(cut.direction);
        }
        phases = phases.max(piece.phase);
        let mut off = *piece;
        off.place[2 + side] = cut.setting;
        // A blade wider than what remains leaves nothing.
        let gone = (cut.setting + job.kerf()).min(whole);
        piece.place[side] += gone;
        piece.place[2 + side] = whole - gone;
        table.push(off);
    }
    if let Some(most) = job.max_stages().filter(|&most| phases > most) {
        return Err(PlanFault::Phases {
            pattern,
            phases,
            most,
        });
    }
    let mut free: Vec<[Length; 4]> = table.iter().map(|piece| piece.place).collect();
    free.sort_unstable();
    for placed in &sheets.placed {
        let place = [placed.x, placed.y, placed.width, placed.height];
        if free.binary_search(&place).is_err() {
            return Err(PlanFault::NotFreed {
                pattern,
                part: job.parts()[placed.demand].name.clone(),
            });
        }
    }
    Ok(())
}
