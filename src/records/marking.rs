//! Whether what somebody says of a notice on site can be so by the record, and the entry that it makes.

use std::collections::{HashMap, HashSet};

use super::{Condition, Entry, Event, Known, Ledger, Refusal, Standing};
use crate::finding::Finding;
use crate::standing::Date;

pub use repeat::Told;
use repeat::{is_same, written};

/// What was done with a notice on site.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Deed {
    /// Fixed where none was.
    Fixed,
    /// Fixed in the place of an older copy.
    Replaced,
    /// Looked at, and found so.
    Inspected(Condition),
    /// Taken away.
    Withdrawn,
    /// Destroyed where it lay printed, and not fixed.
    Destroyed,
}

impl Deed {
    /// The event of its entry.
    #[must_use]
    pub const fn event(self) -> Event {
        match self {
            Self::Fixed => Event::Fixed,
            Self::Replaced => Event::Replaced,
            Self::Inspected(_) => Event::Inspected,
            Self::Withdrawn => Event::Withdrawn,
            Self::Destroyed => Event::Destroyed,
        }
    }

    const fn condition(self) -> Option<Condition> {
        match self {
            Self::Inspected(condition) => Some(condition),
            Self::Fixed | Self::Replaced | Self::Withdrawn | Self::Destroyed => None,
        }
    }
}

/// What somebody says of one notice. An empty text is one that nobody gave.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Mark {
    /// The day.
    pub date: Date,
    /// What was done.
    pub deed: Deed,
    /// Number of the notice.
    pub number: String,
    /// Revision of the copy, where it is named; else the record tells which copy it is.
    pub revision: String,
    /// Who did it.
    pub by: String,
    /// Where, if not at the notice's own position.
    pub place: String,
    /// Path or link of a photograph.
    pub photo: String,
    /// Free text.
    pub note: String,
}

/// A mark that can be so.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Marked {
    /// Whether the record, or a mark before it, has the same already, so that nothing is added.
    pub was_there: bool,
    /// What must be pointed out.
    pub findings: Vec<Finding>,
}

/// The marks of one run, each judged by the record and by those before it.
#[derive(Debug)]
pub struct Marking<'a> {
    ledger: &'a Ledger<'a>,
    latest: Date,
    entries: Vec<Entry>,
    /// Where among the entries those of a notice are.
    places: HashMap<String, Vec<usize>>,
}

impl<'a> Marking<'a> {
    /// Marks on top of a record. Nothing is believed that is dated after `today`, a day of UTC; since the day begins up to
    /// fourteen hours earlier where people live, the day after it is still believed.
    #[must_use]
    pub fn new(ledger: &'a Ledger<'a>, today: Date) -> Self {
        let latest = Date::of_unix_day(today.unix_day() + 1).unwrap_or(today);
        Self { ledger, latest, entries: Vec::new(), places: HashMap::new() }
    }

    /// Takes one mark, if it can be so.
    ///
    /// # Errors
    /// [`Refusal`]; the marks before it stay.
    pub fn mark(&mut self, mark: &Mark) -> Result<Marked, Refusal> {
        self.take(mark, false)
    }

    /// Takes one mark of a notice that nobody named by itself. That something stands which the record does not have fixed
    /// is then not believed.
    ///
    /// # Errors
    /// [`Refusal`]; the marks before it stay.
    pub fn mark_one_of_many(&mut self, mark: &Mark) -> Result<Marked, Refusal> {
        self.take(mark, true)
    }

    fn take(&mut self, mark: &Mark, of_many: bool) -> Result<Marked, Refusal> {
        if mark.date > self.latest {
            return Err(Refusal::Future { number: mark.number.clone(), date: mark.date });
        }
        let unknown = || Refusal::Unknown { number: mark.number.clone() };
        let known = self.known(&mark.number).ok_or_else(unknown)?;
        if repeat::last(&known, mark).is_some_and(|last| is_same(last, mark)) {
            return Ok(Marked { was_there: true, findings: Vec::new() });
        }
        let (entry, findings) = judged(&known, mark, of_many)?;
        self.places.entry(entry.number.clone()).or_default().push(self.entries.len());
        self.entries.push(entry);
        Ok(Marked { was_there: false, findings })
    }

    /// How much of what is told of one notice and one day, in its order, the record has already.
    #[must_use]
    pub fn told(&self, marks: &[&Mark]) -> Told {
        let first = marks.first();
        let known = first.and_then(|first| self.ledger.find(&first.number));
        first.zip(known).map_or_else(Told::default, |(first, known)| Told::of(known, first.date, marks))
    }

