//! The tree of pages: short branches, so that a reader finds page 90 000 without reading every page before it.

use std::io::{self, Write};

use super::content::push_points;
use super::stream::{Id, Objects};
use crate::length::Size;

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

    /// Writes a page whose media, crop and trim boxes are exactly the paper.
    pub(super) fn add<W: Write>(
        &mut self,
        objects: &mut Objects<W>,
        paper: Size,
        content: Id,
        resources: Id,
    ) -> io::Result<()> {
        if self.leaves.len() == PAGES_A_BRANCH {
            self.end_branch(objects)?;
            self.branch = objects.reserve();
        }
        let page = objects.reserve();
        let paper = paper_box(paper);
        let body = format!(
            "<</Type/Page/Parent {}/MediaBox{paper}/CropBox{paper}/TrimBox{paper}/Resources {}/Contents {}>>",
            self.branch.reference(),
            resources.reference(),
            content.reference(),
        );
        objects.object(page, body.as_bytes())?;
        self.leaves.push(page);
        Ok(())
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

/// `[0 0 595.2756 841.8898]`
fn paper_box(paper: Size) -> String {
    let mut text = b"[0 0 ".to_vec();
    push_points(&mut text, paper.width);
    text.push(b' ');
    push_points(&mut text, paper.height);
    text.push(b']');
    String::from_utf8_lossy(&text).into_owned()
}
