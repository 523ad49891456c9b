//! A bar on standard error for jobs that take their time; nothing where nobody looks.

use std::io::{IsTerminal, Write};

use tablefold_geometry::Progress;

/// Reports that pass before the bar shows: short jobs have none.
const QUIET_REPORTS: u32 = 10;
const WIDTH: u64 = 30;

/// The bar, or none where standard error is no terminal.
pub(super) struct Bar {
    on: bool,
    reports: u32,
    shown: u64,
}

impl Bar {
    pub(super) fn on_terminal() -> Self {
        Self {
            on: std::io::stderr().is_terminal(),
            reports: 0,
            shown: u64::MAX,
        }
    }

    pub(super) fn show(&mut self, progress: &Progress) {
        self.reports = self.reports.saturating_add(1);
        let percent = percent(progress);
        if self.on && self.reports > QUIET_REPORTS && percent != self.shown {
            self.shown = percent;
            write(&format!("\r\x1b[K{}", line(progress)));
        }
    }

    pub(super) fn clear(&self) {
        if self.shown != u64::MAX {
            write("\r\x1b[K");
        }
    }
}

/// A bar that can't be drawn is no reason to stop the work.
fn write(text: &str) {
    let mut err = std::io::stderr();
    let _ = err.write_all(text.as_bytes()).and_then(|()| err.flush());
}

fn percent(progress: &Progress) -> u64 {
    let part = u128::from(progress.done) * 100 / u128::from(progress.of.max(1));
    part.min(100) as u64
}

fn line(progress: &Progress) -> String {
    let percent = percent(progress);
    let full = percent * WIDTH / 100;
    let bar: String = (0..WIDTH)
        .map(|at| if at < full { '#' } else { '.' })
        .collect();
    let best = progress
        .best
        .map_or_else(String::new, |best| format!(", best {best}"));
    format!("[{bar}] {percent} %{best}, bound {}", progress.bound)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_bar_says_how_far_and_how_good() {
        let mut progress = Progress {
            done: 1,
            of: 3,
            best: None,
            bound: 0,
        };
        insta::assert_snapshot!(line(&progress), @"[#########.....................] 33 %, bound 0");
        progress.done = u64::MAX;
        progress.best = Some(1710);
        progress.bound = 1700;
        insta::assert_snapshot!(line(&progress), @"[##############################] 100 %, best 1710, bound 1700");
    }
}
