//! What asks for something to be done about one notice, each cause with the day on which it falls due and why.

use super::Reason;
use crate::material::Life;
use crate::records::{Condition, Entry, Event, Known, Print, Standing};
use crate::standing::Date;

/// Why something must be done about a notice.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Cause {
    /// The kind of cause.
    pub reason: Reason,
    /// The day on which it fell due, or will.
    pub day: Date,
    /// What the record tells of it, in words.
    pub why: String,
}

/// Everything that asks for something, now or later; in no order.
pub(super) fn of(known: &Known<'_>, standing: Standing<'_>, interval: u16) -> Vec<Cause> {
    match standing {
        Standing::NotFixed => not_fixed(known, &known.entries).into_iter().collect(),
        Standing::Withdrawn(entry) => not_fixed(known, after(known, entry)).into_iter().collect(),
        Standing::Missing(entry) => vec![found(known, entry, Reason::Missing)],
        Standing::Fixed { by, print, inspected } => {
            let condition = inspected.and_then(|entry| Some(found(known, entry, of_condition(entry.condition?)?)));
            let life = print.and_then(|print| life(by, print));
            let superseded = superseded(known, by, print, inspected);
            [condition, superseded, life, inspection(by, print, inspected, interval)].into_iter().flatten().collect()
        }
    }
}

const fn of_condition(condition: Condition) -> Option<Reason> {
    match condition {
        Condition::Good => None,
        Condition::Faded => Some(Reason::Faded),
        Condition::Damaged => Some(Reason::Damaged),
        Condition::Missing => Some(Reason::Missing),
        Condition::Wrong => Some(Reason::Wrong),
    }
}

/// The entries behind one of them.
pub(super) fn after<'k, 'a>(known: &'k Known<'a>, entry: &Entry) -> &'k [&'a Entry] {
    let place = known.entries.iter().position(|one| std::ptr::eq(*one, entry)).map_or(0, |place| place + 1);
    known.entries.get(place..).unwrap_or_default()
}

/// Whether an entry shows that a copy was there.
pub(super) fn shows_it(entry: &Entry) -> bool {
    match entry.event {
        Event::Fixed | Event::Replaced => true,
        Event::Inspected => entry.condition != Some(Condition::Missing),
        Event::Printed | Event::Withdrawn | Event::Destroyed => false,
    }
}

/// Whether it was found to say what is not there.
pub(super) fn is_wrong(entry: &Entry) -> bool {
    entry.condition == Some(Condition::Wrong)
}

/// Whether two printings say the same.
pub(super) fn says_the_same(one: &Entry, other: &Entry) -> bool {
    if one.fingerprint.is_empty() || other.fingerprint.is_empty() {
        let says = |entry: &Entry| entry.print.as_ref().map(|print| print.says.clone());
        return one.revision == other.revision && says(one) == says(other);
    }
    one.fingerprint == other.fingerprint
}

/// `rev B`
pub(super) fn revision(revision: &str) -> String {
    if revision.is_empty() { "a copy without a revision".to_owned() } else { format!("rev {revision}") }
}

/// It was found so since the first of the inspections, one after the other, that found the same.
fn found(known: &Known<'_>, entry: &Entry, reason: Reason) -> Cause {
    let behind = after(known, entry).len();
    let until = known.entries.iter().rev().skip(behind).filter(|one| one.event.is_on_site());
    let same = |one: &&&Entry| one.event == Event::Inspected && one.condition == entry.condition;
    let day = until.take_while(same).last().map_or(entry.date, |one| one.date);
    let by = if entry.by.is_empty() { String::new() } else { format!(" by {}", entry.by) };
    let note = if entry.note.is_empty() { String::new() } else { format!(": {}", entry.note) };
    let last = if day == entry.date { String::new() } else { format!(", last on {}", entry.date) };
    Cause { reason, day, why: format!("found {}{by}{last}{note}", reason.name()) }
}

