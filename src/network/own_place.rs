//! Places that are another one for every enclosure: within it, and beside whatever stands there.

use super::spelling::words;
use crate::table::WordList;

/// What an enclosure is called where its name is not said.
static HOUSINGS: WordList = WordList::new(&["enclosure", "box", "panel", "cubicle", "cabinet", "unit", "housing"]);

/// The same of what may as well be the board that feeds it, unless the place says that it is this one.
static BOARDS: WordList = WordList::new(&["board", "switchboard"]);

/// What a place may be beside without naming it.
static THINGS: WordList = WordList::new(&[
    "machine",
    "motor",
    "pump",
    "fan",
    "equipment",
    "plant",
    "appliance",
    "load",
    "item",
    "door",
    "it",
]);

/// Parts of a housing that open or face.
static FACES: WordList = WordList::new(&["door", "front", "cover", "lid", "face"]);

static THIS: WordList = WordList::new(&["this", "same", "its"]);

/// Whether a location says only that it is within: another place in every enclosure.
#[must_use]
pub fn is_here(location: &str) -> bool {
    static FIRST: WordList = WordList::new(&[
        "inside",
        "internal",
        "internally",
        "within",
        "in",
        "on",
        "this",
        "same",
        "its",
        "integral",
        "built",
        "local",
        "enclosure",
        "box",
        "panel",
        "cubicle",
        "cabinet",
        "unit",
        "housing",
    ]);
    if !words(location).next().is_some_and(|first| FIRST.has(first)) {
        return false;
    }
    let words: Vec<String> = words(location).map(str::to_lowercase).collect();
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    match words.as_slice() {
        ["inside" | "internal" | "internally" | "within" | "integral"]
        | ["built", "in"]
        | ["local", "inside"]
        | ["inside", "local"] => true,
        ["on", rest @ ..] => is_housing(rest) || is_door(rest),
        ["in" | "inside" | "within", rest @ ..] => is_housing(rest),
        ["this" | "same" | "its", ..] => is_housing(&words),
        // The door of a panel, and not a panel alone, which may be any.
        [housing, face] => FACES.has(face) && HOUSINGS.has(housing),
        _ => false,
    }
}

/// `the panel`, `this board`, `cabinet door`.
fn is_housing(words: &[&str]) -> bool {
    let (is_this, words) = match words {
        [first, rest @ ..] if THIS.has(first) => (true, rest),
        ["the", rest @ ..] => (false, rest),
        words => (false, words),
    };
    match words {
        [housing] => HOUSINGS.has(housing) || is_this && BOARDS.has(housing),
        [housing, face] => (HOUSINGS.has(housing) || is_this && BOARDS.has(housing)) && FACES.has(face),
        _ => false,
    }
}

fn is_door(words: &[&str]) -> bool {
    matches!(words, ["the" | "this" | "its", face] | [face] if FACES.has(face))
}

/// Whether a location says only that it is near: `local`, `adjacent`, `next to pump`. Another place at every enclosure too.
#[must_use]
fn is_near(location: &str) -> bool {
    static FIRST: WordList = WordList::new(&[
        "local",
        "locally",
        "adjacent",
        "here",
        "nearby",
        "alongside",
        "opposite",
        "beside",
        "next",
        "close",
        "at",
        "by",
        "on",
        "near",
        "behind",
        "above",
        "below",
        "under",
        "over",
        "outside",
        "left",
        "right",
    ]);
    if !words(location).next().is_some_and(|first| FIRST.has(first)) {
        return false;
    }
    let words: Vec<String> = words(location).map(str::to_lowercase).collect();
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    let rest = match words.as_slice() {
        ["local" | "locally" | "adjacent" | "here" | "nearby" | "alongside" | "opposite" | "beside" | "outside"]
        | ["next", "to"]
        | ["close", "by"]
        | ["local", "isolator" | "switch"] => return true,
        ["local" | "adjacent" | "next" | "close", "to", rest @ ..] | ["left" | "right", "of", rest @ ..] => rest,
        [_, rest @ ..] => rest,
        [] => return false,
    };
    let rest = match rest {
        ["the" | "this" | "same" | "its", rest @ ..] => rest,
        rest => rest,
    };
    match rest {
        [thing] => THINGS.has(thing) || HOUSINGS.has(thing) || BOARDS.has(thing),
        [housing, face] => (HOUSINGS.has(housing) || BOARDS.has(housing) || THINGS.has(housing)) && FACES.has(face),
        _ => false,
    }
}

/// Whether a location is another place for every enclosure, so that it tells no device from one of the same designation
/// elsewhere.
#[must_use]
pub fn is_own(location: &str) -> bool {
    is_here(location) || is_near(location)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn within_is_here() {
        for place in [
            "inside",
            "Inside the cabinet",
            "in enclosure",
            "in this board",
            "within box",
            "this panel",
            "built-in",
            "local, inside",
            "in same enclosure",
            "inside unit",
            "in the cubicle",
            "Panel door",
            "cabinet front",
            "on this panel",
            "on panel door",
            "On door",
            "on the door",
            "this panel door",
            "integral",
        ] {
            assert!(is_here(place) && is_own(place), "{place}");
        }
        for place in [
            "in the board",
            "inside the plant room",
            "in cabinet 3",
            "panel",
            "Panel 3 door",
            "front door",
            "in room",
            "Unit 7",
            "on roof",
            "unit",
            "local",
            "in",
            "",
        ] {
            assert!(!is_here(place), "{place}");
        }
    }

    #[test]
    fn beside_is_near_and_not_here() {
        for place in [
            "local",
            "Locally",
            "adjacent",
            "adjacent to unit",
            "beside panel",
            "next to pump",
            "next to the motor",
            "on motor",
            "here",
            "at unit",
            "opposite",
            "by door",
            "by the panel door",
            "local isolator",
            "left of the door",
        ] {
            assert!(is_near(place) && is_own(place) && !is_here(place), "{place}");
        }
        for place in [
            "beside CH3-JB2",
            "next to pump 3",
            "on roof",
            "at Board C",
            "by lift 2",
            "local substation",
            "Plant room",
            "next",
            "",
        ] {
            assert!(!is_own(place), "{place}");
        }
    }
}
