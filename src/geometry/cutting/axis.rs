//! The places along one side of a sheet where a cut can make sense.
//!
//! Normal patterns: sums of part sizes, each used as often as it is wanted. Of these the upper
//! half is needed only as "what remains of a sheet beside a sum": raster points, after Terno and
//! Scheithauer (from memory). Where even these are too many, some are left out: every plan made
//! then is still possible, only the proof suffers.

use super::problem::{Item, Sheet};

/// Sums beyond this many are not listed: a thinned set takes their place.
const MOST_SUMS: usize = 20_000;

/// Nor are they where listing them takes longer than this many looks.
const MOST_LOOKS: usize = 4_000_000;

#[derive(Clone)]
pub(super) struct Axis {
    /// Ascending, starts at 0, holds every sheet's size rounded down to a sum.
    pub(super) points: Vec<i64>,
    /// No point was left out.
    pub(super) exact: bool,
}

/// What stands at no place.
pub(super) const NOWHERE: u32 = u32::MAX;

impl Axis {
    /// Places along the widths of `sheets`.
    pub(super) fn new(items: &[Item], sheets: &[Sheet], demand: &[u32]) -> Self {
        let longest = sheets.iter().map(|sheet| sheet.w).max().unwrap_or(0);
        let mut sizes: Vec<(i64, u32)> = items
            .iter()
            .map(|item| (item.w, demand[item.row]))
            .collect();
        sizes.sort_unstable();
        sizes.dedup_by(|next, kept| {
            let same = next.0 == kept.0;
            if same {
                kept.1 = kept.1.saturating_add(next.1);
            }
            same
        });
        let (sums, exact) = match sums(&sizes, longest) {
            Some(sums) => (sums, true),
            None => (spread(&sizes, longest), false),
        };
        let points = raster(&sums, sheets);
        Self { points, exact }
    }

    /// At most about `cap` of these places.
    pub(super) fn thinned(&self, items: &[Item], sheets: &[Sheet], cap: usize) -> Self {
        if self.points.len() <= cap {
            return self.clone();
        }
        Self {
            points: thin(&self.points, items, sheets, cap),
            exact: false,
        }
    }

    /// The last place not beyond `x`.
    pub(super) fn at_most(&self, x: i64) -> Option<usize> {
        self.points
            .partition_point(|&point| point <= x)
            .checked_sub(1)
    }

    /// For every place the last one that leaves `size` free.
    pub(super) fn before(&self, size: i64) -> Vec<u32> {
        let mut rest = 0;
        let place = |&point: &i64| {
            while self
                .points
                .get(rest + 1)
                .is_some_and(|&next| next <= point - size)
            {
                rest += 1;
            }
            if point >= size { rest as u32 } else { NOWHERE }
        };
        self.points.iter().map(place).collect()
    }
}

/// All sums of sizes up to `longest`; `None` if there are too many.
fn sums(sizes: &[(i64, u32)], longest: i64) -> Option<Vec<i64>> {
    let mut all = vec![0_i64];
    let mut looks = 0;
    for &(size, most) in sizes {
        // Both the old sums and those with one more of this size ascend: merge them.
        let mut merged: Vec<(i64, u32)> = Vec::with_capacity(2 * all.len());
        let (mut old, mut from) = (0, 0);
        loop {
            while merged.get(from).is_some_and(|&(_, used)| used == most) {
                from += 1;
            }
            let more = merged.get(from).map(|&(sum, used)| (sum + size, used + 1));
            let more = more.filter(|&(sum, _)| sum <= longest);
            match (all.get(old), more) {
                (None, None) => break,
                (Some(&sum), Some((next, _))) if sum == next => {
                    merged.push((sum, 0));
                    old += 1;
                    from += 1;
                }
                (Some(&sum), next) if next.is_none_or(|(next, _)| sum < next) => {
                    merged.push((sum, 0));
                    old += 1;
                }
                (_, Some(next)) => {
                    merged.push(next);
                    from += 1;
                }
                (Some(_), None) => break,
            }
        }
        looks += merged.len();
        if merged.len() > MOST_SUMS || looks > MOST_LOOKS {
            return None;
        }
        all = merged.into_iter().map(|(sum, _)| sum).collect();
    }
    Some(all)
}

fn spread(sizes: &[(i64, u32)], longest: i64) -> Vec<i64> {
    let step = (longest / MOST_SUMS as i64).max(1);
    let mut points: Vec<i64> = (0..=longest / step).map(|n| n * step).collect();
    points.extend(sizes.iter().map(|&(size, _)| size));
    points.push(longest);
    points.sort_unstable();
    points.dedup();
    points
}

fn raster(sums: &[i64], sheets: &[Sheet]) -> Vec<i64> {
    let mut points = Vec::new();
    for sheet in sheets {
        for &sum in sums.iter().take_while(|&&sum| 2 * sum <= sheet.w) {
            points.push(sum);
            let rest = sums.partition_point(|&other| other <= sheet.w - sum);
            if let Some(rest) = rest.checked_sub(1) {
                points.push(sums[rest]);
            }
        }
    }
    points.sort_unstable();
    points.dedup();
    points
}

/// Keeps about `cap` places: the single sizes, the sheets' ends, the rest evenly.
fn thin(points: &[i64], items: &[Item], sheets: &[Sheet], cap: usize) -> Vec<i64> {
    let stride = points.len().div_ceil(cap.max(1)).max(1);
    let mut kept: Vec<i64> = points.iter().copied().step_by(stride).collect();
    let stride = items.len().div_ceil(cap.max(1)).max(1);
    kept.extend(items.iter().step_by(stride).map(|item| item.w));
    for sheet in sheets {
        let end = points.partition_point(|&point| point <= sheet.w);
        kept.extend(end.checked_sub(1).map(|end| points[end]));
    }
    kept.push(0);
    kept.sort_unstable();
    kept.dedup();
    kept
}
