//! Whether a text that should be one name reads as several: `Q1/Q2`, `Q1-Q4`, `Q1 to Q4`, `Q1 (x3)`.
//!
//! One handle may bear such a name and a fuse set its range, so nothing is split: it is asked what is meant.

use super::{Fault, tongues};
use crate::finding::code;
use crate::table::WordList;

/// What the names are those of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Of {
    /// Devices that are opened.
    Isolators,
    /// What feeds something.
    Feeds,
}

impl Of {
    fn each(self) -> &'static str {
        match self {
            Self::Isolators => "if each of them must be opened",
            Self::Feeds => "if each of them feeds it",
        }
    }

    pub(super) fn one(self) -> &'static str {
        match self {
            Self::Isolators => "(one device)",
            Self::Feeds => "(one board)",
        }
    }
}

/// The question what a cell means, where one of the names with ` + ` between reads as several.
pub(super) fn asked(cell: &str, of: Of) -> Option<Fault> {
    if cell.bytes().all(|byte| byte.is_ascii_alphanumeric() || matches!(byte, b'_' | b'.')) {
        return None;
    }
    if let Some(names) = on_several_lines(cell) {
        let message = format!("`{}` stand on lines of their own, and nothing joins them", names.join("`, `"));
        let one = names.join(" ");
        let help = if names.iter().skip(1).all(|line| belongs_before(line)) {
            format!("write `{one}` on one line")
        } else {
            format!("write `{}` {}; if it is one name, write `{one}` on one line", names.join(" + "), of.each())
        };
        return Some(Fault::new(code::PERHAPS_SEVERAL_DEVICES, message).help(help));
    }
    if !cell.contains(char::is_whitespace) {
        return asked_of(cell, of);
    }
    let words: Vec<_> = cell.split_whitespace().collect();
    words.split(|word| *word == "+").map(|part| part.join(" ")).find_map(|part| asked_of(&part, of))
}

fn asked_of(part: &str, of: Of) -> Option<Fault> {
    let names = reads_as(part).filter(|_| !says_one(part))?;
    let message = format!("`{part}` may be one name, and may mean several");
    let written = if names.is_empty() { "each of them with ` + ` between,".to_owned() } else { quoted(&names) };
    let help = format!("write {written} {}; if one bears this name, write `{part} {}`", of.each(), of.one());
    Some(Fault::new(code::PERHAPS_SEVERAL_DEVICES, message).help(help))
}

fn quoted(names: &[String]) -> String {
    format!("`{}`", names.join(" + "))
}

/// Whether a name says that it is that of one thing: `Q1/Q2 (one device)`, `fuse set F1-F3`.
fn says_one(part: &str) -> bool {
    part.split(|c: char| !c.is_alphanumeric()).any(|word| ["one", "set"].iter().any(|it| word.eq_ignore_ascii_case(it)))
}

/// Whether a name ends in the words that it is that of one thing: `Heater, fan (one device)`.
pub(super) fn ends_as_one(part: &str) -> bool {
    let last = part.strip_suffix(')').and_then(|part| part.rsplit_once('('));
    last.and_then(|(_, words)| words.split_whitespace().next()).is_some_and(|word| word.eq_ignore_ascii_case("one"))
}

/// The lines of a cell, where they are several and no `+` joins two of them.
fn on_several_lines(cell: &str) -> Option<Vec<String>> {
    if !cell.contains(['\n', '\r']) {
        return None;
    }
    let lines: Vec<_> = cell.split(['\n', '\r']).map(str::trim).filter(|line| !line.is_empty()).collect();
    let is_joined = |pair: &[&str]| match pair {
        [one, other] => one.split_whitespace().last() == Some("+") || other.split_whitespace().next() == Some("+"),
        _ => true,
    };
    let joins = |line: &&str| line.trim_matches(|c: char| c == '+' || c.is_whitespace()).to_owned();
    (!lines.windows(2).all(is_joined)).then(|| lines.iter().map(joins).collect())
}

/// Whether a line only says more of what stands above it: `(63 A)`, `63 A`.
fn belongs_before(line: &str) -> bool {
    let mut words = line.split_whitespace();
    let (word, next) = (words.next().unwrap_or_default(), words.next().unwrap_or_default());
    line.starts_with('(') && line.ends_with(')') || is_rating(word, next)
}

/// What a name may mean: the names, or none of them where they cannot be told. `None` where it is plainly one.
fn reads_as(part: &str) -> Option<Vec<String>> {
    range(part).or_else(|| list(part)).or_else(|| counted(part).then(Vec::new))
}

