//! Words by which a cell that should say where a device is leaves that open.
//!
//! Streets, stores and entrances bear such words in their names, so that fewer of them are taken for doubt here than in
//! the name of a device, and a place in quotation marks is the name that it is.

use super::doubt::{Doubt, begins_unknown, breaks_off, goes_on, is_open};
use super::tongues;
use crate::table::WordList;
use crate::table::spelling::ROOMS;

/// Documents and places on paper that a reader is sent to.
static REFERENCES: WordList = WordList::new(&[
    "drawing",
    "drawings",
    "dwg",
    "drg",
    "schedule",
    "schedules",
    "plan",
    "plans",
    "sheet",
    "sheets",
    "note",
    "notes",
    "below",
    "above",
    "attached",
    "file",
    "list",
    "lists",
    "survey",
    "photo",
    "photos",
    "comment",
]);

/// What is said of a thing that is no longer where it was.
static MOVED: WordList = WordList::new(&["moved", "removed", "relocated"]);

/// What is not there, or whose it is.
static LEFT: WordList = WordList::new(&["missing", "others"]);

/// What a place may be beside a room: two of them, or of rooms, with a word of choice between are two places.
static KINDS: WordList = WordList::new(&[
    "hallway",
    "rooftop",
    "substation",
    "riser",
    "cupboard",
    "basement",
    "cellar",
    "loft",
    "attic",
    "void",
    "ceiling",
    "garage",
    "landing",
    "stair",
    "stairs",
    "staircase",
    "stairwell",
    "workshop",
    "chamber",
    "kitchen",
    "office",
    "reception",
    "intake",
    "plant",
    "mezzanine",
    "kiosk",
    "compound",
]);

/// Who is asked where a device is.
static PEOPLE: WordList = WordList::new(&[
    "caretaker",
    "janitor",
    "manager",
    "electrician",
    "engineer",
    "supervisor",
    "foreman",
    "owner",
    "landlord",
    "tenant",
    "concierge",
    "security",
    "reception",
    "maintenance",
    "staff",
]);

/// How a place says that nobody made sure of it: `tbc`, `see drawing`, `riser 1 or 2`.
pub(crate) fn doubt(place: &str) -> Option<Doubt<'_>> {
    let is_sign = |c: char| !c.is_alphanumeric();
    let bare = place.trim_start_matches(is_sign);
    let front = place.strip_suffix(bare).unwrap_or_default();
    let tail = place.get(place.trim_end_matches(is_sign).len()..).unwrap_or_default();
    if front.contains('?')
        || tail.contains('?')
        || breaks_off(place)
        || goes_on(unquoted(place))
        || begins_unknown(bare)
        || tongues::is_unknown(place)
    {
        return Some(Doubt::Plain);
    }
    let words: Vec<_> =
        place.split(|c: char| is_sign(c) && !is_apostrophe(c)).filter(|word| !word.is_empty()).collect();
    let mut before = None;
    for (at, word) in words.iter().enumerate() {
        if is_open(before, word, at + 1 == words.len()) {
            return Some(Doubt::Plain);
        }
        before = Some(*word);
    }
    if unquoted(place).len() < place.len() {
        return None;
    }
    let by_siblings = || (words.contains(&"of") && tongues::chooses_siblings(place)).then_some("of");
    let in_another_language = || tongues::doubtful(&words).or_else(by_siblings);
    in_passing(&words).or_else(|| sends_elsewhere(&words)).or_else(in_another_language).map(Doubt::Word)
}

/// Whether a text says no more than where else to read: `see note 3`, `refer to RAMS`, and not `see the shift manager`.
pub(super) fn only_refers(text: &str) -> bool {
    static SENDING: WordList = WordList::new(&["see", "refer", "as", "per", "check", "read"]);
    static DOCUMENTS: WordList = WordList::new(&["rams", "manual", "manuals", "procedure", "document", "documents"]);
    const MOST: usize = 5;
    let words: Vec<_> = text.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty()).collect();
    words.len() <= MOST
        && words.first().is_some_and(|first| SENDING.has(first))
        && words.iter().skip(1).any(|word| REFERENCES.has(word) || DOCUMENTS.has(word))
}

