//! When two spellings mean the same name or place, and when a text names another thing.

pub use super::own_place::{is_here, is_own};
pub use crate::table::spelling::{ROOMS, is_plain_line, key, one_line, push_key, push_rough_key, unmarked};

use crate::table::WordList;

/// The words of a text: runs of letters and figures.
pub fn words(text: &str) -> impl Iterator<Item = &str> {
    text.split(|character: char| !character.is_alphanumeric()).filter(|word| !word.is_empty())
}

/// The figures below nought that a place names: of `Level -1` the `-1`. A hyphen between parts of a name is no sign.
pub fn below_nought(place: &str) -> impl Iterator<Item = &str> {
    place.match_indices(['-', '\u{2212}', '\u{2013}']).filter_map(|(at, sign)| {
        let (before, figures) = (place.get(..at)?, place.get(at + sign.len()..)?);
        let word = before.strip_suffix(' ').map(|before| before.rsplit(' ').next().unwrap_or_default());
        // `Board C -1` is a way to write `Board C-1`.
        let follows_a_word = word.is_some_and(|word| word.len() > 2 && word.chars().all(char::is_alphabetic));
        let end = figures.find(|c: char| !c.is_ascii_digit()).unwrap_or(figures.len());
        figures.get(..end).filter(|figures| !figures.is_empty() && (before.is_empty() || follows_a_word))
    })
}

/// Adds the form in which two places look alike: as [`push_rough_key`], with the levels below nought told apart.
pub fn push_rough_place(buffer: &mut String, place: &str) {
    push_rough_key(buffer, place);
    below_nought(place).for_each(|figures| {
        buffer.push_str(" -");
        buffer.push_str(figures);
    });
}

/// Whether one of the words, a number at its end left aside, is among those of a list in ASCII.
#[must_use]
pub fn has_word(text: &str, wanted: &WordList) -> bool {
    if text.is_ascii() {
        let words = text.as_bytes().split(|byte| !byte.is_ascii_alphanumeric());
        return words.map(without_number).any(|bare| wanted.has_ascii(bare));
    }
    words(text).map(|word| without_number(word.as_bytes())).any(|bare| wanted.has_ascii(bare))
}

/// A word without the number at its end.
fn without_number(mut word: &[u8]) -> &[u8] {
    while let [bare @ .., b'0'..=b'9'] = word {
        word = bare;
    }
    word
}

/// Whether a text names a designation as a whole: `Bay 2, DB-C` names `DB-C`, `DB-C2` and `DB-C-1` do not.
#[must_use]
pub fn names(text: &str, designation: &str) -> bool {
    mentions(text, designation).next().is_some()
}

/// The word by which a UPS is told.
pub static UPS: WordList = WordList::new(&["ups"]);

/// Words that place a thing beside another one, not inside it.
static BESIDE: WordList = WordList::new(&[
    "beside",
    "next",
    "near",
    "adjacent",
    "outside",
    "opposite",
    "above",
    "below",
    "under",
    "over",
    "behind",
    "by",
    "left",
    "right",
    "facing",
    "alongside",
    "from",
    "upstream",
    "beneath",
    "underneath",
    "feeding",
    "serving",
    "supplying",
    "way",
    "circuit",
    "feeder",
    "outgoing",
]);

/// Words that do with a name what those of [`ROOMS`] do, and are no place by themselves: `Pump area`.
static PARTS_OF_ROOMS: WordList = WordList::new(&["area", "wall", "column"]);

/// What of a part that stays live is incoming terminals, and so of the circuit that is fed through them.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Incoming {
    /// Nothing, as far as its words are known.
    Nothing,
    /// Something of it.
    Some,
    /// All of it.
    All,
}

/// How much of a part that stays live is, piece by piece, the incoming terminals of one of these isolators. What stands
/// in brackets, behind a stroke or `with`, may say what the words before it are of: it counts with them.
pub fn incoming_terminals<'a>(part: &str, isolators: impl Iterator<Item = &'a str> + Clone) -> Incoming {
    let pieces = part.split([';', ',', '+', '&']).flat_map(|piece| piece.split(" and "));
    let (incoming, others): (Vec<&str>, Vec<&str>) =
        pieces.filter(|piece| !piece.trim().is_empty()).partition(|piece| {
            is_incoming(piece, isolators.clone())
                || piece.contains(['/', '(', ')']) && {
                    let mut further = piece.split(['/', '(', ')']).filter(|piece| !piece.trim().is_empty());
                    further.all(|piece| is_incoming(piece, isolators.clone()))
                }
        });
    match (incoming.is_empty(), others.is_empty()) {
        (true, _) => Incoming::Nothing,
        (false, false) => Incoming::Some,
        (false, true) => Incoming::All,
    }
}

