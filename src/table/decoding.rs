//! The bytes of a text file into characters, by what the file itself says of its encoding.

use std::borrow::Cow;

use encoding_rs::{Encoding, UTF_8, UTF_16BE, UTF_16LE, WINDOWS_1252};

/// How many bytes are looked at to tell UTF-16 without its mark.
const SAMPLE_BYTES: usize = 4_096;

/// The byte order mark as a character.
const MARK: char = '\u{FEFF}';

/// A text once decoded. Bytes that the encoding does not have become U+FFFD.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Decoded {
    /// The characters, without a byte order mark.
    pub(super) text: String,
    /// True where nothing told the encoding and Windows-1252 was assumed.
    pub(super) assumed: bool,
}

/// Decodes by the encoding asked for, else by the byte order mark, else UTF-16 if plainly so, UTF-8 if valid, and
/// Windows-1252 for what is left.
pub(super) fn decode(bytes: Cow<'_, [u8]>, asked: Option<&'static Encoding>) -> Decoded {
    let said = said(&bytes, asked);
    if let Some(encoding) = said.filter(|encoding| *encoding != UTF_8) {
        return Decoded { text: decoded(encoding, &bytes), assumed: false };
    }
    // What is UTF-8 stays where it lies: of a large file a second copy would be most of what is held.
    match String::from_utf8(bytes.into_owned()) {
        Ok(text) => Decoded { text: without_mark(text), assumed: false },
        Err(error) => {
            Decoded { text: decoded(said.unwrap_or(WINDOWS_1252), error.as_bytes()), assumed: said.is_none() }
        }
    }
}

fn without_mark(mut text: String) -> String {
    let mark = text.len() - text.trim_start_matches(MARK).len();
    text.drain(..mark);
    text
}

/// The encoding that is asked for, or that the bytes themselves say.
fn said(bytes: &[u8], asked: Option<&'static Encoding>) -> Option<&'static Encoding> {
    asked.or_else(|| Encoding::for_bom(bytes).map(|(encoding, _)| encoding)).or_else(|| plainly_utf_16(bytes))
}

/// The encoding by which [`decode`] reads these bytes.
pub(super) fn told(bytes: &[u8], asked: Option<&'static Encoding>) -> &'static Encoding {
    let valid = || if std::str::from_utf8(bytes).is_ok() { UTF_8 } else { WINDOWS_1252 };
    said(bytes, asked).unwrap_or_else(valid)
}

fn decoded(encoding: &'static Encoding, bytes: &[u8]) -> String {
    let (text, _) = encoding.decode_with_bom_removal(bytes);
    text.trim_start_matches(MARK).to_owned()
}

/// UTF-16 without its mark: every second byte of Latin text is zero.
fn plainly_utf_16(bytes: &[u8]) -> Option<&'static Encoding> {
    let sample = bytes.get(..SAMPLE_BYTES.min(bytes.len())).unwrap_or_default();
    if sample.len() < 4 || !bytes.len().is_multiple_of(2) {
        return None;
    }
    let zeros = |from: usize| sample.iter().skip(from).step_by(2).filter(|byte| **byte == 0).count();
    let (even, odd) = (zeros(0), zeros(1));
    let pairs = sample.len() / 2;
    match (even * 10 < pairs, odd * 10 < pairs) {
        (true, false) if odd * 10 >= pairs * 7 => Some(UTF_16LE),
        (false, true) if even * 10 >= pairs * 7 => Some(UTF_16BE),
        _ => None,
    }
}

/// The name of a kind of file that is no text at all, by its first bytes.
pub(super) fn foreign_file(bytes: &[u8]) -> Option<&'static str> {
    const SIGNATURES: [(&[u8], &str); 7] = [
        (b"\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1", "an old binary spreadsheet or document"),
        (b"%PDF-", "a PDF"),
        (b"\x89PNG", "a picture"),
        (b"\xFF\xD8\xFF", "a picture"),
        (b"\x1F\x8B", "a compressed file"),
        (b"\xFF\xFE\0\0", "text in UTF-32"),
        (b"\0\0\xFE\xFF", "text in UTF-32"),
    ];
    SIGNATURES.iter().find(|(signature, _)| bytes.starts_with(signature)).map(|(_, name)| *name)
}

/// Whether the bytes are a zip archive, as `.xlsx` and `.ods` files are.
pub(super) fn is_archive(bytes: &[u8]) -> bool {
    bytes.starts_with(b"PK\x03\x04") || bytes.starts_with(b"PK\x05\x06")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn utf_16(text: &str, big: bool) -> Vec<u8> {
        text.encode_utf16().flat_map(|unit| if big { unit.to_be_bytes() } else { unit.to_le_bytes() }).collect()
    }

    #[test]
    fn encodings_are_told_apart() {
        let text = "enclosure,Kühlraum\r\nCH1,Süd";
        for bytes in [
            text.as_bytes().to_vec(),
            [b"\xEF\xBB\xBF", text.as_bytes()].concat(),
            utf_16(text, false),
            utf_16(text, true),
            utf_16(&format!("\u{FEFF}{text}"), false),
            utf_16(&format!("\u{FEFF}{text}"), true),
        ] {
            assert_eq!(decode(bytes.into(), None), Decoded { text: text.to_owned(), assumed: false });
        }
        let (latin, _, _) = WINDOWS_1252.encode(text);
        assert_eq!(decode(latin.clone(), None), Decoded { text: text.to_owned(), assumed: true });
        assert_eq!(decode(latin, Some(WINDOWS_1252)), Decoded { text: text.to_owned(), assumed: false });
    }
}
