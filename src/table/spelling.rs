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
    let mut buffer = String::with_capacity(text.len());
    push_key(&mut buffer, text);
    buffer
}

/// Adds the form in which two names look alike: as [`push_key`], without punctuation too.
pub fn push_rough_key(buffer: &mut String, text: &str) {
    push_squeezed(buffer, text, |character| !character.is_alphanumeric());
}

fn push_squeezed(buffer: &mut String, text: &str, is_gap: impl Fn(char) -> bool) {
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
