//! The parts of one section into tags: what each holds, in the order in which it is read.

use std::io::{self, Write};

use super::links::{Links, Words};
use super::object;
use super::stream::{Id, Objects};
use super::structure::{Page, kind, references};
use super::tree::page_box;
use crate::drawing::{Element, Role};
use crate::length::{Length, Rect};

/// An array holds no more parts: PDF 1.4, on which the archive's standard stands, ends at 8191 (its appendix C, from
/// memory). Where there are more, such as the rows of a long table, they are grouped.
pub(super) const MOST_KIDS: usize = 4_096;

/// A section while its parts are written. Parts that hold nothing are left out, but for cells: without an empty one the
/// others would move to the left.
pub(super) struct Section<'a> {
    elements: &'a [Element],
    pages: &'a [Page<'a>],
    /// Part, page and run of all marks, in this order.
    runs: Vec<(usize, usize, usize)>,
    /// The object of each part that is written.
    ids: Vec<Option<Id>>,
    /// What each part belongs to, known when that is written.
    parents: Vec<Option<Id>>,
    /// Page and run where each part begins.
    begins: Vec<Option<(usize, usize)>>,
    /// First kid of each part, and the kid after each.
    first: Vec<Option<usize>>,
    next: Vec<Option<usize>>,
}

/// What a part holds: a run of marks on a page, or another part.
#[derive(Clone, Copy)]
enum Kid {
    Run(Id, usize),
    Part(Id),
}

