//! A survey held against what a record says is fixed on site.

use std::collections::BTreeSet;

use super::compare::{ByNumber, held, without_new, without_old};
use super::{Change, Changes, Danger, Doubt, Fate, Version};
use crate::records::{Condition, Entry, Known, Ledger, Standing};

/// Which notices that are fixed are no longer true, which are needed and not fixed, which cannot be judged, and which are
/// no longer needed. `new` is what the survey asks for, `asked` whether a notice of a number is asked for; an enclosure in
/// doubt of which no notice is known has an entry without a number, if `asked_of` says that it is asked for.
#[must_use]
pub fn check<'a>(
    ledger: &Ledger<'a>,
    new: Vec<Version<'a>>,
    doubt: &Doubt,
    asked: impl Fn(&str) -> bool,
    asked_of: impl Fn(&str) -> bool,
) -> Changes<'a> {
    let new = new.into_iter().filter(|version| asked(version.number)).collect();
    let mut judge = Judge { new: ByNumber::of(new), doubt, changes: Changes::default() };
    ledger.notices.iter().filter(|known| asked(known.number)).for_each(|known| judge.known(known));
    let Judge { new, mut changes, .. } = judge;
    changes.changed.extend(new.rest().map(|new| without_old(new, doubt, "", "it was never printed")));
    let named: BTreeSet<&str> = changes.changed.iter().map(Change::designation).collect();
    let silent = doubt.enclosures.iter().filter(|name| !named.contains(name.as_str()) && asked_of(name));
    let silent: Vec<Change<'_>> = silent.map(|name| of_enclosure(name)).collect();
    changes.changed.extend(silent);
    changes.sorted()
}

/// An enclosure that cannot be judged and of which no notice is known.
fn of_enclosure<'a>(name: &str) -> Change<'a> {
    let note = format!("{name}: the survey has errors there, or a live path was found, and no notice is fixed");
    Change::alone(Fate::NotJudged, Danger::CannotBeJudged, "", (None, None), note)
}

struct Judge<'a, 'd> {
    new: ByNumber<'a>,
    doubt: &'d Doubt,
    changes: Changes<'a>,
}

impl<'a> Judge<'a, '_> {
    fn known(&mut self, known: &Known<'a>) {
        let new = self.new.take(known.number);
        let change = match (known.standing(), new) {
            (Standing::Fixed { by, print, inspected }, new) => self.fixed(known, (by, print, inspected), new),
            (_, None) => return,
            (standing, Some(new)) => Some(without_old(new, self.doubt, known.number, &not_fixed(known, standing))),
        };
        match change {
            Some(change) => self.changes.changed.push(change),
            None => self.changes.unchanged += 1,
        }
    }

    fn fixed(
        &self,
        known: &Known<'a>,
        (by, print, inspected): (&'a Entry, Option<&'a Entry>, Option<&'a Entry>),
        new: Option<Version<'a>>,
    ) -> Option<Change<'a>> {
        let printed = print.and_then(|entry| Some(Version::printed(entry, entry.print.as_deref()?)));
        let Some(mut old) = printed else {
            let revision = if by.revision.is_empty() { String::new() } else { format!(", revision {}", by.revision) };
            let what = by.event.name();
            let note = format!("no printing is recorded of the copy that is there ({what} {}{revision})", by.date);
            return Some(Change::alone(Fate::NotJudged, Danger::CannotBeJudged, known.number, (None, new), note));
        };
        // Where it was found last, else where it was fixed, if somebody said that it is not the notice's own place.
        let place = inspected.map(|entry| entry.place.as_str()).filter(|place| !place.is_empty());
        let place = place.or(Some(by.place.as_str()).filter(|place| !place.is_empty()));
        old.position = place.unwrap_or(old.position);
        let wrong = inspected.filter(|entry| entry.condition == Some(Condition::Wrong));
        let wrong = wrong.map_or_else(String::new, |entry| {
            format!("it was found wrong on site on {}: survey and site do not agree", entry.date)
        });
        match new {
            Some(new) => held(old, new, self.doubt, &wrong),
            None => Some(without_new(old, self.doubt)),
        }
    }
}

/// Why a notice that is needed is not on site.
fn not_fixed(known: &Known<'_>, standing: Standing<'_>) -> String {
    match (standing, known.printed()) {
        (Standing::Missing(entry), _) => format!("it was found missing on {}", entry.date),
        (Standing::Withdrawn(entry), _) => format!("it was taken away on {}", entry.date),
        (_, Some((entry, _))) => format!("it was printed on {} and is not fixed", entry.date),
        (_, None) => "it was never printed".to_owned(),
    }
}
