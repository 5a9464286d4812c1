//! Names of files that are made from the user's words.

use sha2::{Digest, Sha256};

/// Bytes of a name, so that an ending still fits: most disks accept 255 (POSIX `NAME_MAX`, common practice).
const LONGEST: usize = 200;

/// Digits of the hash that ends a name too long.
const HASH_DIGITS: usize = 16;

/// A file name that says a text of the user and cannot leave its folder: letters, digits, `-` and `.` stay, `/` becomes
/// `_`, all else its bytes as `%2F`. Different texts get different names. What would be too long for a disk ends in `~`
/// and a hash of the whole.
#[must_use]
pub fn safe_name(text: &str) -> String {
    let name = escaped(text);
    if name.len() <= LONGEST {
        return name;
    }
    let mut start = name;
    start.truncate(start.floor_char_boundary(LONGEST - HASH_DIGITS - 1));
    let digits: String = Sha256::digest(text).iter().take(HASH_DIGITS / 2).map(|byte| format!("{byte:02x}")).collect();
    format!("{start}~{digits}")
}

fn escaped(text: &str) -> String {
    let mut name = String::with_capacity(text.len());
    for character in text.chars() {
        match character {
            '/' => name.push('_'),
            '.' if name.is_empty() => name.push_str("%2E"),
            '-' if name.is_empty() => name.push_str("%2D"),
            '-' | '.' => name.push(character),
            letter if letter.is_alphanumeric() => name.push(letter),
            other => {
                let mut bytes = [0; 4];
                name.extend(other.encode_utf8(&mut bytes).bytes().map(|byte| format!("%{byte:02X}")));
            }
        }
    }
    name
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_text_leaves_its_folder() {
        assert_eq!(safe_name("CH3-JB2/1"), "CH3-JB2_1");
        assert_eq!(safe_name("../../etc/passwd"), "%2E._.._etc_passwd");
        assert_eq!(safe_name("Q7@Switchroom 1, board C"), "Q7%40Switchroom%201%2C%20board%20C");
        assert_eq!(safe_name("a\\b\0c:d"), "a%5Cb%00c%3Ad");
        assert_eq!(safe_name("-rf"), "%2Drf", "no program takes the name for an option");
    }

    #[test]
    fn different_texts_have_different_names() {
        assert_ne!(safe_name("A/1"), safe_name("A_1"));
        assert_ne!(safe_name("A%2F1"), safe_name("A/1"));
        let long = "Kühlraum 1, ".repeat(100);
        let (one, other) = (safe_name(&format!("{long}1")), safe_name(&format!("{long}2")));
        assert_ne!(one, other);
        for name in [one, other, safe_name(&"ü".repeat(101)), safe_name(&"漢".repeat(2_000))] {
            assert!((LONGEST - 3..=LONGEST).contains(&name.len()), "{name}");
        }
    }
}
