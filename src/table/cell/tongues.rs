//! Words of other languages by which a cell says that nobody knows, that there is none or where else to look, and words
//! that join two names.
//!
//! A survey is often filled in by people who think in another language than that of its columns. Many of these words are
//! short, and are designations or parts of names in another language again, so that a word that joins counts only between
//! two things that look like designations.

use super::several::siblings;

/// Words that say alone, behind a name or before a remark that nobody knows.
const UNKNOWN: [&str; 19] = [
    "unbekannt",
    "unklar",
    "inconnu",
    "inconnue",
    "sconosciuto",
    "sconosciuta",
    "desconocido",
    "desconocida",
    "desconhecido",
    "nieznany",
    "nieznana",
    "nieznane",
    "ok\u{E4}nd",
    "ok\u{E4}nt",
    "oklart",
    "onbekend",
    "onduidelijk",
    "ukendt",
    "ukjent",
];

/// Two words that say so together, wherever they stand.
const TOGETHER: [(&str, &[&str]); 14] = [
    ("nicht", &["bekannt", "gefunden", "gepr\u{FC}ft", "beschriftet", "vorhanden", "zuordenbar"]),
    ("noch", &["unbekannt", "offen"]),
    ("zu", &["kl\u{E4}ren", "pr\u{FC}fen"]),
    ("keine", &["angabe", "angaben"]),
    ("pas", &["connu", "connue", "trouv\u{E9}", "identifi\u{E9}", "rep\u{E9}r\u{E9}"]),
    ("non", &["connu", "connue", "identifi\u{E9}", "rep\u{E9}r\u{E9}", "noto", "nota", "trovato", "identificato"]),
    ("\u{E0}", &["v\u{E9}rifier", "confirmer", "d\u{E9}finir", "pr\u{E9}ciser"]),
    ("da", &["verificare", "definire", "confermare"]),
    ("no", &["conocido", "conocida", "encontrado", "identificado"]),
    ("por", &["confirmar", "definir", "verificar"]),
    ("nie", &["wiadomo", "znaleziono", "oznaczony"]),
    ("do", &["ustalenia", "sprawdzenia", "potwierdzenia"]),
    ("ej", &["k\u{E4}nd", "k\u{E4}nt", "hittad", "m\u{E4}rkt"]),
    ("niet", &["bekend", "gevonden", "gecontroleerd"]),
];

/// Words that say that there is none, alone or before what there is none of.
const NONE: [&str; 18] = [
    "kein",
    "keine",
    "keiner",
    "keines",
    "aucun",
    "aucune",
    "nessun",
    "nessuno",
    "nessuna",
    "ninguno",
    "ninguna",
    "ning\u{FA}n",
    "nenhum",
    "brak",
    "ingen",
    "inget",
    "geen",
    "k.a.",
];

/// Words that send a reader elsewhere, and begin no name.
const SENDS: [&str; 8] = ["siehe", "voir", "vedi", "v\u{E9}ase", "vease", "patrz", "zobacz", "zie"];

/// Words that do so before what a reader is sent to, and may be anything else.
const SENDS_TO: [&str; 6] = ["ver", "se", "vgl", "cf", "zob", "jf"];

/// What a reader is sent to on paper.
const REFERENCES: [&str; 22] = [
    "plan",
    "plans",
    "planu",
    "plano",
    "planos",
    "schema",
    "schemat",
    "sch\u{E9}ma",
    "schemi",
    "esquema",
    "zeichnung",
    "ritning",
    "ritningen",
    "tekening",
    "rysunek",
    "disegno",
    "dibujo",
    "dessin",
    "tegning",
    "liste",
    "lista",
    "lijst",
];

/// Whether a whole cell says that nobody knows.
pub(crate) fn is_unknown(text: &str) -> bool {
    // Nearly every cell has a figure, or is shorter than any of these words.
    if text.len() < 6 || text.bytes().any(|byte| byte.is_ascii_digit()) {
        return false;
    }
    is_one_of(text, &UNKNOWN)
        || text.split_once(' ').is_some_and(|(first, second)| are_together(first, second.trim_start()))
}

