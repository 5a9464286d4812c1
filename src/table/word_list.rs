//! Words that others are held against, told apart at once by first letter and length.
//!
//! Nearly every word of a survey is held against hundreds that are in doubt, speak of a room or keep a charge, and is none of
//! them.

/// Words in small letters, each of one letter at least.
#[derive(Debug)]
pub struct WordList {
    words: &'static [&'static str],
    shapes: Shapes,
}

impl WordList {
    /// A list of these words.
    #[must_use]
    #[expect(clippy::indexing_slicing, reason = "a constant: beyond its end it would not compile")]
    pub const fn new(words: &'static [&'static str]) -> Self {
        let (mut shapes, mut number) = (Shapes::NONE, 0);
        while number < words.len() {
            shapes = shapes.with(words[number]);
            number += 1;
        }
        Self { words, shapes }
    }

    /// Whether a word is one of them, without regard to case.
    #[must_use]
    pub fn has(&self, word: &str) -> bool {
        self.shapes.may_have(word.as_bytes()) && self.words.iter().any(|own| is_alike(word, own))
    }

    /// The same of a word in ASCII.
    #[must_use]
    pub fn has_ascii(&self, word: &[u8]) -> bool {
        self.shapes.may_have(word) && self.words.iter().any(|own| word.eq_ignore_ascii_case(own.as_bytes()))
    }
}

/// Words in small letters, with those that say something behind each.
#[derive(Debug)]
pub(crate) struct WordPairs {
    pairs: &'static [(&'static str, WordList)],
    shapes: Shapes,
}

impl WordPairs {
    /// These pairs.
    #[expect(clippy::indexing_slicing, reason = "a constant: beyond its end it would not compile")]
    pub(crate) const fn new(pairs: &'static [(&'static str, WordList)]) -> Self {
        let (mut shapes, mut number) = (Shapes::NONE, 0);
        while number < pairs.len() {
            shapes = shapes.with(pairs[number].0);
            number += 1;
        }
        Self { pairs, shapes }
    }

    /// Whether a text has the first letter of one of them.
    pub(crate) fn may_begin(&self, text: &str) -> bool {
        self.shapes.may_begin(text.as_bytes())
    }

    /// Whether two words are a pair, without regard to case.
    pub(crate) fn has(&self, first: &str, second: &str) -> bool {
        self.shapes.may_have(first.as_bytes())
            && self.pairs.iter().any(|(own, seconds)| is_alike(first, own) && seconds.has(second))
    }
}

/// For each first byte, less its upper three bits, the lengths in bytes that there are: those from 31 on are alike. Small
/// and capital letters are alike in the other bits, also where they have accents.
#[derive(Debug)]
struct Shapes([u32; LAST as usize + 1]);

/// The longest length that is told apart, and the bits of a first byte that count.
const LAST: u8 = 31;

impl Shapes {
    const NONE: Self = Self([0; LAST as usize + 1]);

    #[expect(clippy::indexing_slicing, reason = "a constant: beyond its end it would not compile")]
    const fn with(mut self, word: &str) -> Self {
        let word = word.as_bytes();
        let length = if word.len() < LAST as usize { word.len() } else { LAST as usize };
        self.0[(word[0] & LAST) as usize] |= 1 << length;
        self
    }

    /// Whether a word has the first letter and the length of one of them.
    #[inline]
    fn may_have(&self, word: &[u8]) -> bool {
        self.lengths(word) >> word.len().min(LAST.into()) & 1 != 0
    }

    /// Whether a text has the first letter of one of them.
    #[inline]
    fn may_begin(&self, text: &[u8]) -> bool {
        self.lengths(text) != 0
    }

    /// The lengths that begin like a text, each as a bit.
    #[inline]
    fn lengths(&self, text: &[u8]) -> u32 {
        text.first().and_then(|first| self.0.get(usize::from(first & LAST))).copied().unwrap_or_default()
    }
}

/// Whether a word is another, which is in small letters. One that takes more bytes in capitals is not.
fn is_alike(word: &str, own: &str) -> bool {
    word.len() == own.len()
        && if word.is_ascii() || own.is_ascii() {
            word.eq_ignore_ascii_case(own)
        } else {
            word.chars().flat_map(char::to_lowercase).eq(own.chars())
        }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    const WORDS: [&str; 8] = [
        "a",
        "tbc",
        "unknown",
        "ok\u{E4}nd",
        "s\u{FC}d",
        "\u{E0}",
        "\u{17E}\u{E1}dn\u{FD}",
        "supercapacitorsandnothingelseofthekind",
    ];
    static LIST: WordList = WordList::new(&WORDS);

    #[test]
    fn a_word_is_found_in_any_case() {
        for word in WORDS {
            assert!(LIST.has(word) && LIST.has(&word.to_uppercase()), "{word}");
            assert_eq!(LIST.has_ascii(word.to_uppercase().as_bytes()), word.is_ascii(), "{word}");
        }
        for other in ["", "b", "tbd", "tbc ", "unknowm", "okand", "supercapacitorsandnothingelseofthekin", "\u{212A}"] {
            assert!(!LIST.has(other) && !LIST.has_ascii(other.as_bytes()), "{other}");
        }
    }

    #[test]
    fn a_pair_is_two_words_in_their_order() {
        static PAIRS: WordPairs = WordPairs::new(&[
            ("not", WordList::new(&["known", "sure"])),
            ("nen\u{ED}", WordList::new(&["jasn\u{E9}"])),
            ("as", WordList::new(&["per"])),
        ]);
        for (first, second) in [("not", "known"), ("NOT", "Sure"), ("NEN\u{CD}", "Jasn\u{C9}"), ("as", "per")] {
            assert!(PAIRS.has(first, second) && !PAIRS.has(second, first), "{first} {second}");
            assert!(PAIRS.may_begin(first) && !PAIRS.may_begin(second), "{first} {second}");
        }
        assert!(!PAIRS.has("not", "per") && !PAIRS.has("nor", "known") && !PAIRS.has("", ""));
        assert!(!PAIRS.may_begin(""));
    }

    proptest! {
        #[test]
        fn nothing_else_is_found(word in "[a-cA-C\u{E0}\u{C0}]{0,3}") {
            prop_assert_eq!(LIST.has(&word), WORDS.contains(&&*word.to_lowercase()));
        }
    }
}
