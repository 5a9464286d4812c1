//! A survey held against what a record says is fixed on site.

use std::collections::BTreeSet;

use super::compare::{held, reason, without_new, without_old};
use super::lying::Lying;
use super::pairs::Paired;
use super::{Asked, Change, Changes, Danger, Doubt, Fate, Version};
use crate::records::{Condition, Entry, Event, Known, Ledger, Standing};

/// Which notices that are fixed are no longer true, which are needed and not fixed, which cannot be judged, and which are
/// no longer needed. `new` is what the survey asks for. An enclosure in doubt of which no notice is known has an entry
/// without a number; it is asked for by its name.
#[must_use]
pub fn check<'a>(ledger: &Ledger<'a>, new: Vec<Version<'a>>, doubt: &Doubt, asked: Asked<'_>) -> Changes<'a> {
    let (fixed, others): (Vec<Site<'a>>, Vec<Site<'a>>) = ledger.notices.iter().map(Site::of).partition(Site::is_fixed);
    let old: Vec<Version<'a>> = fixed.iter().filter_map(|site| site.version.clone()).collect();
    let numbers: BTreeSet<&str> = new.iter().map(|new| new.number).collect();
    let mut paired = Paired::of(&old, new);
    let known = fixed.iter().filter(|site| paired.knows(site.number) || numbers.contains(site.number)).count();
    let of_another = (fixed.len() >= LEAST && known * 2 < fixed.len()).then_some((known, fixed.len()));
    let mut changes = Changes { of_another, ..Changes::default() };
    let found: Vec<Option<Version<'a>>> = fixed.iter().map(|site| paired.take(site.number)).collect();
    for (site, new) in fixed.into_iter().zip(found) {
        if !asked(site.version.as_ref(), new.as_ref(), site.number) {
            continue;
        }
        let lying = site.lying.but(new.as_ref());
        match site.held(new, doubt, &paired, of_another) {
            Some(change) => changes.changed.push(lying.beside(change)),
            None => {
                changes.unchanged += 1;
                changes.changed.extend(lying.beside_a_true_one());
            }
        }
    }
    let lying = || others.iter().filter(|site| site.lying.is_there());
    let lying_known = lying().filter(|site| paired.knows(site.number) || numbers.contains(site.number)).count();
    let is_another = of_another.is_some() || (lying().count() >= LEAST && lying_known * 2 < lying().count());
    for site in others {
        let Some(new) = paired.take(site.number) else {
            let of_none = site.lying.of_none(is_another, |version| reason(doubt, version));
            changes.changed.extend(of_none.filter(|one| asked(one.old.as_ref(), None, site.number)));
            continue;
        };
        if !asked(None, Some(&new), site.number) {
            continue;
        }
        let is_stale = site.printed.as_ref().is_some_and(|printed| !printed.says_the_same(&new));
        let made = site.printed.as_ref().and_then(|printed| printed.made);
        let is_unfit = || made.zip(new.needs.as_ref()).is_some_and(|(copy, needs)| !needs.are_met_by(copy));
        let stale = if is_stale {
            ", and the copy that was printed last is no longer true"
        } else if is_unfit() {
            ", and the copy that was printed last is too small for its place or not made for it"
        } else {
            ""
        };
        changes.changed.push(without_old(new, doubt, site.number, &format!("{}{stale}", site.note)));
    }
    let rest = paired.rest().filter(|new| asked(None, Some(new), new.number));
    changes.changed.extend(rest.map(|new| without_old(new, doubt, "", "the record has no printing of it")));
    let named: BTreeSet<&str> = changes.changed.iter().map(Change::designation).collect();
    let silent = doubt.enclosures.iter().filter(|name| !named.contains(name.as_str()) && asked(None, None, name));
    let silent: Vec<Change<'_>> = silent.map(|name| of_enclosure(name)).collect();
    changes.changed.extend(silent);
    changes.sorted()
}

/// So few fixed notices are never taken for those of another survey.
const LEAST: usize = 3;

/// An enclosure that cannot be judged and of which no notice is known.
fn of_enclosure<'a>(name: &str) -> Change<'a> {
    let note = format!("{name}: the survey has errors there, or a live path was found, and no notice is fixed");
    Change::alone(Fate::NotJudged, Danger::CannotBeJudged, "", (None, None), note)
}

/// What stands on site of one notice.
struct Site<'a> {
    number: &'a str,
    standing: Standing<'a>,
    /// The copy that is fixed, at the place where it is, if its printing is known.
    version: Option<Version<'a>>,
    /// Who found it wrong, or why it is not there or not known.
    note: String,
    /// Its last printing of which the copy was not destroyed.
    printed: Option<Version<'a>>,
    /// Why an older copy of it may still hang beside the one that the record follows.
    beside: Option<String>,
    /// The copies that lie printed.
    lying: Lying<'a>,
}

