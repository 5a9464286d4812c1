//! One page of a document: read, laid out over the labels that were planned on it, and compared.

use std::collections::BTreeMap;

use hayro_interpret::hayro_syntax::content::TypedIter;
use hayro_interpret::hayro_syntax::object::{Array, Stream};
use hayro_interpret::hayro_syntax::page::Page as ReadPage;
use hayro_interpret::{Context, InterpreterCache, InterpreterSettings, interpret};
use kurbo::{Affine, Rect};

use super::difference::{Difference, What};
use super::drawn::Letters;
use super::gather::{Gathering, Mark, Run, Seen};
use super::label::Label;
use super::pieces::pieces;
use super::words::unspaced;
use super::{Sheet, Texts, boxes, place};
use crate::drawing::{Drawing, Item};
use crate::sheets::Page;

/// Millimetres in a point.
pub(super) const MM_A_POINT: f64 = 25.4 / 72.0;

/// What was read of one page.
#[derive(Debug, Default)]
pub(super) struct Comparison {
    pub(super) differences: Vec<Difference>,
    pub(super) notices: usize,
    pub(super) lines: usize,
    pub(super) codes: usize,
    pub(super) boxes: usize,
}

/// Reads pages one after the other on one thread: fonts are taken apart once.
pub(super) struct Reader<'a> {
    cache: InterpreterCache<'a>,
    letters: Letters,
}

impl<'a> Reader<'a> {
    pub(super) fn new() -> Self {
        Self { cache: InterpreterCache::new(), letters: Letters::default() }
    }

    /// Reads a page and compares it with what was planned for it; `number` counts from 1.
    pub(super) fn compare(
        &mut self,
        page: &ReadPage<'a>,
        sheet: &Sheet<'_>,
        number: usize,
        texts: Texts,
    ) -> Comparison {
        let mut comparison = Comparison::default();
        let mut differ = |notice: Option<&str>, what| {
            comparison.differences.push(Difference { page: number, notice: notice.map(str::to_owned), what });
        };
        let (wrong, read) = boxes::compare(page, &sheet.page);
        wrong.into_iter().for_each(|what| differ(None, what));
        let Some(seen) = self.read(page) else {
            differ(None, What::Unreadable);
            return comparison;
        };
        let labels = sheet.page.placed.len();
        if labels != sheet.claims.len() {
            differ(None, What::Count { of: "labels", seen: labels, wanted: sheet.claims.len() });
        }
        if seen.pictures > 0 {
            differ(None, What::Picture);
        }
        let divided = Divided::of(&seen, &sheet.page);
        let (mut lines, mut codes) = (0, 0);
        for ((placed, claim), (runs, marks)) in sheet.page.placed.iter().zip(&sheet.claims).zip(&divided.labels) {
            let to_label = place::to_label(&sheet.page, placed);
            let pieces = pieces(runs.iter().copied(), to_label);
            let label = Label { claim, room: place::own_room(placed), pieces: &pieces, marks, to_label };
            let (wrong, read) = label.differences(texts);
            wrong.into_iter().for_each(|what| differ(Some(&claim.notice.number), what));
            (lines, codes) = (lines + pieces.len(), codes + read);
        }
        for what in around(&divided.outside, &sheet.page, texts) {
            differ(None, what);
        }
        Comparison { notices: labels, lines, codes, boxes: read, ..comparison }
    }

    /// Everything that a page shows. Its operators are freed with it: kept, they would fill the memory page by page.
    fn read(&mut self, page: &ReadPage<'a>) -> Option<Seen> {
        let media = page.media_box();
        let to_page = Affine::scale_non_uniform(MM_A_POINT, -MM_A_POINT) * Affine::translate((-media.x0, -media.y1));
        let size = Rect::new(0.0, 0.0, (media.x1 - media.x0) * MM_A_POINT, (media.y1 - media.y0) * MM_A_POINT);
        let operators = operators(page)?;
        let settings = InterpreterSettings::default();
        let mut context = Context::new(to_page, size, &self.cache, page.xref(), settings);
        let mut gathering = Gathering::new(&mut self.letters);
        interpret(TypedIter::new(&operators), page.resources(), &mut context, &mut gathering);
        Some(gathering.seen)
    }
}

