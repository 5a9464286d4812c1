//! Words by which a cell that should name a device says that nobody made sure of it, that there is none, or where else to
//! look. Printed, they would pass for a name.

use super::{several, tongues};
use crate::table::WordList;
use crate::table::spelling::unmarked;
use crate::table::word_list::WordPairs;

/// How a name or a place leaves open what or where it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Doubt<'a> {
    /// In so many words.
    Plain,
    /// By a word that may as well belong to a name, so that what marks a name takes the doubt away.
    Word(&'a str),
}

/// Whether the name of a device says so, and is not marked as a name.
pub(super) fn is_in_doubt(part: &str) -> bool {
    match doubt(part) {
        Some(Doubt::Plain) => true,
        Some(Doubt::Word(_)) if !several::ends_as_one(part) => true,
        // The mark hides no sign of doubt at the end of the name.
        Some(Doubt::Word(_)) | None => {
            let name = unmarked(part);
            name.len() < part.len() && doubt(name) == Some(Doubt::Plain)
        }
    }
}

/// How the name of a device says so: `Q1?`, `Q1 (TBC)`, `none fitted`, `see drawing`, `Q1 or Q2`, `Q1 etc.`.
pub(super) fn doubt(part: &str) -> Option<Doubt<'_>> {
    static FIRST: WordList = WordList::new(&[
        "none",
        "see",
        "refer",
        "ask",
        "per",
        "like",
        "same",
        "ditto",
        "moved",
        "removed",
        "relocated",
        "formerly",
        "was",
        "various",
        "several",
        "multiple",
    ]);
    static LAST: WordList = WordList::new(&["moved", "removed", "relocated"]);
    static LEFT: WordList = WordList::new(&["missing", "others"]);
    let is_end = |last: char| !last.is_alphanumeric();
    let (front, tail) = (part.len() - part.trim_start_matches(is_end).len(), part.trim_end_matches(is_end).len());
    if part.get(..front).is_some_and(|front| front.contains('?'))
        || part.get(tail..).is_some_and(|end| end.contains('?'))
        || breaks_off(part)
        || begins_unknown(part)
        || goes_on(part)
    {
        return Some(Doubt::Plain);
    }
    let mut by_word = part.contains(' ').then(|| in_another_language(part)).flatten();
    let mut before: Option<&str> = None;
    let mut words = part.split(is_end).filter(|word| !word.is_empty()).peekable();
    while let Some(word) = words.next() {
        let begins = before.is_none() && FIRST.has(word);
        // `Q1 or Q2`, and not the theatre `OR 2`.
        let is_choice = word == "or" && before.is_some();
        let is_last = words.peek().is_none();
        let is_left = LEFT.has(word) || is_last && LAST.has(word);
        // Nothing bears the name that it is none.
        let is_none = before.is_none() && (word.eq_ignore_ascii_case("none") || by_word.is_some_and(tongues::is_none));
        if is_none || is_open(before, word, is_last) {
            return Some(Doubt::Plain);
        }
        if begins || is_choice || is_left {
            by_word = by_word.or(Some(word));
        }
        before = Some(word);
    }
    by_word.map(Doubt::Word)
}

/// `siehe Plan`, `kein Schalter`, `Schalter unbekannt`, `Q1 oder Q2`.
fn in_another_language(part: &str) -> Option<&str> {
    let words = part.split_whitespace().map(|word| word.trim_matches(|c: char| !c.is_alphanumeric()));
    let words: Vec<_> = words.filter(|word| !word.is_empty()).collect();
    tongues::doubtful(&words).or_else(|| tongues::chooses_names(part).then_some(part))
}

