//! What stands on site, notice by notice, as the entries tell it.

use std::collections::HashMap;

use foldhash::fast::RandomState;

use super::{Condition, Entry, Event, Print};

/// Every notice of a record.
#[derive(Debug, Default)]
pub struct Ledger<'a> {
    /// The notices, in the order in which people count: `CH2-JB1/1` before `CH10-JB1/1`.
    pub notices: Vec<Known<'a>>,
    places: Places<'a>,
}

/// Where each notice stands, by its number.
type Places<'a> = HashMap<&'a str, usize, RandomState>;

/// What a record knows of one notice.
#[derive(Debug)]
pub struct Known<'a> {
    /// Its number.
    pub number: &'a str,
    /// Its entries in the order of their days; those of one day in the order of the file.
    pub entries: Vec<&'a Entry>,
}

/// What stands on site.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Standing<'a> {
    /// It was printed, and nobody says that it was fixed.
    NotFixed,
    /// It is fixed.
    Fixed {
        /// By which entry: fixing, replacing, or an inspection that found it where no fixing is recorded.
        by: &'a Entry,
        /// The printing of the copy that is fixed, if it is recorded.
        print: Option<&'a Entry>,
        /// The last inspection since.
        inspected: Option<&'a Entry>,
    },
    /// It was found missing.
    Missing(&'a Entry),
    /// It was taken away.
    Withdrawn(&'a Entry),
}

impl<'a> Ledger<'a> {
    /// What the entries of a record come to.
    #[must_use]
    pub fn of(entries: impl IntoIterator<Item = &'a Entry>) -> Self {
        let mut places = Places::default();
        let mut notices: Vec<Known<'_>> = Vec::new();
        for entry in entries {
            let place = *places.entry(&entry.number).or_insert(notices.len());
            if place == notices.len() {
                notices.push(Known { number: &entry.number, entries: Vec::new() });
            }
            notices.iter_mut().skip(place).take(1).for_each(|known| known.entries.push(entry));
        }
        notices.iter_mut().for_each(|known| known.entries.sort_by_key(|entry| entry.date));
        notices.sort_by(|one, other| alphanumeric_sort::compare_str(one.number, other.number));
        let places = notices.iter().enumerate().map(|(place, known)| (known.number, place)).collect();
        Self { notices, places }
    }

    /// The same of some of the notices.
    #[must_use]
    pub fn among(self, wanted: impl FnMut(&Known<'a>) -> bool) -> Self {
        let mut notices = self.notices;
        notices.retain(wanted);
        let places = notices.iter().enumerate().map(|(place, known)| (known.number, place)).collect();
        Self { notices, places }
    }

    /// What is known of a notice by its number.
    #[must_use]
    pub fn find(&self, number: &str) -> Option<&Known<'a>> {
        self.notices.get(*self.places.get(number)?)
    }
}

impl<'a> Known<'a> {
    /// The last printing.
    #[must_use]
    pub fn printed(&self) -> Option<(&'a Entry, &'a Print)> {
        self.entries.iter().rev().find_map(|entry| Some((*entry, entry.print.as_deref()?)))
    }

    /// What stands on site.
    #[must_use]
    pub fn standing(&self) -> Standing<'a> {
        let mut standing = Standing::NotFixed;
        for (number, entry) in self.entries.iter().enumerate() {
            let copy = self.copy(entry, number);
            standing = match (entry.event, standing) {
                (Event::Printed | Event::Destroyed, same) => same,
                (Event::Fixed | Event::Replaced, _) => Standing::Fixed { by: entry, print: copy, inspected: None },
                (Event::Withdrawn, _) => Standing::Withdrawn(entry),
                (Event::Inspected, _) if entry.condition == Some(Condition::Missing) => Standing::Missing(entry),
                (Event::Inspected, Standing::Fixed { by, print, .. }) => {
                    let named = !(entry.revision.is_empty() && entry.fingerprint.is_empty());
                    Standing::Fixed { by, print: if named { copy } else { print }, inspected: Some(entry) }
                }
                (Event::Inspected, _) => Standing::Fixed { by: entry, print: copy, inspected: Some(entry) },
            };
        }
        standing
    }

    /// When a copy that was printed was destroyed before it was fixed, if it was. One that was printed anew is another.
    #[must_use]
    pub fn destroyed(&self, copy: &Entry) -> Option<&'a Entry> {
        let place = self.entries.iter().position(|one| std::ptr::eq(*one, copy))?;
        let is_it = |one: &&&Entry| {
            one.event == Event::Destroyed && one.fingerprint == copy.fingerprint && one.revision == copy.revision
        };
        self.entries.iter().skip(place + 1).find(is_it).copied()
    }

    /// The last printing of which the copy was not destroyed.
    #[must_use]
    pub fn left(&self) -> Option<&'a Entry> {
        let printed = self.entries.iter().rev().copied().filter(|entry| entry.event == Event::Printed);
        printed.into_iter().find(|copy| self.destroyed(copy).is_none())
    }

    /// The copies that lie printed by the record, the last one first: neither fixed nor found on site nor destroyed since.
    pub(super) fn lying(&self) -> impl Iterator<Item = &'a Entry> + '_ {
        let stands = match self.standing() {
            Standing::Fixed { print, .. } => print,
            Standing::NotFixed | Standing::Missing(_) | Standing::Withdrawn(_) => None,
        };
        let same = |one: &Entry, copy: &Entry| one.fingerprint == copy.fingerprint && one.revision == copy.revision;
        let was_there = move |place: usize, copy: &Entry| {
            let is_fixing = |one: &&Entry| matches!(one.event, Event::Fixed | Event::Replaced) && same(one, copy);
            self.entries.iter().skip(place + 1).any(is_fixing) || stands.is_some_and(|one| same(one, copy))
        };
        let printed = self.entries.iter().copied().enumerate().rev().filter(|(_, one)| one.event == Event::Printed);
        printed.filter(move |(place, one)| !was_there(*place, one) && self.destroyed(one).is_none()).map(|(_, one)| one)
    }

    /// The only copy that can be meant where nobody says which: the last printing, if every other said the same.
    #[must_use]
    pub fn only_copy(&self) -> Option<&'a Entry> {
        only(self.entries.iter().rev().filter(|one| one.event == Event::Printed).copied())
    }

    /// The printing of the copy that an entry speaks of: by its fingerprint, else by its revision. Without either, whoever
    /// fixed it took the last one; of one that was only found there it is not known which it is, if several were printed.
    fn copy(&self, entry: &Entry, number: usize) -> Option<&'a Entry> {
        let before = || self.entries.iter().take(number).rev().filter(|one| one.event == Event::Printed).copied();
        match (entry.fingerprint.as_str(), entry.revision.as_str()) {
            ("", "") if entry.event == Event::Inspected => only(before()),
            ("", "") => before().next(),
            ("", revision) => before().find(|one| one.revision == revision),
            (fingerprint, _) => before().find(|one| one.fingerprint == fingerprint),
        }
    }
}

/// The first of some printings, if all of them said the same.
fn only<'a>(mut printings: impl Iterator<Item = &'a Entry>) -> Option<&'a Entry> {
    let first = printings.next()?;
    printings.all(|one| one.fingerprint == first.fingerprint).then_some(first)
}
