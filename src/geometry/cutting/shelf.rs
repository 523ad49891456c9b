//! A plain shelf method: strips across the sheet, parts side by side in a strip.
//!
//! ```text
//!   (0,0) +------+------+----+----+   x right, y down, mm exact
//!         |  A   |  A   |  B | ## |   strip 1: as high as its tallest part
//!         +------+------+----+----+
//!         |  C  |  C  |  C  | ### |   strip 2
//!         +-----+-----+-----+-----+
//! ```
//!
//! First-fit decreasing height. Guillotine: strips first, then across, then a trim. It is quick
//! and clear, not least: it comes with the area bound so that nobody takes it for the optimum.

use serde::{Deserialize, Serialize};

use crate::Length;

/// Equal parts that are wanted from one kind of sheet.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Demand {
    /// A name for the part, unique in a plan.
    pub part: String,
    /// Along the sheet's width.
    pub width: Length,
    /// Along the sheet's height.
    pub height: Length,
    /// How many.
    pub quantity: u32,
    /// May it be turned a quarter (no grain, no one-way print)?
    pub turnable: bool,
}

/// One part on a sheet; x right, y down from the sheet's top left corner.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Placed {
    /// Index into the demands.
    pub demand: usize,
    /// Left edge.
    pub x: Length,
    /// Top edge.
    pub y: Length,
    /// As it lies.
    pub width: Length,
    /// As it lies.
    pub height: Length,
    /// Turned a quarter.
    pub turned: bool,
}

/// Sheets that are cut alike.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SheetLayout {
    /// How many sheets are cut like this.
    pub count: u32,
    /// What lies on each.
    pub placed: Vec<Placed>,
}

/// How many sheets, and how each is cut.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CutPlan {
    /// The sheet's width.
    pub sheet_width: Length,
    /// The sheet's height.
    pub sheet_height: Length,
    /// The sheets, fullest first.
    pub layouts: Vec<SheetLayout>,
    /// No plan can need fewer sheets than this: parts' area over sheet's area, rounded up.
    pub area_bound: u32,
}

impl CutPlan {
    /// How many sheets the plan takes.
    #[must_use]
    pub fn sheets(&self) -> u32 {
        self.layouts.iter().map(|layout| layout.count).sum()
    }

    /// How many of a demand the plan yields, counted on the sheets.
    #[must_use]
    pub fn yields(&self, demand: usize) -> u32 {
        let on = |layout: &SheetLayout| {
            layout
                .placed
                .iter()
                .filter(|placed| placed.demand == demand)
                .count() as u32
        };
        self.layouts
            .iter()
            .map(|layout| layout.count * on(layout))
            .sum()
    }
}

/// A part that no sheet of this kind can hold.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{}", self.text(|length| length.exact_text()))]
pub struct CutPlanError {
    /// Which part.
    pub part: String,
    /// Its width.
    pub width: Length,
    /// Its height.
    pub height: Length,
    /// The sheet's width.
    pub sheet_width: Length,
    /// The sheet's height.
    pub sheet_height: Length,
    /// Whether turning was allowed.
    pub turnable: bool,
}

impl CutPlanError {
    /// The message with lengths as `print` writes them, such as on the project's ruler.
    pub fn text(&self, print: impl Fn(Length) -> String) -> String {
        let way = if self.turnable {
            "either way round"
        } else {
            "without turning it"
        };
        format!(
            "{} is {} x {} and does not fit a sheet of {} x {} {way}. Use a larger sheet, or make the piece smaller.",
            self.part,
            print(self.width),
            print(self.height),
            print(self.sheet_width),
            print(self.sheet_height),
        )
    }
}

struct Shelf {
    y: Length,
    height: Length,
    used: Length,
}

#[derive(Default)]
struct Sheet {
    shelves: Vec<Shelf>,
    used: Length,
    placed: Vec<Placed>,
}

