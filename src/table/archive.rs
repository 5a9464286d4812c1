//! What a workbook's archive would come to in memory, measured before anything of it is kept.

use std::io::{Cursor, Read};

use zip::ZipArchive;

use super::markup::Markup;

/// Bytes that are inflated at a time.
const CHUNK_BYTES: usize = 65_536;

/// Cells that the repeats of one sheet may come to. A survey with every column and 200 000 rows has nine million.
const SPREAD_CELLS: u64 = 10_000_000;

/// How the names of files end that are markup.
const MARKUP: [&str; 2] = [".xml", ".rels"];

/// Whether the archive can be read, stays below so many bytes once inflated, repeats no cells without measure and names
/// none that no spreadsheet has.
pub(super) fn is_measured(bytes: &[u8], limit: u64) -> bool {
    let Ok(mut archive) = ZipArchive::new(Cursor::new(bytes)) else { return false };
    let mut left = limit;
    for number in 0..archive.len() {
        let Ok(entry) = archive.by_index(number) else { return false };
        // Old drawings are markup that need not be sound, and are not read.
        let mut markup = entry.name().is_ok_and(|name| !name.ends_with(".vml")).then(Markup::default);
        // What is read as markup is held to it, whatever it begins with.
        let is_named = entry.name().is_ok_and(|name| MARKUP.iter().any(|ending| name.ends_with(ending)));
        let Some(size) = inflated(entry, left, &mut markup, is_named) else { return false };
        left -= size;
        if markup.is_some_and(|markup| !markup.is_sound() || markup.cells() > SPREAD_CELLS) {
            return false;
        }
    }
    true
}

/// Bytes of an entry once inflated; `None` beyond the limit, or where it is damaged.
fn inflated(mut entry: impl Read, limit: u64, markup: &mut Option<Markup>, is_markup: bool) -> Option<u64> {
    let mut chunk = vec![0; CHUNK_BYTES];
    let mut size = 0;
    loop {
        let read = entry.read(&mut chunk).ok()?;
        if read == 0 {
            return Some(size);
        }
        if size == 0 && !is_markup && !Markup::begins(chunk.get(..read)?) {
            *markup = None;
        }
        size += u64::try_from(read).ok()?;
        if size > limit {
            return None;
        }
        if let Some(markup) = markup {
            chunk.get(..read)?.iter().for_each(|byte| markup.take(*byte));
        }
    }
}
