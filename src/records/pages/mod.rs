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

use std::collections::HashMap;

pub use address::Naming;
pub use links::Links;

use address::Address;

use crate::notice::{Notice, NoticeOptions, Subject};
use crate::prepared::{Names, Prepared};
use crate::records::{Known, Ledger};
use crate::rules::Decision;
use crate::standing;
use crate::survey::Enclosure;
use crate::typesetting::{SetNotice, Typesetter};
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
    Notice(&'a Notice, &'a SetNotice),
    /// A notice that the record has and the survey has not.
    Gone(&'a Known<'a>),
}

/// A notice of the survey with all that its page shows.
struct Shown<'a> {
    notice: &'a Notice,
    set: &'a SetNotice,
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

impl Page<'_> {
    /// Its address, from the whole.
    fn link(&self) -> String {
        format!("{}/{}", html::path(&self.address.folders), address::FILE)
    }

    fn number(&self) -> &str {
        match self.of {
            Of::Notice(notice, _) => &notice.number,
            Of::Gone(known) => known.number,
        }
    }
}

impl<'a> Site<'a> {
    /// The pages of the notices that are prepared, and of those recorded that the survey has not and that `asks` for by what
    /// they are on, if that is known, and by designation, area and number. Where notices are left out because of errors, nobody can say which the survey has
    /// no more, and of the recorded only those that were withdrawn get a page.
    #[must_use]
    pub fn of(sources: Sources<'a>, asks: impl Fn(Option<Subject>, [&str; 3]) -> bool) -> Self {
        let Sources { prepared, record, typesetter, languages, options, naming } = sources;
        let in_survey: HashMap<&str, &Notice> =
            prepared.notices.iter().map(|notice| (notice.number.as_str(), notice)).collect();
        let recorded = record.map_or(&[][..], |ledger| ledger.notices.as_slice());
        let gone: Vec<&Known<'_>> = recorded.iter().filter(|known| !in_survey.contains_key(known.number)).collect();
        let numbers = prepared.notices.iter().map(|notice| notice.number.as_str());
        // All of them, asked for or not: an address must not hang on what is asked for.
        let mut addresses = address::addresses(numbers.chain(gone.iter().map(|known| known.number)), naming);
        let mut page = |of: Of<'a>, number: &str| Some(Page { of, address: addresses.remove(number)? });
        let notices = prepared.chosen.iter().filter_map(|&index| {
            let notice = prepared.notice(index)?;
            Some((Of::Notice(notice, prepared.set(index)?), notice.number.as_str()))
        });
        let faulty = !prepared.left_out.is_empty();
        let asked = gone.into_iter().filter(|known| gone::asks(known, &asks) && gone::is_certain(known, faulty));
        let all = notices.chain(asked.map(|known| (Of::Gone(known), known.number)));
        let pages: Vec<Page<'_>> = all.filter_map(|(of, number)| page(of, number)).collect();
        let entries = prepared.standing.map_or(&[][..], |list| list.entries.as_slice());
        Self {
            names: Names::of(&prepared),
            english: Wording::english(),
            listed: entries.iter().map(|entry| (entry.number.as_str(), entry)).collect(),
            devices: devices(&pages),
            prepared,
            record,
            typesetter,
            languages,
            options,
            pages,
        }
    }

    /// How many pages there are, the index not counted.
    #[must_use]
    pub fn count(&self) -> usize {
        self.pages.len()
    }

    /// How many of them are of notices that the survey has no more.
    #[must_use]
    pub fn gone(&self) -> usize {
        self.pages.iter().filter(|page| matches!(page.of, Of::Gone(_))).count()
    }

    /// Whether notices are left out because of errors.
    #[must_use]
    pub const fn is_partial(&self) -> bool {
        !self.prepared.left_out.is_empty()
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
        match page.of {
            Of::Notice(notice, set) => notice::page(self, &self.shown(notice, set, depth)),
            Of::Gone(known) => gone::page(self, known, depth),
        }
    }

    /// Where the index lies.
    #[must_use]
    pub const fn index_path() -> [&'static str; 1] {
        [address::FILE]
    }

    /// The list of all pages, as it is written.
    #[must_use]
    pub fn index(&self) -> String {
        index::page(self)
    }

    fn shown(&self, notice: &'a Notice, set: &'a SetNotice, depth: usize) -> Shown<'a> {
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