/// What stands between quotation marks, where a place stands in them, all of it.
pub(super) fn unquoted(place: &str) -> &str {
    const PAIRS: [(char, char); 4] =
        [('"', '"'), ('\u{201C}', '\u{201D}'), ('\u{201E}', '\u{201C}'), ('\u{AB}', '\u{BB}')];
    let inner = |(open, close): &(char, char)| place.strip_prefix(*open)?.strip_suffix(*close);
    // Nearly every place begins with a letter.
    if place.starts_with(|first: char| first.is_ascii_alphanumeric()) {
        return place;
    }
    PAIRS.iter().find_map(inner).map_or(place, str::trim)
}

fn is_apostrophe(c: char) -> bool {
    matches!(c, '\'' | '\u{2019}')
}

fn has_figure(word: &str) -> bool {
    word.contains(|c: char| c.is_ascii_digit())
}

fn is_capital(word: &str) -> bool {
    word.starts_with(char::is_uppercase)
}

/// `riser 1 or 2`, `switchroom or plant room`, `by others`, `label missing`, `Room 1 (moved)`, and neither `Unit 7 or
/// flats riser` nor `Visitors and others entrance`.
fn in_passing<'a>(words: &[&'a str]) -> Option<&'a str> {
    // `riser 1`, `riser A`: what stands on either side is one of several of a kind.
    let is_numbered = |word: &&str| has_figure(word) || word.len() == 1 && is_capital(word);
    let is_choice = |at: usize| {
        let (before, behind) = (words.get(..at).unwrap_or_default(), words.get(at + 1..).unwrap_or_default());
        behind.is_empty() || before.iter().any(is_numbered) && behind.iter().any(is_numbered)
    };
    let is_kind = |word: &&str| ROOMS.has(word) || KINDS.has(word) || tongues::is_room(word);
    let is_side = |word: &&str| tongues::is_side(word);
    let are_two_places = |at: usize| {
        let before = at.checked_sub(1).and_then(|before| words.get(before));
        before.is_some_and(is_kind) && words.iter().skip(at + 1).take(3).any(is_kind)
            || before.is_some_and(is_side) && words.get(at + 1).is_some_and(is_side)
    };
    let is_doubt = |at: usize, word: &str| match word {
        // The theatre `OR 2`.
        "or" => is_choice(at) || are_two_places(at),
        _ if tongues::chooses(word) => is_choice(at) && at + 1 < words.len() || are_two_places(at),
        _ => LEFT.has(word) && is_choice(at) || MOVED.has(word) && at + 1 == words.len(),
    };
    words.iter().enumerate().find(|(at, word)| is_doubt(*at, word)).map(|(_, word)| *word)
}

