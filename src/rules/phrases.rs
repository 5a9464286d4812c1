//! Lists of names in English, for reasons and messages.

use std::collections::HashSet;

/// Names beyond this are only counted.
const NAMES_SHOWN: usize = 6;

/// `Q7`, `Q7 and Q12`, `Q7, Q12 and Q13`; a long list ends in how many more there are.
pub(super) fn list<'a>(names: impl IntoIterator<Item = &'a str>) -> String {
    let mut names: Vec<_> = names.into_iter().collect();
    let hidden = names.len().saturating_sub(NAMES_SHOWN);
    if hidden > 1 {
        names.truncate(NAMES_SHOWN);
        return format!("{} and {hidden} more", names.join(", "));
    }
    match names.split_last() {
        None => String::new(),
        Some((only, [])) => (*only).to_owned(),
        Some((last, rest)) => format!("{} and {last}", rest.join(", ")),
    }
}

/// The beginning of a sentence about circuits, each named once: `circuit C1 is`, `circuits C1 and C2 are`.
pub(super) fn circuits<'a>(names: impl IntoIterator<Item = &'a str>) -> String {
    let mut seen = HashSet::new();
    let names: Vec<_> = names.into_iter().filter(|name| seen.insert(*name)).collect();
    let (noun, verb) = if names.len() == 1 { ("circuit", "is") } else { ("circuits", "are") };
    format!("{noun} {} {verb}", list(names))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lists_read_as_english() {
        assert_eq!(list(["Q7"]), "Q7");
        assert_eq!(list(["Q7", "Q12"]), "Q7 and Q12");
        assert_eq!(list(["Q7", "Q12", "Q13"]), "Q7, Q12 and Q13");
        assert_eq!(circuits(["C1"]), "circuit C1 is");
        assert_eq!(circuits(["C1", "C2"]), "circuits C1 and C2 are");
        assert_eq!(circuits(["C2", "C1", "C2"]), "circuits C2 and C1 are");
        assert_eq!(circuits(["C1", "C1"]), "circuit C1 is");
    }

    #[test]
    fn a_long_list_is_counted() {
        let names = ["1", "2", "3", "4", "5", "6", "7", "8", "9"];
        assert_eq!(list(names), "1, 2, 3, 4, 5, 6 and 3 more");
        assert_eq!(list(names.into_iter().take(7)), "1, 2, 3, 4, 5, 6 and 7");
    }
}
