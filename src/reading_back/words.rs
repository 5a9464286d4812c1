//! When two texts say the same: white space, line breaks and what only keeps words together do not count.

use std::collections::BTreeSet;

/// A text as it is compared: one plain space for any white space, a plain hyphen for one that does not break, nothing
/// for what only joins or parts letters.
pub(super) fn plain(text: &str) -> String {
    let mut plain = String::with_capacity(text.len());
    for character in text.chars().filter(|character| !is_unseen(*character)) {
        let character = seen_as(character);
        if character != ' ' || !(plain.is_empty() || plain.ends_with(' ')) {
            plain.push(character);
        }
    }
    plain.truncate(plain.trim_end().len());
    plain
}

/// The same without any space, for what is set in pieces.
pub(super) fn unspaced(text: &str) -> String {
    plain(text).replace(' ', "")
}

/// What a person takes a character for on paper.
pub(super) fn seen_as(character: char) -> char {
    match character {
        '\u{2010}' | '\u{2011}' => '-',
        other if other.is_whitespace() => ' ',
        other => other,
    }
}

/// Characters without a shape that part or join letters.
const fn is_unseen(character: char) -> bool {
    matches!(character, '\u{AD}' | '\u{200B}'..='\u{200F}' | '\u{202A}'..='\u{202E}' | '\u{2060}'..='\u{2069}' | '\u{FEFF}')
}

/// Whether the glyphs of a span can be the text that the span carries: letters and figures must agree one by one, but
/// for those that melt with an accent into another letter.
pub(super) fn may_be_drawn_as(text: &str, told: &str) -> bool {
    let told: Vec<char> = told.chars().map(on_the_line).filter(char::is_ascii_alphanumeric).collect();
    // How many of the letters told can be accounted for so far: several, where a letter may have melted or not.
    let mut reached = BTreeSet::from([0]);
    let mut characters = text.chars().filter(|character| !is_unseen(*character)).peekable();
    while let Some(character) = characters.next() {
        if !character.is_ascii_alphanumeric() {
            continue;
        }
        let next = reached.iter().filter(|count| told.get(**count) == Some(&character)).map(|count| count + 1);
        let mut next: BTreeSet<usize> = next.collect();
        if characters.peek().is_some_and(|next| is_accent(*next)) {
            next.append(&mut reached);
        }
        reached = next;
    }
    reached.contains(&told.len())
}

/// Marks that stand over or under the letter before them (Unicode, blocks of combining diacritical marks).
const fn is_accent(character: char) -> bool {
    matches!(
        character,
        '\u{300}'..='\u{36F}' | '\u{1AB0}'..='\u{1AFF}' | '\u{1DC0}'..='\u{1DFF}' | '\u{20D0}'..='\u{20FF}' | '\u{FE20}'..='\u{FE2F}'
    )
}

/// A raised or lowered figure as the figure that it is: those of a fraction are told so.
fn on_the_line(character: char) -> char {
    let figure = match character {
        '\u{B9}' => Some(1),
        '\u{B2}' => Some(2),
        '\u{B3}' => Some(3),
        '\u{2070}' | '\u{2074}'..='\u{2079}' => Some(u32::from(character) - 0x2070),
        '\u{2080}'..='\u{2089}' => Some(u32::from(character) - 0x2080),
        _ => None,
    };
    figure.and_then(|figure| char::from_digit(figure, 10)).unwrap_or(character)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn white_space_and_joiners_do_not_count_and_letters_do() {
        assert_eq!(plain(" 400\u{A0}V \n d.c. "), "400 V d.c.");
        assert_eq!(plain("DB\u{2011}C\u{2060}/7\u{200B}"), "DB-C/7");
        assert_ne!(plain("Q7"), plain("Q 7"));
        assert_ne!(plain("Q7"), plain("q7"));
    }

    #[test]
    fn a_span_may_melt_accents_and_nothing_else() {
        assert!(may_be_drawn_as("Cafe\u{301} 5", "Caf\u{E9} 5"));
        assert!(may_be_drawn_as("x\u{301}1", "x\u{301}1"));
        assert!(may_be_drawn_as("1\u{2044}2", "\u{B9}\u{2044}\u{2082}"));
        assert!(!may_be_drawn_as("1\u{2044}2", "\u{B9}\u{2044}\u{2083}"));
        // An accent melts one letter, not the one after it.
        assert!(may_be_drawn_as("A\u{30A} A-0", "\u{C5} A-0"));
        assert!(!may_be_drawn_as("A\u{30A} 7\u{A0}kW", "\u{C5} kW"));
        assert!(!may_be_drawn_as("Q7", "Q8"));
        assert!(!may_be_drawn_as("e\u{301} 5", "\u{E9} 5 6"));
        assert!(!may_be_drawn_as("e\u{301} 56", "\u{E9} 5"));
    }
}
