//! What is asked of a record: by which day, how often inspected, of which notices.

use super::today;
use crate::cli::arguments::{DueBy, SubjectChoice, Which};
use crate::cli::failure::Failure;
use crate::cli::selection::Wanted;
use crate::job::Job;
use crate::records::due::{Asked, Due};
use crate::records::{Known, Ledger};

/// By which day, and how often; the job's interval where no option names one.
///
/// # Errors
/// A text that is no day; months that lead out of the calendar.
pub(in crate::cli) fn by(by: &DueBy, job: &Job) -> Result<Asked, Failure> {
    let on = today::day(by.on.as_deref(), "--on")?;
    let until = on.months_later(by.within).ok_or_else(|| {
        let message = format!("--within: {} months after {on} is no day that is counted with", by.within);
        Failure::with_hint(message, "name an earlier day or fewer months")
    })?;
    Ok(Asked { on, until, interval: by.interval.unwrap_or(job.notices.inspection_months) })
}

/// The notices of a record that are asked for, with what is due of them.
///
/// # Errors
/// A pattern that is none; patterns that no notice of the record matches.
pub(in crate::cli) fn due<'a>(
    ledger: Ledger<'a>,
    which: &Which,
    asked: Asked,
) -> Result<(Ledger<'a>, Due<'a>), Failure> {
    let narrowed = !which.only.is_empty() || which.subject.is_some();
    let wanted = Wanted::new(&which.only, which.subject.map(SubjectChoice::subject))?;
    let was_empty = ledger.notices.is_empty();
    let ledger = if narrowed { ledger.among(|known| is_wanted(&wanted, known)) } else { ledger };
    if ledger.notices.is_empty() && !was_empty {
        let message = "the record has no notice that matches";
        return Err(Failure::with_hint(
            message,
            "look at `--only` and `--subject`; `noticewright records list` writes all of them",
        ));
    }
    let due = Due::of(&ledger, asked);
    Ok((ledger, due))
}

fn is_wanted(wanted: &Wanted, known: &Known<'_>) -> bool {
    wanted.asks_for_recorded(known.number, known.printed().map(|(_, print)| print))
}
