//! Notices that differ in nothing that a plate is fitted by are set alike: the fit of one is kept for the next.
//!
//! Fitting looks at widths, at where lines may end, and at how many there are of everything, never at letters. The
//! likeness of a content is all of that, byte for byte, so that nothing is taken for alike that is not. On an estate most
//! notices differ in their figures alone, which are all of one width.

use std::cell::RefCell;
use std::hash::BuildHasher;

use foldhash::fast::FixedState;

use super::Fitted;
use super::content::Content;
use super::scale::Floors;
use crate::drawing::GlyphLine;
use crate::length::{Dots, Size};
use crate::notice::Subject;
use crate::typesetting::breaking::Paragraph;

/// Everything of a content that a plate is fitted by.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(in crate::typesetting) struct Likeness(Vec<u8>);

/// What a plate was fitted to, and how; `None` where it did not fit.
struct Known {
    key: Box<[u8]>,
    fitted: Option<Fitted>,
}

/// Fits that a thread keeps, each in the slot of its likeness.
const KEPT: usize = 256;

thread_local! {
    static KNOWN: RefCell<Vec<Option<Known>>> = RefCell::new(std::iter::repeat_with(|| None).take(KEPT).collect());
    static KEY: RefCell<Vec<u8>> = const { RefCell::new(Vec::new()) };
}

impl Likeness {
    /// The likeness of a content whose lines must not be broken in `keep`.
    pub(in crate::typesetting) fn of(content: &Content, keep: &str) -> Self {
        // A name with blanks in it can be found in one text and not in another that differs in a figure.
        let mut likeness = Self(Vec::with_capacity(1_024));
        let says_figures = keep.contains(char::is_whitespace);
        let paragraphs = |likeness: &mut Self, all: &[Paragraph]| {
            likeness.count(all.len());
            all.iter().for_each(|paragraph| likeness.paragraph(paragraph, says_figures));
        };
        likeness.0.push(match content.subject {
            Subject::Enclosure => 0,
            Subject::Device => 1,
            Subject::Standing => 2,
        });
        if says_figures {
            likeness.count(keep.len());
            likeness.0.extend_from_slice(keep.as_bytes());
        }
        paragraphs(&mut likeness, &content.headline);
        paragraphs(&mut likeness, &content.statement);
        paragraphs(&mut likeness, content.name.as_slice());
        likeness.count(content.points.len());
        for point in &content.points {
            likeness.width(point.number.as_deref());
            likeness.width(Some(&point.designation));
            likeness.width(point.serves.as_deref());
            paragraphs(&mut likeness, point.place.as_slice());
            paragraphs(&mut likeness, &point.remarks);
        }
        likeness.count(content.figures.len());
        for figure in &content.figures {
            likeness.width(Some(&figure.figure));
            paragraphs(&mut likeness, &figure.meaning);
        }
        likeness.count(content.cautions.len());
        content.cautions.iter().for_each(|caution| paragraphs(&mut likeness, caution));
        paragraphs(&mut likeness, &content.closing);
        paragraphs(&mut likeness, content.small_line.as_slice());
        likeness.count(content.code_side().map_or(0, usize::from));
        likeness
    }

    /// The fit of a plate for a content of this likeness: the one that is known, or the one that `fit` finds.
    pub(in crate::typesetting) fn fitted(
        &self,
        (size, dots): (Size, Option<Dots>),
        floors: Floors,
        fit: impl FnOnce() -> Option<Fitted>,
    ) -> Option<Fitted> {
        let slot = KEY.with_borrow_mut(|key| {
            key.clear();
            key.extend_from_slice(&size.width.to_um().to_le_bytes());
            key.extend_from_slice(&size.height.to_um().to_le_bytes());
            key.extend_from_slice(&dots.map_or(0.0, Dots::per_mm).to_le_bytes());
            key.extend_from_slice(&floors.letter.to_le_bytes());
            key.extend_from_slice(&floors.sign.to_le_bytes());
            key.extend_from_slice(&self.0);
            usize::try_from(FixedState::default().hash_one(key.as_slice()) % KEPT as u64).unwrap_or_default()
        });
        let known = KEY.with_borrow(|key| {
            KNOWN.with_borrow(|known| {
                let known = known.get(slot)?.as_ref().filter(|known| *known.key == **key)?;
                Some(known.fitted)
            })
        });
        known.unwrap_or_else(|| {
            let fitted = fit();
            KEY.with_borrow(|key| {
                KNOWN.with_borrow_mut(|known| {
                    let known = known.get_mut(slot).into_iter();
                    known.for_each(|known| *known = Some(Known { key: key.as_slice().into(), fitted }));
                });
            });
            fitted
        })
    }

    fn count(&mut self, count: usize) {
        self.0.extend_from_slice(&u32::try_from(count).unwrap_or(u32::MAX).to_le_bytes());
    }

    fn width(&mut self, line: Option<&GlyphLine>) {
        self.0.extend_from_slice(&line.map_or(-1, |line| line.width).to_le_bytes());
    }

    /// Where every letter stands, and what it is, as far as lines end by it: all figures are alike unless they are told.
    fn paragraph(&mut self, paragraph: &Paragraph, says_figures: bool) {
        let line = &paragraph.line;
        self.0.push(u8::from(paragraph.has_parts()));
        self.count(line.text.len());
        self.count(line.glyphs.len());
        let alike = |byte: u8| if byte.is_ascii_digit() && !says_figures { b'0' } else { byte };
        self.0.extend(line.text.bytes().map(alike));
        self.0.extend(line.glyphs.iter().flat_map(|glyph| glyph.advance.to_le_bytes()));
    }
}