/// Words that join names, and say at most in which order.
static JOINING: WordList =
    WordList::new(&["and", "plus", "then", "also", "with", "first", "followed", "by", "->", ">", "\u{2192}"]);

/// `Q1/Q2`, `Q1 Q2`, `Q1 and Q2`, `Q1 then Q2`, `MCB 1, MCB 2`: names that differ in the figure or letter at their end alone.
fn list(part: &str) -> Option<Vec<String>> {
    let is_reference = part.starts_with(['=', '+', '-']);
    let parts_names =
        |c: char| c.is_whitespace() || matches!(c, ',' | ';' | '&' | '|' | '/') || c == '+' && !is_reference;
    if !part.contains(parts_names) {
        return None;
    }
    let pieces: Vec<_> = part
        .split(parts_names)
        .map(|piece| piece.trim_matches(['(', ')', '[', ']']))
        .filter(|piece| !piece.is_empty() && !JOINING.has(piece))
        .collect();
    let mut names: Vec<String> = Vec::new();
    for (at, piece) in pieces.iter().copied().enumerate() {
        if at > 0 && at + 1 < pieces.len() && tongues::joins(piece) {
            continue;
        }
        let is_letter = piece.len() == 1 && piece.bytes().all(|byte| byte.is_ascii_alphabetic());
        let is_end = is_letter || piece.bytes().all(|byte| byte.is_ascii_digit());
        match names.last_mut().filter(|last| is_end && last.chars().all(char::is_alphabetic)) {
            Some(last) => *last = format!("{last} {piece}"),
            None => names.push(piece.to_owned()),
        }
    }
    let are_siblings = |pair: &[String]| matches!(pair, [one, other] if siblings(one, other).is_some());
    if names.windows(2).all(are_siblings) && names.len() > 1 {
        return Some(names);
    }
    names.windows(2).any(are_siblings).then(Vec::new)
}

/// `Q1-Q4`, `Q1–4`, `Q1 to Q4`.
fn range(part: &str) -> Option<Vec<String>> {
    const SIGNS: [char; 5] = ['-', '\u{2010}', '\u{2011}', '\u{2013}', '\u{2014}'];
    const WORDS: [&str; 3] = [" to ", " thru ", " through "];
    let by_sign = SIGNS.iter().filter_map(|sign| Some((*sign == '-', part.split_once(*sign)?)));
    let words = if part.contains(' ') { &WORDS[..] } else { &[] };
    let by_word = words.iter().filter_map(|word| Some((false, part.split_once(word)?)));
    by_sign.chain(by_word).find_map(|(is_hyphen, (first, last))| {
        let (first, last) = (first.trim(), last.trim());
        // `Q1-4` is a usual name for way 4 of Q1, `Q1–4` and `Q1 to 4` are not.
        let may_be_short = !is_hyphen && last.bytes().all(|byte| byte.is_ascii_digit());
        let written = match ending(first).filter(|_| may_be_short) {
            Some((stem, _)) => format!("{stem}{last}"),
            None => last.to_owned(),
        };
        let (from, to) = siblings(first, &written)?;
        let between = || Some((from.parse::<u16>().ok()?, to.parse::<u16>().ok()?));
        let (stem, _) = ending(first)?;
        match between() {
            Some((from, to)) if from < to && to - from < 8 => {
                Some((from..=to).map(|figure| format!("{stem}{figure}")).collect())
            }
            Some((from, to)) => (from < to).then(Vec::new),
            None => (from < to).then(Vec::new),
        }
    })
}

/// `2 no. MCBs`, `2no MCB`, `ways 3 4 5`, and not `No 2 pump`.
fn is_amount(part: &str) -> bool {
    static NUMBER: WordList = WordList::new(&["no", "nos", "nr", "off", "pcs", "pc"]);
    let is_figures = |word: &&str| word.bytes().all(|byte| byte.is_ascii_digit());
    let mut words = part.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty());
    let Some(first) = words.next() else { return false };
    let unit = first.trim_start_matches(|c: char| c.is_ascii_digit());
    if let Some(amount) = first.strip_suffix(unit).filter(|amount| !amount.is_empty()) {
        let unit = if unit.is_empty() { words.next().unwrap_or_default() } else { unit };
        return amount.parse().is_ok_and(|amount: u32| amount > 1) && NUMBER.has(unit) && words.next().is_some();
    }
    first.len() > 3 && first.ends_with('s') && words.take_while(is_figures).nth(1).is_some()
}

