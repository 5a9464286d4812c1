//! The one way in which a text of the user reaches a terminal.

use crate::survey::is_hidden;

/// A text from the user's files with everything made visible that a terminal would act on or that could not be seen:
/// control characters, changes of writing direction, blanks of no width.
#[must_use]
pub fn escape_for_terminal(text: &str) -> String {
    let mut escaped = String::with_capacity(text.len());
    for c in text.chars() {
        push_escaped(&mut escaped, c);
    }
    escaped
}

pub(super) fn push_escaped(escaped: &mut String, c: char) {
    match c {
        '\n' => escaped.push_str("\\n"),
        '\r' => escaped.push_str("\\r"),
        '\t' => escaped.push_str("\\t"),
        c if is_hidden(c) => escaped.extend(c.escape_unicode()),
        c => escaped.push(c),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_a_terminal_would_act_on_is_made_visible() {
        assert_eq!(escape_for_terminal("Q7\u{1B}[31m"), "Q7\\u{1b}[31m");
        assert_eq!(escape_for_terminal("a\u{202E}b\u{200B}c\u{9B}d\u{7F}"), "a\\u{202e}b\\u{200b}c\\u{9b}d\\u{7f}");
        assert_eq!(escape_for_terminal("one\ntwo\tthree\r"), "one\\ntwo\\tthree\\r");
        assert_eq!(escape_for_terminal("Kühlraum – 5 µF"), "Kühlraum – 5 µF");
    }
}
