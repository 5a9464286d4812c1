//! A page as it is read rather than looked at: which marks belong to which part of the document, where links lead from
//! and to. Empty on a sheet of labels.

use std::ops::Range;
use std::sync::Arc;

use crate::drawing::Raster;
use crate::length::{Length, Rect};

/// What a reader needs to know of a page beside its marks. What is named nowhere here (rules, running head and foot) is
/// decoration that a reader passes over.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Reading {
    /// Marks of the furniture that belong to a part; the ranges neither overlap nor run backwards.
    pub marked: Vec<Marked>,
    /// The part of each placed drawing, in their order; `None` for decoration, as are those behind the end.
    pub figures: Vec<Option<usize>>,
    /// Pictures of dots.
    pub rasters: Vec<PlacedRaster>,
    /// Where words lead elsewhere.
    pub links: Vec<Link>,
    /// Where links and bookmarks lead to, from the top of the page down.
    pub anchors: Vec<Anchor>,
}

/// Marks that belong to one part.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Marked {
    /// Their places among the furniture's items.
    pub items: Range<usize>,
    /// The part, by its number in the structure of the page's section.
    pub element: usize,
}

/// A picture of dots in its place.
#[derive(Clone, Debug, PartialEq)]
pub struct PlacedRaster {
    /// What is placed; the same one on every page is stored once.
    pub raster: Arc<Raster>,
    /// Where it lies, with the proportions of its dots.
    pub at: Rect,
    /// The part that it is; `None` where it only decorates.
    pub element: Option<usize>,
}

/// Words that lead elsewhere in the same document.
#[derive(Clone, Debug, PartialEq)]
pub struct Link {
    /// Where the words stand.
    pub at: Rect,
    /// The anchor that they lead to; a link to an anchor that there is not is no link.
    pub to: Arc<str>,
    /// The part that the words are, a link among the roles.
    pub element: usize,
}

/// A place that links lead to.
#[derive(Clone, Debug, PartialEq)]
pub struct Anchor {
    /// Its name, unique in a document; of two, the first counts.
    pub name: Arc<str>,
    /// How far it is from the top of the page.
    pub top: Length,
    /// The bookmark that leads there, if any.
    pub bookmark: Option<Bookmark>,
}

/// An entry of the document's outline.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Bookmark {
    /// How deep it lies, from 0; it belongs to the one before it that lies less deep.
    pub depth: u8,
    /// What it says.
    pub title: String,
}
