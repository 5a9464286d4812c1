//! What PDF/A-1b asks for beside the rest (ISO 19005-1:2005 with its corrigenda, level B): clauses from memory, the whole
//! held against a validator that is not ours (`tests/archive.rs`).

use std::io::{self, Write};

use lopdf::{Dictionary, Object, StringFormat};

use super::content::deflated;
use super::shell::{literal, reference, write_new};
use super::stream::{Id, Objects};
use super::{DocumentInfo, object, srgb};
use crate::length::{Length, Size};

/// A number with digits behind the point goes no further (PDF 1.4, appendix C, from memory), and pages are drawn in
/// hundredths of a millimetre.
const LARGEST: Length = Length::um(327_670);

/// What a document says about itself, so that its two descriptions can say the same: nothing that XML cannot hold, no
/// blanks around it that a reader of XML may take away.
pub(super) fn settled(info: &DocumentInfo) -> DocumentInfo {
    let plain = |text: &str| {
        let shown = text.chars().map(|character| match character {
            '\t' | '\n' | '\r' => ' ',
            '\0'..='\u{1F}' | '\u{7F}'..='\u{9F}' | '\u{FFFE}' | '\u{FFFF}' => '\u{FFFD}',
            other => other,
        });
        shown.collect::<String>().trim().to_owned()
    };
    DocumentInfo {
        title: plain(&info.title),
        author: plain(&info.author),
        subject: plain(&info.subject),
        language: plain(&info.language),
        created: info.created,
    }
}

/// The information dictionary: exactly what the other description says too (6.7.3).
pub(super) fn info(info: &DocumentInfo, producer: &str) -> Dictionary {
    let mut dictionary = Dictionary::new();
    let said = [("Title", &*info.title), ("Author", &info.author), ("Subject", &info.subject)];
    for (key, text) in said.into_iter().chain([("Creator", producer), ("Producer", producer)]) {
        if !text.is_empty() {
            dictionary.set(key, Object::String(object::text(text), StringFormat::Literal));
        }
    }
    if let Some(created) = info.created {
        dictionary.set("CreationDate", literal(&created.pdf()));
        dictionary.set("ModDate", literal(&created.pdf()));
    }
    dictionary
}

/// Writes the output intent: greys, reds, greens and blues are those of sRGB (6.2.2 and 6.2.3).
pub(super) fn write_intent<W: Write>(objects: &mut Objects<W>) -> io::Result<Id> {
    let profile = objects.reserve();
    objects.deflated_stream(profile, "/N 3/Alternate/DeviceRGB", &deflated(&srgb::profile()))?;
    let mut intent = Dictionary::new();
    intent.set("Type", "OutputIntent");
    intent.set("S", "GTS_PDFA1");
    intent.set("OutputConditionIdentifier", literal("Custom"));
    intent.set("OutputCondition", literal(srgb::description()));
    intent.set("Info", literal(srgb::description()));
    intent.set("DestOutputProfile", reference(profile));
    write_new(objects, &Object::Dictionary(intent))
}

/// The glyphs that a cut font holds, one bit for each number from the first of a byte on (6.3.5); number 0 is always there.
pub(super) fn glyph_set(glyphs: impl Iterator<Item = u16>) -> Vec<u8> {
    let mut set = Vec::new();
    for glyph in std::iter::once(0).chain(glyphs) {
        let byte = usize::from(glyph / 8);
        if set.len() <= byte {
            set.resize(byte + 1, 0);
        }
        if let Some(byte) = set.get_mut(byte) {
            *byte |= 0x80_u8 >> (glyph % 8);
        }
    }
    set
}

/// # Errors
/// `InvalidData` for a page on which a place could have no number.
pub(super) fn check_page(size: Size) -> io::Result<()> {
    if size.width.max(size.height) <= LARGEST {
        return Ok(());
    }
    let message = format!("a page of {size} is too large for the archive's standard, which ends at {LARGEST}");
    Err(io::Error::new(io::ErrorKind::InvalidData, message))
}
