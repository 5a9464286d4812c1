//! The designations of the supplies file, found again by name, or by name and location.

use std::collections::HashMap;

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
    by_name: HashMap<String, Vec<usize>>,
    by_place: HashMap<String, Vec<usize>>,
    by_rough_name: HashMap<String, usize>,
}

impl Designations {
    /// The index of these rows. A row without a designation cannot be found.
    pub(super) fn of(devices: &[DescribedDevice]) -> Self {
        let mut index = Self::default();
        for (row, device) in devices.iter().enumerate().filter(|(_, device)| !device.designation.is_empty()) {
            index.by_name.entry(spelling::key(&device.designation)).or_default().push(row);
            index.by_place.entry(place_key(&device.designation, &device.location)).or_default().push(row);
            index.by_rough_name.entry(rough_key(&device.designation)).or_insert(row);
        }
        index
    }

    /// True where no row can be found.
    pub(super) fn is_empty(&self) -> bool {
        self.by_name.is_empty()
    }

    /// The rows with a designation.
    pub(super) fn find(&self, designation: &str) -> Found {
        if self.is_empty() { Found::Nowhere } else { found(self.rows(designation)) }
    }

    /// Every row with a designation, in the order of the file.
    pub(super) fn rows(&self, designation: &str) -> &[usize] {
        self.by_name.get(&spelling::key(designation)).map_or(&[], Vec::as_slice)
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

fn place_key(designation: &str, location: &str) -> String {
    let mut key = String::with_capacity(designation.len() + location.len() + 1);
    spelling::push_key(&mut key, designation);
    key.push('\0');
    spelling::push_key(&mut key, location);
    key
}

fn rough_key(designation: &str) -> String {
    let mut key = String::with_capacity(designation.len());
    spelling::push_rough_key(&mut key, designation);
    key
}

#[cfg(test)]
mod tests {
    use super::super::testing::described;
    use super::*;

    #[test]
    fn a_name_is_found_alone_or_with_its_place() {
        let devices = described("device,location", &["Q1,Board A", "Q1,Board B", "DB-C,"]).devices;
        let index = Designations::of(&devices);
        assert_eq!(index.find("q 1"), Found::Several(0));
        assert_eq!(index.find_at("Q1", "board  b"), Found::At(1));
        assert_eq!(index.find_at("Q1", "Board C"), Found::Nowhere);
        assert_eq!(index.find("db-c"), Found::At(2));
        assert_eq!((index.find("DBC"), index.alike("DBC")), (Found::Nowhere, Some(2)));
    }
}