/// The operators of a page; several streams are read as one.
fn operators(page: &ReadPage<'_>) -> Option<Vec<u8>> {
    let decoded = |stream: Stream<'_>| stream.decoded_data().ok().map(std::borrow::Cow::into_owned);
    if let Some(stream) = page.raw().get::<Stream<'_>>(b"Contents".as_slice()) {
        return decoded(stream);
    }
    let streams = page.raw().get::<Array<'_>>(b"Contents".as_slice())?;
    let decoded = streams.iter::<Stream<'_>>().map(decoded).collect::<Option<Vec<_>>>()?;
    Some(decoded.join(&b' '))
}

/// Texts and marks by the label on which they lie.
struct Divided<'s> {
    labels: Vec<(Vec<&'s Run>, Vec<&'s Mark>)>,
    outside: Vec<&'s Run>,
}

impl<'s> Divided<'s> {
    fn of(seen: &'s Seen, page: &Page) -> Self {
        let corrected = place::corrected(page.correction);
        let rooms: Vec<Rect> =
            page.placed.iter().map(|placed| corrected.transform_rect_bbox(place::rect(placed.room()))).collect();
        let mut divided = Self { labels: vec![Default::default(); rooms.len()], outside: Vec::new() };
        for run in &seen.runs {
            let middle = run.start.midpoint(run.end) + run.up * 0.3;
            let room = rooms.iter().position(|room| room.contains(middle));
            match room.and_then(|room| divided.labels.get_mut(room)) {
                Some((runs, _)) => runs.push(run),
                None => divided.outside.push(run),
            }
        }
        for mark in &seen.marks {
            let room = rooms.iter().position(|room| room.contains(mark.bounds.center()));
            if let Some((_, marks)) = room.and_then(|room| divided.labels.get_mut(room)) {
                marks.push(mark);
            }
        }
        divided
    }
}

/// What differs outside the labels: the margin's own texts are there, and no others. Pieces of one line are compared
/// as one, because the margin sets them one behind the other.
fn around(outside: &[&Run], page: &Page, texts: Texts) -> Vec<What> {
    let to_sheet = place::corrected(page.correction).inverse();
    let seen = pieces(outside.iter().copied(), to_sheet);
    let seen = seen.iter().map(|piece| (piece.baseline, piece.left, piece.text.as_str()));
    let (mut seen, mut wanted) = (in_lines(seen), Vec::new());
    if texts == Texts::Letters {
        wanted = in_lines(margin(&page.repeated).chain(margin(&page.furniture)));
    }
    wanted.retain(|text| match seen.iter().position(|other| other == text) {
        Some(index) => {
            seen.remove(index);
            false
        }
        None => true,
    });
    What::of_texts(wanted, seen)
}

/// The texts of a margin: baseline, left end, words.
fn margin(furniture: &Drawing) -> impl Iterator<Item = (f64, f64, &str)> {
    furniture.items.iter().filter_map(|item| match item {
        Item::Text { line, origin, .. } => Some((origin.y.to_mm(), origin.x.to_mm(), &*line.text)),
        Item::Path { .. } | Item::Modules(_) | Item::Group { .. } => None,
    })
}

/// Texts that stand on one baseline, one behind the other without their spaces.
fn in_lines<'t>(texts: impl Iterator<Item = (f64, f64, &'t str)>) -> Vec<String> {
    let mut lines: BTreeMap<i64, Vec<(f64, &str)>> = BTreeMap::new();
    for (baseline, left, text) in texts {
        #[expect(clippy::cast_possible_truncation, reason = "tenths of a millimetre on a page")]
        let line = (baseline * 5.0).round() as i64;
        lines.entry(line).or_default().push((left, text));
    }
    let joined = lines.into_values().map(|mut line| {
        line.sort_by(|(one, _), (other, _)| one.total_cmp(other));
        unspaced(&line.into_iter().map(|(_, text)| text).collect::<String>())
    });
    joined.filter(|line| !line.is_empty()).collect()
}