/// `Q1 (x3)`, `3 x Q1`, `3× Q1`, and not the rating `3 x 63 A`.
fn counted(part: &str) -> bool {
    if is_amount(part) {
        return true;
    }
    let is_times = |c: char| matches!(c, 'x' | '\u{D7}');
    let is_figures = |text: &str| !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit());
    if !part.contains(is_times) {
        return false;
    }
    let words: Vec<_> = part.split_whitespace().map(|word| word.trim_matches(['(', ')', '[', ']'])).collect();
    let word_at = |at: usize| words.get(at).copied().unwrap_or_default();
    words.iter().enumerate().any(|(at, word)| {
        let before = at.checked_sub(1).map_or("", word_at);
        if matches!(*word, "x" | "\u{D7}") {
            return (is_figures(before) || is_figures(word_at(at + 1))) && !is_rating(word_at(at + 1), word_at(at + 2));
        }
        match (word.strip_prefix(is_times), word.strip_suffix(is_times)) {
            (Some(count), _) if is_figures(count) => !is_figures(before) || !is_rating(count, word_at(at + 1)),
            (_, Some(count)) if is_figures(count) => !is_rating(word_at(at + 1), word_at(at + 2)),
            _ => false,
        }
    })
}

/// Whether a figure with its unit stands there: `63 A`, `63A`, `1000 kVA`.
fn is_rating(word: &str, next: &str) -> bool {
    const UNITS: [&str; 16] =
        ["a", "ka", "amp", "amps", "va", "kva", "mva", "kvar", "w", "kw", "mw", "v", "kv", "ah", "mm2", "mm\u{B2}"];
    let unit = word.trim_start_matches(|c: char| c.is_ascii_digit() || matches!(c, '.' | ','));
    let unit_is = |unit: &str| UNITS.iter().any(|it| unit.eq_ignore_ascii_case(it));
    unit.len() < word.len() && (if unit.is_empty() { unit_is(next) } else { unit_is(unit) })
}

/// The ends in which alone two names differ: figures, or one letter.
pub(super) fn siblings<'a>(one: &'a str, other: &'a str) -> Option<(&'a str, &'a str)> {
    let ((stem, end), (other_stem, other_end)) = (ending(one)?, ending(other)?);
    let is_figure = |end: &str| end.bytes().all(|byte| byte.is_ascii_digit());
    // The lines of one circuit are no devices.
    let is_line = stem.eq_ignore_ascii_case("L") && matches!(end, "1" | "2" | "3");
    (stem.eq_ignore_ascii_case(other_stem) && is_figure(end) == is_figure(other_end) && end != other_end && !is_line)
        .then_some((end, other_end))
}

