//! When two spellings mean the same name or place.
//!
//! Taking two devices for one could lift a notice that is needed, so only case and spacing are overlooked, and a
//! space between two figures is kept: `Room 1 1` is not `Room 11`.

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

/// Adds the form in which two names look alike: as [`push_key`], without punctuation too.
pub fn push_rough_key(buffer: &mut String, text: &str) {
    push_squeezed(buffer, text, |character| !character.is_alphanumeric());
}

fn push_squeezed(buffer: &mut String, text: &str, is_gap: impl Fn(char) -> bool) {
    buffer.reserve(text.len());
    let mut last = '\0';
    let mut gap = false;
    for character in text.chars() {
        if is_gap(character) {
            gap = true;
            continue;
        }
        if gap && character.is_numeric() && last.is_numeric() {
            buffer.push(' ');
        }
        if character.is_ascii() {
            buffer.push(character.to_ascii_lowercase());
        } else {
            buffer.extend(character.to_lowercase());
        }
        last = character;
        gap = false;
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
