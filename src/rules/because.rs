//! Why a rule answers as it does, in words: worked out only where somebody will read them.

use std::borrow::Cow;

/// The words for one answer; empty where nobody asked for them. Only [`super::Explanation`] shows any.
pub(super) struct Because(Cow<'static, str>);

/// Whether an enclosure is decided to be acted on, or to be explained as well. The decision is the same.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Telling {
    /// What was decided.
    Decision,
    /// The same, and why.
    Words,
}

impl Telling {
    /// The words, where they are wanted.
    pub(super) fn because(self, words: impl FnOnce() -> String) -> Because {
        Because(Cow::Owned(self.line(words).unwrap_or_default()))
    }

    /// One line of an explanation, where it is wanted.
    pub(super) fn line(self, words: impl FnOnce() -> String) -> Option<String> {
        match self {
            Self::Decision => None,
            Self::Words => Some(words()),
        }
    }
}

impl Because {
    pub(super) fn words(&self) -> &str {
        &self.0
    }

    pub(super) fn into_words(self) -> String {
        self.0.into_owned()
    }
}

impl From<&'static str> for Because {
    fn from(words: &'static str) -> Self {
        Self(Cow::Borrowed(words))
    }
}