/// `unbekannt (Raum zu)`, and not `Unbekannt-Straße 3`.
pub(super) fn begins_unknown(part: &str) -> bool {
    let end = part.find(|c: char| !c.is_alphanumeric()).unwrap_or(part.len());
    let (first, rest) = part.split_at_checked(end).unwrap_or((part, ""));
    let parts_remark = |rest: &str| rest.starts_with(|c: char| !c.is_alphanumeric() && c != '-');
    first.len() >= 6 && parts_remark(rest) && is_one_of(first, &UNKNOWN) && parts_remark(rest.trim_start())
}

/// Whether two words behind each other say together that nobody knows.
pub(super) fn is_open(before: Option<&str>, word: &str) -> bool {
    before.is_some_and(|before| are_together(before, word))
}

fn are_together(first: &str, second: &str) -> bool {
    let begins = first_byte(first);
    TOGETHER.iter().any(|(it, with)| may_be(first, begins, it) && is_word(first, it) && is_one_of(second, with))
}

/// The word by which the words of a name or a place say that nobody knows, that there is none, or where else to look.
pub(super) fn doubtful<'a>(words: &[&'a str]) -> Option<&'a str> {
    let (first, rest) = words.split_first()?;
    let sends = is_one_of(first, &SENDS) || is_one_of(first, &SENDS_TO) && leads_to_reference(rest);
    if sends || is_one_of(first, &NONE) {
        return Some(first);
    }
    words.last().copied().filter(|last| last.len() >= 5 && is_one_of(last, &UNKNOWN))
}

fn leads_to_reference(rest: &[&str]) -> bool {
    rest.first().is_some_and(|next| is_one_of(next, &REFERENCES))
}

/// Whether a cell says in one word that there is none, where a name or a place should stand.
pub(super) fn is_none(text: &str) -> bool {
    text.len() <= 8 && is_one_of(text, &NONE)
}

/// Whether a word joins what stands before and behind it: `Q1 und Q2`, and not the room `E`.
pub(super) fn joins(word: &str) -> bool {
    matches!(word, "et" | "e" | "y" | "i" | "en" | "og" | "und" | "UND" | "och" | "OCH")
}

/// Whether a word leaves a choice between what stands before and behind it: `Q1 oder Q2`, and neither the theatre `O 2` nor
/// a street called `Eller`.
pub(super) fn chooses(word: &str) -> bool {
    matches!(word, "ou" | "o" | "oder" | "ODER" | "lub" | "LUB" | "eller" | "ELLER")
}

/// Whether a word joins two things that look like designations and are not numbered alike: `Q1 und F3`. `Q1 en TGBT` and
/// `Q1 i DB-A` say in other languages where it is.
pub(super) fn joins_names(part: &str) -> bool {
    is_between_names(part, |word| joins(word) && !matches!(word, "en" | "i"))
}

/// Whether a choice between two names is left: `Q1 oder F3`, `Q1 of Q2`, and not `Q1 of DB-2`, which says whose it is.
pub(super) fn chooses_names(part: &str) -> bool {
    is_between_names(part, chooses) || chooses_siblings(part)
}

/// `Kamer 1 of kamer 2`, and neither `Level 1 of Block 2` nor `Switch 1 of 2`.
pub(super) fn chooses_siblings(part: &str) -> bool {
    part.split_once(" of ").is_some_and(|(one, other)| siblings(one.trim(), other.trim()).is_some())
}

fn is_between_names(part: &str, is_joint: impl Fn(&str) -> bool) -> bool {
    if !part.contains(' ') {
        return false;
    }
    let words: Vec<_> = part.split_whitespace().collect();
    let is_named = |at: usize| words.get(at).is_some_and(|word| is_like_designation(word));
    words.iter().enumerate().any(|(at, word)| {
        let follows = || at.checked_sub(1).is_some_and(is_named);
        is_joint(word) && follows() && (is_named(at + 1) || is_named(at + 2))
    })
}

