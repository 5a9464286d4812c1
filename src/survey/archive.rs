//! What a workbook's archive would come to in memory, measured before anything of it is kept.

use std::io::{Cursor, Read};

use zip::ZipArchive;

/// Bytes that are inflated at a time.
const CHUNK_BYTES: usize = 65_536;

/// Cells that the repeats of one sheet may come to. A survey with every column and 200 000 rows has nine million.
const SPREAD_CELLS: u64 = 10_000_000;

/// Whether the archive can be read, stays below so many bytes once inflated, and repeats no cells without measure.
pub(super) fn is_measured(bytes: &[u8], limit: u64) -> bool {
    let Ok(mut archive) = ZipArchive::new(Cursor::new(bytes)) else { return false };
    let mut total = 0;
    for number in 0..archive.len() {
        let Ok(entry) = archive.by_index(number) else { return false };
        let mut spread = entry.name().is_ok_and(|name| name == "content.xml").then(Spread::default);
        let Some(size) = inflated(entry, limit.saturating_sub(total), spread.as_mut()) else { return false };
        total += size;
        if spread.is_some_and(|spread| spread.cells() > SPREAD_CELLS) {
            return false;
        }
    }
    true
}

/// Bytes of an entry once inflated; `None` beyond the limit, or where it is damaged.
fn inflated(mut entry: impl Read, limit: u64, mut spread: Option<&mut Spread>) -> Option<u64> {
    let mut chunk = vec![0; CHUNK_BYTES];
    let mut size = 0;
    loop {
        let read = entry.read(&mut chunk).ok()?;
        if read == 0 {
            return Some(size);
        }
        size += u64::try_from(read).ok()?;
        if size > limit {
            return None;
        }
        if let Some(spread) = spread.as_mut() {
            chunk.get(..read)?.iter().for_each(|byte| spread.take(*byte));
        }
    }
}

/// How many cells the repeats of an `.ods` sheet come to: a few bytes can stand for millions of cells.
#[derive(Debug, Default)]
struct Spread {
    tag: Vec<u8>,
    inside: bool,
    /// Cells of the present row up to its last one with content, and those after it.
    used: u64,
    trailing: u64,
    /// How often the present row stands.
    repeats: u64,
    /// Rows up to the last one with content, and those after it.
    rows: u64,
    trailing_rows: u64,
    widest: u64,
}

impl Spread {
    fn take(&mut self, byte: u8) {
        match byte {
            b'<' => {
                self.inside = true;
                self.tag.clear();
            }
            b'>' if self.inside => {
                self.inside = false;
                let tag = std::mem::take(&mut self.tag);
                self.close(&tag);
                self.tag = tag;
            }
            _ if self.inside && self.tag.len() < CHUNK_BYTES => self.tag.push(byte),
            _ => {}
        }
    }

    fn close(&mut self, tag: &[u8]) {
        if tag.starts_with(b"table:table-row") {
            (self.used, self.trailing) = (0, 0);
            self.repeats = repeats(tag, b"table:number-rows-repeated=\"");
        } else if tag.starts_with(b"table:table-cell") || tag.starts_with(b"table:covered-table-cell") {
            self.trailing += repeats(tag, b"table:number-columns-repeated=\"");
            if contains(tag, b"office:value-type=") || contains(tag, b"table:formula=") {
                self.used += std::mem::take(&mut self.trailing);
            }
        } else if tag.starts_with(b"/table:table-row") {
            self.trailing_rows = self.trailing_rows.saturating_add(self.repeats);
            if self.used > 0 {
                self.rows = self.rows.saturating_add(std::mem::take(&mut self.trailing_rows));
                self.widest = self.widest.max(self.used);
            }
        }
    }

    fn cells(&self) -> u64 {
        self.rows.saturating_mul(self.widest)
    }
}

fn contains(tag: &[u8], part: &[u8]) -> bool {
    tag.windows(part.len()).any(|window| window == part)
}

/// The number behind an attribute's name, 1 without it.
fn repeats(tag: &[u8], attribute: &[u8]) -> u64 {
    let Some(at) = tag.windows(attribute.len()).position(|window| window == attribute) else { return 1 };
    let digits = tag.get(at + attribute.len()..).unwrap_or_default().iter().take_while(|byte| byte.is_ascii_digit());
    digits.fold(0, |number: u64, digit| number.saturating_mul(10).saturating_add(u64::from(digit - b'0')))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cells(xml: &str) -> u64 {
        let mut spread = Spread::default();
        xml.bytes().for_each(|byte| spread.take(byte));
        spread.cells()
    }

    #[test]
    fn repeats_without_content_after_them_do_not_count() {
        let row = "<table:table-row><table:table-cell office:value-type=\"string\"/>\
                   <table:table-cell table:number-columns-repeated=\"16383\"/></table:table-row>";
        let end = "<table:table-row table:number-rows-repeated=\"1048575\">\
                   <table:table-cell table:number-columns-repeated=\"16384\"/></table:table-row>";
        assert_eq!(cells(&format!("{row}{end}")), 1);
        assert_eq!(cells(&format!("{end}{row}")), 1_048_576);
    }

    #[test]
    fn a_repeated_row_with_content_counts_in_full() {
        let bomb = "<table:table-row table:number-rows-repeated=\"1000000\">\
                    <table:table-cell table:number-columns-repeated=\"1000\" office:value-type=\"float\"/></table:table-row>";
        assert_eq!(cells(bomb), 1_000_000_000);
    }
}
