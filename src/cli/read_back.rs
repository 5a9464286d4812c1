//! `--read-back`: every document is read again and held against the survey before any takes its name.

use std::collections::BTreeMap;
use std::sync::Arc;

use rayon::prelude::*;

use super::failure::Failure;
use super::pipeline::Loaded;
use super::printing::Printable;
use super::report::counted;
use super::report::json::ReadBackEntry;
use super::setting::AllSet;
use crate::notice::Notice;
use crate::reading_back::{self, Claim, Declarations, ReadBack, Sheet, Texts};
use crate::sheets::{Page, PageError, Plan, Production};

/// Differences that a message shows; the others are counted.
const SHOWN: usize = 12;

/// What the documents of a run are held against.
pub(super) struct Witness<'a> {
    declarations: Declarations,
    set: &'a AllSet,
    /// What stands on tags, by the notice's place in the list of all.
    tags: BTreeMap<usize, Notice>,
}

impl<'a> Witness<'a> {
    /// What a survey's rows declare, and what its notices claim once set.
    pub(super) fn new(loaded: &Loaded, set: &'a AllSet) -> Self {
        let all = loaded.packed.iter().zip(&set.notices).enumerate();
        let tags = all.filter(|(_, (_, set))| set.as_ref().is_some_and(|set| set.is_tag));
        let tags = tags.filter_map(|(index, (packed, _))| Some((index, packed.notice().on_a_tag()?)));
        Self { declarations: Declarations::of(&loaded.survey, &loaded.network), set, tags: tags.collect() }
    }

    /// Reads a document of a plan and compares it page by page.
    ///
    /// # Errors
    /// [`Failure::OurDefect`] with what differs and where.
    pub(super) fn examine(
        &self,
        bytes: Arc<Vec<u8>>,
        (plan, document): (&Plan, usize),
        printable: &[Printable<'_>],
        page: impl Fn(usize) -> Result<Page, PageError> + Sync,
    ) -> Result<ReadBack, Failure> {
        let lies = |read: ReadBack| Failure::OurDefect { message: lies(&read) };
        self.compare(bytes, (plan, document), printable, page)?.map_err(lies)
    }

    /// The same of a document that somebody else may have made: within, what was read where it differs.
    ///
    /// # Errors
    /// A document that was not planned.
    pub(super) fn compare(
        &self,
        bytes: Arc<Vec<u8>>,
        (plan, document): (&Plan, usize),
        printable: &[Printable<'_>],
        page: impl Fn(usize) -> Result<Page, PageError> + Sync,
    ) -> Result<Result<ReadBack, ReadBack>, Failure> {
        let Some(planned) = plan.documents.get(document) else {
            return Err(Failure::could_not_run("a document that was not planned"));
        };
        let texts = match planned.production {
            Production::Engraving(_) => Texts::Outlines,
            Production::Office | Production::Roll(_) | Production::Press(_) => Texts::Letters,
        };
        let notices: Vec<Notice> = printable.par_iter().map(Printable::notice).collect();
        let claims = self.claims((plan, document), printable, &notices);
        let sheet = |number: usize| {
            let claims = claims.get(&number).cloned().unwrap_or_default();
            Some(Sheet { page: page(number).ok()?, claims })
        };
        let read = reading_back::read_back(bytes, planned.pages(), texts, sheet);
        // A page that could not be compared would count as one without a difference.
        let planned_labels: usize = claims.values().map(Vec::len).sum();
        Ok(if read.differences.is_empty() && read.notices == planned_labels { Ok(read) } else { Err(read) })
    }

    /// What the labels of each page claim, in the order of its cells.
    fn claims<'n>(
        &'n self,
        (plan, document): (&Plan, usize),
        printable: &[Printable<'_>],
        notices: &'n [Notice],
    ) -> BTreeMap<usize, Vec<Claim<'n>>> {
        let mut by_cell: BTreeMap<(usize, usize), Claim<'n>> = BTreeMap::new();
        for (label, (one, notice)) in printable.iter().zip(notices).enumerate() {
            let Some(claim) = self.claim(one, notice) else { continue };
            let places = plan.places(label).into_iter().filter(|place| place.document == document);
            by_cell.extend(places.map(|place| ((place.page.saturating_sub(1), place.cell), claim)));
        }
        let mut by_page: BTreeMap<usize, Vec<Claim<'n>>> = BTreeMap::new();
        for ((page, _), claim) in by_cell {
            by_page.entry(page).or_default().push(claim);
        }
        by_page
    }

    fn claim<'n>(&'n self, one: &Printable<'_>, notice: &'n Notice) -> Option<Claim<'n>> {
        let set = self.set.notices.get(one.index)?.as_ref()?;
        Some(Claim {
            notice: self.tags.get(&one.index).unwrap_or(notice),
            letter_height: set.letter_height,
            sign_height: set.sign_height,
            declared: self.declarations.about(notice),
        })
    }
}

