//! Record pages: one small page a notice, where the code of the notice leads, and an index of them all. Any plain web server
//! shows them; nothing in them asks for anything from anywhere.
//!
//! A page says what its notice says, in its words and as its picture, how the enclosure is isolated, and what the record
//! tells of the copy on site. It never says that something is dead, nor that the copy on site is the right one.

mod address;
mod frame;
mod gone;
mod history;
mod index;
mod links;
mod notice;
mod points;
mod stands;

use std::collections::{HashMap, HashSet};

pub use address::Naming;
pub use links::Links;

use address::Address;
use gone::{Gone, Why};

use crate::notice::{Notice, NoticeOptions, Subject};
use crate::prepared::{Names, Prepared};
use crate::records::changes::Measure;
use crate::records::{Known, Ledger};
use crate::rules::Decision;
use crate::standing;
use crate::survey::Enclosure;
use crate::typesetting::{Setting, Typesetter};
use crate::wording::Wording;
use crate::writers::html;

/// What pages are made from.
#[derive(Clone, Copy)]
pub struct Sources<'a> {
    /// The survey and what follows from it.
    pub prepared: Prepared<'a>,
    /// The record, if one is kept.
    pub record: Option<&'a Ledger<'a>>,
    /// Draws the diagrams.
    pub typesetter: &'a Typesetter,
    /// Tags of the languages of the notices, the main one first.
    pub languages: &'a [String],
    /// What codes carry.
    pub options: &'a NoticeOptions,
    /// By what it is judged whether copies are fit.
    pub measure: &'a Measure,
    /// Names the folders of pages that cannot lie at their number.
    pub naming: Naming,
}

/// The pages of a survey and its record: those of the notices asked for, in their order, then those of notices that only the
/// record has.
pub struct Site<'a> {
    prepared: Prepared<'a>,
    names: Names<'a>,
    record: Option<&'a Ledger<'a>>,
    typesetter: &'a Typesetter,
    languages: &'a [String],
    options: &'a NoticeOptions,
    measure: &'a Measure,
    english: Wording,
    listed: HashMap<&'a str, &'a standing::Entry>,
    devices: HashMap<(&'a str, &'a str), usize>,
    pages: Vec<Page<'a>>,
}

/// One page.
struct Page<'a> {
    of: Of<'a>,
    address: Address,
}

/// What a page is of.
enum Of<'a> {
    /// A notice of the survey.
    Notice(&'a Notice, &'a Setting),
    /// A notice that nobody may rely on.
    Gone(Gone<'a>),
}

/// A notice of the survey with all that its page shows.
struct Shown<'a> {
    notice: &'a Notice,
    set: &'a Setting,
    known: Option<&'a Known<'a>>,
    decided: Option<(&'a Decision, &'a Enclosure)>,
    depth: usize,
}

impl Shown<'_> {
    /// A link to another page.
    fn to(&self, page: &Page<'_>) -> String {
        format!("{}{}", "../".repeat(self.depth), page.link())
    }
}

impl Of<'_> {
    fn number(&self) -> &str {
        match self {
            Self::Notice(notice, _) => &notice.number,
            Self::Gone(gone) => &gone.number,
        }
    }
}

impl Page<'_> {
    /// Its address, from the whole.
    fn link(&self) -> String {
        format!("{}/{}", html::path(&self.address.folders), address::FILE)
    }

    fn number(&self) -> &str {
        self.of.number()
    }
}

impl<'a> Site<'a> {
    /// The pages of the notices that are prepared; of those that are left out because of errors, so that no old page of them
    /// stays; and of those recorded that the survey has not. `asks` says which of the latter are asked for, by what they are
    /// on, if that is known, and by designation, area and number. `there` are the folders of pages that are there already:
    /// those that would stay as they are become pages of notices that nobody knows; leave it empty where only some are made.
    #[must_use]
    pub fn of(
        sources: Sources<'a>,
        asks: impl Fn(Option<Subject>, [&str; 3]) -> bool,
        there: Vec<Vec<String>>,
    ) -> Self {
        let Sources { prepared, record, typesetter, languages, options, measure, naming } = sources;
        let names = Names::of(&prepared);
        let (all, gone) = (of_survey(&prepared), gone(&prepared, &names, record));
        // All of them, asked for or not: an address must not hang on what is asked for.
        let numbers = prepared.notices.iter().map(|notice| notice.number.as_str());
        let mut addresses = address::addresses(numbers.chain(gone.iter().map(|gone| &*gone.number)), naming);
        let asked = gone.into_iter().filter(|gone| gone.is_asked(&asks)).map(Of::Gone);
        let page = |of: Of<'a>| addresses.remove(of.number()).map(|address| Page { of, address });
        let mut pages: Vec<Page<'_>> = all.chain(asked).filter_map(page).collect();
        let made: HashSet<String> = pages.iter().map(|page| page.address.folders.join("/").to_lowercase()).collect();
        // The index has a folder of no name.
        let stay = |folders: &Vec<String>| !folders.is_empty() && !made.contains(&folders.join("/").to_lowercase());
        pages.extend(there.into_iter().filter(stay).map(|folders| Page {
            of: Of::Gone(Gone::unknown(&folders)),
            address: Address { folders, elsewhere: None },
        }));
        let entries = prepared.standing.map_or(&[][..], |list| list.entries.as_slice());
        Self {
            names,
            english: Wording::english(),
            listed: entries.iter().map(|entry| (entry.number.as_str(), entry)).collect(),
            devices: devices(&pages),
            prepared,
            record,
            typesetter,
            languages,
            options,
            measure,
            pages,
        }
    }

