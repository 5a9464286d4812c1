//! Portable Document Format, written page by page: finished objects go straight out, and only their offsets stay in
//! memory.
//!
//! A page is first [`encode`]d, which needs nothing but the page and may run on any thread; then it is added in order
//! to the one [`PdfWriter`]. Text keeps the glyph numbers of the whole font, so that the fonts can be cut down to the
//! glyphs used when the last page is known.

mod info;

mod colour;
mod content;
mod shape;

mod code;
mod text;

mod fonts;
mod metadata;
mod object;
mod shell;
mod stream;
mod tree;

use std::collections::BTreeMap;
use std::io::{self, Write};
use std::sync::Arc;

use rayon::prelude::*;

use crate::drawing::Group;
use crate::sheets::{Page, Palette};
use content::Content;
use fonts::UsedGlyphs;
use stream::{Id, Objects};
use tree::PageTree;

pub use content::{EncodedPage, encode};
pub use info::{DocumentInfo, Moment};

/// Pages that are encoded together before they are added: enough for every core, few enough for memory.
const PAGES_AT_ONCE: usize = 64;

/// What a finished document came to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Written {
    /// Bytes of the whole document.
    pub bytes: u64,
    /// Pages in it.
    pub pages: usize,
}

/// A document under way: every page added has already gone out.
pub struct PdfWriter<W: Write> {
    objects: Objects<W>,
    info: DocumentInfo,
    palette: Palette,
    tree: PageTree,
    resources: Id,
    glyphs: UsedGlyphs,
    groups: BTreeMap<&'static str, (Arc<Group>, Id)>,
}

impl<W: Write> PdfWriter<W> {
    /// Starts a document in the colours of a process. Give a buffered writer: objects are small.
    ///
    /// # Errors
    /// The error of the writer below.
    pub fn begin(out: W, info: &DocumentInfo, palette: &Palette) -> io::Result<Self> {
        let mut objects = Objects::begin(out)?;
        let tree = PageTree::new(&mut objects);
        let resources = objects.reserve();
        Ok(Self {
            objects,
            info: info.clone(),
            palette: palette.clone(),
            tree,
            resources,
            glyphs: UsedGlyphs::default(),
            groups: BTreeMap::new(),
        })
    }

    /// Adds a page after those added before.
    ///
    /// # Errors
    /// The error of the writer below; `InvalidData` if two different groups bear the same name.
    pub fn add(&mut self, page: &EncodedPage) -> io::Result<()> {
        for group in &page.groups {
            self.add_group(group)?;
        }
        self.glyphs.merge(&page.glyphs);
        let content = self.objects.reserve();
        self.objects.deflated_stream(content, "", &page.deflated)?;
        self.tree.add(&mut self.objects, page.size, content, self.resources)
    }

    /// Adds the pages `0..pages`, each made by `page`, encoding as many at once as there are processors.
    ///
    /// # Errors
    /// Those of [`Self::add`] and of `page`.
    pub fn add_all(&mut self, pages: usize, page: impl Fn(usize) -> io::Result<Page> + Sync) -> io::Result<()> {
        for first in (0..pages).step_by(PAGES_AT_ONCE) {
            let last = pages.min(first.saturating_add(PAGES_AT_ONCE));
            let palette = &self.palette;
            let encode_page = |number| page(number).map(|page| encode(&page, palette));
            let encoded = (first..last).into_par_iter().map(encode_page).collect::<io::Result<Vec<_>>>()?;
            encoded.iter().try_for_each(|page| self.add(page))?;
        }
        Ok(())
    }

    /// Ends the document: fonts with the glyphs used, page tree, metadata, table of offsets.
    ///
    /// # Errors
    /// The error of the writer below, also of its flush; `InvalidData` if a font cannot be cut down.
    pub fn finish(mut self) -> io::Result<Written> {
        let shell = shell::Shell::make(&self.info, &self.glyphs)?;
        let fonts = shell.write_fonts(&mut self.objects)?;
        let groups: Vec<_> = self.groups.iter().map(|(name, (_, id))| (*name, *id)).collect();
        self.objects.object(self.resources, &shell::resources(&fonts, &groups))?;
        let (root, pages) = self.tree.finish(&mut self.objects)?;
        let catalog = shell::write_catalog(&mut self.objects, &self.info, root)?;
        let info = shell.write_info(&mut self.objects)?;
        let bytes = self.objects.finish(catalog, info)?;
        Ok(Written { bytes, pages })
    }

    /// Stores a group the first time that a page shows it, after the groups that it shows itself.
    fn add_group(&mut self, group: &Arc<Group>) -> io::Result<()> {
        if let Some((known, _)) = self.groups.get(group.name) {
            let same = Arc::ptr_eq(known, group) || known == group;
            return if same { Ok(()) } else { Err(two_groups(group.name)) };
        }
        let palette = self.palette.clone();
        let mut content = Content::new(&palette);
        content.drawing(&group.drawing);
        for inner in &content.groups {
            self.add_group(inner)?;
        }
        self.glyphs.merge(&content.glyphs);
        let id = self.objects.reserve();
        let entries = content::form_entries(group.drawing.size, self.resources);
        self.objects.deflated_stream(id, &entries, &content.deflate())?;
        self.groups.insert(group.name, (Arc::clone(group), id));
        Ok(())
    }
}

fn two_groups(name: &str) -> io::Error {
    io::Error::new(io::ErrorKind::InvalidData, format!("two different groups are named `{name}`"))
}

#[cfg(test)]
mod tests;
