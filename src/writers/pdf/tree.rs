//! The tree of pages: short branches, so that a reader finds page 90 000 without reading every page before it.

use std::io::{self, Write};

use super::content::{Boxes, push_points};
use super::stream::{Id, Objects};
use crate::length::{Length, Point, Rect};

/// Pages on one branch.
const PAGES_A_BRANCH: usize = 128;

/// The pages written so far.
pub(super) struct PageTree {
    root: Id,
    /// The branches finished, with their pages.
    branches: Vec<(Id, usize)>,
    branch: Id,
    /// The pages on the branch under way.
    leaves: Vec<Id>,
}

impl PageTree {
    /// A tree without pages.
    pub(super) fn new<W: Write>(objects: &mut Objects<W>) -> Self {
        let root = objects.reserve();
        Self { root, branches: Vec::new(), branch: objects.reserve(), leaves: Vec::new() }
    }

    /// Writes a page whose media and crop boxes are exactly the medium, with these entries beside; the answer is its number.
    pub(super) fn add<W: Write>(
        &mut self,
        objects: &mut Objects<W>,
        boxes: Boxes,
        content: &[Id],
        resources: Id,
        entries: &str,
    ) -> io::Result<Id> {
        if self.leaves.len() == PAGES_A_BRANCH {
            self.end_branch(objects)?;
            self.branch = objects.reserve();
        }
        let page = objects.reserve();
        let medium = Rect::new(Point::default(), boxes.size);
        let on_medium = |part: Rect| page_box(part, boxes.size.height);
        let (medium, bleed, trim) =
            (on_medium(medium), on_medium(boxes.trim.inset(-boxes.bleed)), on_medium(boxes.trim));
        let body = format!(
            "<</Type/Page/Parent {}/MediaBox{medium}/CropBox{medium}/BleedBox{bleed}/TrimBox{trim}/Resources {}\
             /Contents[{}]{entries}>>",
            self.branch.reference(),
            resources.reference(),
            references(content.iter().copied()),
        );
        objects.object(page, body.as_bytes())?;
        self.leaves.push(page);
        Ok(page)
    }

    /// Writes the branches and the root; returns the root and the number of pages.
    pub(super) fn finish<W: Write>(mut self, objects: &mut Objects<W>) -> io::Result<(Id, usize)> {
        self.end_branch(objects)?;
        let pages = self.branches.iter().map(|(_, pages)| pages).sum();
        let kids = references(self.branches.iter().map(|(branch, _)| *branch));
        objects.object(self.root, format!("<</Type/Pages/Count {pages}/Kids[{kids}]>>").as_bytes())?;
        Ok((self.root, pages))
    }

    fn end_branch<W: Write>(&mut self, objects: &mut Objects<W>) -> io::Result<()> {
        let (root, pages) = (self.root.reference(), self.leaves.len());
        let kids = references(self.leaves.drain(..));
        let body = format!("<</Type/Pages/Parent {root}/Count {pages}/Kids[{kids}]>>");
        objects.object(self.branch, body.as_bytes())?;
        self.branches.push((self.branch, pages));
        Ok(())
    }
}

fn references(ids: impl Iterator<Item = Id>) -> String {
    ids.map(Id::reference).collect::<Vec<_>>().join(" ")
}

/// A part of a medium so high, as its lower left and upper right corners in points: `[0 0 595.2756 841.8898]`.
pub(super) fn page_box(part: Rect, height: Length) -> String {
    let corners = [part.origin.x, height - part.bottom(), part.right(), height - part.origin.y];
    let mut text = b"[".to_vec();
    for (number, at) in corners.into_iter().enumerate() {
        if number > 0 {
            text.push(b' ');
        }
        push_points(&mut text, at);
    }
    text.push(b']');
    String::from_utf8_lossy(&text).into_owned()
}
