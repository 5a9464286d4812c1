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
mod profile;

mod standard;

mod intent;
mod metadata;
mod object;
mod plates;
mod shell;
mod stream;
mod tree;

use std::collections::BTreeMap;
use std::io::{self, Write};
use std::sync::Arc;

use rayon::prelude::*;

use crate::drawing::{Group, Structure};
use crate::sheets::{Page, Palette};
use content::Content;
use fonts::UsedGlyphs;
use stream::{Id, Objects};
use tree::PageTree;

pub use content::{EncodedPage, encode};
pub use info::{DocumentInfo, Moment};
pub use profile::{Profile, ProfileError};
pub use standard::{PrintingCondition, Standard};

/// Pages that are encoded together before they are added: enough for every core, few enough for memory.
const PAGES_AT_ONCE: usize = 64;

/// What is settled of a document before its first page.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Setup {
    /// What it says about itself.
    pub info: DocumentInfo,
    /// The colours of its inks.
    pub palette: Palette,
    /// What it keeps to beside the format.
    pub standard: Standard,
}

impl Setup {
    /// A document for a printer at hand.
    #[must_use]
    pub const fn plain(info: DocumentInfo, palette: Palette) -> Self {
        Self { info, palette, standard: Standard::Plain }
    }
}

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
    setup: Setup,
    tree: PageTree,
    resources: Id,
    glyphs: UsedGlyphs,
    groups: BTreeMap<&'static str, (Arc<Group>, Id)>,
    /// The layer of the cutting contours, once there is one.
    layer: Option<Id>,
}

impl<W: Write> PdfWriter<W> {
    /// Starts a document. Give a buffered writer: objects are small.
    ///
    /// # Errors
    /// The error of the writer below; `InvalidData` for a document for a printing works without a date, which its
    /// standard needs, or in other colours than those of a printing works.
    pub fn begin(out: W, setup: &Setup) -> io::Result<Self> {
        setup.check()?;
        let mut objects = Objects::begin(out, setup.standard.version())?;
        let tree = PageTree::new(&mut objects);
        let resources = objects.reserve();
        Ok(Self {
            objects,
            setup: setup.clone(),
            tree,
            resources,
            glyphs: UsedGlyphs::default(),
            groups: BTreeMap::new(),
            layer: None,
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
        let mut content = vec![self.content(&page.deflated)?];
        if !page.contours.is_empty() {
            content.push(self.contours(&page.contours)?);
        }
        self.tree.add(&mut self.objects, page.boxes, &content, self.resources)
    }

    /// Adds the pages of one section after those added before, with what they are to a reader: the parts, links,
    /// anchors and bookmarks that the pages speak of belong to this structure.
    ///
    /// # Errors
    /// Those of [`Self::add`].
    pub fn add_section(&mut self, pages: &[EncodedPage], _structure: &Structure) -> io::Result<()> {
        pages.iter().try_for_each(|page| self.add(page))
    }

    fn content(&mut self, deflated: &[u8]) -> io::Result<Id> {
        let id = self.objects.reserve();
        self.objects.deflated_stream(id, "", deflated)?;
        Ok(id)
    }

    /// The cutting contours: on a layer of their own where the standard knows layers.
    fn contours(&mut self, operators: &[u8]) -> io::Result<Id> {
        if !self.setup.standard.has_layers() {
            return self.content(&content::deflated(operators));
        }
        if self.layer.is_none() {
            self.layer = Some(self.objects.reserve());
        }
        let (open, close) = plates::LAYER;
        self.content(&content::deflated(&[open, operators, close].concat()))
    }

    /// Adds the pages `0..pages`, each made by `page`, encoding as many at once as there are processors.
    ///
    /// # Errors
    /// Those of [`Self::add`] and of `page`.
    pub fn add_all(&mut self, pages: usize, page: impl Fn(usize) -> io::Result<Page> + Sync) -> io::Result<()> {
        for first in (0..pages).step_by(PAGES_AT_ONCE) {
            let last = pages.min(first.saturating_add(PAGES_AT_ONCE));
            let palette = &self.setup.palette;
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
        let shell = shell::Shell::make(&self.setup, &self.glyphs)?;
        let fonts = shell.write_fonts(&mut self.objects)?;
        let groups: Vec<_> = self.groups.iter().map(|(name, (_, id))| (*name, *id)).collect();
        let plates = plates::resources(&self.setup.palette, self.layer);
        self.objects.object(self.resources, &shell::resources(&fonts, &groups, &plates))?;
        if let Some(layer) = self.layer {
            plates::write_layer(&mut self.objects, layer)?;
        }
        let (root, pages) = self.tree.finish(&mut self.objects)?;
        let intent = intent::write(&mut self.objects, &self.setup.standard)?;
        let parts = shell::Parts { pages: root, intent, layer: self.layer };
        let catalog = shell::write_catalog(&mut self.objects, &self.setup, &parts)?;
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
        let palette = self.setup.palette.clone();
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

impl Setup {
    /// A printing works gets a date and its own colours.
    fn check(&self) -> io::Result<()> {
        let Some(standard) = self.standard.name() else { return Ok(()) };
        let wanting = match (&self.palette, self.info.created) {
            (Palette::Press(_), Some(_)) => return Ok(()),
            (Palette::Press(_), None) => "a date",
            (Palette::Office | Palette::BlackOnly | Palette::BlackAndYellow | Palette::Engraving, _) => {
                "the colours of a printing works"
            }
        };
        Err(io::Error::new(io::ErrorKind::InvalidData, format!("a document by {standard} needs {wanting}")))
    }
}

fn two_groups(name: &str) -> io::Error {
    io::Error::new(io::ErrorKind::InvalidData, format!("two different groups are named `{name}`"))
}

#[cfg(test)]
mod tests;
