//! The objects of `lopdf` as text, since it keeps its own writer to itself.

use std::io;

use lopdf::{Dictionary, Object, StringFormat};

use super::content::{push_integer, push_name};

/// Appends an object's text (ISO 32000-1, 7.3).
///
/// # Errors
/// `InvalidData` for a stream, which stands only as an object of its own.
pub(super) fn push(bytes: &mut Vec<u8>, object: &Object) -> io::Result<()> {
    match object {
        Object::Null => bytes.extend_from_slice(b"null"),
        Object::Boolean(value) => bytes.extend_from_slice(if *value { b"true" } else { b"false" }),
        Object::Integer(number) => push_integer(bytes, *number),
        Object::Real(number) => bytes.extend_from_slice(number.to_string().as_bytes()),
        Object::Name(name) => push_name(bytes, name),
        Object::String(text, StringFormat::Literal) => push_literal(bytes, text),
        Object::String(text, StringFormat::Hexadecimal) => push_hexadecimal(bytes, text),
        Object::Array(entries) => push_array(bytes, entries)?,
        Object::Dictionary(dictionary) => push_dictionary(bytes, dictionary)?,
        Object::Stream(_) => return Err(io::Error::new(io::ErrorKind::InvalidData, "a stream within another object")),
        Object::Reference((number, generation)) => {
            bytes.extend_from_slice(format!("{number} {generation} R").as_bytes());
        }
    }
    Ok(())
}

/// The longest text in UTF-16: a string of PDF 1.4 has 65 535 bytes at most (its appendix C, from memory).
const LONGEST_TEXT: usize = 32_000;

/// The bytes of a text string (ISO 32000-1, 7.9.2.2): printable ASCII as it is, anything else in UTF-16 behind its mark.
pub(super) fn text(text: &str) -> Vec<u8> {
    if text.bytes().all(|byte| matches!(byte, b' '..=b'~')) {
        return text.as_bytes().to_vec();
    }
    let units = text.encode_utf16().flat_map(u16::to_be_bytes);
    [0xFE, 0xFF].into_iter().chain(units).collect()
}

/// A string of these bytes as it is written.
pub(super) fn string(bytes: &[u8]) -> Vec<u8> {
    let mut string = Vec::with_capacity(bytes.len() + 2);
    if bytes.starts_with(&[0xFE, 0xFF]) {
        push_hexadecimal(&mut string, bytes);
    } else {
        push_literal(&mut string, bytes);
    }
    string
}

/// Appends a text string; one that is too long for a string is cut off.
pub(super) fn push_text(bytes: &mut Vec<u8>, words: &str) {
    let mut units = 0;
    let fits = |character: &char| {
        units += character.len_utf16();
        units <= LONGEST_TEXT
    };
    let kept: String = words.chars().take_while(fits).collect();
    bytes.extend_from_slice(&string(&text(&kept)));
}

fn push_array(bytes: &mut Vec<u8>, entries: &[Object]) -> io::Result<()> {
    bytes.push(b'[');
    for (number, entry) in entries.iter().enumerate() {
        if number > 0 {
            bytes.push(b' ');
        }
        push(bytes, entry)?;
    }
    bytes.push(b']');
    Ok(())
}

fn push_dictionary(bytes: &mut Vec<u8>, dictionary: &Dictionary) -> io::Result<()> {
    bytes.extend_from_slice(b"<<");
    for (key, value) in dictionary {
        push_name(bytes, key);
        bytes.push(b' ');
        push(bytes, value)?;
    }
    bytes.extend_from_slice(b">>");
    Ok(())
}

fn push_literal(bytes: &mut Vec<u8>, text: &[u8]) {
    bytes.push(b'(');
    for byte in text {
        match byte {
            b'(' | b')' | b'\\' => bytes.extend_from_slice(&[b'\\', *byte]),
            // A bare return would be read as a line feed.
            b'\r' => bytes.extend_from_slice(b"\\r"),
            other => bytes.push(*other),
        }
    }
    bytes.push(b')');
}

fn push_hexadecimal(bytes: &mut Vec<u8>, text: &[u8]) {
    bytes.push(b'<');
    for byte in text {
        bytes.extend_from_slice(format!("{byte:02X}").as_bytes());
    }
    bytes.push(b'>');
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn objects_read_back_by_another_parser_are_the_same() {
        let mut inner = Dictionary::new();
        inner.set("Odd name/(", Object::Name(b"A#B C".to_vec()));
        inner.set("Text", Object::String(b"a(b\\c)\rd\n\xFF".to_vec(), StringFormat::Literal));
        inner.set("Hex", Object::String(vec![0xFE, 0xFF, 0], StringFormat::Hexadecimal));
        inner.set("Mixed", Object::Array(vec![Object::Null, true.into(), Object::Real(-1.5), (-7).into()]));
        inner.set("At", Object::Reference((12, 0)));
        let mut text = b"%PDF-1.7\n1 0 obj\n".to_vec();
        push(&mut text, &Object::Dictionary(inner.clone())).unwrap();
        let table = text.len() + 8;
        text.extend_from_slice(b"\nendobj\nxref\n0 2\n0000000000 65535 f \n0000000009 00000 n \n");
        text.extend_from_slice(format!("trailer\n<</Size 2/Root 1 0 R>>\nstartxref\n{table}\n%%EOF\n").as_bytes());
        let document = lopdf::Document::load_mem(&text).unwrap();
        assert_eq!(document.get_dictionary((1, 0)).unwrap(), &inner);
    }
}
