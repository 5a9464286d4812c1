//! Whether the record has what somebody tells already.

use super::Mark;
use crate::records::{Entry, Event, Known};
use crate::standing::Date;
use crate::wording::one_line;

/// How much of what is told of one notice and one day, in its order, the record has already.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Told {
    /// So many of the first marks are what the record has last of that day.
    pub first: usize,
    /// Whether they are all that it has of that day, so that the rest happened after it.
    pub is_whole_day: bool,
}

impl Told {
    /// A list that is told again tells the day as the record ends it, wherever it begins; the longest such end counts.
    pub(super) fn of(known: &Known<'_>, date: Date, marks: &[&Mark]) -> Self {
        let day = of_day(known, date);
        let found = (0..day.len()).find_map(|begin| Some((begin, followed(day.get(begin..)?, marks)?)));
        found.map_or(Self { first: 0, is_whole_day: day.is_empty() }, |(begin, first)| Self {
            first,
            is_whole_day: begin == 0,
        })
    }
}

/// Whether the record has a mark of its day at all, whatever came after it.
pub(super) fn is_told(known: &Known<'_>, mark: &Mark) -> bool {
    of_day(known, mark.date).into_iter().any(|entry| is_same(entry, mark))
}

/// The last thing that is recorded by the day of a mark: of what is on site, or of what lies ready for it.
pub(super) fn last<'a>(known: &Known<'a>, mark: &Mark) -> Option<&'a Entry> {
    let is_alike = |entry: &&&Entry| entry.event.is_on_site() == mark.deed.event().is_on_site();
    let mut before =
        known.entries.iter().rev().filter(|entry| entry.date <= mark.date && entry.event != Event::Printed);
    before.find(is_alike).copied()
}

/// Whether an entry says what a mark says. What the mark leaves open of copy, place and photo is no difference.
pub(super) fn is_same(entry: &Entry, mark: &Mark) -> bool {
    let agrees = |told: &str, recorded: &str| told.is_empty() || told == recorded;
    (entry.date, entry.event, entry.condition) == (mark.date, mark.deed.event(), mark.deed.condition())
        && (entry.by.as_str(), entry.note.as_str()) == (&*written(&mark.by), &*written(&mark.note))
        && agrees(&mark.revision, &entry.revision)
        && agrees(&written(&mark.place), &entry.place)
        && agrees(&written(&mark.photo), &entry.photo)
}

/// A text as the file gives it back.
pub(super) fn written(text: &str) -> String {
    one_line(text).trim().to_owned()
}

fn of_day<'a>(known: &Known<'a>, date: Date) -> Vec<&'a Entry> {
    let of_day = |entry: &&&Entry| entry.date == date && entry.event.is_on_site();
    known.entries.iter().filter(of_day).copied().collect()
}

/// How many marks follow all of the entries one by one, where a mark that is told twice stays at its entry; `None` if they
/// part before the last entry.
fn followed(entries: &[&Entry], marks: &[&Mark]) -> Option<usize> {
    let mut place = 0;
    let mut count = 0;
    for mark in marks {
        let says =
            |place: Option<usize>| place.and_then(|place| entries.get(place)).is_some_and(|entry| is_same(entry, mark));
        if says(Some(place)) {
            place += 1;
        } else if !says(place.checked_sub(1)) {
            break;
        }
        count += 1;
    }
    (place == entries.len()).then_some(count)
}
