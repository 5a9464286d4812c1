//! The day of a run: what `SOURCE_DATE_EPOCH` says, else what the clock says, in UTC.

use std::time::{SystemTime, UNIX_EPOCH};

use crate::cli::failure::Failure;
use crate::standing::Date;

/// Seconds of a day.
const DAY: i64 = 86_400;

/// The day that an option names, or today.
///
/// # Errors
/// A text that is no day, or that would be another day with the month first; a clock or variable that is none.
pub(in crate::cli) fn day(named: Option<&str>, option: &str) -> Result<Date, Failure> {
    let Some(text) = named else { return today() };
    let wrong = |what: &str| {
        Failure::with_hint(format!("{option}: `{text}` {what}"), "write year, month and day, such as 2026-11-24")
    };
    if Date::is_ambiguous(text) {
        return Err(wrong("could be two days, by which of day and month comes first"));
    }
    Date::parse(text).ok_or_else(|| wrong("is no day of the calendar"))
}

/// Today.
///
/// # Errors
/// A clock or variable that is none.
#[expect(clippy::disallowed_methods, reason = "an entry of a record has the day on which it is made")]
pub(in crate::cli) fn today() -> Result<Date, Failure> {
    let seconds = match std::env::var("SOURCE_DATE_EPOCH") {
        Ok(text) => text.trim().parse::<i64>().ok(),
        Err(_) => SystemTime::now().duration_since(UNIX_EPOCH).ok().and_then(|past| i64::try_from(past.as_secs()).ok()),
    };
    let day = seconds.and_then(|seconds| Date::of_unix_day(seconds.div_euclid(DAY)));
    day.ok_or_else(|| Failure::with_hint("the clock, or SOURCE_DATE_EPOCH, names no day", "name the day with `--date`"))
}
