//! Texts of two versions that may speak in different numbers of languages.

use super::voltages::{Covered, covered};
use crate::records::{Kind, Statement};

/// How many languages an old and a new version speak. A headline stands once in each.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Speech {
    old: usize,
    new: usize,
}

impl Speech {
    pub(super) fn of(old: &Statement, new: &Statement) -> Self {
        let languages = |says: &Statement| says.of_kind(Kind::Do).count().max(1);
        Self { old: languages(old), new: languages(new) }
    }

    /// How many the old and the new version speak.
    pub(super) const fn languages(self) -> (usize, usize) {
        (self.old, self.new)
    }

    /// The same from the standpoint of the new version.
    pub(super) const fn reversed(self) -> Self {
        Self { old: self.new, new: self.old }
    }

    /// What `new` says that `old` does not, one text for each thing said. Among as many languages every text counts; where a
    /// language was added or left away, a thing is said if it is said in one of them.
    pub(super) fn lacking<'a>(self, old: &[&str], new: &[&'a str]) -> Vec<&'a str> {
        let lacking = |said: &[&'a str]| {
            let mut unsaid = said.iter().copied().filter(|text| !old.contains(text));
            let first = unsaid.next()?;
            let all = unsaid.count() + 1 == said.len();
            (self.old == self.new || all).then_some(first)
        };
        self.said(new).into_iter().filter_map(lacking).collect()
    }

    /// What the older figures say of each newer one: among as many languages the worst, else the best of them.
    pub(super) fn covered<'a>(self, old: &[&'a str], new: &[&'a str]) -> Vec<(&'a str, Covered<'a>)> {
        let rank = |covered: &Covered<'_>| match covered {
            Covered::Same => 0,
            Covered::Enough(_) => 1,
            Covered::TooLow(_) => 2,
            Covered::No => 3,
        };
        let one = |said: &[&'a str]| {
            let all = said.iter().map(|text| (*text, covered(text, old)));
            if self.old == self.new {
                // Of those that are equally bad, the first: the main language.
                all.rev().max_by_key(|(_, covered)| rank(covered))
            } else {
                all.min_by_key(|(_, covered)| rank(covered))
            }
        };
        self.said(new).into_iter().filter_map(one).collect()
    }

    /// Texts of the new version by what they say, each in all languages; each by itself where that does not come out even.
    fn said<'a, 'b>(self, texts: &'b [&'a str]) -> Vec<&'b [&'a str]> {
        let each = if texts.len().is_multiple_of(self.new) { self.new } else { 1 };
        texts.chunks(each).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_language_more_is_no_caution_more() {
        let (english, both) = (["charge"], ["charge", "Ladung"]);
        let added = Speech { old: 1, new: 2 };
        assert!(added.lacking(&english, &both).is_empty());
        assert!(added.reversed().lacking(&both, &english).is_empty());
        assert_eq!(added.lacking(&english, &["charge", "Ladung", "order", "Reihenfolge"]), ["order"]);
        // Uneven: each text by itself, so that nothing new is taken for known.
        assert_eq!(added.lacking(&english, &["charge", "Ladung", "order"]), ["Ladung", "order"]);
    }

    #[test]
    fn among_as_many_languages_every_text_counts() {
        let same = Speech { old: 2, new: 2 };
        assert_eq!(same.lacking(&["charge", "Ladung"], &["charge", "gwefr"]), ["gwefr"]);
        assert_eq!(same.lacking(&["charge", "Ladung"], &["wait", "warten"]), ["wait"]);
    }
}
