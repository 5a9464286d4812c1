//! The schedule as pages: parts of bounded size, each a section that is laid by itself, on any thread.

mod cover;
mod isolators;
mod notices;
mod points;
mod rest;
mod silent;

use std::collections::HashMap;
use std::ops::Range;
use std::sync::Arc;

use super::{Schedule, SilentRow};
use crate::drawing::Drawing;
use crate::pages::{self, Block, Section, Style, Target};

/// What the running head of every page says.
pub const HEAD: &str = "Label schedule, not a notice";

/// So many rows are laid together.
const ROWS: usize = 200;

/// So many enclosures with their points, or without a notice, are laid together.
const ENCLOSURES: usize = 60;

/// One part of the document, which starts on a page of its own.
#[derive(Clone, Debug, PartialEq, Eq)]
enum Part {
    /// Title block, revisions, contents, cautions.
    Cover,
    /// Some of the notices.
    Notices(Range<usize>),
    /// Some of the enclosures with their points of isolation.
    Points(Range<usize>),
    /// Some of the lines of the isolator index: which isolator, and which of its lines.
    Isolators(Vec<(usize, Range<usize>)>),
    /// Some of the rows of what is silent.
    Silent(Range<usize>),
    /// Some of the drawings and notes.
    Notes(Range<usize>),
    /// Materials and quantities.
    Materials,
    /// Some of the findings.
    Findings(Range<usize>),
}

impl Part {
    /// What it is called.
    const fn title(&self) -> &'static str {
        match self {
            Self::Cover => "Label schedule",
            Self::Notices(_) => "Notices",
            Self::Points(_) => "Points of isolation",
            Self::Isolators(_) => "Isolator index",
            Self::Silent(_) => "No notice, lifted and unknown",
            Self::Notes(_) => "Drawings and notes",
            Self::Materials => "Materials and quantities",
            Self::Findings(_) => "Findings",
        }
    }

    /// The anchor of all parts of its kind.
    const fn anchor(&self) -> &'static str {
        match self {
            Self::Cover => "cover",
            Self::Notices(_) => "notices",
            Self::Points(_) => "points",
            Self::Isolators(_) => "isolators",
            Self::Silent(_) => "silent",
            Self::Notes(_) => "notes",
            Self::Materials => "materials",
            Self::Findings(_) => "findings",
        }
    }
}

/// The drawing of a notice, by its place among all notices.
type Pictures<'a> = &'a (dyn Fn(usize) -> Option<Arc<Drawing>> + Sync);

/// A schedule in its parts.
pub struct Document<'a> {
    schedule: &'a Schedule<'a>,
    picture: Pictures<'a>,
    parts: Vec<Part>,
    /// The row of an enclosure, and of an isolator, by the place of a notice on it among all notices.
    enclosure_of: HashMap<usize, usize>,
    isolator_of: HashMap<usize, usize>,
    /// The row of an isolator by designation and location, and of an enclosure by designation.
    isolator_at: HashMap<(&'a str, &'a str), usize>,
    enclosure_named: HashMap<&'a str, usize>,
}

impl pages::Document for Document<'_> {
    fn parts(&self) -> usize {
        self.parts.len()
    }

    fn section(&self, part: usize, pages: &dyn Fn(usize) -> usize) -> Section {
        let Some(one) = self.parts.get(part) else { return Section::default() };
        let mut blocks = self.opening(part, one);
        blocks.extend(match one {
            Part::Cover => cover::blocks(self, pages),
            Part::Notices(rows) => notices::blocks(self, rows.clone()),
            Part::Points(rows) => points::blocks(self, rows.clone()),
            Part::Isolators(lines) => isolators::blocks(self, lines),
            Part::Silent(rows) => silent::blocks(self, rows.clone()),
            Part::Notes(rows) => rest::notes(self, rows.clone()),
            Part::Materials => rest::materials(self),
            Part::Findings(rows) => rest::findings(self, rows.clone()),
        });
        Section { head: one.title().to_owned(), blocks }
    }
}

