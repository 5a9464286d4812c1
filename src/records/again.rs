//! Why a notice is printed again: how it was found, what it says by now, a sheet that was spoiled.

use std::collections::BTreeMap;

use super::{Condition, Entry, Event, Known, Standing};

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
        let place = |entry: &'a Entry| {
            let print = entry.print.as_deref().filter(|print| print.page > 0 && print.cell > 0)?;
            Some((print.file.as_str(), Spot { page: print.page, cell: print.cell }))
        };
        let printed = entries.iter().rev().filter(|entry| entry.event == Event::Printed);
        let of_name = |file: &str| named.is_none_or(|named| named == file);
        let mut placed =
            printed.filter_map(|entry| Some((entry, place(entry)?))).filter(|(_, (file, _))| of_name(file));
        let (newest, (file, spot)) = placed.next()?;
        let mut spots = BTreeMap::from([(spot, newest.number.as_str())]);
        for (entry, (other, spot)) in placed {
            // A cell that is filled already belongs to an earlier run of the same name.
            if other != file || entry.date != newest.date || spots.contains_key(&spot) {
                break;
            }
            spots.insert(spot, &entry.number);
        }
        Some(Self { file, spots })
    }
}

impl Known<'_> {
    /// How what stands on site was found last; `None` where nothing stands or nobody looked.
    #[must_use]
    pub fn found(&self) -> Option<Condition> {
        match self.standing() {
            Standing::Fixed { inspected, .. } => inspected?.condition,
            Standing::Missing(entry) => entry.condition,
            Standing::NotFixed | Standing::Withdrawn(_) => None,
        }
    }

    /// Whether the copy on site, or where none is the one printed for it, says something else than a notice of this
    /// fingerprint; without a fingerprint, whether one stands that no survey has. `None` where nobody knows what the copy says.
    #[must_use]
    pub fn is_altered(&self, fingerprint: Option<&str>) -> Option<bool> {
        let says = match self.standing() {
            Standing::Fixed { print: Some(print), .. } => print.fingerprint.as_str(),
            Standing::Fixed { by, print: None, .. } => by.fingerprint.as_str(),
            Standing::NotFixed | Standing::Missing(_) if fingerprint.is_some() => match self.printed() {
                Some((print, _)) => print.fingerprint.as_str(),
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
