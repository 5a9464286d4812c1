//! The changes as pages: what changed on site, each altered notice with its old and new words, the others in tables, and
//! room to sign.

mod altered;
mod cover;
mod rest;

use std::ops::Range;
use std::sync::Arc;

use super::{Change, Changes, Fate, SiteChange, on_site};
use crate::drawing::Drawing;
use crate::pages::texts::mm;
use crate::pages::{self, Block, Field, Form, Identity, Revision, Section, Style, Target};

/// What the running head of every page says.
pub const HEAD: &str = "Changes, not a notice";

/// So many altered notices are laid together.
const ALTERED: usize = 20;

/// So many rows are laid together.
const ROWS: usize = 200;

/// What is held against what.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Against {
    /// An older state of the survey, or what a record says was printed.
    Older,
    /// What a record says is fixed on site.
    Fixed,
}

impl Against {
    /// What a fate is called here.
    #[must_use]
    pub const fn word(self, fate: Fate) -> &'static str {
        match (fate, self) {
            (Fate::New, Self::Fixed) => "not fixed",
            (Fate::Altered, Self::Fixed) => "no longer true",
            (Fate::Moved, Self::Fixed) => "fixed elsewhere",
            (Fate::Withdrawn, Self::Fixed) => "not needed",
            (Fate::FalseCopy, _) => "not to be fixed",
            (fate, _) => fate.name(),
        }
    }

    /// What the others are.
    #[must_use]
    pub const fn unchanged(self) -> &'static str {
        match self {
            Self::Older => "unchanged",
            Self::Fixed => "fixed and true",
        }
    }
}

/// What stands on the first page.
#[derive(Clone, Copy, Debug)]
pub struct Titles<'a> {
    /// The title block of the new state.
    pub identity: Identity<'a>,
    /// What is held against what.
    pub against: Against,
    /// The old file, as the user named it.
    pub old: &'a str,
    /// The new file, as the user named it.
    pub new: &'a str,
    /// The revision table; may be empty.
    pub revisions: &'a [Revision<'a>],
}

/// One part of the document.
#[derive(Clone, Debug, PartialEq, Eq)]
enum Part {
    /// Title block, counts, contents, cautions.
    Cover,
    /// Some of what changed on site.
    Site(Range<usize>),
    /// Some of the altered notices, by their place among the altered ones.
    Altered(Range<usize>),
    /// Some of the notices of another fate.
    Others(Fate, Range<usize>),
    /// Room to sign.
    Approval,
}

/// The drawing of a new notice by its number.
pub type Pictures<'a> = &'a (dyn Fn(&str) -> Option<Arc<Drawing>> + Sync);

/// Changes as a document.
pub struct Document<'a> {
    titles: Titles<'a>,
    changes: &'a Changes<'a>,
    site: Vec<SiteChange<'a>>,
    /// Those that are shown with old and new words.
    altered: Vec<&'a Change<'a>>,
    /// The others, by fate.
    others: Vec<(Fate, Vec<&'a Change<'a>>)>,
    picture: Pictures<'a>,
    /// The parts by sections: each section starts on a page of its own, and small parts share one.
    sections: Vec<Vec<Part>>,
}

impl<'a> Document<'a> {
    /// Changes as a document; `picture` gives the drawing of a new notice where there is one.
    #[must_use]
    pub fn new(titles: Titles<'a>, changes: &'a Changes<'a>, picture: Pictures<'a>) -> Self {
        let is_altered =
            |change: &Change<'_>| change.old.is_some() && change.new.is_some() && change.fate != Fate::Moved;
        let altered: Vec<_> = changes.changed.iter().filter(|change| is_altered(change)).collect();
        let of = |fate: Fate| changes.changed.iter().filter(move |one| one.fate == fate && !is_altered(one)).collect();
        let order =
            [Fate::Altered, Fate::NotJudged, Fate::New, Fate::NotFit, Fate::Moved, Fate::FalseCopy, Fate::Withdrawn];
        let others: Vec<(Fate, Vec<_>)> = order.map(|fate| (fate, of(fate))).into();
        let site = on_site(&changes.changed);
        let mut parts = vec![Part::Cover];
        parts.extend(ranges(site.len(), ROWS).map(Part::Site));
        parts.extend(ranges(altered.len(), ALTERED).map(Part::Altered));
        for (fate, list) in &others {
            parts.extend(ranges(list.len(), ROWS).map(|rows| Part::Others(*fate, rows)));
        }
        parts.push(Part::Approval);
        Self { titles, changes, site, altered, others, picture, sections: sections(parts) }
    }

