//! A text in one line, and when two spellings mean the same name or place.
//!
//! Taking two devices for one could lift a notice that is needed, so only case and spacing are overlooked, and a
//! space between two figures is kept: `Room 1 1` is not `Room 11`.

use std::borrow::Cow;

use unicode_normalization::UnicodeNormalization;

use super::WordList;

/// Words that make a name that of a room, a building or a way to it, as in `Pump room`, and are a place by themselves.
pub static ROOMS: WordList = WordList::new(&[
    "room",
    "rooms",
    "plantroom",
    "switchroom",
    "corridor",
    "lobby",
    "hall",
    "house",
    "yard",
    "roof",
    "floor",
    "store",
    "shed",
    "block",
    "building",
    "station",
    "shaft",
]);

/// A text in one line: every run of white space becomes one space, but no-break spaces stay as they are.
#[must_use]
pub fn one_line(text: &str) -> Cow<'_, str> {
    if is_plain_line(text) {
        return Cow::Borrowed(text);
    }
    let breaks =
        |character: char| character.is_whitespace() && !matches!(character, '\u{A0}' | '\u{202F}' | '\u{2007}');
    let words: Vec<&str> = text.split(breaks).filter(|word| !word.is_empty()).collect();
    Cow::Owned(words.join(" "))
}

/// Whether a text is nothing but ASCII words with one space between them, as nearly every text is.
#[must_use]
pub fn is_plain_line(text: &str) -> bool {
    let mut before = b' ';
    for byte in text.bytes() {
        if !(byte.is_ascii_graphic() || (byte == b' ' && before != b' ')) {
            return false;
        }
        before = byte;
    }
    before != b' ' || text.is_empty()
}

/// Adds the form in which a name is compared: lower case, without spaces but those between two figures.
pub fn push_key(buffer: &mut String, text: &str) {
    push_squeezed(buffer, text, char::is_whitespace);
}

/// The form in which a name is compared.
#[must_use]
pub fn key(text: &str) -> String {
    #[cfg(test)]
    counting::one_more();
    let mut buffer = String::with_capacity(text.len());
    push_key(&mut buffer, text);
    buffer
}

/// A name without the words at its end that it is that of one thing: of `DB-A/DB-B (one board)` the board `DB-A/DB-B`.
#[must_use]
pub fn unmarked(name: &str) -> &str {
    let parted = name.strip_suffix(')').and_then(|name| name.rsplit_once('('));
    let says_one = |words: &str| words.split_whitespace().next().is_some_and(|word| word.eq_ignore_ascii_case("one"));
    parted.filter(|(_, words)| says_one(words)).map_or(name, |(name, _)| name.trim_end())
}

/// A text as a reader sees it, who cannot tell a letter with its accent from the two stored apart, nor a minus or a dash
/// from a hyphen.
#[must_use]
pub fn as_seen(text: &str) -> Cow<'_, str> {
    const HYPHENS: [char; 12] = [
        '\u{2010}', '\u{2011}', '\u{2012}', '\u{2013}', '\u{2014}', '\u{2015}', '\u{2043}', '\u{2212}', '\u{FE58}',
        '\u{FE63}', '\u{FF0D}', '\u{2D7}',
    ];
    if text.is_ascii() {
        return Cow::Borrowed(text);
    }
    Cow::Owned(text.nfc().map(|letter| if HYPHENS.contains(&letter) { '-' } else { letter }).collect())
}

/// Adds the form in which two names look alike: as [`push_key`], without punctuation too.
pub fn push_rough_key(buffer: &mut String, text: &str) {
    push_squeezed(buffer, text, |character| !character.is_alphanumeric());
}

fn push_squeezed(buffer: &mut String, text: &str, is_gap: impl Fn(char) -> bool) {
    if text.is_ascii() {
        return push_squeezed_ascii(buffer, text, is_gap);
    }
    let mut last = None;
    let mut gap = false;
    for character in text.chars() {
        if is_gap(character) {
            gap = true;
            continue;
        }
        if gap && character.is_numeric() && last.is_some_and(char::is_numeric) {
            buffer.push(' ');
        }
        if character.is_ascii() {
            buffer.push(character.to_ascii_lowercase());
        } else {
            buffer.extend(character.to_lowercase());
        }
        last = Some(character);
        gap = false;
    }
}

/// The same for the letters and figures of nearly every name, taken over run by run.
fn push_squeezed_ascii(buffer: &mut String, text: &str, is_gap: impl Fn(char) -> bool) {
    let start = buffer.len();
    for run in text.split(is_gap).filter(|run| !run.is_empty()) {
        let figure = |byte: Option<&u8>| byte.is_some_and(u8::is_ascii_digit);
        if buffer.len() > start && figure(buffer.as_bytes().last()) && figure(run.as_bytes().first()) {
            buffer.push(' ');
        }
        buffer.push_str(run);
    }
    if let Some(added) = buffer.get_mut(start..) {
        added.make_ascii_lowercase();
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn the_words_that_it_is_one_are_no_part_of_a_name() {
        for name in ["DB-A/DB-B (one board)", "DB-A/DB-B(One)", "DB-A/DB-B"] {
            assert_eq!(unmarked(name), "DB-A/DB-B", "{name}");
        }
        for name in ["DB-A (two boards)", "DB-A (Oneway)", "one (DB-A)", "(one) DB-A"] {
            assert_eq!(unmarked(name), name);
        }
    }

    #[test]
    fn what_looks_alike_is_seen_alike() {
        for alike in ["JB\u{2212}1", "JB\u{2013}1", "JB\u{2010}1", "JB-1"] {
            assert_eq!(as_seen(alike), "JB-1");
        }
        assert_eq!(as_seen("JA\u{308}1"), "J\u{C4}1");
        assert_ne!(as_seen("JB_1"), as_seen("JB-1"));
    }

    proptest! {
        /// A letter that is not ASCII at the end leads the same text through the slow way.
        #[test]
        fn the_quick_way_gives_the_same(text in "[a-cA-C0-9 .\t-]{0,16}", before in "[a1 ]{0,2}") {
            for push in [push_key, push_rough_key] {
                let (mut quick, mut slow) = (before.clone(), before.clone());
                push(&mut quick, &text);
                push(&mut slow, &format!("{text}\u{e9}"));
                prop_assert_eq!(format!("{quick}\u{e9}"), slow);
            }
        }
    }
}

/// How many names were brought into the form in which they are compared: what grows with the square of a survey would
/// show here first.
#[cfg(test)]
pub(crate) mod counting {
    use std::cell::Cell;

    thread_local! {
        static KEYS: Cell<usize> = const { Cell::new(0) };
    }

    pub(super) fn one_more() {
        KEYS.with(|keys| keys.set(keys.get() + 1));
    }

    /// How many names this thread compares meanwhile.
    pub(crate) fn keys_made(work: impl FnOnce()) -> usize {
        let before = KEYS.with(Cell::get);
        work();
        KEYS.with(Cell::get) - before
    }
}