/// Whether a word, with the one before it, says that nobody knows, whether it is a device or a place that it speaks of.
pub(super) fn is_open(before: Option<&str>, word: &str, is_last: bool) -> bool {
    static ANYWHERE: WordList = WordList::new(&[
        "unsure",
        "unconfirmed",
        "unidentified",
        "untraced",
        "unverified",
        "probably",
        "prob",
        "possibly",
        "perhaps",
        "maybe",
        "presumably",
        "presumed",
        "pending",
        "verify",
        "varies",
        "somewhere",
        "elsewhere",
        "cannot",
        "impossible",
        "illegible",
        "unreadable",
        "undetermined",
    ]);
    static LAST: WordList = WordList::new(&["tbc", "tbd", "tba", "unknown", "assumed", "lim"]);
    static TOGETHER: WordPairs = WordPairs::new(&[
        (
            "no",
            WordList::new(&[
                "isolator",
                "isolators",
                "isolation",
                "isolating",
                "device",
                "switch",
                "means",
                "local",
                "access",
                "label",
                "labels",
                "tag",
                "name",
                "id",
                "record",
                "idea",
                "information",
                "key",
            ]),
        ),
        (
            "not",
            WordList::new(&[
                "known",
                "sure",
                "confirmed",
                "checked",
                "verified",
                "found",
                "fitted",
                "installed",
                "identified",
                "traced",
                "labelled",
                "visible",
                "recorded",
                "possible",
                "isolatable",
                "isolated",
                "seen",
                "given",
                "stated",
                "noted",
                "marked",
                "tested",
                "located",
            ]),
        ),
        ("be", WordList::new(&["confirmed", "checked", "traced", "found"])),
        ("by", WordList::new(&["others"])),
        ("as", WordList::new(&["per", "above"])),
    ]);
    static TO_BE_SAID: WordList = WordList::new(&["tbc", "tbd", "tba"]);
    // `TBC on site`, and not the panel `TBC-1`.
    let is_left = before.is_some_and(|it| TO_BE_SAID.has(it)) && word.bytes().all(|it| it.is_ascii_alphabetic());
    // `as Q1`, and not the feeder `AS 1`.
    let is_like = matches!(before, Some("as" | "As")) && word.bytes().any(|byte| byte.is_ascii_digit());
    is_left
        || is_like
        || tongues::is_open(before, word)
        || before.is_some_and(|before| TOGETHER.has(before, word))
        || ANYWHERE.has(word)
        || is_last && LAST.has(word)
}

/// `Q1...`
pub(super) fn breaks_off(part: &str) -> bool {
    part.contains('.') && part.contains("...") || !part.is_ascii() && part.contains('\u{2026}')
}

/// `Q1 etc.`, and not the path `/etc/a`.
pub(super) fn goes_on(part: &str) -> bool {
    if !part.as_bytes().windows(3).any(|letters| letters.eq_ignore_ascii_case(b"etc")) {
        return false;
    }
    let words = part.split(|c: char| c.is_whitespace() || c == ',');
    words.map(|word| word.trim_end_matches('.')).any(|word| word.eq_ignore_ascii_case("etc"))
}

/// `unknown (locked room)`, and not `Unknown Street 3`.
pub(super) fn begins_unknown(part: &str) -> bool {
    const UNKNOWN: &str = "unknown";
    part.split_at_checked(UNKNOWN.len())
        .filter(|(first, _)| first.eq_ignore_ascii_case(UNKNOWN))
        .and_then(|(_, rest)| rest.trim_start().chars().next())
        .is_some_and(|next| !next.is_alphanumeric())
        || tongues::begins_unknown(part)
}

/// Whether words stand where a device should be named: `unlabelled`, `all MCBs`. A place may well be described so.
pub(super) fn is_no_name(name: &str) -> bool {
    static ANYWHERE: WordList =
        WordList::new(&["unlabelled", "unlabeled", "unmarked", "untagged", "unnamed", "inaccessible"]);
    static AMOUNTS: WordList = WordList::new(&["all", "both", "any", "some", "many", "several", "various", "multiple"]);
    // `all MCBs`, and neither `All-pole switch` nor `all pole switch`.
    let is_amount = name
        .split_once(' ')
        .is_some_and(|(first, rest)| AMOUNTS.has(first) && !rest.trim_start().to_ascii_lowercase().starts_with("pole"));
    is_amount || name.split(|c: char| !c.is_alphanumeric()).any(|word| ANYWHERE.has(word))
}

