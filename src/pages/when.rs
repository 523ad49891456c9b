//! Days and times as pages write them.

use jiff::Timestamp;
use jiff::ToSpan;
use jiff::civil::{Date, Time};

/// `Saturday 28 November 2026`.
#[must_use]
pub fn day(date: Date) -> String {
    date.strftime("%A %-d %B %Y").to_string()
}

/// `5 December 2026`.
#[must_use]
pub fn date(date: Date) -> String {
    date.strftime("%-d %B %Y").to_string()
}

/// `18:30`.
#[must_use]
pub fn clock(time: Time) -> String {
    time.strftime("%H:%M").to_string()
}

/// `18:30 to 20:30`, also past midnight.
#[must_use]
pub fn span(starts: Time, minutes: u32) -> String {
    let ends = starts.wrapping_add(i64::from(minutes).minutes());
    format!("{} to {}", clock(starts), clock(ends))
}

/// `28 November 2026, 10:00 UTC`: the server does not know the hall's time zone.
#[must_use]
pub fn moment(at: Timestamp) -> String {
    at.strftime("%-d %B %Y, %H:%M UTC").to_string()
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::time;

    #[test]
    fn days_and_times_read_as_people_say_them() {
        insta::assert_snapshot!(day(jiff::civil::date(2026, 11, 28)), @"Saturday 28 November 2026");
        insta::assert_snapshot!(span(time(18, 30, 0, 0), 120), @"18:30 to 20:30");
        insta::assert_snapshot!(span(time(23, 0, 0, 0), 120), @"23:00 to 01:00");
        let at = "2026-11-28T09:05:07Z".parse().unwrap();
        insta::assert_snapshot!(moment(at), @"28 November 2026, 09:05 UTC");
    }
}
