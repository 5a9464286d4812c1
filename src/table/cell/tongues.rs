//! Words of other languages by which a cell says that nobody knows, that there is none or where else to look, and words
//! that join two names.
//!
//! A survey is often filled in by people who think in another language than that of its columns. Many of these words are
//! short, and are designations or parts of names in another language again, so that a word that joins counts only between
//! two things that look like designations.

use super::several::siblings;
use crate::table::WordList;
use crate::table::word_list::WordPairs;

/// Words that say alone, behind a name or before a remark that nobody knows.
static UNKNOWN: WordList = WordList::new(&[
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
    "nezn\u{E1}m\u{FD}",
    "nezn\u{E1}m\u{E1}",
    "nezn\u{E1}m\u{E9}",
    "nejasn\u{FD}",
    "nejasn\u{E1}",
    "nejasn\u{E9}",
    "tuntematon",
    "tuntemattomat",
    "ep\u{E4}selv\u{E4}",
]);

/// Two words that say so together, wherever they stand.
static TOGETHER: WordPairs = WordPairs::new(&[
    ("nicht", WordList::new(&["bekannt", "gefunden", "gepr\u{FC}ft", "beschriftet", "vorhanden", "zuordenbar"])),
    ("noch", WordList::new(&["unbekannt", "offen"])),
    ("zu", WordList::new(&["kl\u{E4}ren", "pr\u{FC}fen"])),
    ("keine", WordList::new(&["angabe", "angaben"])),
    ("pas", WordList::new(&["connu", "connue", "trouv\u{E9}", "identifi\u{E9}", "rep\u{E9}r\u{E9}"])),
    (
        "non",
        WordList::new(&[
            "connu",
            "connue",
            "identifi\u{E9}",
            "rep\u{E9}r\u{E9}",
            "noto",
            "nota",
            "trovato",
            "identificato",
        ]),
    ),
    ("\u{E0}", WordList::new(&["v\u{E9}rifier", "confirmer", "d\u{E9}finir", "pr\u{E9}ciser"])),
    ("da", WordList::new(&["verificare", "definire", "confermare"])),
    ("no", WordList::new(&["conocido", "conocida", "encontrado", "identificado"])),
    ("por", WordList::new(&["confirmar", "definir", "verificar"])),
    ("nie", WordList::new(&["wiadomo", "znaleziono", "oznaczony"])),
    ("do", WordList::new(&["ustalenia", "sprawdzenia", "potwierdzenia"])),
    ("ej", WordList::new(&["k\u{E4}nd", "k\u{E4}nt", "hittad", "m\u{E4}rkt"])),
    ("niet", WordList::new(&["bekend", "gevonden", "gecontroleerd"])),
    ("nen\u{ED}", WordList::new(&["zn\u{E1}m", "zn\u{E1}ma", "zn\u{E1}mo", "jasn\u{E9}", "ozna\u{10D}en"])),
    ("k", WordList::new(&["ov\u{11B}\u{159}en\u{ED}", "up\u{159}esn\u{11B}n\u{ED}", "dopln\u{11B}n\u{ED}"])),
    (
        "ei",
        WordList::new(&[
            "tiedossa",
            "tiedet\u{E4}",
            "tunneta",
            "l\u{F6}ytynyt",
            "l\u{F6}ydy",
            "merkitty",
            "mit\u{E4}\u{E4}n",
        ]),
    ),
    ("pit\u{E4}\u{E4}", WordList::new(&["tarkistaa", "selvitt\u{E4}\u{E4}"])),
]);

/// Words that say that there is none, alone or before what there is none of.
static NONE: WordList = WordList::new(&[
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
    "\u{17E}\u{E1}dn\u{FD}",
    "\u{17E}\u{E1}dn\u{E1}",
    "\u{17E}\u{E1}dn\u{E9}",
]);

/// Words that send a reader elsewhere, and begin no name.
static SENDS: WordList =
    WordList::new(&["siehe", "voir", "vedi", "v\u{E9}ase", "vease", "patrz", "zobacz", "zie", "viz", "katso"]);

/// Words that do so before what a reader is sent to, and may be anything else.
static SENDS_TO: WordList = WordList::new(&["ver", "se", "vgl", "cf", "zob", "jf", "ks"]);

/// What a reader is sent to on paper.
static REFERENCES: WordList = WordList::new(&[
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
    "v\u{FD}kres",
    "v\u{FD}kresu",
    "pl\u{E1}n",
    "piirustus",
    "kaavio",
    "luettelo",
]);

/// Whether a whole cell says that nobody knows.
pub(crate) fn is_unknown(text: &str) -> bool {
    let by_two = || text.split_once(' ').is_some_and(|(first, second)| TOGETHER.has(first, second.trim_start()));
    UNKNOWN.has(text) || TOGETHER.may_begin(text) && by_two()
}

/// `unbekannt (Raum zu)`, and not `Unbekannt-Straße 3`.
pub(super) fn begins_unknown(part: &str) -> bool {
    let end = part.find(|c: char| !c.is_alphanumeric()).unwrap_or(part.len());
    let (first, rest) = part.split_at_checked(end).unwrap_or((part, ""));
    let parts_remark = |rest: &str| rest.starts_with(|c: char| !c.is_alphanumeric() && c != '-');
    parts_remark(rest) && UNKNOWN.has(first) && parts_remark(rest.trim_start())
}

/// Whether two words behind each other say together that nobody knows.
pub(super) fn is_open(before: Option<&str>, word: &str) -> bool {
    before.is_some_and(|before| TOGETHER.has(before, word))
}