/// Whether it says that nothing isolates the circuit, for which the column has the word `none`.
pub(super) fn says_none_isolates(name: &str) -> bool {
    const PHRASES: [&str; 7] =
        ["cannot be", "can not be", "impossible", "not isolat", "no isolat", "no means", "not possible"];
    // Most names are shorter than any of them.
    if name.len() < "no means".len() {
        return false;
    }
    let name = name.to_ascii_lowercase();
    PHRASES.iter().any(|phrase| name.contains(phrase))
}

/// Whether a cell answers, or counts, where a name or a place should stand: `yes`, `various`.
pub(super) fn is_answer(text: &str) -> bool {
    const WORDS: [&str; 14] = [
        "no", "yes", "nil", "nothing", "0", "all", "both", "several", "various", "multiple", "many", "other", "rest",
        "any",
    ];
    text.len() <= 8 && WORDS.iter().any(|word| text.eq_ignore_ascii_case(word)) || tongues::is_none(text)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn who_is_not_sure_is_told_from_who_names() {
        for doubtful in [
            "Q1 etc.",
            "Q1, Q2,etc",
            "Q1 ...",
            "Q1\u{2026}",
            "others",
            "no access",
            "no label",
            "unknown (locked room)",
            "Unknown - locked",
            "cannot be isolated",
            "prob. riser 1",
            "Riser 1 or 2",
            "not recorded",
            "as Q1",
            "like Q1",
            "moved 2023",
            "Room 1 (moved)",
            "Q1 LIM",
            "various rooms",
            "siehe Plan",
            "Voir plan E-101",
            "ver plano",
            "se ritning 4",
            "zie tekening",
            "kein Schalter",
            "aucun sectionneur",
            "Schalter unbekannt",
            "Q1 (inconnu)",
            "Q1 (\u{E0} v\u{E9}rifier)",
            "onbekend (kamer dicht)",
            "Q1 oder Q2",
            "Q1 ou Q2",
            "Q1 o Q2",
            "Q1 lub F3",
            "Q1 eller Q2",
            "Q1 of Q2",
            "viz v\u{FD}kres 3",
            "katso kaavio",
            "Q1 tai Q2",
            "Q1? (one device)",
            "unknown (one device)",
            "Q1 TBC (one board)",
            "kein Schalter (one device)",
            "none fitted (one device)",
        ] {
            assert!(is_in_doubt(doubtful), "{doubtful}");
        }
        for marked in ["See Nord (one board)", "Ask House (one board)", "Salle inconnue (one device)"] {
            assert!(!is_in_doubt(marked), "{marked}");
        }
        for sure in [
            "AS 1",
            "OR 2",
            "Theatre OR 2",
            "Unknown Street 3",
            "As-built store",
            "Problem board",
            "LIM-2",
            "Corridor",
            "Other side of riser 1",
            "Riser 1/2",
            "Nottingham Road",
            "Washdown bay",
            "../../etc/passwd",
            "SE 1",
            "Ver 2",
            "Q1 of DB-2",
            "Switch 1 of 2",
            "Halle oder Hof",
            "O 2",
            "Brake motor",
            "Keine-Weg 3",
            "S-Plan wiring centre",
        ] {
            assert!(!is_in_doubt(sure), "{sure}");
        }
    }

    #[test]
    fn an_amount_is_no_name() {
        for text in ["all MCBs", "Both switches", "unlabelled", "MCB (unmarked)", "several fuses"] {
            assert!(is_no_name(text), "{text}");
        }
        for text in ["All-pole switch", "all pole switch", "Q1", "Allan's switch"] {
            assert!(!is_no_name(text), "{text}");
        }
        assert!(says_none_isolates("Cannot be isolated") && says_none_isolates("no means of isolation"));
        assert!(!says_none_isolates("no access"));
        assert!(is_answer("Various") && !is_answer("Various 1"));
        assert!(is_answer("keine") && is_answer("Aucun") && !is_answer("Keiner Weg"));
    }
}
