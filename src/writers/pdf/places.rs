//! Where links and bookmarks lead to: destinations by name (ISO 32000-1, 12.3.2.3), sorted as their bytes are.

use std::collections::BTreeMap;
use std::io::{self, Write};

use super::content::push_points;
use super::object;
use super::outline::{Entry, Outline};
use super::sorted::SortedTree;
use super::stream::{Id, Objects};
use crate::length::Length;
use crate::sheets::Anchor;

/// A name that is longer is none: no string of PDF 1.4 may be longer (its appendix C, from memory).
const LONGEST_NAME: usize = 65_535;

/// The places so far.
#[derive(Default)]
pub(super) struct Places {
    /// By name, as its bytes stand in a string.
    named: BTreeMap<Vec<u8>, Place>,
    pub(super) outline: Outline,
}

/// A height on a page, measured from its lower edge.
#[derive(Clone, Copy)]
pub(super) struct Place {
    pub(super) page: Id,
    pub(super) height: Length,
}

impl Place {
    /// A destination that keeps the reader's magnification.
    pub(super) fn spelt(self) -> Vec<u8> {
        let mut spelt = format!("[{}/XYZ 0 ", self.page.reference()).into_bytes();
        push_points(&mut spelt, self.height);
        spelt.extend_from_slice(b" null]");
        spelt
    }
}

impl Places {
    /// Adds the places of a page so high, in order. Of two with the same name the first counts.
    pub(super) fn add(&mut self, page: Id, height: Length, anchors: &[Anchor]) {
        for anchor in anchors {
            let place = Place { page, height: height - anchor.top };
            let name = object::text(&anchor.name);
            if name.len() <= LONGEST_NAME {
                self.named.entry(name).or_insert(place);
            }
            if let Some(bookmark) = &anchor.bookmark {
                self.outline.add(Entry { depth: bookmark.depth, title: bookmark.title.as_str().into(), place });
            }
        }
    }

    /// A name as a string; none if there is no such place.
    pub(super) fn name(&self, name: &str) -> Option<Vec<u8>> {
        let name = object::text(name);
        self.named.contains_key(&name).then(|| object::string(&name))
    }

    /// Writes the names; the answer is the root of their tree, if there are any.
    pub(super) fn write_names<W: Write>(&self, objects: &mut Objects<W>) -> io::Result<Option<Id>> {
        if self.named.is_empty() {
            return Ok(None);
        }
        let mut tree = SortedTree::names();
        for (name, place) in &self.named {
            tree.add(objects, object::string(name), place.spelt())?;
        }
        tree.finish(objects).map(Some)
    }
}