/// The word by which the words of a name or a place say that nobody knows, that there is none, or where else to look.
pub(super) fn doubtful<'a>(words: &[&'a str]) -> Option<&'a str> {
    let (first, rest) = words.split_first()?;
    let sends = SENDS.has(first) || SENDS_TO.has(first) && leads_to_reference(rest);
    // `tuntematon huone`, and not `Unbekannt Straße 3`.
    let is_unknown_room = matches!(rest, [room] if is_room(room)) && UNKNOWN.has(first);
    if sends || is_unknown_room || NONE.has(first) {
        return Some(first);
    }
    words.last().copied().filter(|last| UNKNOWN.has(last))
}

fn leads_to_reference(rest: &[&str]) -> bool {
    rest.first().is_some_and(|next| REFERENCES.has(next))
}

/// Words that make a name that of a room or a part of a building, alone or at the end of a longer word: `Heizraum`.
const ROOM_ENDINGS: [&str; 9] = ["raum", "zimmer", "keller", "kamer", "ruimte", "kelder", "rum", "huone", "kellari"];

/// The same alone.
static ROOMS: WordList = WordList::new(&[
    "salle",
    "local",
    "sous-sol",
    "cave",
    "couloir",
    "bureau",
    "atelier",
    "chaufferie",
    "cuisine",
    "sala",
    "locale",
    "cantina",
    "corridoio",
    "ufficio",
    "officina",
    "cuarto",
    "s\u{F3}tano",
    "pasillo",
    "azotea",
    "oficina",
    "pok\u{F3}j",
    "piwnica",
    "korytarz",
    "pomieszczenie",
    "m\u{ED}stnost",
    "sklep",
    "chodba",
    "rozvodna",
    "k\u{E4}yt\u{E4}v\u{E4}",
    "varasto",
    "rom",
]);

/// Sides and directions, which a place has one of.
static SIDES: WordList = WordList::new(&[
    "north",
    "south",
    "east",
    "west",
    "left",
    "right",
    "upper",
    "lower",
    "front",
    "rear",
    "inside",
    "outside",
    "nord",
    "sud",
    "est",
    "ouest",
    "s\u{FC}d",
    "ost",
    "norden",
    "s\u{FC}den",
    "osten",
    "westen",
    "links",
    "rechts",
    "oben",
    "unten",
    "vorn",
    "hinten",
    "gauche",
    "droite",
    "haut",
    "bas",
    "avant",
    "arri\u{E8}re",
    "norte",
    "sur",
    "este",
    "oeste",
    "izquierda",
    "derecha",
    "ovest",
    "destra",
    "sinistra",
    "noord",
    "zuid",
    "oost",
    "norr",
    "s\u{F6}der",
    "v\u{E4}nster",
    "h\u{F6}ger",
]);

/// Whether a word is that of a room, or a part of a building: two of them with a word of choice between are two places.
pub(super) fn is_room(word: &str) -> bool {
    let ends = |ending: &&str| {
        let start = word.len().checked_sub(ending.len());
        start.and_then(|start| word.get(start..)).is_some_and(|end| end.eq_ignore_ascii_case(ending))
    };
    ROOM_ENDINGS.iter().any(ends) || ROOMS.has(word)
}

/// Whether a word is that of a side or a direction.
pub(super) fn is_side(word: &str) -> bool {
    SIDES.has(word)
}

/// Whether a cell says in one word that there is none, where a name or a place should stand.
pub(super) fn is_none(text: &str) -> bool {
    NONE.has(text)
}

/// Whether a word joins what stands before and behind it: `Q1 und Q2`, and not the room `E`.
pub(super) fn joins(word: &str) -> bool {
    matches!(word, "et" | "e" | "y" | "i" | "en" | "og" | "und" | "UND" | "och" | "OCH" | "a" | "ja" | "sek\u{E4}")
}

/// Whether a word leaves a choice between what stands before and behind it: `Q1 oder Q2`, and neither the theatre `O 2` nor
/// a street called `Eller`.
pub(super) fn chooses(word: &str) -> bool {
    matches!(word, "ou" | "o" | "oder" | "ODER" | "lub" | "LUB" | "eller" | "ELLER" | "nebo" | "NEBO" | "tai")
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
            "nezn\u{E1}m\u{E9}",
            "NEN\u{CD} ZN\u{C1}MO",
            "tuntematon",
            "Ei tiedossa",
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
    fn rooms_and_sides_are_known_by_their_words() {
        for word in ["Heizraum", "RAUM", "k\u{E4}ytt\u{F6}huone", "Salle", "m\u{ED}stnost", "Pannrum"] {
            assert!(is_room(word), "{word}");
        }
        for word in ["Halle", "Raumer", "\u{F6}um", ""] {
            assert!(!is_room(word), "{word}");
        }
        assert!(is_side("Nord") && is_side("S\u{DC}D") && !is_side("Norden-Ost"));
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
        for part in
            ["Q1 nebo Q2", "Q1 tai F3", "Q1 oder Q2", "Q1 ou F3", "Q1 o Q2", "Q1 lub Q2", "Q1 eller Q2", "Q1 of Q2"]
        {
            assert!(chooses_names(part), "{part}");
        }
        for part in
            ["Q1 of DB-2", "Switch 1 of 2", "Level 1 of Block 2", "O 2", "Q1 O Q2", "Salle d'or", "Haus oder Hof"]
        {
            assert!(!chooses_names(part), "{part}");
        }
    }
}