impl<'a> Document<'a> {
    /// A schedule as a document; `picture` gives the drawing of a notice, by its place among all notices.
    #[must_use]
    pub fn new(schedule: &'a Schedule<'a>, picture: Pictures<'a>) -> Self {
        let mut parts = vec![Part::Cover];
        parts.extend(ranges(schedule.notices.len(), ROWS).map(Part::Notices));
        parts.extend(ranges(schedule.enclosures.len(), ENCLOSURES).map(Part::Points));
        parts.extend(lines(schedule).into_iter().map(Part::Isolators));
        parts.extend(silent_ranges(&schedule.silent).into_iter().map(Part::Silent));
        parts.extend(ranges(schedule.notes.len(), ROWS).map(Part::Notes));
        parts.push(Part::Materials);
        parts.extend(ranges(schedule.findings.len(), ROWS).map(Part::Findings));
        let index = |number: usize| schedule.notices.get(number).map(|row| row.index);
        let of_enclosure = (0..).zip(&schedule.enclosures);
        let of_isolator = (0..).zip(&schedule.isolators);
        Self {
            schedule,
            picture,
            parts,
            enclosure_of: of_enclosure
                .clone()
                .flat_map(|(at, row)| row.notices.iter().filter_map(move |&number| Some((index(number)?, at))))
                .collect(),
            isolator_of: of_isolator.clone().filter_map(|(at, row)| Some((index(row.notice?)?, at))).collect(),
            isolator_at: of_isolator
                .map(|(at, row)| ((row.device.device.as_str(), row.device.location.as_str()), at))
                .collect(),
            enclosure_named: of_enclosure.map(|(at, row)| (row.enclosure.designation.as_str(), at)).collect(),
        }
    }

    /// The anchor of a part, with its title where it is the first of its kind.
    fn opening(&self, part: usize, one: &Part) -> Vec<Block> {
        let before = part.checked_sub(1).and_then(|before| self.parts.get(before));
        if *one == Part::Cover || before.is_some_and(|before| before.title() == one.title()) {
            return Vec::new();
        }
        vec![Block::Anchor(Target::bookmarked(one.anchor(), 0, one.title())), Block::text(Style::Title, one.title())]
    }
}

/// So many things in ranges of at most `most`; one empty range for nothing, so that it is said.
fn ranges(count: usize, most: usize) -> impl Iterator<Item = Range<usize>> {
    (0..count.max(1)).step_by(most).map(move |first| first..count.min(first + most))
}

/// The lines of the isolator index in parts; an isolator with many lines stands in several.
fn lines(schedule: &Schedule<'_>) -> Vec<Vec<(usize, Range<usize>)>> {
    let mut parts = vec![Vec::new()];
    let mut room = ROWS;
    for (number, isolator) in schedule.isolators.iter().enumerate() {
        let count = isolator.enclosures.len();
        let mut first = 0;
        loop {
            let last = count.min(first + room);
            if let Some(part) = parts.last_mut() {
                part.push((number, first..last));
            }
            room -= (last - first).min(room);
            if room == 0 {
                parts.push(Vec::new());
                room = ROWS;
            }
            if last == count {
                break;
            }
            first = last;
        }
    }
    parts.retain(|part| !part.is_empty());
    if parts.is_empty() { vec![Vec::new()] } else { parts }
}

/// Rows that are said of one thing stay together.
fn silent_ranges(rows: &[SilentRow<'_>]) -> Vec<Range<usize>> {
    let (mut ranges, mut first, mut end) = (Vec::new(), 0, 0);
    for (number, group) in rows.chunk_by(SilentRow::is_of_the_same).enumerate() {
        end += group.len();
        if (number + 1) % ENCLOSURES == 0 {
            ranges.push(first..end);
            first = end;
        }
    }
    if first < end || ranges.is_empty() {
        ranges.push(first..end);
    }
    ranges
}

/// The anchors of rows.
fn notice_anchor(number: usize) -> String {
    format!("n{number}")
}

fn enclosure_anchor(row: usize) -> String {
    format!("e{row}")
}

fn isolator_anchor(row: usize) -> String {
    format!("i{row}")
}