/// Whether the whole of a phrase is incoming terminals, of one of these isolators if it says of which: `supply side of Q4`.
/// Words besides make it something else: a control cable comes in too, and auxiliary contacts are terminals of Q4.
fn is_incoming<'a>(phrase: &str, mut isolators: impl Iterator<Item = &'a str>) -> bool {
    const SIDES: [&str; 6] = ["line", "supply", "mains", "feed", "upstream", "incoming"];
    const OF_ITS_OWN: [&str; 8] = ["terminal", "terminals", "bar", "bars", "busbar", "busbars", "lugs", "tails"];
    const COMING_IN: [&str; 8] = ["cable", "cables", "conductor", "conductors", "contacts", "line", "lines", "side"];
    let lower = phrase.to_lowercase();
    let words: Vec<&str> = words(&lower).filter(|word| !matches!(*word, "the" | "its")).collect();
    let is_unnamed = |words: &[&str]| match words {
        ["incoming" | "incomer", noun] => OF_ITS_OWN.contains(noun) || COMING_IN.contains(noun),
        ["incoming", "supply" | "mains" | "power", noun] => OF_ITS_OWN.contains(noun) || COMING_IN.contains(noun),
        [side, "side"] => SIDES.contains(side),
        [side, "side", noun] => SIDES.contains(side) && OF_ITS_OWN.contains(noun),
        [] | [_] | [_, _, ..] => false,
    };
    let is_of_it = |words: &[&str]| is_unnamed(words) || matches!(words, [noun] if OF_ITS_OWN.contains(noun));
    let is_named = |name: &str| {
        let lower = name.to_lowercase();
        let name: Vec<&str> = self::words(&lower).collect();
        let behind = words.strip_suffix(name.as_slice()).filter(|_| !name.is_empty());
        let before = words.strip_prefix(name.as_slice()).filter(|_| !name.is_empty());
        let of = behind.and_then(|words| words.split_last());
        of.is_some_and(|(of, words)| matches!(*of, "of" | "at" | "to" | "on" | "in") && is_of_it(words))
            || before.is_some_and(is_of_it)
    };
    is_unnamed(&words)
        || matches!(words.as_slice(), [words @ .., "of", "isolator"] if is_of_it(words))
        || isolators.any(is_named)
}

/// Whether a location lies in the enclosure with this designation: it names it, and does not say beside it.
///
/// The area of the enclosure is left aside, so that the isolator in the intake room is not taken to be inside the
/// enclosure `INTAKE`.
#[must_use]
pub fn is_inside(location: &str, area: Option<&str>, designation: &str) -> bool {
    if is_here(location) {
        return true;
    }
    let location = area.map_or(location, |area| without_area(location, area));
    mentions(location, designation).any(|(before, after)| {
        let last_part = before.rsplit([',', ';']).next().unwrap_or(before);
        let next_part = after.split([',', ';']).next().unwrap_or(after);
        let is_room = words(next_part).take(2).any(|word| has_word(word, &ROOMS) || has_word(word, &PARTS_OF_ROOMS));
        !is_room && !has_word(last_part, &BESIDE)
    })
}

fn without_area<'a>(location: &'a str, area: &str) -> &'a str {
    match location.split_at_checked(area.len()) {
        Some((start, rest)) if start.eq_ignore_ascii_case(area) && starts_word(rest) => rest,
        Some(_) | None => location,
    }
}

/// The text before and after each whole mention of a designation.
fn mentions<'a>(text: &'a str, designation: &str) -> impl Iterator<Item = (&'a str, &'a str)> {
    // Nearly every place names nothing of the kind, and that is told by its bytes alone.
    let first = designation.bytes().next();
    let starts = text.len().checked_sub(designation.len()).and_then(|last| text.as_bytes().get(..=last));
    let starts = starts.unwrap_or_default().iter().enumerate();
    let starts = starts.filter(move |(_, byte)| first.is_some_and(|first| byte.eq_ignore_ascii_case(&first)));
    starts.filter_map(move |(start, _)| {
        let (before, here) = text.split_at_checked(start)?;
        let (found, after) = here.split_at_checked(designation.len())?;
        (found.eq_ignore_ascii_case(designation) && ends_word(before) && starts_word(after)).then_some((before, after))
    })
}

/// Whether a designation may begin after this text.
fn ends_word(before: &str) -> bool {
    let mut back = before.chars().rev();
    match back.next() {
        None => true,
        Some('-' | '_' | '.') => !back.next().is_some_and(char::is_alphanumeric),
        Some(character) => !character.is_alphanumeric(),
    }
}