    /// How many pages there are, the index not counted.
    #[must_use]
    pub fn count(&self) -> usize {
        self.pages.len()
    }

    /// How many of them are of notices that are no more, that cannot be judged, and that nobody knows.
    #[must_use]
    pub fn not_to_rely_on(&self) -> [usize; 3] {
        [Why::NotInSurvey, Why::NotJudged, Why::Unknown]
            .map(|why| self.pages.iter().filter(|page| matches!(&page.of, Of::Gone(gone) if gone.why == why)).count())
    }

    /// Where a page lies below the whole: folders, then the file.
    #[must_use]
    pub fn path(&self, page: usize) -> Vec<&str> {
        let folders = self.pages.get(page).map_or(&[][..], |page| page.address.folders.as_slice());
        folders.iter().map(String::as_str).chain([address::FILE]).collect()
    }

    /// A page as it is written.
    #[must_use]
    pub fn page(&self, page: usize) -> String {
        let Some(page) = self.pages.get(page) else { return String::new() };
        let depth = page.address.folders.len();
        match &page.of {
            Of::Notice(notice, set) => notice::page(self, &self.shown(notice, set, depth)),
            Of::Gone(gone) => gone::page(self, gone, depth),
        }
    }

    /// Where the index lies.
    #[must_use]
    pub const fn index_path() -> [&'static str; 1] {
        [address::FILE]
    }

    /// What stands at the beginning of every page, by which it is known again.
    #[must_use]
    pub const fn mark() -> &'static str {
        frame::MARK
    }

    /// The list of all pages, as it is written.
    #[must_use]
    pub fn index(&self) -> String {
        index::page(self)
    }

    fn shown(&self, notice: &'a Notice, set: &'a Setting, depth: usize) -> Shown<'a> {
        let decided = (notice.subject == Subject::Enclosure)
            .then(|| self.names.enclosure(&notice.designation).and_then(|place| self.prepared.decided(place)))
            .flatten();
        Shown { notice, set, known: self.record.and_then(|record| record.find(&notice.number)), decided, depth }
    }

    /// The page of a device's notice.
    fn device_page(&self, designation: &str, location: &str) -> Option<&Page<'a>> {
        self.pages.get(*self.devices.get(&(designation, location))?)
    }
}

/// The notices that are prepared.
fn of_survey<'a>(prepared: &Prepared<'a>) -> impl Iterator<Item = Of<'a>> + use<'a> {
    let prepared = *prepared;
    prepared.chosen.iter().filter_map(move |&index| Some(Of::Notice(prepared.notice(index)?, prepared.set(index)?)))
}

/// The notices that nobody may rely on: those left out because of errors, and those that only the record has.
fn gone<'a>(prepared: &Prepared<'a>, names: &Names<'a>, record: Option<&'a Ledger<'a>>) -> Vec<Gone<'a>> {
    let chosen: HashSet<usize> = prepared.chosen.iter().copied().collect();
    let faulty = !prepared.left_out.is_empty();
    let known = |number: &str| record.and_then(|record| record.find(number));
    let left_out: HashSet<&str> = prepared.left_out.iter().map(String::as_str).collect();
    let unset = |(index, notice): (usize, &'a Notice)| {
        let is_left_out = !chosen.contains(&index) && left_out.contains(notice.designation.as_str());
        is_left_out.then(|| Gone::left_out(notice, known(&notice.number)))
    };
    let mut gone: Vec<Gone<'_>> = prepared.notices.iter().enumerate().filter_map(unset).collect();
    let in_survey: HashSet<&str> = prepared.notices.iter().map(|notice| notice.number.as_str()).collect();
    let recorded = record.map_or(&[][..], |ledger| ledger.notices.as_slice());
    gone.extend(
        recorded.iter().filter(|known| !in_survey.contains(known.number)).map(|known| Gone::recorded(known, faulty)),
    );
    let told: HashSet<String> = gone.iter().map(|gone| gone.number.to_string()).collect();
    let of_enclosure = |name: &String| {
        let enclosure = names.enclosure(name).and_then(|place| prepared.decided(place));
        let (area, positions) = enclosure.map_or((String::new(), 0), |(_, enclosure)| {
            (enclosure.area.as_deref().unwrap_or_default().to_owned(), enclosure.particulars().positions.len().max(1))
        });
        (1..=positions).map(|number| Gone::of_enclosure(name, &area, number)).collect::<Vec<_>>()
    };
    let of_enclosures = prepared.left_out.iter().flat_map(of_enclosure);
    gone.extend(of_enclosures.filter(|one| !in_survey.contains(&*one.number) && !told.contains(&*one.number)));
    gone.sort_by_key(|gone| gone.why);
    gone
}

fn devices<'a>(pages: &[Page<'a>]) -> HashMap<(&'a str, &'a str), usize> {
    let device = |(place, page): (usize, &Page<'a>)| match page.of {
        Of::Notice(notice, _) if notice.subject == Subject::Device => {
            Some(((notice.designation.as_str(), notice.area.as_str()), place))
        }
        Of::Notice(..) | Of::Gone(_) => None,
    };
    pages.iter().enumerate().filter_map(device).collect()
}

#[cfg(test)]
mod tests;
