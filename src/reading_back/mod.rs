//! A document read again as it lies on the disk, and held against the survey before it takes its name.
//!
//! The bytes are taken apart by a PDF reader that is not ours, and the codes decoded by another. What a notice must say
//! comes from the composed notice, and once more from the survey's own rows, so that a mistake in composing shows too.
//! Nothing here looks at what the writer or the typesetter did; of the plan only the rooms of the labels are known.

mod board;
mod boxes;
mod code;
mod declared;
mod difference;
mod drawn;
mod gather;
mod label;
mod pieces;
mod place;
mod rows;
mod sheet;
mod words;

use std::sync::Arc;

use hayro_interpret::hayro_syntax::Pdf;
use rayon::prelude::*;

use crate::length::Length;
use crate::notice::Notice;
use crate::sheets::Page;
use sheet::{Comparison, Reader};

pub use declared::{Declarations, Declared};
pub use difference::{Difference, What};

/// What one label claims.
#[derive(Clone, Copy, Debug)]
pub struct Claim<'a> {
    /// What it says.
    pub notice: &'a Notice,
    /// The least height of the capitals of all that is read from the reading distance.
    pub letter_height: Length,
    /// Height of its warning sign.
    pub sign_height: Option<Length>,
    /// What the survey's rows declare about it.
    pub declared: &'a [Declared],
}

/// One page as it was planned.
#[derive(Clone, Debug)]
pub struct Sheet<'a> {
    /// The page as it went to the writer: its boxes, the rooms of its labels, the texts of its margin.
    pub page: Page,
    /// What the labels claim, in the order in which they are placed.
    pub claims: Vec<Claim<'a>>,
}

/// How the texts of a document are stored.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Texts {
    /// As letters of a font.
    Letters,
    /// As outlines, for machines that know no fonts: neither they nor the codes and signs united with them are read back.
    Outlines,
}

/// What reading a document again came to.
#[derive(Clone, Debug, PartialEq)]
pub struct ReadBack {
    /// How the texts are stored.
    pub texts: Texts,
    /// Pages read.
    pub pages: usize,
    /// Labels on them.
    pub notices: usize,
    /// Lines of text on the labels; zero where they are outlines.
    pub lines: usize,
    /// Codes decoded.
    pub codes: usize,
    /// Page boxes read.
    pub boxes: usize,
    /// Everything that differs, in the order of the pages.
    pub differences: Vec<Difference>,
}

/// Pages that one thread reads in a row: enough that its fonts are not taken apart too often, few enough that no thread
/// is left with the rest.
const PAGES_IN_A_ROW: usize = 32;

/// Reads a document and compares every page with `sheet`, which gives it as it was planned, from 0, or `None` if
/// there is no such page. A few pages for each thread are in memory at a time, beside the bytes.
#[must_use]
pub fn read_back<'a>(
    bytes: Arc<Vec<u8>>,
    pages: usize,
    texts: Texts,
    sheet: impl Fn(usize) -> Option<Sheet<'a>> + Sync,
) -> ReadBack {
    let mut read = ReadBack { texts, pages: 0, notices: 0, lines: 0, codes: 0, boxes: 0, differences: Vec::new() };
    let whole = |what| Difference { page: 0, notice: None, what };
    let Ok(pdf) = Pdf::new(bytes) else {
        read.differences.push(whole(What::Unreadable));
        return read;
    };
    read.pages = pdf.pages().len();
    if read.pages != pages {
        read.differences.push(whole(What::Count { of: "pages", seen: read.pages, wanted: pages }));
    }
    let chunks = pdf.pages().par_chunks(PAGES_IN_A_ROW).enumerate();
    let compared: Vec<Comparison> = chunks
        .flat_map_iter(|(chunk, pages)| {
            let mut reader = Reader::new();
            let first = chunk * PAGES_IN_A_ROW;
            let compared = pages
                .iter()
                .zip(first..)
                .filter_map(|(page, number)| Some(reader.compare(page, &sheet(number)?, number + 1, texts)));
            compared.collect::<Vec<_>>()
        })
        .collect();
    for page in compared {
        read.notices += page.notices;
        read.lines += page.lines;
        read.codes += page.codes;
        read.boxes += page.boxes;
        read.differences.extend(page.differences);
    }
    read
}