/// Cuts `demands` from sheets of `width` x `height` by the shelf method.
///
/// # Errors
/// [`CutPlanError`] names the first part that fits no sheet.
pub fn shelf_plan(
    width: Length,
    height: Length,
    demands: &[Demand],
) -> Result<CutPlan, CutPlanError> {
    let mut order: Vec<(usize, Length, Length, bool)> = Vec::new();
    for (index, demand) in demands
        .iter()
        .enumerate()
        .filter(|(_, demand)| demand.quantity > 0)
    {
        let (w, h, turned) = lie(demand, width, height)?;
        order.push((index, w, h, turned));
    }
    order.sort_by_key(|&(index, w, h, _)| (std::cmp::Reverse(h), std::cmp::Reverse(w), index));
    let mut sheets: Vec<Sheet> = Vec::new();
    for (demand, w, h, turned) in order {
        // Parts of one size only ever go forward, so the search resumes where it stopped.
        let mut from = 0;
        for _ in 0..demands[demand].quantity {
            while from < sheets.len() && !sheets[from].put(demand, w, h, turned, (width, height)) {
                from += 1;
            }
            if from == sheets.len() {
                let mut sheet = Sheet::default();
                sheet.put(demand, w, h, turned, (width, height));
                sheets.push(sheet);
            }
        }
    }
    Ok(CutPlan {
        sheet_width: width,
        sheet_height: height,
        layouts: alike(sheets),
        area_bound: area_bound(width, height, demands),
    })
}

/// How a part lies on the sheet: turnable parts lie flat, so that strips are low and few.
fn lie(
    demand: &Demand,
    width: Length,
    height: Length,
) -> Result<(Length, Length, bool), CutPlanError> {
    let fits = |w: Length, h: Length| w <= width && h <= height;
    let (w, h) = (demand.width, demand.height);
    let ways = if !demand.turnable || w == h {
        vec![(w, h, false)]
    } else if w > h {
        vec![(w, h, false), (h, w, true)]
    } else {
        vec![(h, w, true), (w, h, false)]
    };
    // The way that gives most from one sheet; the flatter one where both give the same.
    let yields = |&(w, h, _): &(Length, Length, bool)| {
        if fits(w, h) {
            i128::from(width.nm() / w.nm().max(1)) * i128::from(height.nm() / h.nm().max(1))
        } else {
            0
        }
    };
    let best = ways.iter().map(yields).max().unwrap_or(0);
    ways.into_iter()
        .find(|way| best > 0 && yields(way) == best)
        .ok_or_else(|| CutPlanError {
            part: demand.part.clone(),
            width: w,
            height: h,
            sheet_width: width,
            sheet_height: height,
            turnable: demand.turnable,
        })
}

impl Sheet {
    fn put(
        &mut self,
        demand: usize,
        w: Length,
        h: Length,
        turned: bool,
        size: (Length, Length),
    ) -> bool {
        let shelf = self
            .shelves
            .iter()
            .position(|shelf| shelf.height >= h && shelf.used + w <= size.0);
        let shelf = match shelf {
            Some(index) => index,
            None if self.used + h <= size.1 => {
                self.shelves.push(Shelf {
                    y: self.used,
                    height: h,
                    used: Length::ZERO,
                });
                self.used += h;
                self.shelves.len() - 1
            }
            None => return false,
        };
        let shelf = &mut self.shelves[shelf];
        self.placed.push(Placed {
            demand,
            x: shelf.used,
            y: shelf.y,
            width: w,
            height: h,
            turned,
        });
        shelf.used += w;
        true
    }
}

/// Sheets that are cut alike, counted; in the order in which they were filled.
fn alike(sheets: Vec<Sheet>) -> Vec<SheetLayout> {
    let mut layouts: Vec<SheetLayout> = Vec::new();
    for mut sheet in sheets {
        sheet.placed.sort_by_key(|placed| (placed.y, placed.x));
        match layouts
            .iter_mut()
            .find(|layout| layout.placed == sheet.placed)
        {
            Some(layout) => layout.count += 1,
            None => layouts.push(SheetLayout {
                count: 1,
                placed: sheet.placed,
            }),
        }
    }
    layouts
}

