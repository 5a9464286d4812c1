//! The fields of one record of delimited text (RFC 4180), by byte range, with what is wrong with their quotes.
//!
//! The `csv` crate gives the fields' contents; this gives their places, which that crate does not know.

use std::ops::Range;

/// A field as it stands in the text, quotes included.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct RawField {
    /// Bytes of the text that it covers.
    pub(super) range: Range<usize>,
    /// What is wrong with its quotes.
    pub(super) flaw: Option<QuoteFlaw>,
}

/// Something wrong with a quotation mark, with the byte at which it lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum QuoteFlaw {
    /// It opens a field and none closes it.
    Unclosed(usize),
    /// Something other than a separator follows the closing one.
    TextAfter(usize),
    /// Only blanks stand before it, so it does not open the field.
    SpaceBefore(usize),
}

/// The fields of the record that begins at a byte of a text.
pub(super) struct Fields<'a> {
    bytes: &'a [u8],
    separator: u8,
    next: Option<usize>,
    end: usize,
}

impl<'a> Fields<'a> {
    /// The fields from `start`, which must be where a record begins.
    pub(super) fn new(text: &'a str, start: usize, separator: u8) -> Self {
        Self { bytes: text.as_bytes(), separator, next: Some(start), end: start }
    }

    /// Where the record ends, its line ending not counted; known once every field was taken.
    pub(super) fn end(&self) -> usize {
        self.end
    }

    fn at(&self, position: usize) -> Option<u8> {
        self.bytes.get(position).copied()
    }

    fn ends_field(&self, byte: Option<u8>) -> bool {
        byte.is_none_or(|byte| byte == self.separator || byte == b'\n' || byte == b'\r')
    }

    /// The first byte from `position` on that ends an unquoted field.
    fn plain_end(&self, mut position: usize) -> usize {
        while !self.ends_field(self.at(position)) {
            position += 1;
        }
        position
    }

    /// The byte after the closing quote, if there is one; `opened` is the byte of the opening one.
    fn quoted_end(&self, opened: usize) -> Option<usize> {
        let mut position = opened + 1;
        loop {
            match (self.at(position)?, self.at(position + 1)) {
                (b'"', Some(b'"')) => position += 2,
                (b'"', _) => return Some(position + 1),
                _ => position += 1,
            }
        }
    }

    fn quoted(&self, start: usize) -> RawField {
        let Some(closed) = self.quoted_end(start) else {
            return RawField { range: start..self.bytes.len(), flaw: Some(QuoteFlaw::Unclosed(start)) };
        };
        let end = self.plain_end(closed);
        RawField { range: start..end, flaw: (end > closed).then_some(QuoteFlaw::TextAfter(closed)) }
    }

    fn plain(&self, start: usize) -> RawField {
        let end = self.plain_end(start);
        let blanks = self.bytes.get(start..end).unwrap_or_default().iter().take_while(|byte| **byte == b' ').count();
        let quote = self.at(start + blanks) == Some(b'"') && start + blanks < end;
        RawField { range: start..end, flaw: quote.then_some(QuoteFlaw::SpaceBefore(start + blanks)) }
    }
}

impl Iterator for Fields<'_> {
    type Item = RawField;

    fn next(&mut self) -> Option<RawField> {
        let start = self.next?;
        let field = if self.at(start) == Some(b'"') { self.quoted(start) } else { self.plain(start) };
        self.end = field.range.end;
        self.next = (self.at(self.end) == Some(self.separator)).then_some(self.end + 1);
        Some(field)
    }
}

/// Whether every quotation mark of a record opens or closes a field. Quick, and never wrong when
/// it says yes; where it says no, the fields must be looked at one by one.
pub(super) fn quotes_look_right(record: &str, separator: u8) -> bool {
    let bytes = record.as_bytes();
    let ends = |byte: Option<&u8>| byte.is_none_or(|byte| *byte == separator || matches!(byte, b'\r' | b'\n'));
    let mut opened = false;
    for (at, _) in record.match_indices('"') {
        let before = at.checked_sub(1).and_then(|before| bytes.get(before));
        let fits = if opened { ends(bytes.get(at + 1)) } else { ends(before) };
        if !fits {
            return false;
        }
        opened = !opened;
    }
    !opened
}

/// The separator of a header line: the one of comma, semicolon and tab that it holds most often outside quotes.
pub(super) fn separator(text: &str) -> u8 {
    let mut counts = [(b',', 0), (b';', 0), (b'\t', 0)];
    let mut quoted = false;
    for byte in text.bytes() {
        match byte {
            b'"' => quoted = !quoted,
            b'\r' | b'\n' if !quoted => break,
            _ if !quoted => counts.iter_mut().filter(|(s, _)| *s == byte).for_each(|(_, count)| *count += 1),
            _ => {}
        }
    }
    let best = counts.iter().map(|(_, count)| *count).max().unwrap_or(0);
    counts.iter().find(|(_, count)| *count == best).map_or(b',', |(separator, _)| *separator)
}

/// How many lines end in `bytes`: at LF, CRLF or a lone CR.
pub(super) fn line_endings(bytes: &[u8]) -> u32 {
    let mut count = 0;
    let mut previous = 0;
    for &byte in bytes {
        count += u32::from(byte == b'\r' || (byte == b'\n' && previous != b'\r'));
        previous = byte;
    }
    count
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::table::correction::content;
    use proptest::prelude::*;

    proptest! {
        /// The reference is the csv crate: both must see the same fields with the same contents.
        #[test]
        fn fields_are_those_of_the_csv_crate(text in "[a\",;\r\n é]{0,60}") {
            let mut reader = csv::ReaderBuilder::new().has_headers(false).flexible(true).from_reader(text.as_bytes());
            for record in reader.records() {
                let record = record.unwrap();
                let mut start = usize::try_from(record.position().unwrap().byte()).unwrap();
                while matches!(text.as_bytes().get(start), Some(b'\r' | b'\n')) {
                    start += 1;
                }
                let fields: Vec<_> = Fields::new(&text, start, b',').map(|f| content(text.get(f.range).unwrap())).collect();
                prop_assert_eq!(fields, record.iter().map(str::to_owned).collect::<Vec<_>>());
            }
        }
    }

    proptest! {
        #[test]
        fn quotes_that_look_right_are_right(record in "[a\", \n]{0,12}") {
            let flawed = Fields::new(&record, 0, b',').any(|field| field.flaw.is_some());
            prop_assert!(!(flawed && quotes_look_right(&record, b',')));
        }
    }

    #[test]
    fn separators_are_counted_outside_quotes() {
        assert_eq!(separator("a;\"b,c,d\";e\r\nf,g,h,i"), b';');
        assert_eq!(separator("a\tb,c\td"), b'\t');
        assert_eq!(separator("enclosure"), b',');
    }
}