impl<'a> Site<'a> {
    fn of(known: &Known<'a>) -> Self {
        let standing = known.standing();
        let (version, note) = match standing {
            Standing::Fixed { by, print, inspected } => fixed(by, print, inspected),
            Standing::NotFixed | Standing::Missing(_) | Standing::Withdrawn(_) => (None, not_fixed(known, standing)),
        };
        let printed = Version::last_left(known);
        let (beside, lying) = (left_beside(known, standing), Lying::of(known, standing));
        Self { number: known.number, standing, version, note, printed, beside, lying }
    }

    fn is_fixed(&self) -> bool {
        matches!(self.standing, Standing::Fixed { .. })
    }

    /// What is fixed against what the survey asks for; `None` if it holds.
    fn held(
        self,
        new: Option<Version<'a>>,
        doubt: &Doubt,
        paired: &Paired<'_>,
        of_another: Option<(usize, usize)>,
    ) -> Option<Change<'a>> {
        let not_judged = |old, new, note| {
            Some(Change::alone(Fate::NotJudged, Danger::CannotBeJudged, self.number, (old, new), note))
        };
        match (self.version, new, of_another) {
            (None, new, _) => not_judged(None, new, self.note),
            (Some(old), Some(new), _) => match (held(old.clone(), new.clone(), doubt, &self.note), self.beside) {
                (None, Some(beside)) => not_judged(Some(old), Some(new), beside),
                (change, _) => change,
            },
            (old, None, Some(_)) => not_judged(old, None, "the survey seems to be that of another record".to_owned()),
            (Some(old), None, None) => {
                let change = without_new(old, doubt, paired);
                // What hangs there is false, whether anything comes in its place or not.
                let is_false = change.fate == Fate::Withdrawn && change.danger < Danger::NotNeeded;
                Some(if is_false { Change { fate: Fate::Altered, ..change } } else { change })
            }
        }
    }
}

/// The copy that is fixed, and what is to be said of it.
fn fixed<'a>(by: &'a Entry, print: Option<&'a Entry>, inspected: Option<&'a Entry>) -> (Option<Version<'a>>, String) {
    let printed = print.and_then(|entry| Some(Version::printed(entry, entry.print.as_deref()?)));
    let Some(mut version) = printed else {
        let revision = if by.revision.is_empty() { String::new() } else { format!(", revision {}", by.revision) };
        let what = by.event.name();
        return (None, format!("which printing the copy there is of is not known ({what} {}{revision})", by.date));
    };
    // Where it was found last, else where it was fixed, if somebody said that it is not the notice's own place.
    let place = inspected.map(|entry| entry.place.as_str()).filter(|place| !place.is_empty());
    let place = place.or(Some(by.place.as_str()).filter(|place| !place.is_empty()));
    version.position = place.unwrap_or(version.position);
    let wrong = inspected.filter(|entry| entry.condition == Some(Condition::Wrong));
    let wrong = wrong.map_or_else(String::new, |entry| {
        format!("it was found wrong on site on {}: survey and site do not agree", entry.date)
    });
    (Some(version), wrong)
}

/// An older printing of several copies of which one was fixed: the record follows one copy of a notice, and nobody has said
/// since the newer one was fixed that the others are gone.
fn left_beside(known: &Known<'_>, standing: Standing<'_>) -> Option<String> {
    let Standing::Fixed { print: Some(stands), inspected: None, .. } = standing else { return None };
    let was_fixed = |printed: &Entry| {
        let fixings = known.entries.iter().filter(|entry| matches!(entry.event, Event::Fixed | Event::Replaced));
        fixings.into_iter().any(|entry| entry.fingerprint == printed.fingerprint)
    };
    let older = known.entries.iter().filter(|entry| entry.fingerprint != stands.fingerprint && was_fixed(entry));
    let several = older.filter_map(|entry| Some((entry, entry.print.as_ref()?.copies))).find(|(_, copies)| *copies > 1);
    several.map(|(entry, copies)| {
        let revision =
            if entry.revision.is_empty() { String::new() } else { format!(" of revision {}", entry.revision) };
        format!(
            "{copies} copies{revision} were printed, and the record follows one: look whether another still hangs; an \
             inspection recorded after that settles it"
        )
    })
}

/// Why a notice that is needed is not on site.
fn not_fixed(known: &Known<'_>, standing: Standing<'_>) -> String {
    match (standing, known.printed()) {
        (Standing::Missing(entry), _) => format!("it was found missing on {}", entry.date),
        (Standing::Withdrawn(entry), _) => format!("it was taken away on {}", entry.date),
        (_, Some((last, _))) => match (known.left(), known.destroyed(last)) {
            (None, Some(gone)) => {
                format!("it was printed on {}, and destroyed on {} before it was fixed", last.date, gone.date)
            }
            (left, _) => format!("it was printed on {} and is not fixed", left.unwrap_or(last).date),
        },
        (_, None) => "the record has no printing of it".to_owned(),
    }
}
