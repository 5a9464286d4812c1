//! The fixing list: every notice once, by area in walking order, with its picture, where and how it is fixed, what is tried
//! on site before it is, and room for what is found otherwise.
//!
//! Nothing is fixed before each isolator that the notice names was operated and the enclosure proved dead as it says: a
//! survey is tried by that, and not by the list.

mod contents;
mod printed;
mod row;
mod tried;

use std::sync::Arc;

use crate::drawing::Drawing;
use crate::length::{Length, Size};
use crate::notice::{Subject, Told, before_opening, told};
use crate::pages::texts::{counted, mm, sentence};
use crate::pages::{self, Block, Column, Section, Style, Table, Target, Text};
use crate::prepared::{Names, Prepared};
use crate::rules::Decision;
use crate::wording::Wording;

pub use printed::{Printed, Printings};

/// What every page says at its top.
pub const HEAD: &str = "Fixing list: prove first, then fix";

/// Notices of one section, at most: a larger area is continued in the next, for only sections are ever in memory.
const MOST: usize = 48;

/// Small areas follow each other on some pages: so many notices at most, so that few pages are left nearly
/// empty.
const TOGETHER: usize = 16;

/// The room for a picture: a notice is known again in it, though not read.
const PICTURE: Size = Size::new(Length::um(33_000), Length::um(22_000));

/// The list of a survey's notices: first where each area is found, then the areas.
pub struct Document<'a> {
    prepared: Prepared<'a>,
    names: Names<'a>,
    wording: Wording,
    /// What a record tells of each notice's printing; `None` where none is kept.
    printings: Option<Printings<'a>>,
    areas: Vec<Area<'a>>,
    /// Runs of areas that make a section each.
    sections: Vec<std::ops::Range<usize>>,
}

/// Notices of one area that follow each other, or a part of them.
struct Area<'a> {
    name: &'a str,
    notices: &'a [usize],
    /// How many notices the whole area has, and whether this is not its beginning.
    of: usize,
    goes_on: bool,
}

impl pages::Document for Document<'_> {
    fn parts(&self) -> usize {
        self.sections.len() + 1
    }

    fn section(&self, part: usize, _pages: &dyn Fn(usize) -> usize) -> Section {
        let Some(before) = part.checked_sub(1) else { return contents::section(self) };
        let range = self.sections.get(before).cloned().unwrap_or_default();
        let areas = self.areas.get(range).unwrap_or_default();
        let head = match areas {
            [] => String::new(),
            [only] => only.in_words(),
            [first, .., last] => format!("{} to {}", first.in_words(), last.in_words()),
        };
        Section { head, blocks: areas.iter().flat_map(|area| self.area(area)).collect() }
    }
}

impl<'a> Document<'a> {
    /// The list of what is prepared; `printings` are those of the record, where one is kept.
    #[must_use]
    pub fn new(prepared: Prepared<'a>, printings: Option<Printings<'a>>) -> Self {
        let area_of = |index: &usize| prepared.notice(*index).map_or("", |notice| notice.area.as_str());
        let mut areas: Vec<Area<'a>> = Vec::new();
        for notices in prepared.chosen.chunk_by(|one, other| area_of(one) == area_of(other)) {
            let name = notices.first().map_or("", area_of);
            for (number, part) in notices.chunks(MOST).enumerate() {
                areas.push(Area { name, notices: part, of: notices.len(), goes_on: number > 0 });
            }
        }
        let sections = sections(&areas);
        Self { prepared, names: Names::of(&prepared), wording: Wording::english(), printings, areas, sections }
    }

    fn area(&self, area: &Area<'_>) -> Vec<Block> {
        let count = counted(area.of, "notice");
        let title = if area.goes_on {
            format!("{}, continued ({count})", area.in_words())
        } else {
            format!("{} ({count})", area.in_words())
        };
        let mut blocks = Vec::new();
        if !area.goes_on {
            blocks.push(Block::Anchor(Target::bookmarked(area.anchor(), 0, title.clone())));
        }
        blocks.push(Block::heading(title));
        let rows = area.notices.iter().filter_map(|&index| self.row(index)).collect();
        let columns = vec![
            Column::Share(8),
            Column::Fixed(PICTURE.width),
            Column::Share(8),
            Column::Share(10),
            Column::Fixed(mm(33)),
            Column::Fixed(mm(46)),
        ];
        let head =
            ["notice, and what it is on", "", "how it is fixed", "tried on site", "done", "as found, if otherwise"];
        let head = head.map(str::to_owned).into();
        blocks.push(Block::Table(Table { columns, head, rows, ruled: true }));
        blocks
    }

    fn row(&self, index: usize) -> Option<Vec<pages::Cell>> {
        let (notice, set) = (self.prepared.notice(index)?, self.prepared.set(index)?);
        let decided = match notice.subject {
            Subject::Enclosure => self.prepared.decided(self.names.enclosure(&notice.designation)?),
            Subject::Device | Subject::Standing => None,
        };
        let told: Option<(&Decision, Told)> =
            decided.map(|(decision, enclosure)| (decision, told(decision, enclosure, &self.wording)));
        let device = match notice.subject {
            Subject::Device => self.names.device(&notice.designation, &notice.area),
            Subject::Enclosure | Subject::Standing => None,
        };
        let device = device.map(|decision| (decision, before_opening(decision, &self.wording)));
        let nothing = Printed::default();
        let printed = self.printings.as_ref().map(|all| all.get(notice.number.as_str()).unwrap_or(&nothing));
        Some(row::Row { prepared: &self.prepared, index, notice, set, told, device, printed }.cells())
    }
}

impl Area<'_> {
    fn in_words(&self) -> String {
        if self.name.is_empty() { "Area not said".to_owned() } else { sentence(self.name) }
    }

    fn anchor(&self) -> String {
        format!("area {}", self.name)
    }
}

/// Areas that follow each other, together on some pages.
fn sections(areas: &[Area<'_>]) -> Vec<std::ops::Range<usize>> {
    let (mut sections, mut start, mut notices) = (Vec::new(), 0, 0);
    for (place, area) in areas.iter().enumerate() {
        if notices > 0 && notices + area.notices.len() > TOGETHER {
            sections.push(start..place);
            (start, notices) = (place, 0);
        }
        notices += area.notices.len();
    }
    if notices > 0 {
        sections.push(start..areas.len());
    }
    sections
}

/// A picture no larger than its room.
fn small(drawing: &Arc<Drawing>) -> Arc<Drawing> {
    let share = |room: Length, own: Length| f64::from(room.to_um() - 1) / f64::from(own.to_um().max(1));
    let ratio = share(PICTURE.width, drawing.size.width).min(share(PICTURE.height, drawing.size.height));
    if ratio >= 1.0 { Arc::clone(drawing) } else { Arc::new(drawing.scaled(ratio)) }
}

/// Words that must be seen first.
fn strong_text(words: impl Into<String>) -> pages::Inside {
    Text::new(Style::Strong, words).into()
}
