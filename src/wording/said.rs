//! One thing said in every language asked for: written once, and shared by whatever says it.

use std::fmt;
use std::ops::Deref;
use std::sync::Arc;

/// The same in every language asked for, in their order; empty where nothing is said.
#[derive(Clone, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Said(Arc<[String]>);

impl Said {
    /// Nothing.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    /// What is said in the main language; nothing where nothing is said.
    #[must_use]
    pub fn main(&self) -> &str {
        self.in_language(0)
    }

    /// The texts, if nobody else shares them: those of what all say alike are shared.
    pub(crate) fn own(&mut self) -> Option<&mut [String]> {
        Arc::get_mut(&mut self.0)
    }

    /// What is said in the language with this number.
    #[must_use]
    pub fn in_language(&self, number: usize) -> &str {
        self.get(number).map_or("", String::as_str)
    }
}

impl Deref for Said {
    type Target = [String];

    fn deref(&self) -> &[String] {
        &self.0
    }
}

impl FromIterator<String> for Said {
    fn from_iter<I: IntoIterator<Item = String>>(texts: I) -> Self {
        Self(texts.into_iter().collect())
    }
}

impl From<Vec<String>> for Said {
    fn from(texts: Vec<String>) -> Self {
        Self(texts.into())
    }
}

impl<'a> IntoIterator for &'a Said {
    type Item = &'a String;
    type IntoIter = std::slice::Iter<'a, String>;

    fn into_iter(self) -> Self::IntoIter {
        self.0.iter()
    }
}

impl<T> PartialEq<T> for Said
where
    T: AsRef<[&'static str]> + ?Sized,
{
    fn eq(&self, other: &T) -> bool {
        self.0.iter().eq(other.as_ref())
    }
}

impl fmt::Debug for Said {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.fmt(f)
    }
}
