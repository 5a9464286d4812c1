//! Why a notice is printed again: how it was found, what it says by now, a sheet that was spoiled.

use std::collections::BTreeMap;

use super::{Condition, Entry, Known, Print, Standing};

/// A cell of a printed document.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Spot {
    /// The page, from 1.
    pub page: u32,
    /// The cell of the page, from 1.
    pub cell: u32,
}

impl Spot {
    /// Spots from a list such as `1:4,2:1`; the first part that is none otherwise.
    ///
    /// # Errors
    /// The part.
    pub fn list(text: &str) -> Result<Vec<Self>, &str> {
        let number = |text: &str| text.trim().parse::<u32>().ok().filter(|number| *number > 0);
        let spot = |part: &str| {
            let (page, cell) = part.split_once(':')?;
            Some(Self { page: number(page)?, cell: number(cell)? })
        };
        text.split(',').map(|part| spot(part).ok_or_else(|| part.trim())).collect()
    }
}

/// A document as the record has it.
#[derive(Debug)]
pub struct PrintedFile<'a> {
    /// The file as it was named.
    pub file: &'a str,
    /// The number of the notice at each cell.
    pub spots: BTreeMap<Spot, &'a str>,
}

impl<'a> PrintedFile<'a> {
    /// The last document that was printed, or the last of a name; `None` if the record has none whose cells it knows.
    #[must_use]
    pub fn last(entries: &'a [Entry], named: Option<&str>) -> Option<Self> {
        let placed = |entry: &&'a Entry| {
            let print = entry.print.as_deref().filter(|print| print.page > 0 && print.cell > 0)?;
            named.is_none_or(|named| named == print.file).then_some((*entry, print))
        };
        let (last, of_last) = entries.iter().rev().find_map(|entry| placed(&entry))?;
        let mut spots: BTreeMap<Spot, &str> = BTreeMap::new();
        let mut doubtful = Vec::new();
        for (entry, print) in entries.iter().filter_map(|entry| placed(&entry)) {
            let is_of_last = print.run == of_last.run && print.file == of_last.file && entry.date == last.date;
            let spot = Spot { page: print.page, cell: print.cell };
            if is_of_last && spots.insert(spot, &entry.number).is_some_and(|other| other != entry.number) {
                doubtful.push(spot);
            }
        }
        // Two records that somebody laid together may give one cell to two notices: then nobody knows.
        spots.retain(|spot, _| !doubtful.contains(spot));
        Some(Self { file: &of_last.file, spots })
    }
}

/// The entries of one printing with the number that follows on those of a record. What the last printing there begins with,
/// word for word, is that printing told again: what it has is left out, and the rest is added to it.
#[must_use]
pub fn as_one_run(there: &[Entry], mut entries: Vec<Entry>) -> Vec<Entry> {
    let run = |entry: &Entry| entry.print.as_deref().map(|print| print.run);
    let last = there.iter().filter_map(run).max().unwrap_or(0);
    let number = |entries: &mut [Entry], run: u32| {
        entries.iter_mut().filter_map(|entry| entry.print.as_deref_mut()).for_each(|print| print.run = run);
    };
    number(&mut entries, last);
    let of_last: Vec<&Entry> = there.iter().filter(|entry| run(entry) == Some(last)).collect();
    if !of_last.is_empty()
        && entries.len() >= of_last.len()
        && entries.iter().zip(&of_last).all(|(one, other)| one == *other)
    {
        entries.drain(..of_last.len());
    } else {
        number(&mut entries, last.saturating_add(1));
    }
    entries
}

impl<'a> Known<'a> {
    /// How what stands on site was found last; `None` where nothing stands or nobody looked.
    #[must_use]
    pub fn found(&self) -> Option<Condition> {
        match self.standing() {
            Standing::Fixed { inspected, .. } => inspected?.condition,
            Standing::Missing(entry) => entry.condition,
            Standing::NotFixed | Standing::Withdrawn(_) => None,
        }
    }

    /// Whether nothing of it stands on site and nothing lies ready for it: it was never printed, or not since it was found
    /// missing or taken away. What was destroyed lies there no longer.
    #[must_use]
    pub fn is_lacking(&self) -> bool {
        match self.standing() {
            Standing::Fixed { .. } => false,
            Standing::NotFixed => self.left().is_none(),
            Standing::Missing(entry) | Standing::Withdrawn(entry) => {
                let since = self.entries.iter().rev().take_while(|one| !std::ptr::eq(**one, entry));
                !since.into_iter().any(|one| one.print.is_some() && self.destroyed(one).is_none())
            }
        }
    }

