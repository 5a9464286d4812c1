//! The output intent: for which printing condition the colours of a document are meant (ISO 32000-1, 14.11.5).

use std::io::{self, Write};

use lopdf::{Dictionary, Object};

use super::archive;
use super::content::deflated;
use super::shell::{literal, reference, write_new};
use super::standard::{PrintingCondition, Standard};
use super::stream::{Id, Objects};

/// Writes the intent of a document, and its profile if it has one; nothing for a plain document.
pub(super) fn write<W: Write>(objects: &mut Objects<W>, standard: &Standard) -> io::Result<Option<Id>> {
    let mut intent = Dictionary::new();
    intent.set("Type", "OutputIntent");
    intent.set("S", "GTS_PDFX");
    match standard {
        Standard::Plain => return Ok(None),
        Standard::Archive => return archive::write_intent(objects).map(Some),
        Standard::X1a(condition) => registered(&mut intent, *condition),
        Standard::X4 { profile, condition } => {
            match condition {
                Some(condition) => registered(&mut intent, *condition),
                None => {
                    intent.set("OutputConditionIdentifier", literal("Custom"));
                    intent.set("OutputCondition", literal(profile.description()));
                }
            }
            intent.set("Info", literal(profile.description()));
            let stream = objects.reserve();
            objects.deflated_stream(stream, "/N 4/Alternate/DeviceCMYK", &deflated(profile.bytes()))?;
            intent.set("DestOutputProfile", reference(stream));
        }
    }
    write_new(objects, &Object::Dictionary(intent)).map(Some)
}

fn registered(intent: &mut Dictionary, condition: PrintingCondition) {
    intent.set("OutputConditionIdentifier", literal(condition.name()));
    intent.set("OutputCondition", literal(condition.meaning()));
    intent.set("RegistryName", literal(PrintingCondition::REGISTRY));
    intent.set("Info", literal(condition.meaning()));
}