/// What the report says of a document that was read back.
pub(super) fn entry(read: &ReadBack) -> ReadBackEntry {
    ReadBackEntry {
        texts: match read.texts {
            Texts::Letters => "read",
            Texts::Outlines => "outlines",
        },
        notices: read.notices,
        pages: read.pages,
        lines: read.lines,
        codes: read.codes,
        page_boxes: read.boxes,
    }
}

/// `read back: 3 notices on 1 sheet say what the survey says (40 lines, 3 codes, 3 page boxes)`
pub(super) fn summary(entry: &ReadBackEntry) -> String {
    let (notices, sheets) = (counted(entry.notices, "notice"), counted(entry.pages, "sheet"));
    let (codes, boxes) = (counted(entry.codes, "code"), counted_boxes(entry.page_boxes));
    if entry.texts == "outlines" {
        return format!(
            "read back: {notices} on {sheets}; texts, codes and signs are outlines and were not read back; {boxes} were\n"
        );
    }
    let say = if entry.notices == 1 { "says" } else { "say" };
    let lines = counted(entry.lines, "line");
    format!("read back: {notices} on {sheets} {say} what the survey says ({lines}, {codes}, {boxes})\n")
}

fn counted_boxes(boxes: usize) -> String {
    if boxes == 1 { "1 page box".to_owned() } else { format!("{boxes} page boxes") }
}

fn lies(read: &ReadBack) -> String {
    "the document just made does not say what the survey says, so nothing was written; \
     please report it with the command and these lines:\n"
        .to_owned()
        + &differences(read)
}

/// What differs, a line each, as far as a message shows it.
pub(super) fn differences(read: &ReadBack) -> String {
    let (mut text, count) = (String::new(), read.differences.len());
    for difference in read.differences.iter().take(SHOWN) {
        text.push_str(&format!("  {difference}\n"));
    }
    if count > SHOWN {
        text.push_str(&format!("  and {} more\n", count - SHOWN));
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reading_back::{Difference, What};

    fn read(texts: Texts, lies: usize) -> ReadBack {
        let difference = Difference { page: 2, notice: Some("CH3-JB1/1".into()), what: What::NoCode };
        let differences = vec![difference; lies];
        ReadBack { texts, pages: 2, notices: 1, lines: 14, codes: 1, boxes: 6, differences }
    }

    #[test]
    fn texts_that_nobody_can_read_are_said_to_be_unread() {
        let said = summary(&entry(&read(Texts::Outlines, 0)));
        let expected = "read back: 1 notice on 2 sheets; texts, codes and signs are outlines and were not read back; \
                        6 page boxes were\n";
        assert_eq!(said, expected);
        assert!(summary(&entry(&read(Texts::Letters, 0))).contains("1 notice on 2 sheets says what the survey says"));
    }

    #[test]
    fn a_document_that_lies_is_a_defect_of_ours() {
        let failure = Failure::OurDefect { message: lies(&read(Texts::Letters, SHOWN + 2)) };
        assert_eq!(failure.exit_code(), 70);
        let message = failure.message();
        assert!(message.contains("page 2, notice `CH3-JB1/1`: the code is missing\n"), "{message}");
        assert!(message.contains("and 2 more") && message.contains("nothing was written"), "{message}");
    }
}
