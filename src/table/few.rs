//! A list that mostly has one member, which then takes no room of its own.

use std::ops::{Deref, DerefMut};

/// None, one or several, in order.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum Few<T> {
    /// One.
    One([T; 1]),
    /// None, or several.
    Several(Box<[T]>),
}

impl<T> Default for Few<T> {
    fn default() -> Self {
        Self::Several(Box::default())
    }
}

impl<T> Few<T> {
    /// One member.
    pub const fn one(member: T) -> Self {
        Self::One([member])
    }
}

impl<T> Deref for Few<T> {
    type Target = [T];

    fn deref(&self) -> &[T] {
        match self {
            Self::One(one) => one,
            Self::Several(several) => several,
        }
    }
}

impl<T> DerefMut for Few<T> {
    fn deref_mut(&mut self) -> &mut [T] {
        match self {
            Self::One(one) => one,
            Self::Several(several) => several,
        }
    }
}

impl<T> From<Vec<T>> for Few<T> {
    fn from(list: Vec<T>) -> Self {
        match <[T; 1]>::try_from(list) {
            Ok(one) => Self::One(one),
            Err(several) => Self::Several(several.into()),
        }
    }
}

impl<T> FromIterator<T> for Few<T> {
    fn from_iter<I: IntoIterator<Item = T>>(members: I) -> Self {
        members.into_iter().collect::<Vec<T>>().into()
    }
}

impl<'a, T> IntoIterator for &'a Few<T> {
    type Item = &'a T;
    type IntoIter = std::slice::Iter<'a, T>;

    fn into_iter(self) -> Self::IntoIter {
        self.iter()
    }
}
