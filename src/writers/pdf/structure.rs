//! The parts of a document as tags (ISO 32000-1, 14.7 and 14.8.4): a section's parts go out when the section ends, and only
//! what leads to them stays in memory.

use std::io::{self, Write};

use super::links::Links;
use super::marked::Marks;
use super::section::{MOST_KIDS, Section};
use super::sorted::SortedTree;
use super::stream::{Id, Objects};
use crate::drawing::{Role, Structure};
use crate::length::Length;

/// The tags so far.
pub(super) struct Tags {
    /// The root, and the one part that holds all sections; none until there is a section with parts.
    root: Option<(Id, Id)>,
    /// The highest parts, in groups behind as many as one array holds.
    highest: Vec<Id>,
    groups: Vec<(Id, Vec<Id>)>,
    /// Which part each run of marks belongs to, by page, and behind the pages each link.
    parents: SortedTree,
    next_key: usize,
}

/// A page of a section, as it was written.
pub(super) struct Page<'a> {
    pub(super) id: Id,
    /// Its height.
    pub(super) height: Length,
    pub(super) marks: &'a Marks,
    /// Its key among the parents.
    pub(super) key: usize,
    /// Where its links are listed, if it has any.
    pub(super) links: Option<Id>,
}

impl Tags {
    /// No tags yet.
    pub(super) const fn new() -> Self {
        Self { root: None, highest: Vec::new(), groups: Vec::new(), parents: SortedTree::numbers(), next_key: 0 }
    }

    /// The next key among the parents.
    pub(super) const fn next_key(&mut self) -> usize {
        self.next_key += 1;
        self.next_key - 1
    }

    /// Says which part a link belongs to; the answer is its key, behind those of all pages.
    pub(super) fn add_link<W: Write>(&mut self, objects: &mut Objects<W>, part: Id) -> io::Result<usize> {
        let key = self.next_key();
        self.parents.add(objects, key.to_string(), part.reference())?;
        Ok(key)
    }

    /// Writes the parts of a section, but for its links, whose targets may be still to come.
    ///
    /// # Errors
    /// The error of the writer below; `InvalidData` if a page speaks of a part that the structure has not.
    pub(super) fn add_section<W: Write>(
        &mut self,
        objects: &mut Objects<W>,
        structure: &Structure,
        pages: &[Page<'_>],
        links: &mut Links,
    ) -> io::Result<()> {
        let mut section = Section::new(objects, &structure.elements, pages)?;
        for (number, element) in structure.elements.iter().enumerate() {
            let Some(id) = section.id(number) else { continue };
            if element.parent.is_none() {
                let parent = self.place(objects, id);
                section.belongs(number, parent);
            }
            section.write(objects, number, links)?;
        }
        for page in pages {
            let parts = page.marks.parts.iter().filter_map(|part| Some(section.id(*part)?.reference()));
            let parts = parts.collect::<Vec<_>>().join(" ");
            let list = objects.reserve();
            objects.object(list, format!("[{parts}]").as_bytes())?;
            self.parents.add(objects, page.key.to_string(), list.reference())?;
            section.hand_on(page, links)?;
        }
        Ok(())
    }

    /// Writes the root; the answer is its number, if there are tags.
    pub(super) fn finish<W: Write>(self, objects: &mut Objects<W>) -> io::Result<Option<Id>> {
        let Some((root, document)) = self.root else { return Ok(None) };
        let mut kids = references(&self.highest);
        for (id, parts) in &self.groups {
            let (document, parts) = (document.reference(), references(parts));
            objects.object(*id, format!("<</S/Div/P {document}/K[{parts}]>>").as_bytes())?;
            kids.push_str(&format!(" {}", id.reference()));
        }
        objects.object(document, format!("<</S/Document/P {}/K[{kids}]>>", root.reference()).as_bytes())?;
        let parents = self.parents.finish(objects)?.reference();
        let (kid, next) = (document.reference(), self.next_key);
        let body = format!("<</Type/StructTreeRoot/K {kid}/ParentTree {parents}/ParentTreeNextKey {next}>>");
        objects.object(root, body.as_bytes())?;
        Ok(Some(root))
    }

    /// Gives a highest part its place; the answer is what it belongs to.
    fn place<W: Write>(&mut self, objects: &mut Objects<W>, id: Id) -> Id {
        let (_, document) = *self.root.get_or_insert_with(|| (objects.reserve(), objects.reserve()));
        if self.highest.len() < MOST_KIDS / 2 {
            self.highest.push(id);
            return document;
        }
        match self.groups.last_mut().filter(|(_, parts)| parts.len() < MOST_KIDS) {
            Some((group, parts)) => {
                parts.push(id);
                *group
            }
            None => {
                let group = objects.reserve();
                self.groups.push((group, vec![id]));
                group
            }
        }
    }
}

/// Numbers of objects as they stand in an array.
pub(super) fn references(ids: &[Id]) -> String {
    ids.iter().map(|id| id.reference()).collect::<Vec<_>>().join(" ")
}

/// The standard type of a part (ISO 32000-1, 14.8.4).
pub(super) const fn kind(role: Role) -> &'static str {
    match role {
        Role::Section => "Sect",
        Role::Heading(0 | 1) => "H1",
        Role::Heading(2) => "H2",
        Role::Heading(3) => "H3",
        Role::Heading(4) => "H4",
        Role::Heading(5) => "H5",
        Role::Heading(_) => "H6",
        Role::Paragraph => "P",
        Role::List => "L",
        Role::ListItem => "LI",
        Role::ListMark => "Lbl",
        Role::ListText => "LBody",
        Role::Table => "Table",
        Role::Row => "TR",
        Role::ColumnHead | Role::RowHead => "TH",
        Role::Cell => "TD",
        Role::Figure => "Figure",
        Role::Link => "Link",
    }
}