    /// Whether the record has the same of that day already, whatever came after it.
    #[must_use]
    pub fn has(&self, mark: &Mark) -> bool {
        self.ledger.find(&mark.number).is_some_and(|known| repeat::is_told(known, mark))
    }

    /// The entries of the marks that were taken, in their order.
    #[must_use]
    pub fn entries(self) -> Vec<Entry> {
        self.entries
    }

    /// What is known of a notice, with what the marks so far add.
    fn known<'b>(&'b self, number: &'b str) -> Option<Known<'b>> {
        let known = self.ledger.find(number)?;
        let added = self.places.get(number).into_iter().flatten().filter_map(|place| self.entries.get(*place));
        let mut entries: Vec<&Entry> = known.entries.iter().copied().chain(added).collect();
        entries.sort_by_key(|entry| entry.date);
        Some(Known { number, entries })
    }
}

/// The entry of a mark, and what must be pointed out.
fn judged(known: &Known<'_>, mark: &Mark, of_many: bool) -> Result<(Entry, Vec<Finding>), Refusal> {
    let (before, after) = known.entries.split_at(known.entries.partition_point(|entry| entry.date <= mark.date));
    let then = Known { number: known.number, entries: before.to_vec() };
    if then.printed().is_none() {
        let first = after.iter().find(|entry| entry.event == Event::Printed);
        return Err(Refusal::not_printed(mark, first.copied()));
    }
    if mark.deed == Deed::Destroyed {
        return destroyed(known, &then, mark);
    }
    let standing = then.standing();
    let is_seen = matches!(mark.deed, Deed::Inspected(_) | Deed::Withdrawn);
    let gone = pointed::taken_away(&then, &standing);
    if let Some(gone) = gone.filter(|_| of_many && !is_seen) {
        return Err(Refusal::TakenAway { number: mark.number.clone(), since: gone.date });
    }
    if of_many && is_seen && !matches!(standing, Standing::Fixed { .. }) {
        return Err(Refusal::NotKnownThere { number: mark.number.clone(), date: mark.date });
    }
    possible(mark, &standing, after)?;
    let copy = copy(&then, &standing, mark, after)?;
    let findings = pointed::out(known, &then, &standing, mark, copy);
    Ok((entry(known, mark, copy), findings))
}

/// A copy that lay printed was destroyed. Which one must be plain: the other would go on lying there.
fn destroyed(known: &Known<'_>, then: &Known<'_>, mark: &Mark) -> Result<(Entry, Vec<Finding>), Refusal> {
    // One that was fixed later did not perish before.
    let lies = |copy: &&Entry| known.lying().any(|one| std::ptr::eq(one, *copy));
    let is_meant = |copy: &&Entry| mark.revision.is_empty() || copy.revision == mark.revision;
    let lying: Vec<&Entry> = then.lying().filter(lies).filter(is_meant).collect();
    let number = mark.number.clone();
    let Some(copy) = lying.first().copied() else {
        return Err(Refusal::NoneLies { number, date: mark.date, revision: mark.revision.clone() });
    };
    if lying.iter().any(|one| one.fingerprint != copy.fingerprint) {
        let revisions = lying.iter().rev().map(|one| one.revision.clone()).collect();
        return Err(Refusal::SeveralLie { number, revisions });
    }
    Ok((entry(known, mark, Some(copy)), Vec::new()))
}

fn entry(known: &Known<'_>, mark: &Mark, copy: Option<&Entry>) -> Entry {
    Entry {
        revision: copy.map(|copy| copy.revision.clone()).unwrap_or_default(),
        fingerprint: copy.map(|copy| copy.fingerprint.clone()).unwrap_or_default(),
        condition: mark.deed.condition(),
        by: written(&mark.by),
        place: written(&mark.place),
        photo: written(&mark.photo),
        note: written(&mark.note),
        ..Entry::new(mark.date, mark.deed.event(), known.number)
    }
}

