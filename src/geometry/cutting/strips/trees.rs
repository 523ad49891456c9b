//! From the tables of a pricing back to the pattern that has the best value.

use super::super::axis::NOWHERE;
use super::super::problem::Item;
use super::super::tree::Tree;
use super::{Level, Strips, again};

impl Strips {
    pub(super) fn tree(
        &self,
        values: &[i64],
        levels: &[Level],
        stacks: &[Vec<i64>],
        stock: usize,
        chosen: &[(usize, u32)],
    ) -> Tree {
        let pieces = chosen
            .iter()
            .map(|&(index, times)| {
                let level = &levels[index];
                let inside = if self.phases == 1 {
                    let width = self.sheets[stock].w;
                    let column = self.columns.iter().position(|column| column.w == width);
                    self.part(values, column.unwrap_or(0), level.height)
                } else {
                    self.strip(values, level, stacks, stock)
                };
                (level.height, times, inside)
            })
            .collect();
        Tree::Split {
            along: self.along,
            pieces,
        }
    }

    fn strip(&self, values: &[i64], level: &Level, stacks: &[Vec<i64>], stock: usize) -> Tree {
        let active = self.active(level);
        let mut row = vec![0; self.xs.points.len()];
        self.fill(level, &active, &mut row);
        let mut columns: Vec<(usize, u32)> = Vec::new();
        let mut place = self.ends[stock].0;
        while place > 0 {
            if row[place] == row[place - 1] {
                place -= 1;
                continue;
            }
            let made = active.iter().find_map(|&column| {
                let rest = self.before_x[column][place];
                let makes =
                    rest != NOWHERE && row[rest as usize] + level.worth[column] == row[place];
                makes.then_some((column, rest as usize))
            });
            let Some((column, rest)) = made else { break };
            again(&mut columns, column);
            place = rest;
        }
        let pieces = columns
            .iter()
            .map(|&(column, times)| {
                let inside = if self.phases == 2 {
                    self.part(values, column, level.height)
                } else {
                    self.stack(values, column, &stacks[column], level.place)
                };
                (self.columns[column].w, times, inside)
            })
            .collect();
        Tree::Split {
            along: self.along.other(),
            pieces,
        }
    }

    /// The part of most value in a column that is exactly so high.
    fn part(&self, values: &[i64], column: usize, height: i64) -> Tree {
        let items = self.columns[column].items.iter();
        let best = items
            .filter(|&&(h, _)| self.heights[h] == height)
            .max_by_key(|&&(_, item)| values[self.items[item].row]);
        let item = best.map_or(self.items[0], |&(_, item)| self.items[item]);
        Tree::Part {
            row: item.row,
            turned: item.turned,
        }
    }

    fn stack(&self, values: &[i64], column: usize, best: &[i64], end: usize) -> Tree {
        let mut chosen: Vec<(usize, u32)> = Vec::new();
        let mut place = end;
        while place > 0 {
            if best[place] == best[place - 1] {
                place -= 1;
                continue;
            }
            let made = self.columns[column]
                .items
                .iter()
                .find_map(|&(height, item)| {
                    let rest = self.before_y[height][place];
                    let value = values[self.items[item].row];
                    let makes =
                        rest != NOWHERE && value > 0 && best[rest as usize] + value == best[place];
                    makes.then_some((item, rest as usize))
                });
            let Some((item, rest)) = made else { break };
            again(&mut chosen, item);
            place = rest;
        }
        let pieces = chosen
            .iter()
            .map(|&(item, times)| {
                let Item { row, turned, h, .. } = self.items[item];
                (h, times, Tree::Part { row, turned })
            })
            .collect();
        Tree::Split {
            along: self.along,
            pieces,
        }
    }
}