impl<'a> Section<'a> {
    /// The parts with what stands in them.
    ///
    /// # Errors
    /// `InvalidData` if a page speaks of a part that there is not, or a part belongs to one behind it.
    pub(super) fn new<W: Write>(
        objects: &mut Objects<W>,
        elements: &'a [Element],
        pages: &'a [Page<'a>],
    ) -> io::Result<Self> {
        let count = elements.len();
        let on_page = |(page, one): (usize, &'a Page<'a>)| {
            one.marks.parts.iter().enumerate().map(move |(run, part)| (*part, page, run))
        };
        let mut runs: Vec<_> = pages.iter().enumerate().flat_map(on_page).collect();
        runs.sort_unstable();
        if let Some((part, ..)) = runs.last().filter(|(part, ..)| *part >= count) {
            return Err(no_such_part(*part));
        }
        let none = vec![None; count];
        let (first, next, begins) = (none.clone(), none, vec![None; count]);
        let mut section =
            Self { elements, pages, runs, ids: Vec::new(), parents: vec![None; count], begins, first, next };
        let holds = section.join()?;
        section.ids = holds.into_iter().map(|holds| holds.then(|| objects.reserve())).collect();
        Ok(section)
    }

    /// Joins parts to what they belong to, from the last to the first; the answer is which of them are written.
    fn join(&mut self) -> io::Result<Vec<bool>> {
        let is_cell = |role: Role| matches!(role, Role::Cell | Role::ColumnHead | Role::RowHead);
        let mut holds: Vec<bool> = self.elements.iter().map(|element| is_cell(element.role)).collect();
        for (part, page, run) in self.runs.iter().rev() {
            set(&mut self.begins, *part, Some((*page, *run)));
            set(&mut holds, *part, true);
        }
        for (number, element) in self.elements.iter().enumerate().rev() {
            let Some(parent) = element.parent.filter(|_| holds.get(number) == Some(&true)) else { continue };
            if parent >= number {
                return Err(no_such_part(parent));
            }
            set(&mut holds, parent, true);
            set(&mut self.next, number, get(&self.first, parent));
            set(&mut self.first, parent, Some(number));
            let begins = [get(&self.begins, parent), get(&self.begins, number)].into_iter().flatten().min();
            set(&mut self.begins, parent, begins);
        }
        Ok(holds)
    }

    /// The object of a part; none for one that holds nothing.
    pub(super) fn id(&self, part: usize) -> Option<Id> {
        get(&self.ids, part)
    }

    /// Says what a part belongs to.
    pub(super) fn belongs(&mut self, part: usize, to: Id) {
        set(&mut self.parents, part, Some(to));
    }

    /// Writes a part, after the one that it belongs to; links and their words are handed on.
    pub(super) fn write<W: Write>(
        &mut self,
        objects: &mut Objects<W>,
        number: usize,
        links: &mut Links,
    ) -> io::Result<()> {
        let (Some(element), Some(id)) = (self.elements.get(number), self.id(number)) else { return Ok(()) };
        let kids = self.kids(objects, number, id)?;
        let page = kids.iter().find_map(|kid| match kid {
            Kid::Run(page, _) => Some(*page),
            Kid::Part(_) => None,
        });
        let parent = get(&self.parents, number).map(Id::reference).unwrap_or_default();
        let mut entries = format!("/P {parent}{}", self.attributes(number, element)).into_bytes();
        entries.extend(page.map(|page| format!("/Pg {}", page.reference())).unwrap_or_default().into_bytes());
        if !element.alternative.is_empty() {
            entries.extend_from_slice(b"/Alt ");
            object::push_text(&mut entries, &element.alternative);
        }
        let kids = spelt(&kids, page);
        if element.role == Role::Link {
            links.add_words(number, Words { id, entries, kids });
            return Ok(());
        }
        objects.object(id, &part(kind(element.role), &entries, &kids))
    }

    /// Hands on the links of a page, whose words were handed on before.
    ///
    /// # Errors
    /// `InvalidData` for a link whose part is no link.
    pub(super) fn hand_on(&self, page: &Page<'_>, links: &mut Links) -> io::Result<()> {
        let Some(list) = page.links else { return Ok(()) };
        links.add_page(page.id, list);
        for link in &page.marks.links {
            let is_link = self.elements.get(link.element).is_some_and(|element| element.role == Role::Link);
            if !is_link || !links.add(link, page.height) {
                return Err(no_such_part(link.element));
            }
        }
        Ok(())
    }

    /// What a part holds, in the order of reading: its own marks stand before the first part that begins after them.
    fn kids<W: Write>(&mut self, objects: &mut Objects<W>, number: usize, id: Id) -> io::Result<Vec<Kid>> {
        let parts: Vec<usize> =
            std::iter::successors(get(&self.first, number), |part| get(&self.next, *part)).collect();
        let from = self.runs.partition_point(|(part, ..)| *part < number);
        let own = self.runs.iter().skip(from).take_while(|(part, ..)| *part == number);
        let mut own = own.filter_map(|(_, page, run)| Some(((*page, *run), self.pages.get(*page)?.id))).peekable();
        let mut kids = Vec::new();
        let mut groups = Vec::new();
        for several in parts.chunks(if parts.len() > MOST_KIDS { MOST_KIDS } else { 1 }) {
            let begins = several.first().and_then(|part| get(&self.begins, *part));
            while let Some(((_, run), page)) = own.next_if(|(at, _)| begins.is_some_and(|begins| *at < begins)) {
                kids.push(Kid::Run(page, run));
            }
            let of_part = several.first().and_then(|part| self.id(*part));
            let (holder, kid) = if parts.len() > MOST_KIDS {
                let group = objects.reserve();
                groups.push((group, several.to_vec()));
                (group, group)
            } else {
                (id, of_part.unwrap_or(id))
            };
            several.iter().for_each(|part| set(&mut self.parents, *part, Some(holder)));
            kids.push(Kid::Part(kid));
        }
        kids.extend(own.map(|((_, run), page)| Kid::Run(page, run)));
        for (group, several) in groups {
            let kind =
                if self.elements.get(number).is_some_and(|one| one.role == Role::Table) { "TBody" } else { "Div" };
            let ids: Vec<Id> = several.iter().filter_map(|part| self.id(*part)).collect();
            objects.object(group, &part(kind, format!("/P {}", id.reference()).as_bytes(), &references(&ids)))?;
        }
        Ok(kids)
    }

    /// What a head is the head of, and where a picture lies (ISO 32000-1, 14.8.5.4 and 14.8.5.7).
    fn attributes(&self, number: usize, element: &Element) -> String {
        match element.role {
            Role::ColumnHead => "/A<</O/Table/Scope/Column>>".to_owned(),
            Role::RowHead => "/A<</O/Table/Scope/Row>>".to_owned(),
            Role::Figure => {
                let room = self.room(number).map(|(room, height)| page_box(room, height));
                room.map(|room| format!("/A<</O/Layout/Placement/Block/BBox{room}>>")).unwrap_or_default()
            }
            Role::Section
            | Role::Heading(_)
            | Role::Paragraph
            | Role::List
            | Role::ListItem
            | Role::ListMark
            | Role::ListText
            | Role::Table
            | Role::Row
            | Role::Cell
            | Role::Link => String::new(),
        }
    }

    /// The room of a picture, and the height of the page where it begins.
    fn room(&self, number: usize) -> Option<(Rect, Length)> {
        let (page, _) = get(&self.begins, number)?;
        let page = self.pages.get(page)?;
        let room = page.marks.figures.iter().find(|(part, _)| *part == number).map(|(_, room)| *room);
        Some((room?, page.height))
    }
}

/// A part as it is written.
pub(super) fn part(kind: &str, entries: &[u8], kids: &str) -> Vec<u8> {
    let mut body = format!("<</S/{kind}").into_bytes();
    body.extend_from_slice(entries);
    if !kids.is_empty() {
        body.extend_from_slice(format!("/K[{kids}]").as_bytes());
    }
    body.extend_from_slice(b">>");
    body
}

/// Kids as they stand in an array; runs on the page given need not name it.
fn spelt(kids: &[Kid], page: Option<Id>) -> String {
    let spelt = kids.iter().map(|kid| match kid {
        Kid::Part(id) => id.reference(),
        Kid::Run(own, run) if Some(*own) == page => run.to_string(),
        Kid::Run(own, run) => format!("<</Type/MCR/Pg {}/MCID {run}>>", own.reference()),
    });
    spelt.collect::<Vec<_>>().join(" ")
}

fn get<T: Copy>(list: &[Option<T>], number: usize) -> Option<T> {
    list.get(number).copied().flatten()
}

fn set<T>(list: &mut [T], number: usize, value: T) {
    if let Some(slot) = list.get_mut(number) {
        *slot = value;
    }
}

fn no_such_part(part: usize) -> io::Error {
    io::Error::new(io::ErrorKind::InvalidData, format!("a page speaks of part {part}, which its section has not"))
}
