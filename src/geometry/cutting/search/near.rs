//! Patterns that are nearly as good as the linear program's, by the hundred.
//!
//! The linear program needs few patterns, and its roundings need others that lose next to
//! nothing: prices moved at random find those only by chance.

use super::super::generate::Worth;
use super::super::strips::Draw;
use super::Search;

/// Draws for each stock and direction.
const DRAWS: usize = 100;

impl Search<'_, '_, '_> {
    /// Draws patterns that lose up to about a hundredth of a sheet.
    pub(super) fn near(&mut self) {
        // Without a third phase nothing is drawn: that too must come to an end.
        if self
            .generator
            .problem
            .phases
            .is_some_and(|phases| phases < 3)
        {
            self.meter.charge(5_000);
            return;
        }
        let mix = self.random.below(2 * self.mixes.kept.len() + 1);
        let worth = self
            .mixes
            .kept
            .get(mix)
            .map_or(&self.worth, |mix| &mix.worth);
        let worth = worth.clone();
        let loss = 10_f64.powf(-2.2 + 0.3 * self.random.unit());
        let wanted = self.demand();
        self.draw(&worth, &wanted, loss, DRAWS);
    }

    /// Draws patterns whose reduced cost is at most `loss` dearest sheets.
    pub(super) fn draw(&mut self, worth: &Worth, wanted: &[u32], loss: f64, draws: usize) {
        let (values, (dearest, scale)) = self.generator.whole(&worth.parts);
        // The price stands for the dearest sheet, or many of them.
        let unit = dearest as f64 / self.generator.dearest() as f64;
        let value = |sheets: f64| sheets * scale as f64 / unit;
        for along in 0..2 {
            let strips = &self.generator.strips[along];
            let Some(tables) = strips.tables(&values, self.meter) else {
                return;
            };
            let mut drawn = Vec::new();
            for stock in 0..self.generator.problem.sheets.len() {
                let cost = self.generator.cost(stock) + worth.stocks[stock];
                let slack = strips.most(&tables, stock) as f64 - value(cost - loss);
                for _ in 0..if slack < 0.0 { 0 } else { draws } {
                    let mut left = wanted.to_vec();
                    let slack = (slack * self.random.unit()) as i64;
                    let mut draw = Draw::new(slack, &mut self.random);
                    drawn.push((stock, strips.draw(&tables, stock, &mut left, &mut draw)));
                    let looks = draw.looks();
                    if !self.meter.charge(3000 + 6 * looks) {
                        break;
                    }
                }
            }
            for (stock, tree) in drawn {
                self.generator.add(stock, tree);
            }
        }
    }
}