/// Whether a deed can have been done to what stood then, and whether what is recorded of later days bears it.
fn possible(mark: &Mark, standing: &Standing<'_>, after: &[&Entry]) -> Result<(), Refusal> {
    let number = mark.number.clone();
    let later = after.iter().find(|entry| entry.event.is_on_site());
    if let Some(later) = later.filter(|later| disagrees(mark.deed, standing, later)) {
        let (event, later, on) = (mark.deed.event(), later.event, later.date);
        return Err(Refusal::Disagrees { number, date: mark.date, event, later, on });
    }
    let next = later.filter(|next| next.event == mark.deed.event());
    match (mark.deed, standing) {
        (Deed::Fixed, Standing::Fixed { by, .. }) if by.event == Event::Inspected => {
            Err(Refusal::FoundThere { number, since: by.date })
        }
        (Deed::Fixed, Standing::Fixed { by, .. }) => Err(Refusal::FixedAlready { number, since: by.date }),
        (Deed::Fixed, _) => next.map_or(Ok(()), |by| Err(Refusal::FixedAlready { number, since: by.date })),
        (Deed::Replaced, Standing::Fixed { .. }) => Ok(()),
        (Deed::Replaced, _) => Err(Refusal::NoneStands { number, date: mark.date }),
        (Deed::Withdrawn, Standing::Withdrawn(by)) => Err(Refusal::WithdrawnAlready { number, since: by.date }),
        (Deed::Withdrawn, _) => next.map_or(Ok(()), |by| Err(Refusal::WithdrawnAlready { number, since: by.date })),
        (Deed::Inspected(Condition::Missing), Standing::NotFixed | Standing::Withdrawn(_)) => {
            Err(Refusal::NeverThere { number, date: mark.date })
        }
        (Deed::Inspected(_) | Deed::Destroyed, _) => Ok(()),
    }
}

/// Whether the next thing that is recorded cannot have followed on a deed that is told late.
fn disagrees(deed: Deed, standing: &Standing<'_>, later: &Entry) -> bool {
    let is_missing = later.condition == Some(Condition::Missing);
    match (deed, later.event) {
        (Deed::Withdrawn, Event::Inspected) => !is_missing,
        (Deed::Withdrawn | Deed::Inspected(Condition::Missing), Event::Replaced) | (Deed::Replaced, Event::Fixed) => {
            true
        }
        (Deed::Inspected(Condition::Missing), _) => false,
        // It was found there before it was fixed.
        (Deed::Inspected(_), Event::Fixed) => !matches!(standing, Standing::Fixed { .. }),
        (Deed::Fixed | Deed::Replaced | Deed::Inspected(_) | Deed::Withdrawn | Deed::Destroyed, _) => false,
    }
}

/// The printing of the copy that a mark speaks of; `None` where it is not known.
fn copy<'a>(
    then: &Known<'a>,
    standing: &Standing<'a>,
    mark: &Mark,
    after: &[&Entry],
) -> Result<Option<&'a Entry>, Refusal> {
    let printings = || then.entries.iter().rev().copied().filter(|entry| entry.event == Event::Printed);
    if matches!(mark.deed, Deed::Fixed | Deed::Replaced) {
        refuse_destroyed(then, mark)?;
    }
    let is_fixing = matches!(mark.deed, Deed::Fixed | Deed::Replaced);
    let printings = || printings().filter(|copy| !is_fixing || then.destroyed(copy).is_none());
    if !mark.revision.is_empty() {
        let named = printings().find(|entry| entry.revision == mark.revision);
        return named.map(Some).ok_or_else(|| {
            let later = after.iter().find(|entry| entry.event == Event::Printed && entry.revision == mark.revision);
            later.map_or_else(|| no_such_revision(mark, printings()), |later| Refusal::not_printed(mark, Some(later)))
        });
    }
    let by_entry = |entry: &Entry| printings().find(|one| one.fingerprint == entry.fingerprint);
    Ok(match (mark.deed, standing) {
        (Deed::Fixed | Deed::Replaced, _) => printings().next(),
        (_, Standing::Fixed { print, .. }) => *print,
        (_, Standing::Missing(entry) | Standing::Withdrawn(entry)) => by_entry(entry).or_else(|| then.only_copy()),
        (_, Standing::NotFixed) => then.only_copy(),
    })
}

/// What was destroyed cannot be fixed.
fn refuse_destroyed(then: &Known<'_>, mark: &Mark) -> Result<(), Refusal> {
    let is_meant = |copy: &&&Entry| mark.revision.is_empty() || copy.revision == mark.revision;
    let mut meant = then.entries.iter().rev().filter(|entry| entry.event == Event::Printed).filter(is_meant);
    let Some(gone) = meant.next().and_then(|last| then.destroyed(last)) else { return Ok(()) };
    if meant.any(|copy| then.destroyed(copy).is_none()) {
        return Ok(());
    }
    Err(Refusal::Destroyed { number: mark.number.clone(), revision: gone.revision.clone(), since: gone.date })
}

fn no_such_revision<'a>(mark: &Mark, printings: impl Iterator<Item = &'a Entry>) -> Refusal {
    let mut seen = HashSet::new();
    let printed = printings.map(|entry| entry.revision.clone()).filter(|revision| seen.insert(revision.clone()));
    let mut printed: Vec<String> = printed.collect();
    printed.reverse();
    Refusal::NoSuchRevision { number: mark.number.clone(), revision: mark.revision.clone(), printed }
}

mod pointed;
mod repeat;

#[cfg(test)]
mod tests;