/// A name parted into what it begins with and the figures, or the one letter, at its end.
fn ending(name: &str) -> Option<(&str, &str)> {
    let stem = name.trim_end_matches(|c: char| c.is_ascii_digit());
    let stem = if stem.len() == name.len() {
        let (at, last) = name.char_indices().next_back()?;
        name.get(..at).filter(|stem| last.is_alphabetic() && !stem.ends_with(char::is_alphabetic))?
    } else {
        stem
    };
    stem.contains(char::is_alphabetic).then(|| (stem, name.get(stem.len()..).unwrap_or_default()))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn help(cell: &str) -> Option<String> {
        asked(cell, Of::Isolators).and_then(|fault| fault.help)
    }

    #[test]
    fn names_that_read_as_several_are_asked_about() {
        for (cell, written) in [
            ("Q1/Q2", "`Q1 + Q2`"),
            ("Q1 Q2", "`Q1 + Q2`"),
            ("Q1|Q2", "`Q1 + Q2`"),
            ("Q1 plus Q2", "`Q1 + Q2`"),
            ("Q1, Q2 & Q3", "`Q1 + Q2 + Q3`"),
            ("Q1+Q2", "`Q1 + Q2`"),
            ("MCB 1, MCB 2", "`MCB 1 + MCB 2`"),
            ("Q1-Q4", "`Q1 + Q2 + Q3 + Q4`"),
            ("Q1\u{2013}Q4", "`Q1 + Q2 + Q3 + Q4`"),
            ("Q1\u{2013}3", "`Q1 + Q2 + Q3`"),
            ("Q1 to Q3", "`Q1 + Q2 + Q3`"),
            ("F1-F3", "`F1 + F2 + F3`"),
            ("Q1-Q40", "each of them"),
            ("Q1 (x3)", "each of them"),
            ("3 x Q1", "each of them"),
            ("F1 63 A (x3)", "each of them"),
            ("F1 63 A x 3", "each of them"),
            ("2 x F1 3 x 63 A", "each of them"),
            ("3 x Q1 63 A", "each of them"),
            ("Q1A/Q1B", "`Q1A + Q1B`"),
            ("Q1 then Q2", "`Q1 + Q2`"),
            ("first Q1 then Q2", "`Q1 + Q2`"),
            ("Q1 followed by Q2", "`Q1 + Q2`"),
            ("Q1 with Q2", "`Q1 + Q2`"),
            ("Q1 also Q2", "`Q1 + Q2`"),
            ("Q1 -> Q2", "`Q1 + Q2`"),
            ("2 no. MCBs", "each of them"),
            ("2no MCB", "each of them"),
            ("ways 3 4 5", "each of them"),
            ("MCBs 3, 4", "each of them"),
            ("Q1 und Q2", "`Q1 + Q2`"),
            ("Q1 et Q2", "`Q1 + Q2`"),
            ("Q1 e Q2", "`Q1 + Q2`"),
            ("Q1 y Q2", "`Q1 + Q2`"),
            ("Q1 i Q2", "`Q1 + Q2`"),
            ("Q1 och Q2", "`Q1 + Q2`"),
            ("Q1 en Q2", "`Q1 + Q2`"),
            ("MCB 1, MCB 2 und MCB 3", "`MCB 1 + MCB 2 + MCB 3`"),
            ("=A1+B2-Q0, =A1+B2-Q1", "`=A1+B2-Q0 + =A1+B2-Q1`"),
            ("Q9 + Q1/Q2", "`Q1 + Q2`"),
            ("Q1\nQ2", "`Q1 + Q2`"),
            (
                "Main\nswitch",
                "write `Main + switch` if each of them must be opened; if it is one name, write `Main switch` on",
            ),
            ("Main switch\n(63 A)", "write `Main switch (63 A)` on one line"),
            ("Main switch\n63 A", "write `Main switch 63 A` on one line"),
            ("Q1 +\nQ2\nQ3", "`Q1 + Q2 + Q3`"),
        ] {
            let help = help(cell);
            assert!(help.as_deref().is_some_and(|help| help.contains(written)), "{cell}: {help:?}");
        }
    }

    #[test]
    fn names_that_are_one_are_not() {
        for cell in [
            "Q7",
            "DB-C/7",
            "Q1/1",
            "Q1-4",
            "K1-Q1",
            "=A1+B2-Q0",
            "+A1-Q7",
            "-Q1-Q4",
            "Q1 (L1, L2, L3)",
            "Row 1 Q4",
            "10 A breaker",
            "Q4-Q1",
            "X3",
            "Q7\n+ Q8",
            "Q7 +\nQ8",
            "Q1/Q2 (one handle)",
            "fuse set F1-F3",
            "Way 3 to heater",
            "Supply to Q4",
            "A/B",
            "F1 (3 x 63 A)",
            "F1 3 x 25 A",
            "F1 3x 25A",
            "F1 3 x25 A",
            "F1 (3\u{D7}63 A)",
            "3 x 400 A busbar",
            "Halle und Hof",
            "Board E",
            "Q1 E",
            "Y I",
            "Q1 i DB-A",
            "Q1 e",
            "No 2 pump",
            "1 no. MCB",
            "2 pole switch",
            "Q1 with key 7",
            "MCBs",
            "63 A MCB",
        ] {
            assert_eq!(help(cell), None, "{cell}");
        }
    }

    #[test]
    fn boards_are_asked_about_in_their_own_words() {
        let help = |cell| asked(cell, Of::Feeds).and_then(|fault| fault.help);
        assert_eq!(
            help("DB-A / DB-B").as_deref(),
            Some(
                "write `DB-A + DB-B` if each of them feeds it; if one bears this name, write `DB-A / DB-B (one board)`"
            )
        );
        assert!(help("Board A and board B").is_some_and(|help| help.contains("`Board A + board B`")));
        assert_eq!((help("Board A, riser 1"), help("DB-A/7"), help("DB-A (one board)")), (None, None, None));
        assert_eq!((help("T1 1 x 1000 kVA"), help("3 x 400 A busbar")), (None, None));
    }
}
