//! A set of columns, in one word.

use std::fmt;
use std::marker::PhantomData;

use super::column::Heading;

/// Sets of columns are the bits of one word, so that no file has more columns of its own.
pub(crate) const MOST_COLUMNS: usize = 64;

/// A set of columns of one kind of file.
#[derive(Clone, Copy, PartialEq, Eq)]
pub struct Columns<C>(u64, PhantomData<C>);

impl<C> Default for Columns<C> {
    fn default() -> Self {
        Self(0, PhantomData)
    }
}

impl<C: Heading> Columns<C> {
    /// Adds a column.
    pub(crate) fn insert(&mut self, column: C) {
        self.insert_number(column.index());
    }

    pub(super) fn insert_number(&mut self, number: usize) {
        self.0 |= 1 << number;
    }

    /// Takes a column out.
    pub(super) fn remove(&mut self, column: C) {
        self.0 &= !(1 << column.index());
    }

    /// Whether a column is in the set.
    #[must_use]
    pub fn contains(self, column: C) -> bool {
        self.0 & (1 << column.index()) != 0
    }

    /// Whether any column is in both sets.
    pub(super) const fn meets(self, other: Self) -> bool {
        self.0 & other.0 != 0
    }

    /// The columns of the set, in order.
    pub fn iter(self) -> impl Iterator<Item = C> + use<C> {
        let mut bits = self.0;
        std::iter::from_fn(move || {
            let column = C::ALL.get(bits.trailing_zeros() as usize).copied()?;
            bits &= bits - 1;
            Some(column)
        })
    }
}

impl<C: Heading> FromIterator<C> for Columns<C> {
    fn from_iter<I: IntoIterator<Item = C>>(columns: I) -> Self {
        let mut set = Self::default();
        columns.into_iter().for_each(|column| set.insert(column));
        set
    }
}

impl<C: Heading> fmt::Debug for Columns<C> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_set().entries(self.iter()).finish()
    }
}