/// A copy was printed, and nothing tells of its fixing. That it was destroyed does not say that none is needed.
fn not_fixed(known: &Known<'_>, entries: &[&Entry]) -> Option<Cause> {
    let first = entries.iter().find(|entry| entry.event == Event::Printed)?;
    let mut printed = entries.iter().rev().filter(|entry| entry.event == Event::Printed);
    let why = match printed.next().and_then(|last| known.destroyed(last)) {
        Some(gone) if printed.all(|one| known.destroyed(one).is_some()) => {
            format!("the record does not say that one was fixed, and the last was destroyed on {}", gone.date)
        }
        Some(_) | None => "the record does not say that it was fixed".to_owned(),
    };
    Some(Cause { reason: Reason::NotFixed, day: first.date, why })
}

/// The last printing says something else than the copy that is fixed, or it is not known whether it does.
fn superseded(known: &Known<'_>, by: &Entry, print: Option<&Entry>, inspected: Option<&Entry>) -> Option<Cause> {
    // A copy that was destroyed takes nobody's place.
    let printed = || known.entries.iter().rev().filter(|entry| entry.event == Event::Printed);
    let last = printed().find(|one| known.destroyed(one).is_none())?;
    let named = inspected.filter(|entry| !entry.revision.is_empty()).unwrap_or(by);
    let is_fixed_copy = |one: &Entry| match (print, named.fingerprint.as_str(), named.revision.as_str()) {
        (Some(print), ..) => says_the_same(print, one),
        (None, "", "") => false,
        (None, "", revision) => revision == one.revision,
        (None, fingerprint, _) => fingerprint == one.fingerprint,
    };
    let since = printed().take_while(|one| !is_fixed_copy(one)).filter(|one| known.destroyed(one).is_none());
    let first = since.last()?;
    let newer = format!("{} was printed on {}", revision(&last.revision), first.date);
    let fixed = print.map_or(named.revision.as_str(), |print| print.revision.as_str());
    let why = match (print, fixed) {
        (None, "") => format!("{newer}; which one is fixed is not known"),
        _ if fixed == last.revision => format!("{newer} with other words than the one that is fixed"),
        _ => format!("{newer}, {} is fixed", revision(fixed)),
    };
    Some(Cause { reason: Reason::Superseded, day: first.date.max(by.date), why })
}

/// How long the material of the copy lasts where it is fixed, from the day of fixing.
fn life(by: &Entry, printed: &Entry) -> Option<Cause> {
    let print = printed.print.as_deref()?;
    let life = print.lasts.0?;
    let (from, begun) = match by.event {
        Event::Fixed | Event::Replaced => (by.date, format!("fixed on {}", by.date)),
        Event::Printed | Event::Inspected | Event::Withdrawn | Event::Destroyed => {
            (printed.date, format!("printed on {}, when what hangs there was fixed is not recorded", printed.date))
        }
    };
    let day = from.months_later(life.least.saturating_mul(12))?;
    let lasts =
        if life == Life::NONE { "is not meant for its place".to_owned() } else { format!("lasts {life} there") };
    let why = format!("{begun}; {} {lasts}", material(print));
    Some(Cause { reason: Reason::Life, day, why })
}

/// `vinyl-polymeric (outdoor, sun)`
fn material(print: &Print) -> String {
    let material = if print.material.is_empty() { "the material" } else { &print.material };
    if print.environment.is_empty() { material.to_owned() } else { format!("{material} ({})", print.environment) }
}

/// The next time that somebody should look at it.
fn inspection(by: &Entry, print: Option<&Entry>, inspected: Option<&Entry>, interval: u16) -> Option<Cause> {
    let last = inspected.unwrap_or(by);
    let day = last.date.months_later(interval)?;
    let seen = match inspected.and_then(|entry| entry.condition) {
        Some(condition) => format!("last inspected on {}, {}", last.date, condition.name()),
        None => format!("fixed on {}, not inspected since", last.date),
    };
    let lasts = print.and_then(|entry| entry.print.as_ref()).and_then(|print| print.lasts.0);
    let life = if lasts.is_none() { "; how long its material lasts is not known" } else { "" };
    Some(Cause { reason: Reason::Inspection, day, why: format!("{seen}; every {interval} months{life}") })
}
