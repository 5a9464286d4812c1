//! Notices onto sheets and into a document in memory, and what must hold of both.

use std::collections::BTreeMap;
use std::sync::Arc;

use noticewright::drawing::Drawing;
use noticewright::length::{ISO_216, Size};
use noticewright::limits::Limits;
use noticewright::network::Network;
use noticewright::notice::{Notice, Subject};
use noticewright::reading_back::{Claim, Declarations, Sheet, Texts, read_back};
use noticewright::sheets::{self, Formats, Label, Page, Palette, Plan, Run};
use noticewright::survey::Survey;
use noticewright::typesetting::{LetterFloor, SetNotice, Typesetter};
use noticewright::writers::pdf::{DocumentInfo, PdfWriter, Setup, encode};

/// Notices that are printed of one input; the rest would only cost time.
const MOST: usize = 12;

/// The pages of a document of a plan.
///
/// # Panics
/// If a page that was planned cannot be made.
pub fn pages(
    plan: &Plan,
    document: usize,
    typesetter: &Typesetter,
    drawing: impl Fn(usize) -> Option<Arc<Drawing>>,
) -> Vec<Page> {
    (0..plan.documents[document].pages()).map(|page| plan.page(document, page, typesetter, &drawing).unwrap()).collect()
}

/// A document of these pages.
///
/// # Panics
/// If it does not begin and end as one, or has not as many bytes and pages as it says.
pub fn write(plan: &Plan, document: usize, pages: &[Page]) -> Vec<u8> {
    let palette = Palette::of(&plan.documents[document].production);
    let mut bytes = Vec::new();
    let mut pdf = PdfWriter::begin(&mut bytes, &Setup::plain(DocumentInfo::default(), palette.clone())).unwrap();
    for page in pages {
        pdf.add(&encode(page, &palette)).unwrap();
    }
    let written = pdf.finish().unwrap();
    assert_eq!((written.bytes, written.pages), (bytes.len() as u64, pages.len()));
    assert!(bytes.starts_with(b"%PDF-1.") && bytes.ends_with(b"%%EOF\n"));
    bytes
}

/// Sets notices, prints them, and reads the documents back: they say what the notices and the survey say.
///
/// # Panics
/// If one does not.
pub fn print(survey: &Survey, network: &Network, notices: &[Notice]) {
    let typesetter = Typesetter::new();
    let set: Vec<(&Notice, SetNotice)> =
        notices.iter().take(MOST).filter_map(|notice| set(&typesetter, notice)).collect();
    let designations = set.iter().map(|(notice, set)| Label { size: set.drawing.size, enclosure: &notice.designation });
    let labels: Vec<Label<'_>> = designations.collect();
    let (plan, _) = sheets::plan(&labels, &Formats::default(), Run::default(), &Limits::default()).unwrap();
    let declarations = Declarations::of(survey, network);
    let tags: Vec<Option<Notice>> =
        set.iter().map(|(notice, set)| notice.on_a_tag().filter(|_| set.setting.is_tag)).collect();
    for document in 0..plan.documents.len() {
        let drawing = |label: usize| set.get(label).map(|(_, set)| Arc::clone(&set.drawing));
        let made = pages(&plan, document, &typesetter, drawing);
        let bytes = write(&plan, document, &made);
        let mut claims: BTreeMap<usize, BTreeMap<usize, Claim<'_>>> = BTreeMap::new();
        for (label, (notice, set)) in set.iter().enumerate() {
            let claim = Claim {
                notice: tags[label].as_ref().unwrap_or(notice),
                letter_height: set.setting.letter_height,
                sign_height: set.setting.sign_height,
                declared: declarations.about(notice),
            };
            for place in plan.places(label).into_iter().filter(|place| place.document == document) {
                claims.entry(place.page - 1).or_default().insert(place.cell, claim);
            }
        }
        let sheet = |page: usize| {
            let claims = claims.get(&page).map(|cells| cells.values().copied().collect()).unwrap_or_default();
            Some(Sheet { page: made.get(page)?.clone(), claims })
        };
        let read = read_back(Arc::new(bytes), made.len(), Texts::Letters, sheet);
        let planned: usize = claims.values().map(BTreeMap::len).sum();
        assert!(read.differences.is_empty(), "{:#?}", read.differences);
        assert_eq!(read.notices, planned);
    }
}

/// A notice at the sizes that are usual for it; `None` where it does not fit, which is said.
fn set<'n>(typesetter: &Typesetter, notice: &'n Notice) -> Option<(&'n Notice, SetNotice)> {
    let sizes: [&str; 4] = match notice.subject {
        Subject::Enclosure => ["A7", "A6", "A5", "A4"],
        Subject::Device | Subject::Standing => ["A8", "A7", "A6", "A5"],
    };
    let sizes: Vec<Size> = ISO_216.into_iter().filter(|(name, _)| sizes.contains(name)).map(|(_, size)| size).collect();
    match typesetter.set(notice, &sizes, LetterFloor::default()) {
        Ok(set) => {
            Formats::default().for_size(set.drawing.size)?;
            Some((notice, set))
        }
        Err(misfit) => {
            assert!(!misfit.finding(notice).message.is_empty());
            None
        }
    }
}