/// Whether a designation may end before this text.
fn starts_word(after: &str) -> bool {
    let mut ahead = after.chars();
    match ahead.next() {
        None => true,
        Some('-' | '_' | '.') => !ahead.next().is_some_and(char::is_alphanumeric),
        Some(character) => !character.is_alphanumeric(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rough(text: &str) -> String {
        let mut buffer = String::new();
        push_rough_key(&mut buffer, text);
        buffer
    }

    #[test]
    fn case_and_spacing_do_not_part_two_places() {
        assert_eq!(key("Switchroom 1,  Board C"), key("switchroom1, board c"));
        assert_ne!(key("Switchroom 1"), key("Switchroom 2"));
        assert_ne!(key("Switchroom 1, C"), key("Switchroom 1 C"));
    }

    #[test]
    fn a_space_between_figures_is_kept() {
        assert_ne!(key("Room 1 1"), key("Room 11"));
        assert_ne!(rough("Room 1.1"), rough("Room 11"));
    }

    #[test]
    fn incoming_terminals_are_told_from_other_parts() {
        let told = |part: &str| incoming_terminals(part, ["Q7", "-Q8"].into_iter());
        for part in [
            "incoming terminals",
            "terminals of Q7",
            "incoming terminals of Q7 and Q7 line side",
            "supply side",
            "-Q8 busbars",
            "Incoming cable to Q7",
            "the line side terminals of the isolator",
            "supply side of Q7 / incoming terminals of -Q8",
            "Q7 (supply side)",
        ] {
            assert_eq!(told(part), Incoming::All, "{part}");
        }
        for part in [
            "crankcase heater",
            "terminals of Q9",
            "incoming heater",
            "heater of Q7",
            "line",
            "; ",
            "incoming control cable from PLC-1",
            "incoming 24 V conductors",
            "auxiliary contacts of Q7",
            "contacts of Q7",
            "control cable to Q7",
            "terminals of the heater beside Q7",
            "supply side of the crankcase heater relay",
            "mains side of control transformer T1",
            "side panel heater supply",
            "incoming terminals of Q7/crankcase heater",
            "incoming terminals (crankcase heater)",
            "incoming terminals of Q7 with panel light",
        ] {
            assert_eq!(told(part), Incoming::Nothing, "{part}");
        }
        for part in ["incoming terminals; heater", "heater & Q7 terminals", "Q7 supply side, heater with light"] {
            assert_eq!(told(part), Incoming::Some, "{part}");
        }
    }

    #[test]
    fn punctuation_leaves_two_places_alike() {
        assert_eq!(rough("Switchroom 1, board C"), rough("switchroom-1 (board C)"));
        assert_eq!(rough("Room 1-1"), rough("Room 1.1"));
    }

    #[test]
    fn a_level_below_nought_is_not_the_one_above() {
        let place = |text: &str| {
            let mut buffer = String::new();
            push_rough_place(&mut buffer, text);
            buffer
        };
        for below in ["Level -1", "-1 level", "Level \u{2212}1", "Level -1, riser 2"] {
            assert_ne!(place(below), place(&below.replace(['-', '\u{2212}'], "")), "{below}");
        }
        assert_ne!(place("Level -1"), place("Level +1"));
        assert_ne!(place("Level -1"), place("Level 11"), "the figure and its sign are kept apart from the rest");
        assert_ne!(place("Level -1, riser 2"), place("Level 1, riser -2"));
        for (one, other) in [
            ("Room-1", "Room 1"),
            ("Board C -1", "Board C-1"),
            ("DB -1", "DB-1"),
            ("DB2 -1", "DB2-1"),
            ("Level -1", "level -1"),
            ("Level +1", "Level 1"),
        ] {
            assert_eq!(place(one), place(other), "{one}");
        }
    }

    #[test]
    fn a_longer_designation_is_another_one() {
        assert!(names("Bay 2, DB-C", "DB-C"));
        assert!(names("db-c, way 3", "DB-C"));
        assert!(!names("DB-C2", "DB-C"));
        assert!(!names("DB-C-1", "DB-C"));
        assert!(!names("MDB-C", "DB-C"));
        assert!(!names("Bay 2", ""));
        assert!(names("Schrank Ü2", "Ü2"));
        assert!(!names("ÄÜ2", "Ü2"));
    }

    #[test]
    fn beside_is_not_inside() {
        let inside = |location| is_inside(location, None, "CH3-JB2");
        assert!(inside("in CH3-JB2"));
        assert!(inside("CH3-JB2"));
        assert!(inside("left of the aisle, CH3-JB2"));
        assert!(!inside("DB-C, way CH3-JB2") && !inside("column beneath CH3-JB2"));
        for here in ["this panel", "integral", "Built-in", "inside the box", "local, inside"] {
            assert!(inside(here), "{here}");
        }
        assert!(!inside("beside CH3-JB2"));
        assert!(!inside("to the left of CH3-JB2"));
        assert!(inside("inside"));
        assert!(!inside("inside the plant room"));
    }

    #[test]
    fn the_room_is_not_the_enclosure() {
        assert!(!is_inside("Intake room", Some("Intake room"), "INTAKE"));
        assert!(is_inside("Intake room, INTAKE", Some("Intake room"), "INTAKE"));
        assert!(!is_inside("Intake room", None, "INTAKE"));
        assert!(is_inside("DB-C", Some("DB"), "DB-C"));
        for (place, name) in [
            ("Lift room, beside door", "LIFT"),
            ("Pump room", "PUMP"),
            ("Chiller 1 plant room", "Chiller 1"),
            ("TB1 corridor", "TB1"),
            ("Pump area", "PUMP"),
            ("TB1 wall", "TB1"),
            ("beside the door, TB1 column", "TB1"),
        ] {
            assert!(!is_inside(place, None, name), "{place}");
        }
        assert!(is_inside("Pump room, PUMP", None, "PUMP") && is_inside("PUMP door", None, "PUMP"));
    }
}