    /// Every part in order.
    fn parts(&self) -> impl Iterator<Item = &Part> {
        self.sections.iter().flatten()
    }

    fn title(&self, part: &Part) -> &'static str {
        match part {
            Part::Cover => match self.titles.against {
                Against::Older => "Changes of notices",
                Against::Fixed => "Fixed notices held against the survey",
            },
            Part::Site(_) => "What changed on site",
            Part::Altered(_) => "Old and new words",
            Part::Others(fate, _) => rest::title(*fate, self.titles.against),
            Part::Approval => "Approval",
        }
    }

    /// The anchor of a part with its title, where it is the first of its kind: in full at the head of a section.
    fn opening(&self, part: &Part, is_first: bool) -> Vec<Block> {
        let title = self.title(part);
        let goes_on = match part {
            Part::Site(rows) | Part::Altered(rows) | Part::Others(_, rows) => rows.start > 0,
            Part::Cover | Part::Approval => false,
        };
        if goes_on {
            return Vec::new();
        }
        let target = Block::Anchor(Target::bookmarked(anchor(part), 0, title));
        match (part, is_first) {
            (Part::Cover, _) => vec![target],
            (_, true) => vec![target, Block::text(Style::Title, title)],
            (_, false) => vec![target, Block::heading(title)],
        }
    }

    fn blocks(&self, part: &Part) -> Vec<Block> {
        match part {
            Part::Cover => cover::blocks(self),
            Part::Site(rows) => rest::site(self.site.get(rows.clone()).unwrap_or_default()),
            Part::Altered(rows) => {
                let altered = self.altered.get(rows.clone()).unwrap_or_default();
                let numbered = rows.clone().zip(altered);
                numbered.flat_map(|(at, change)| altered::blocks(change, at, self.picture)).collect()
            }
            Part::Others(fate, rows) => {
                let list = self.others.iter().find(|(other, _)| other == fate).map(|(_, list)| list.as_slice());
                rest::table(list.and_then(|list| list.get(rows.clone())).unwrap_or_default())
            }
            Part::Approval => vec![approval()],
        }
    }
}

impl pages::Document for Document<'_> {
    fn parts(&self) -> usize {
        self.sections.len()
    }

    fn section(&self, number: usize, _: &dyn Fn(usize) -> usize) -> Section {
        let Some(parts) = self.sections.get(number) else { return Section::default() };
        let one = |(place, part): (usize, &Part)| [self.opening(part, place == 0), self.blocks(part)].concat();
        let blocks = parts.iter().enumerate().flat_map(one).collect();
        let head = parts.first().map_or("", |part| self.title(part)).to_owned();
        Section { head, blocks }
    }
}

/// Puts parts together as long as they are small: large ones are laid by themselves, on any thread.
fn sections(parts: Vec<Part>) -> Vec<Vec<Part>> {
    let weight = |part: &Part| match part {
        Part::Cover => ROWS,
        Part::Site(rows) | Part::Others(_, rows) => rows.len(),
        Part::Altered(rows) => rows.len() * ROWS / ALTERED,
        Part::Approval => 0,
    };
    let (mut sections, mut filled): (Vec<Vec<Part>>, usize) = (Vec::new(), ROWS);
    for part in parts {
        let own = weight(&part);
        match sections.last_mut() {
            Some(section) if !section.contains(&Part::Cover) && filled + own <= ROWS => section.push(part),
            // Room to sign needs no page of its own.
            Some(section) if part == Part::Approval && !section.contains(&Part::Cover) => section.push(part),
            _ => {
                sections.push(vec![part]);
                filled = 0;
            }
        }
        filled += own;
    }
    sections
}

const fn anchor(part: &Part) -> &'static str {
    match part {
        Part::Cover => "cover",
        Part::Site(_) => "site",
        Part::Altered(_) => "altered",
        Part::Others(fate, _) => fate.name(),
        Part::Approval => "approval",
    }
}

/// So many things in ranges of at most `most`; none for nothing.
fn ranges(count: usize, most: usize) -> impl Iterator<Item = Range<usize>> {
    (0..count).step_by(most).map(move |first| first..count.min(first + most))
}

fn approval() -> Block {
    let field = |label: &str, share| Field { label: label.to_owned(), share };
    Block::Form(Form {
        title: "Approval of the changes".to_owned(),
        choices: [
            "the new notices are to be printed and fixed, the false ones covered or taken down first",
            "the same, with the changes below",
            "not to be printed",
        ]
        .map(str::to_owned)
        .into(),
        remarks: "Changes, or why not".to_owned(),
        room: mm(24),
        fields: vec![field("name", 4), field("signature", 4), field("date", 2)],
    })
}
