//! Links within a document (ISO 32000-1, 12.5.6.5): kept until the end, when it is known which of their targets there are.
//! Words that would lead nowhere become plain words; no dead link is written.

use std::collections::BTreeMap;
use std::io::{self, Write};
use std::sync::Arc;

use super::places::Places;
use super::section::part;
use super::stream::{Id, Objects};
use super::structure::{Tags, references};
use super::tree::page_box;
use crate::length::{Length, Rect};
use crate::sheets::Link;

/// The links of the pages so far.
#[derive(Default)]
pub(super) struct Links {
    words: Vec<Words>,
    areas: Vec<Area>,
    pages: Vec<Listed>,
    /// The words of the section under way by the number of their part.
    open: BTreeMap<usize, usize>,
}

/// Words that are a link if they lead somewhere: a part that is not written yet.
pub(super) struct Words {
    pub(super) id: Id,
    /// Its entries beside its kind and what it holds.
    pub(super) entries: Vec<u8>,
    /// What it holds.
    pub(super) kids: String,
}

/// Where words of a link stand, one for each line of them.
struct Area {
    words: usize,
    page: usize,
    at: Rect,
    height: Length,
    to: Arc<str>,
}

/// A page and the array of its links.
struct Listed {
    page: Id,
    list: Id,
    links: Vec<Id>,
}

impl Links {
    /// Begins a section, whose parts have numbers of their own.
    pub(super) fn begin_section(&mut self) {
        self.open.clear();
    }

    /// Keeps the words of a part.
    pub(super) fn add_words(&mut self, number: usize, words: Words) {
        self.open.insert(number, self.words.len());
        self.words.push(words);
    }

    /// Begins a page, whose links are listed in an object of its own.
    pub(super) fn add_page(&mut self, page: Id, list: Id) {
        self.pages.push(Listed { page, list, links: Vec::new() });
    }

    /// Keeps a link of the page, which is so high; false if its part has no words on any page.
    pub(super) fn add(&mut self, link: &Link, height: Length) -> bool {
        let Some(words) = self.open.get(&link.element) else { return false };
        let page = self.pages.len().saturating_sub(1);
        self.areas.push(Area { words: *words, page, at: link.at, height, to: Arc::clone(&link.to) });
        true
    }

    /// Writes links and words.
    pub(super) fn finish<W: Write>(
        mut self,
        objects: &mut Objects<W>,
        places: &Places,
        tags: &mut Tags,
    ) -> io::Result<()> {
        let mut leads = vec![false; self.words.len()];
        for area in &self.areas {
            let Some(name) = places.name(&area.to) else { continue };
            let (Some(words), Some(listed)) = (self.words.get_mut(area.words), self.pages.get_mut(area.page)) else {
                continue;
            };
            let id = objects.reserve();
            let key = tags.add_link(objects, words.id)?;
            // 4 is "print", which the archive's standard wants of every annotation (ISO 19005-1, 6.5.3).
            let mut body = format!("<</Type/Annot/Subtype/Link/Rect{}", page_box(area.at, area.height)).into_bytes();
            let page = listed.page.reference();
            body.extend_from_slice(format!("/Border[0 0 0]/F 4/P {page}/StructParent {key}/Dest ").as_bytes());
            body.extend_from_slice(&name);
            body.extend_from_slice(b">>");
            objects.object(id, &body)?;
            let kid = format!(" <</Type/OBJR/Pg {page}/Obj {}>>", id.reference());
            words.kids.push_str(&kid);
            listed.links.push(id);
            if let Some(leads) = leads.get_mut(area.words) {
                *leads = true;
            }
        }
        for (words, leads) in self.words.iter().zip(leads) {
            let kind = if leads { "Link" } else { "Span" };
            objects.object(words.id, &part(kind, &words.entries, &words.kids))?;
        }
        for listed in &self.pages {
            objects.object(listed.list, format!("[{}]", references(&listed.links)).as_bytes())?;
        }
        Ok(())
    }
}
