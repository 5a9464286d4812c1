//! The designations of the supplies file, found again by name, by name and location, or by both as `Q13@Board F`. That a
//! name is marked as that of one board or device in one of the files is enough.

use std::collections::HashMap;

use foldhash::fast::RandomState;

use super::spelling;
use crate::supplies::DescribedDevice;

/// The rows that bear a name.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Found {
    /// No row.
    Nowhere,
    /// The row at this place of the list.
    At(usize),
    /// Several rows, of which this is the first.
    Several(usize),
}

impl Found {
    /// The row, where it is one.
    pub(super) const fn one(self) -> Option<usize> {
        match self {
            Self::At(row) => Some(row),
            Self::Nowhere | Self::Several(_) => None,
        }
    }
}

/// An index of the rows of a supplies file.
#[derive(Default)]
pub(super) struct Designations {
    by_name: HashMap<String, Vec<usize>, RandomState>,
    by_place: HashMap<String, Vec<usize>, RandomState>,
    by_rough_name: HashMap<String, usize, RandomState>,
}

impl Designations {
    /// The index of these rows. A row without a designation cannot be found.
    pub(super) fn of(devices: &[DescribedDevice]) -> Self {
        let mut index = Self::default();
        for (row, device) in devices.iter().enumerate().filter(|(_, device)| !device.designation.is_empty()) {
            index.by_name.entry(name_key(&device.designation)).or_default().push(row);
            index.by_place.entry(place_key(&device.designation, &device.location)).or_default().push(row);
            index.by_rough_name.entry(rough_key(&device.designation)).or_insert(row);
        }
        index
    }

    /// True where no row can be found.
    pub(super) fn is_empty(&self) -> bool {
        self.by_name.is_empty()
    }

    /// The rows that a name means: a designation, or one with `@` and a location behind it.
    pub(super) fn find(&self, name: &str) -> Found {
        if self.is_empty() {
            return Found::Nowhere;
        }
        match (found(self.rows(name)), name.split_once('@')) {
            (Found::Nowhere, Some((designation, location))) => self.find_at(designation, location),
            (found, _) => found,
        }
    }

    /// Every row with a designation, in the order of the file.
    pub(super) fn rows(&self, designation: &str) -> &[usize] {
        self.by_name.get(&name_key(designation)).map_or(&[], Vec::as_slice)
    }

    /// True where rows differ in nothing by which they could be told apart, which the reading has reported.
    pub(super) fn is_repeated(rows: &[usize], devices: &[DescribedDevice]) -> bool {
        let mut places = rows.iter().filter_map(|row| devices.get(*row)).map(|device| spelling::key(&device.location));
        let first = places.next();
        places.all(|place| Some(place) == first)
    }

    /// The rows with a designation and a location.
    pub(super) fn find_at(&self, designation: &str, location: &str) -> Found {
        found(self.by_place.get(&place_key(designation, location)).map_or(&[], Vec::as_slice))
    }

    /// A row whose designation differs only in punctuation.
    pub(super) fn alike(&self, designation: &str) -> Option<usize> {
        self.by_rough_name.get(&rough_key(designation)).copied()
    }
}

const fn found(rows: &[usize]) -> Found {
    match rows {
        [] => Found::Nowhere,
        [row] => Found::At(*row),
        [first, ..] => Found::Several(*first),
    }
}

fn name_key(designation: &str) -> String {
    spelling::key(spelling::unmarked(designation.trim()))
}

fn place_key(designation: &str, location: &str) -> String {
    let mut key = String::with_capacity(designation.len() + location.len() + 1);
    spelling::push_key(&mut key, spelling::unmarked(designation.trim()));
    key.push('\0');
    spelling::push_key(&mut key, location);
    key
}

fn rough_key(designation: &str) -> String {
    let mut key = String::with_capacity(designation.len());
    spelling::push_rough_key(&mut key, spelling::unmarked(designation.trim()));
    key
}

#[cfg(test)]
mod tests {
    use super::super::testing::described;
    use super::*;

    #[test]
    fn a_name_is_found_alone_or_with_its_place() {
        let devices =
            described("device,kind,location", &["Q1,fuse,Board A", "Q1,fuse,Board B", "DB-C,busbar,"]).devices;
        let index = Designations::of(&devices);
        assert_eq!(index.find("q 1"), Found::Several(0));
        assert_eq!(index.find_at("Q1", "board  b"), Found::At(1));
        assert_eq!(index.find_at("Q1", "Board C"), Found::Nowhere);
        assert_eq!(index.find("Q1@Board B"), Found::At(1));
        assert_eq!(index.find("q1 @ board b"), Found::At(1));
        assert_eq!(index.find("Q1@Board C"), Found::Nowhere);
        assert_eq!(index.find("db-c"), Found::At(2));
        assert_eq!((index.find("DBC"), index.alike("DBC")), (Found::Nowhere, Some(2)));
    }

    #[test]
    fn a_name_is_marked_as_one_in_either_file() {
        let devices =
            described("device,kind,location", &["DB-A/DB-B,busbar,Riser 1", "Q1/Q2 (one handle),fuse,Board A"]);
        let index = Designations::of(&devices.devices);
        assert_eq!(index.find("DB-A/DB-B (one board)"), Found::At(0));
        assert_eq!(index.find("DB-A/DB-B (one board)@Riser 1"), Found::At(0));
        assert_eq!(index.find_at("Q1/Q2", "Board A"), Found::At(1));
        assert_eq!(index.find("DB-A/DB-B (two boards)"), Found::Nowhere);
    }
}