/// `Q1`, `2`, `DB-A`, `UPS`, `B`: a figure in it, or few letters and all of them capitals.
fn is_like_designation(word: &str) -> bool {
    let bare = word.trim_matches(|c: char| !c.is_alphanumeric());
    let is_letter = |c: char| c.is_uppercase() || !c.is_alphanumeric();
    bare.contains(|c: char| c.is_ascii_digit()) || (1..=6).contains(&bare.len()) && bare.chars().all(is_letter)
}

fn is_one_of(word: &str, of: &[&str]) -> bool {
    let first = first_byte(word);
    of.iter().any(|other| may_be(word, first, other) && is_word(word, other))
}

/// The same without regard to case. `other` is in small letters.
fn is_word(word: &str, other: &str) -> bool {
    may_be(word, first_byte(word), other)
        && if word.is_ascii() || other.is_ascii() {
            word.eq_ignore_ascii_case(other)
        } else {
            word.chars().flat_map(char::to_lowercase).eq(other.chars())
        }
}

/// The first byte of a word in small letters; one with an accent begins with the same byte in capitals.
fn first_byte(word: &str) -> Option<u8> {
    word.bytes().next().map(|byte| byte.to_ascii_lowercase())
}

/// Of the many words that are held against these, nearly all are told apart by length and first letter.
fn may_be(word: &str, first: Option<u8>, other: &str) -> bool {
    word.len() == other.len() && other.bytes().next() == first
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn who_does_not_know_says_so_in_any_of_them() {
        for text in [
            "unbekannt",
            "Unbekannt",
            "INCONNU",
            "sconosciuto",
            "desconocido",
            "nieznany",
            "ok\u{E4}nd",
            "OK\u{C4}ND",
            "onbekend",
            "nicht bekannt",
            "\u{E0} v\u{E9}rifier",
            "\u{C0} V\u{C9}RIFIER",
            "da verificare",
            "nie wiadomo",
        ] {
            assert!(is_unknown(text), "{text}");
        }
        for text in ["Q1", "Switchroom", "Unbekannter Weg", "Nichteisen", "Kl\u{E4}ranlage", "Zu Hause", "do", ""] {
            assert!(!is_unknown(text), "{text}");
        }
        assert!(begins_unknown("unbekannt (Raum zu)") && begins_unknown("inconnu, local ferm\u{E9}"));
        assert!(!begins_unknown("Unbekannt-Stra\u{DF}e 3") && !begins_unknown("onbekend"));
    }

    #[test]
    fn a_word_between_two_designations_joins_them() {
        for part in ["Q1 und F3", "MCB 1 et 2", "Board A e B", "Q1 y F3", "Q1 och F3", "Schalter 1 und Taster 2"] {
            assert!(joins_names(part), "{part}");
        }
        for part in [
            "Halle und Hof",
            "L\u{FC}fter und Heizung",
            "Salle et couloir",
            "Q1 E",
            "E Y I",
            "Q1 en TGBT",
            "Q1 i DB-A",
            "Unit 2 et salle d'eau",
            "und Q2",
            "Q1 und",
        ] {
            assert!(!joins_names(part), "{part}");
        }
        for part in ["Q1 oder Q2", "Q1 ou F3", "Q1 o Q2", "Q1 lub Q2", "Q1 eller Q2", "Q1 of Q2"] {
            assert!(chooses_names(part), "{part}");
        }
        for part in
            ["Q1 of DB-2", "Switch 1 of 2", "Level 1 of Block 2", "O 2", "Q1 O Q2", "Salle d'or", "Haus oder Hof"]
        {
            assert!(!chooses_names(part), "{part}");
        }
    }
}