fn area_bound(width: Length, height: Length, demands: &[Demand]) -> u32 {
    let area = |w: Length, h: Length| i128::from(w.nm()) * i128::from(h.nm());
    let parts: i128 = demands
        .iter()
        .map(|d| area(d.width, d.height) * i128::from(d.quantity))
        .sum();
    let sheet = area(width, height).max(1);
    u32::try_from((parts + sheet - 1) / sheet).unwrap_or(u32::MAX)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn demand(part: &str, width: i64, height: i64, quantity: u32, turnable: bool) -> Demand {
        Demand {
            part: part.to_owned(),
            width: Length::from_mm(width),
            height: Length::from_mm(height),
            quantity,
            turnable,
        }
    }

    #[test]
    fn shelves_take_2_sheets_for_3_cards_that_could_share_1() {
        // Computed exhaustively: a 5 x 5 sheet gives 3 cards of 2 x 3 by guillotine (4 only as a
        // pinwheel, which no trimmer cuts). Shelves lay all cards one way and get 2.
        let sheet = Length::from_mm(50);
        let plan = shelf_plan(sheet, sheet, &[demand("card", 20, 30, 3, true)]).expect("fits");
        assert_eq!((plan.sheets(), plan.yields(0), plan.area_bound), (2, 3, 1));
    }

    #[test]
    fn parts_lie_the_way_that_gives_most() {
        let sheets = |width, height, quantity| {
            let (width, height) = (Length::from_mm(width), Length::from_mm(height));
            let demands = [demand("card", 20, 30, quantity, true)];
            shelf_plan(width, height, &demands).expect("fits").sheets()
        };
        assert_eq!(sheets(60, 50, 4), 1, "lying: 2 x 2; upright only 3");
        assert_eq!(sheets(60, 30, 3), 1, "upright: 3; lying only 2");
    }

    #[test]
    fn the_bound_is_area_rounded_up() {
        let sheet = Length::from_mm(50);
        let bound = |quantity| {
            let demands = [demand("card", 20, 30, quantity, true)];
            shelf_plan(sheet, sheet, &demands).expect("fits").area_bound
        };
        // 600 mm² each from 2500 mm².
        assert_eq!([bound(0), bound(4), bound(5), bound(10)], [0, 1, 2, 3]);
    }

    #[test]
    fn a_huge_sheet_and_a_hair_do_not_overflow() {
        let hair = Length::from_nm(1);
        let demands = [Demand {
            width: hair,
            height: hair,
            ..demand("hair", 1, 1, 2, true)
        }];
        let plan = shelf_plan(Length::MAX, Length::MAX, &demands).expect("fits");
        assert_eq!((plan.sheets(), plan.yields(0)), (1, 2));
    }

    #[test]
    fn a_part_larger_than_the_sheet_is_named() {
        let sheet = Length::from_mm(200);
        let error =
            shelf_plan(sheet, sheet, &[demand("box", 250, 100, 1, true)]).expect_err("too large");
        insta::assert_snapshot!(error, @"box is 250 mm x 100 mm and does not fit a sheet of 200 mm x 200 mm either way round. Use a larger sheet, or make the piece smaller.");
    }

    proptest! {
        #[test]
        fn no_part_is_lost_overlaps_or_leaves_the_sheet(
            parts in prop::collection::vec((10i64..120, 10i64..120, 1u32..9, any::<bool>()), 1..6),
        ) {
            let (w, h) = (Length::from_mm(150), Length::from_mm(130));
            let demands: Vec<Demand> = parts
                .iter()
                .enumerate()
                .map(|(i, &(w, h, n, turn))| demand(&i.to_string(), w, h, n, turn))
                .collect();
            let plan = shelf_plan(w, h, &demands).expect("every part fits");
            prop_assert!(plan.sheets() >= plan.area_bound);
            for (index, demand) in demands.iter().enumerate() {
                prop_assert_eq!(plan.yields(index), demand.quantity);
            }
            for layout in &plan.layouts {
                for (i, a) in layout.placed.iter().enumerate() {
                    prop_assert!(a.x >= Length::ZERO && a.x + a.width <= w && a.y + a.height <= h);
                    prop_assert!(!a.turned || demands[a.demand].turnable);
                    for b in &layout.placed[i + 1..] {
                        let apart = a.x + a.width <= b.x || b.x + b.width <= a.x
                            || a.y + a.height <= b.y || b.y + b.height <= a.y;
                        prop_assert!(apart, "{:?} lies on {:?}", a, b);
                    }
                }
            }
        }
    }
}
