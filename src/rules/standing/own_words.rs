//! What the reader's own words must not leave out, and what no notice may say.

use crate::standing::Kind;

/// Words that reassure, in the form of [`plain`]. A notice proves nothing.
const REASSURING: [&str; 7] =
    ["safe", "dead", "isolated", "de energised", "de energized", "deenergised", "deenergized"];

/// A text in small letters, with one blank for everything that is neither letter nor figure.
pub(super) fn plain(words: &str) -> String {
    let words = words.to_lowercase().replace(['\'', '\u{2019}'], "");
    let parts = words.split(|character: char| !character.is_alphanumeric()).filter(|part| !part.is_empty());
    parts.collect::<Vec<_>>().join(" ")
}

/// Whether whole words stand in a plain text.
pub(super) fn has(plain: &str, words: &str) -> bool {
    format!(" {plain} ").contains(&format!(" {words} "))
}

/// The word that reassures, if there is one.
pub(super) fn reassuring(words: &str) -> Option<&'static str> {
    let words = plain(words);
    REASSURING.into_iter().find(|one| has(&words, one))
}

/// What a clause prescribes that a kind cannot do without; the words are those of the standing notices' own rules.
const fn key(kind: Kind) -> Option<&'static str> {
    match kind {
        Kind::PeriodicInspection => Some("inspected"),
        Kind::EarthingConnection => Some("do not remove"),
        Kind::EarthFreeLocation => Some("not be connected to earth"),
        Kind::FirefightersSwitch => Some("firefighter"),
        Kind::RcdTest | Kind::SurgeProtection | Kind::MixedColours => None,
    }
}

/// The key words of a kind, if a text lacks them.
pub(super) fn lacks(kind: Kind, words: &str) -> Option<&'static str> {
    // `firefighter's` and `firefighters` are both plain as `firefighters`.
    key(kind).filter(|key| !plain(words).contains(key))
}