    /// How the copy on site was printed, or where none is the one printed for it, with its fingerprint; `None` where nobody
    /// knows, or none is wanted.
    #[must_use]
    pub fn copy_shown(&self) -> Option<(&'a Print, &'a str)> {
        let entry = match self.standing() {
            Standing::Fixed { print, .. } => print?,
            Standing::NotFixed | Standing::Missing(_) => self.printed()?.0,
            Standing::Withdrawn(_) => return None,
        };
        Some((entry.print.as_deref()?, entry.fingerprint.as_str()))
    }

    /// Whether the copy on site, or where none is the one printed for it, says something else than a notice of this
    /// fingerprint; without a fingerprint, whether one stands that no survey has. `None` where nobody knows what the copy says.
    #[must_use]
    pub fn is_altered(&self, fingerprint: Option<&str>) -> Option<bool> {
        let says = match self.standing() {
            Standing::Fixed { print: Some(print), .. } => print.fingerprint.as_str(),
            Standing::Fixed { by, print: None, .. } => by.fingerprint.as_str(),
            Standing::NotFixed | Standing::Missing(_) if fingerprint.is_some() => match self.left() {
                Some(print) => print.fingerprint.as_str(),
                None => return Some(false),
            },
            Standing::NotFixed | Standing::Missing(_) | Standing::Withdrawn(_) => return Some(false),
        };
        match fingerprint {
            None => Some(true),
            Some(_) if says.is_empty() => None,
            Some(fingerprint) => Some(says != fingerprint),
        }
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::records::{Event, Ledger};
    use crate::standing::Date;

    fn entry(day: &str, event: Event, number: &str) -> Entry {
        Entry::new(Date::parse(day).unwrap(), event, number)
    }

    fn printed(day: &str, number: &str, says: &str, (run, file, page, cell): (u32, &str, u32, u32)) -> Entry {
        let print = Print { file: file.into(), page, cell, run, ..crate::records::testing::print() };
        Entry { fingerprint: says.into(), print: Some(Box::new(print)), ..entry(day, Event::Printed, number) }
    }

    #[test]
    fn the_cells_are_those_of_the_last_run() {
        let day = "2026-11-03";
        let entries = [
            printed("2026-11-01", "A/1", "", (1, "n.pdf", 1, 1)),
            printed("2026-11-02", "B/1", "", (2, "m.pdf", 1, 1)),
            printed(day, "A/1", "", (3, "n.pdf", 1, 1)),
            printed(day, "B/1", "", (3, "n.pdf", 1, 2)),
            printed(day, "C/1", "", (3, "n.pdf", 2, 1)),
            // The same name and day again, shorter, and nothing in its first cell.
            printed(day, "C/1", "", (4, "n.pdf", 1, 2)),
            printed(day, "D/1", "", (4, "n.pdf", 1, 3)),
            printed("2026-11-04", "D/1", "", (5, "", 0, 0)),
        ];
        let at = |named: Option<&str>| {
            let printed = PrintedFile::last(&entries, named)?;
            let spots = printed.spots.iter().map(|(spot, number)| format!("{}:{} {number}", spot.page, spot.cell));
            Some(format!("{} {}", printed.file, spots.collect::<Vec<_>>().join(", ")))
        };
        assert_eq!(at(None).as_deref(), Some("n.pdf 1:2 C/1, 1:3 D/1"));
        assert_eq!(at(Some("m.pdf")).as_deref(), Some("m.pdf 1:1 B/1"));
        assert_eq!(at(Some("o.pdf")), None);
        let before = PrintedFile::last(&entries[..5], Some("n.pdf")).unwrap();
        assert_eq!(before.spots.len(), 3);
        // Two records laid together.
        let both = [entries[4].clone(), printed(day, "A/1", "", (3, "n.pdf", 2, 1)), entries[3].clone()];
        assert_eq!(PrintedFile::last(&both, None).unwrap().spots.len(), 1);
    }

    #[test]
    fn a_printing_told_again_is_the_same_one_and_a_shorter_one_is_another() {
        let day = "2026-11-01";
        let told = |cells: &[(&str, u32)]| -> Vec<Entry> {
            cells.iter().map(|(number, cell)| printed(day, number, "", (0, "n.pdf", 1, *cell))).collect()
        };
        let runs =
            |entries: &[Entry]| -> Vec<u32> { entries.iter().map(|one| one.print.as_ref().unwrap().run).collect() };
        let mut there = as_one_run(&[], told(&[("A/1", 1), ("B/1", 2), ("C/1", 3)]));
        assert_eq!(runs(&there), [1, 1, 1]);
        assert_eq!(as_one_run(&there, told(&[("A/1", 1), ("B/1", 2), ("C/1", 3)])), []);
        // Cut off by a power cut, and told again.
        assert_eq!(as_one_run(&there[..2], told(&[("A/1", 1), ("B/1", 2), ("C/1", 3)])), there[2..]);
        there.extend(as_one_run(&there, told(&[("A/1", 1)])));
        assert_eq!(runs(&there), [1, 1, 1, 2]);
        assert_eq!(PrintedFile::last(&there, None).unwrap().spots.len(), 1);
        there.extend(as_one_run(&there, told(&[("A/1", 1), ("B/1", 2)])));
        assert_eq!(runs(&there), [1, 1, 1, 2, 2]);
    }

    #[test]
    fn a_list_of_cells_is_read_or_its_first_fault_named() {
        let spot = |page, cell| Spot { page, cell };
        assert_eq!(Spot::list("1:4, 2:1").unwrap(), [spot(1, 4), spot(2, 1)]);
        for (text, fault) in [("1", "1"), ("1:4,", ""), ("1:0", "1:0"), ("1:4,x:1", "x:1"), ("1:-1", "1:-1")] {
            assert_eq!(Spot::list(text), Err(fault), "{text}");
        }
    }

    #[test]
    fn what_the_fixed_copy_says_may_be_unknown() {
        let of = |entries: &[Entry], now: Option<&str>| Ledger::of(entries).find("A/1").unwrap().is_altered(now);
        let named = Entry { revision: "Z".into(), ..entry("2026-11-02", Event::Fixed, "A/1") };
        let entries = [printed("2026-11-01", "A/1", "one", (1, "", 0, 0)), named];
        assert_eq!(of(&entries, Some("one")), None, "a revision that was never printed");
        let seen = Entry { fingerprint: "two".into(), ..entries[1].clone() };
        assert_eq!(of(&[entries[0].clone(), seen], Some("one")), Some(true));
        // Gone from the survey: what stands is one too many, what only was printed is not.
        assert_eq!((of(&entries, None), of(&entries[..1], None)), (Some(true), Some(false)));
        let missing = Entry { condition: Some(Condition::Missing), ..entry("2026-11-03", Event::Inspected, "A/1") };
        assert_eq!(of(&[missing], Some("one")), Some(false));
    }

    #[test]
    fn a_notice_is_lacking_until_it_is_printed_and_again_once_it_is_gone() {
        let lacking = |entries: &[Entry]| Ledger::of(entries).find("A/1").unwrap().is_lacking();
        let first = printed("2026-11-01", "A/1", "one", (1, "", 0, 0));
        let missing = Entry { condition: Some(Condition::Missing), ..entry("2026-11-03", Event::Inspected, "A/1") };
        let gone = entry("2026-11-03", Event::Withdrawn, "A/1");
        let again = printed("2026-11-04", "A/1", "one", (2, "", 0, 0));
        let fixed = entry("2026-11-02", Event::Fixed, "A/1");
        assert!(!lacking(std::slice::from_ref(&first)) && !lacking(&[first.clone(), fixed.clone()]));
        assert!(lacking(&[first.clone(), missing.clone()]) && lacking(&[first.clone(), fixed, gone.clone()]));
        assert!(!lacking(&[first.clone(), missing, again.clone()]) && !lacking(&[first, gone, again]));
    }

    proptest! {
        /// By a plain account of one notice: what lies ready, and what hangs on site.
        #[test]
        fn every_altered_notice_is_printed_again(steps in prop::collection::vec(0_u8..6, 1..20), now in 0_u8..3) {
            let now = format!("says {now}");
            let (mut ready, mut site, mut gone): (Option<String>, Option<String>, bool) = (None, None, false);
            let mut entries = Vec::new();
            for step in steps {
                let day = "2026-11-24";
                match (step, ready.clone()) {
                    (0..3, _) => {
                        ready = Some(format!("says {step}"));
                        entries.push(printed(day, "A/1", &format!("says {step}"), (1, "", 0, 0)));
                    }
                    (3, Some(copy)) => {
                        (site, gone) = (Some(copy), false);
                        entries.push(entry(day, Event::Replaced, "A/1"));
                    }
                    (4, Some(_)) => {
                        (site, gone) = (None, true);
                        entries.push(entry(day, Event::Withdrawn, "A/1"));
                    }
                    (5, Some(_)) if site.is_some() => {
                        let condition = Some(Condition::Faded);
                        entries.push(Entry { condition, ..entry(day, Event::Inspected, "A/1") });
                    }
                    _ => {}
                }
            }
            let ledger = Ledger::of(&entries);
            let Some(known) = ledger.find("A/1") else { return Ok(()) };
            let expected = match (site, ready) {
                (Some(copy), _) => copy != now,
                (None, _) if gone => false,
                (None, Some(copy)) => copy != now,
                (None, None) => false,
            };
            prop_assert_eq!(known.is_altered(Some(&now)), Some(expected));
        }
    }
}
