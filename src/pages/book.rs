//! Documents of many sections: laid once to count their pages, once more to write them, so that only some are ever in
//! memory.

use std::collections::HashMap;
use std::sync::Arc;

use rayon::prelude::*;

use super::{Section, Stationery, enlarge};
use crate::drawing::Structure;
use crate::length::Size;
use crate::sheets::Page;

/// A document that knows its parts in order; each becomes one section by itself, on any thread.
pub trait Document: Sync {
    /// How many parts there are.
    fn parts(&self) -> usize;

    /// One part as a section; empty for a part that there is not. `pages` gives the first page of a part, from 1, as far
    /// as that is known: only what is written changes with it, never how many pages a part has.
    fn section(&self, part: usize, pages: &dyn Fn(usize) -> usize) -> Section;

    /// Whether each part counts its own pages, because it is handed out by itself.
    fn counts_each_part(&self) -> bool {
        false
    }
}

/// A document on its paper, with the first page of each part.
pub struct Book<'a, D> {
    document: D,
    stationery: Stationery<'a>,
    /// The first page of each part, from 1, and behind the last part the one that would follow.
    first_pages: Vec<usize>,
    /// The page of each anchor.
    pages_of: HashMap<Arc<str>, usize>,
    /// How large each page is made, if not as it was laid.
    enlarged: Option<Size>,
}

impl<'a, D: Document> Book<'a, D> {
    /// Lays every part to count its pages, unless each counts its own and need not know of the others.
    pub fn new(document: D, stationery: Stationery<'a>) -> Self {
        let alone = document.counts_each_part();
        let leaves = |part: usize| -> Vec<Vec<Arc<str>>> {
            if alone {
                return vec![Vec::new()];
            }
            let laid = stationery.lay(&document.section(part, &|_| 0));
            laid.leaves.iter().map(|leaf| leaf.anchors().cloned().collect()).collect()
        };
        let parts: Vec<_> = (0..document.parts()).into_par_iter().map(leaves).collect();
        let (mut first_pages, mut next, mut pages_of) = (vec![1], 1, HashMap::new());
        for leaves in parts {
            for (anchors, page) in leaves.into_iter().zip(next..) {
                // Of two anchors of one name the first counts, as where links lead.
                anchors.into_iter().for_each(|name| {
                    pages_of.entry(name).or_insert(page);
                });
                next += 1;
            }
            first_pages.push(next);
        }
        Self { document, stationery, first_pages, pages_of, enlarged: None }
    }

    /// The same pages made larger, letters and all, for paper of the same proportions.
    #[must_use]
    pub fn enlarged(self, paper: Size) -> Self {
        Self { enlarged: Some(paper), ..self }
    }

    /// How many parts there are.
    pub fn parts(&self) -> usize {
        self.document.parts()
    }

    /// How many pages there are; of parts that count their own, the least.
    pub fn count(&self) -> usize {
        self.first_page(self.parts()).saturating_sub(1)
    }

    /// The pages of one part, with what they are to a reader.
    pub fn pages(&self, part: usize) -> (Vec<Page>, Structure) {
        let section = self.document.section(part, &|part| self.first_page(part));
        let laid = self.stationery.lay_knowing(&section, &|anchor| self.pages_of.get(anchor).copied());
        let alone = self.document.counts_each_part();
        let (first, of) = if alone { (1, laid.leaves.len()) } else { (self.first_page(part), self.count()) };
        let page = |(leaf, number)| {
            let page = self.stationery.page(leaf, number, of);
            match self.enlarged {
                Some(paper) => enlarge::page(&page, paper),
                None => page,
            }
        };
        (laid.leaves.iter().zip(first..).map(page).collect(), laid.structure)
    }

    fn first_page(&self, part: usize) -> usize {
        self.first_pages.get(part).copied().unwrap_or_default()
    }
}
