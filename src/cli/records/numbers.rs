//! The notices of a record that words of a command line mean: each by its number, or several by a pattern.

use std::collections::HashSet;

use glob::{MatchOptions, Pattern};

use crate::cli::failure::Failure;
use crate::cli::pipeline;
use crate::records::Ledger;

/// How many numbers are offered for one that the record does not have.
const OFFERED: usize = 4;

/// A notice that is meant.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::cli) struct Meant<'a> {
    /// Its number; not always one of the record.
    pub number: &'a str,
    /// Whether a pattern met it, so that nobody named it by itself.
    pub by_pattern: bool,
}

/// The notices that are meant, each once, in the order in which they are named. A word without `*`, or one that is a number
/// as it stands, is a number, for numbers may hold `[` and `?`; any other is a pattern, which meets notices of the record.
///
/// # Errors
/// A pattern that is none, or that meets nothing.
pub(in crate::cli) fn meant<'a>(words: &'a [String], ledger: &'a Ledger<'_>) -> Result<Vec<Meant<'a>>, Failure> {
    let is_number = |word: &str| !word.contains('*') || ledger.find(word).is_some();
    let named = words.iter().map(String::as_str).filter(|word| is_number(word));
    let mut seen: HashSet<&str> = named.collect();
    let named_by_itself = seen.clone();
    seen.clear();
    let mut meant = Vec::new();
    for word in words {
        if is_number(word) {
            meant.extend(seen.insert(word).then_some(Meant { number: word, by_pattern: false }));
            continue;
        }
        let pattern = pattern(word)?;
        let options = MatchOptions { case_sensitive: false, ..MatchOptions::new() };
        let numbers = ledger.notices.iter().map(|known| known.number);
        let met: Vec<&str> = numbers.filter(|number| pattern.matches_with(number, options)).collect();
        if met.is_empty() {
            let hint = "patterns are matched against the numbers of the record; `*` stands for anything";
            return Err(Failure::with_hint(format!("no notice of the record matches `{word}`"), hint));
        }
        for number in met.into_iter().filter(|number| !named_by_itself.contains(number)) {
            meant.extend(seen.insert(number).then_some(Meant { number, by_pattern: true }));
        }
    }
    Ok(meant)
}

fn pattern(word: &str) -> Result<Pattern, Failure> {
    Pattern::new(word).map_err(|error| {
        let message = format!("`{word}`: {} at character {}", error.msg, error.pos + 1);
        Failure::with_hint(message, "`[1-3]` is one of several characters; write `[[]` for a bracket itself")
    })
}

/// The numbers of the record that are plainly meant by one that it does not have: those of the notices of an enclosure or
/// device, if it is the name of one, else the one that looks most alike. In words: `` `Q7@CH3-JB2` or `Q7@CH3-JB3` ``.
pub(in crate::cli) fn nearest(number: &str, ledger: &Ledger<'_>) -> Option<String> {
    let numbers: Vec<&str> = ledger.notices.iter().map(|known| known.number).collect();
    let of_name = |known: &&str| {
        let (start, rest) = known.split_at_checked(number.len()).unwrap_or_default();
        start.eq_ignore_ascii_case(number) && rest.starts_with(['@', '/'])
    };
    let quoted = |known: &str| format!("`{known}`");
    let mut offered: Vec<String> = numbers.iter().copied().filter(of_name).take(OFFERED).map(quoted).collect();
    if number.is_empty() || offered.is_empty() {
        return pipeline::nearest(number, &numbers).map(quoted);
    }
    let last = offered.pop()?;
    Some(if offered.is_empty() { last } else { format!("{} or {last}", offered.join(", ")) })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::records::{Entry, Event};
    use crate::standing::Date;

    #[test]
    fn the_name_of_a_device_or_an_enclosure_offers_its_notices() {
        let day = Date::parse("2026-11-24").unwrap();
        let numbers = ["Q7@CH3-JB2", "Q7@CH3-JB10", "Q71@CH3-JB2", "CH3-JB2/1", "CH3-JB20/1"];
        let entries: Vec<Entry> = numbers.map(|number| Entry::new(day, Event::Fixed, number)).into();
        let ledger = Ledger::of(&entries);
        assert_eq!(nearest("Q7", &ledger).as_deref(), Some("`Q7@CH3-JB2` or `Q7@CH3-JB10`"));
        assert_eq!(nearest("ch3-jb2", &ledger).as_deref(), Some("`CH3-JB2/1`"));
        assert_eq!(nearest("CH3-JB2/2", &ledger).as_deref(), Some("`CH3-JB2/1`"), "the one that looks most alike");
        assert_eq!((nearest("Z", &ledger), nearest("", &ledger)), (None, None));
    }
}
