//! What somebody must look at, though the record believes it.

use super::repeat::written;
use super::{Deed, Mark};
use crate::finding::{Finding, code};
use crate::records::{Condition, Entry, Event, Known, Standing};

/// What must be pointed out. `then` is what was known on the day of the mark, and `standing` what stood.
pub(super) fn out(
    known: &Known<'_>,
    then: &Known<'_>,
    standing: &Standing<'_>,
    mark: &Mark,
    copy: Option<&Entry>,
) -> Vec<Finding> {
    let mut findings = Vec::new();
    findings.extend(taken_away(then, standing).and_then(|gone| back(mark, gone)));
    findings.extend(otherwise(mark, standing));
    let Some(copy) = copy else {
        let message = format!("`{}` was printed in several forms, and it is not known which it is", mark.number);
        let help = "read the revision on its small line, and name it with `--revision`";
        findings.push(Finding::new(code::COPY_NOT_KNOWN, message).help(help));
        return findings;
    };
    findings.extend(another(known, standing, mark, copy));
    findings.extend(ready(then, mark, copy).map(|other| lies_ready(mark, copy, other)));
    findings
}

/// The entry by which a notice was taken away, if it was not printed since.
pub(super) fn taken_away<'a>(then: &Known<'a>, standing: &Standing<'a>) -> Option<&'a Entry> {
    let Standing::Withdrawn(gone) = standing else { return None };
    let since = then.entries.iter().rev().take_while(|entry| !std::ptr::eq(**entry, *gone));
    let is_printed = since.into_iter().any(|entry| entry.event == Event::Printed);
    (!is_printed).then_some(*gone)
}

/// A notice that was taken away and is said to be there again.
fn back(mark: &Mark, gone: &Entry) -> Option<Finding> {
    let is_there = !matches!(mark.deed, Deed::Withdrawn | Deed::Destroyed | Deed::Inspected(Condition::Missing));
    let message = format!("`{}` was taken away on {} and not printed since", mark.number, gone.date);
    let help = "look whether it belongs there and is true; if not, take it down and record it as withdrawn";
    is_there.then(|| Finding::new(code::TAKEN_AWAY_BEFORE, message).help(help))
}

/// An inspection that takes back what an earlier one found, though nothing was done in between: of one day nobody can say
/// which of the two holds unless a note of its own says what came between, and what was found wrong does not come right by
/// itself.
fn otherwise(mark: &Mark, standing: &Standing<'_>) -> Option<Finding> {
    let Deed::Inspected(now) = mark.deed else { return None };
    let seen = match standing {
        Standing::Fixed { inspected, .. } => (*inspected)?,
        Standing::Missing(entry) => entry,
        Standing::NotFixed | Standing::Withdrawn(_) => return None,
    };
    let before = seen.condition.filter(|before| *before != now)?;
    let by = if seen.by.is_empty() { String::new() } else { format!(" by {}", seen.by) };
    let (number, now, name) = (&mark.number, now.name(), before.name());
    if seen.date == mark.date {
        let note = written(&mark.note);
        if !note.is_empty() && note != seen.note {
            return None;
        }
        let message =
            format!("`{number}` is said to be {now}, and was found {name}{by} on the same day, {}", seen.date);
        let help =
            "look which of the two it is; what is recorded last counts, and a note that says why needs no warning";
        return Some(Finding::new(code::FOUND_OTHERWISE_THAT_DAY, message).help(help));
    }
    let message = format!(
        "`{number}` was found wrong{by} on {} and not replaced since; {now} takes it off what is due",
        seen.date
    );
    let help = "look whether it says what is there; if it does not, record it as wrong again";
    (before == Condition::Wrong).then(|| Finding::new(code::WRONG_TAKEN_BACK, message).help(help))
}

fn named(entry: &Entry) -> String {
    format!("rev {} printed {}", entry.revision, entry.date)
}

/// A copy that is not the one printed last, or not the one that the record has there.
fn another(known: &Known<'_>, standing: &Standing<'_>, mark: &Mark, copy: &Entry) -> Option<Finding> {
    let other = match (mark.deed, standing) {
        (Deed::Fixed | Deed::Replaced, _) => known.left(),
        (Deed::Inspected(_), Standing::Fixed { print, .. }) => *print,
        (Deed::Inspected(_) | Deed::Withdrawn | Deed::Destroyed, _) => None,
    };
    let other = other.filter(|other| other.fingerprint != copy.fingerprint)?;
    let (copy, other) = (named(copy), named(other));
    Some(if matches!(mark.deed, Deed::Inspected(_)) {
        let message = format!("`{}`: {copy} was found, and the record has {other} there", mark.number);
        Finding::new(code::OTHER_COPY_FOUND, message).help("look whether it is the copy that belongs there")
    } else {
        let message =
            format!("`{}`: {copy} was fixed, and the last is {other}, which says something else", mark.number);
        Finding::new(code::OLDER_COPY_FIXED, message).help("fix the last printed copy, unless the note tells why not")
    })
}

/// A copy that says something else, was printed since a copy was last fixed, and may be the one that was taken from the box,
/// where nobody read the revision of it. At an earlier fixing the older ones were pointed out.
fn ready<'a>(then: &Known<'a>, mark: &Mark, copy: &Entry) -> Option<&'a Entry> {
    if !mark.revision.is_empty() || !matches!(mark.deed, Deed::Fixed | Deed::Replaced) {
        return None;
    }
    let is_fixing = |entry: &Entry| matches!(entry.event, Event::Fixed | Event::Replaced);
    let since = then.entries.iter().rev().take_while(|entry| !is_fixing(entry));
    let was_fixed =
        |one: &Entry| then.entries.iter().any(|entry| is_fixing(entry) && entry.fingerprint == one.fingerprint);
    let is_left = |one: &Entry| !was_fixed(one) && then.destroyed(one).is_none();
    let is_other = |one: &&Entry| one.event == Event::Printed && one.fingerprint != copy.fingerprint && is_left(one);
    since.copied().find(is_other)
}

fn lies_ready(mark: &Mark, copy: &Entry, other: &Entry) -> Finding {
    let (number, copy, other) = (&mark.number, named(copy), named(other));
    let message = format!("`{number}` is taken for {copy}; {other} says something else and was never fixed");
    let help = "read the revision on its small line, and name it with `--revision`";
    Finding::new(code::OTHER_COPY_READY, message).help(help)
}