/// `see drawing E-101`, `moved 2023`, `various rooms`, and neither `See Road kiosk` nor `Multiple unit depot`.
fn sends_elsewhere<'a>(words: &[&'a str]) -> Option<&'a str> {
    // No name begins with them.
    static ALWAYS: WordList = WordList::new(&["none", "refer", "ask", "ditto", "formerly"]);
    static SENDS: WordList = WordList::new(&["see", "per", "like", "same", "was", "missing"]);
    static AMOUNTS: WordList = WordList::new(&["various", "several", "multiple"]);
    static JOINING: WordList = WordList::new(&[
        "a", "an", "the", "to", "in", "into", "at", "on", "from", "by", "with", "as", "for", "of", "under", "behind",
        "next", "around",
    ]);
    let (first, rest) = words.split_first()?;
    if ALWAYS.has(first) {
        return Some(first);
    }
    // `See Caretaker`, and not `See Manager Lane`.
    let is_person = |word: &&str| PEOPLE.has(word);
    if first.eq_ignore_ascii_case("see") && rest.last().is_some_and(is_person) {
        return Some(first);
    }
    let (sends, moved, amount) = (SENDS.has(first), MOVED.has(first), AMOUNTS.has(first));
    if !(sends || moved || amount) {
        return None;
    }
    let Some(next) = rest.first() else { return Some(first) };
    // `see DB-A`, `like Q1`, `moved 2023`: a name of letters and figures, or a date.
    let is_code = has_figure(next) || next.chars().count() > 1 && next.chars().all(char::is_uppercase);
    let names_nothing = !rest.iter().any(|word| is_capital(word));
    let is_doubt = is_code
        || JOINING.has(next)
        || rest.iter().any(|word| REFERENCES.has(word))
        || sends && names_nothing
        || moved && rest.len() == 1 && names_nothing
        || amount && names_nothing && rest.iter().any(|word| word.ends_with('s') || has_figure(word));
    is_doubt.then_some(*first)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_with_a_doubtful_word_is_a_place() {
        for place in [
            "See Road kiosk",
            "Missing Link Road kiosk",
            "Unit 7 or flats riser",
            "Visitors and others entrance",
            "Salle d'or",
            "Salle d\u{2019}or",
            "Moved goods store",
            "Multiple unit depot",
            "Several Oaks barn",
            "Theatre OR 2",
            "AS 1",
            "Unknown Street 3",
            "Seed room",
            "Riser 1/2",
            "Ditton Lane pump house",
            "../../etc/passwd",
            "O'Neill yard",
            "See Manager Lane kiosk",
            "Store or Shop Lane",
            "Halle und Hof",
            "Halle oder Hof",
            "Haus 3, E",
            "Level 1 of Block 2",
            "Salle 2 en bas",
            "Seegasse 3",
            "Halle 3, Eller 5",
            "Ver 2 kiosk",
            "SE 1 corner",
        ] {
            assert_eq!(doubt(place), None, "{place}");
        }
    }

    #[test]
    fn a_word_that_sends_elsewhere_or_leaves_a_choice_is_named_and_may_be_quoted() {
        for (place, expected) in [
            ("Schaltraum oder Heizraum", "oder"),
            ("Salle 1, local ou bureau", "ou"),
            ("nord ou sud", "ou"),
            ("Plant room (west) or (east)", "or"),
            ("Halle links oder rechts", "oder"),
            ("m\u{ED}stnost nebo sklep", "nebo"),
            ("tuntematon huone", "tuntematon"),
            ("Keller, Raum unbekannt", "unbekannt"),
            ("see drawing", "see"),
            ("see drawing E-101", "see"),
            ("See Drawing E-101", "See"),
            ("see", "see"),
            ("see the Plan", "see"),
            ("see DB-A", "see"),
            ("refer to schedule", "refer"),
            ("per the list", "per"),
            ("ask caretaker", "ask"),
            ("same room", "same"),
            ("Ditto", "Ditto"),
            ("like Q1", "like"),
            ("none fitted", "none"),
            ("None Given", "None"),
            ("Ask Caretaker", "Ask"),
            ("was in Riser 1", "was"),
            ("moved 2023", "moved"),
            ("moved to Riser 2", "moved"),
            ("relocated upstairs", "relocated"),
            ("Room 1 (moved)", "moved"),
            ("various rooms", "various"),
            ("Several places on site", "Several"),
            ("riser 1 or 2", "or"),
            ("Riser 1 or riser 2", "or"),
            ("Room A or room B", "or"),
            ("riser or", "or"),
            ("others", "others"),
            ("label missing", "missing"),
            ("missing from site", "missing"),
            ("Switchroom or plant room", "or"),
            ("Riser or corridor, level 2", "or"),
            ("Plant room or roof void", "or"),
            ("See Caretaker", "See"),
            ("See site manager", "See"),
            ("siehe Plan", "siehe"),
            ("voir plan E-101", "voir"),
            ("se ritning", "se"),
            ("Raum 1 oder Raum 2", "oder"),
            ("Salle 1 ou 2", "ou"),
            ("Locale 3 o 4", "o"),
            ("Rum 1 eller 2", "eller"),
            ("Kamer 1 of kamer 2", "of"),
            ("Raum unbekannt", "unbekannt"),
            ("Keine Beschriftung", "Keine"),
        ] {
            assert_eq!(doubt(place), Some(Doubt::Word(expected)), "{place}");
            for quoted in [format!("\"{place}\""), format!("\u{201C}{place}\u{201D}")] {
                assert_eq!(doubt(&quoted), None, "{quoted}");
            }
        }
    }

    #[test]
    fn who_plainly_does_not_know_says_so_in_quotation_marks_too() {
        for place in [
            "Room 1?",
            "Room 1, ...",
            "Room 1 etc.",
            "unknown (locked)",
            "unknown",
            "Room 1 (TBC)",
            "TBC on site",
            "not known",
            "not traced",
            "no access",
            "installed by others, riser",
            "probably riser 1",
            "as Q1",
            "same as above",
            "unbekannt (Raum zu)",
            "Raum nicht bekannt",
            "nicht bekannt",
            "Riser 1 (\u{E0} v\u{E9}rifier)",
        ] {
            assert_eq!(doubt(place), Some(Doubt::Plain), "{place}");
            let quoted = format!("\"{place}\"");
            assert_eq!(doubt(&quoted), Some(Doubt::Plain), "{quoted}");
        }
    }
}
