//! Portable Document Format, written page by page: finished objects go straight out, and only their offsets stay in
//! memory.
//!
//! A page is first [`encode`]d, which needs nothing but the page and may run on any thread; then it is added in order
//! to the one [`PdfWriter`]. Text keeps the glyph numbers of the whole font, so that the fonts can be cut down to the
//! glyphs used when the last page is known.

mod info;

mod colour;
mod content;
mod marked;
mod shape;

mod code;
mod letters;
mod text;

mod fonts;
mod profile;
mod srgb;

mod standard;

mod archive;
mod intent;
mod metadata;
mod object;
mod plates;
mod shell;
mod stream;
mod tree;

mod raster;
mod sorted;

mod links;
mod outline;
mod places;
mod section;
mod structure;

use std::collections::BTreeMap;
use std::io::{self, Write};
use std::sync::Arc;

use rayon::prelude::*;

use crate::drawing::{Group, Structure};
use crate::relay::{batches, relay};
use crate::sheets::{Page, Palette};
use content::{Content, Opening};
use fonts::UsedGlyphs;
use links::Links;
use marked::Marks;
use places::Places;
use raster::Rasters;
use stream::{Id, Objects};
use structure::Tags;
use tree::PageTree;

pub use content::{EncodedPage, encode};
pub use info::{DocumentInfo, Moment};
pub use profile::{Profile, ProfileError};
pub use standard::{PrintingCondition, Standard};

/// Pages that are encoded together: enough for every core, few enough for memory.
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
    /// What the last page that shares its beginning began with.
    opening: Option<(Opening, Id)>,
    /// The layer of the cutting contours, once there is one.
    layer: Option<Id>,
    rasters: Rasters,
    tags: Tags,
    places: Places,
    links: Links,
    /// What makes decoration of a whole page, before and behind it, once there is such a page among those that are read.
    artifact: Option<(Id, Id)>,
    /// The fonts for forms that must not lead to all resources, once there is such a form.
    form_fonts: Option<Id>,
}

impl<W: Write> PdfWriter<W> {
    /// Starts a document. Give a buffered writer: objects are small.
    ///
    /// # Errors
    /// The error of the writer below; `InvalidData` for a document for a printing works without a date, which its
    /// standard needs, or in other colours than those of a printing works, and for one to be kept in those.
    pub fn begin(out: W, setup: &Setup) -> io::Result<Self> {
        setup.check()?;
        let mut objects = Objects::begin(out, setup.standard.version())?;
        let tree = PageTree::new(&mut objects);
        let resources = objects.reserve();
        let mut setup = setup.clone();
        if setup.standard == Standard::Archive {
            setup.info = archive::settled(&setup.info);
        }
        Ok(Self {
            objects,
            setup,
            tree,
            resources,
            glyphs: UsedGlyphs::default(),
            groups: BTreeMap::new(),
            opening: None,
            layer: None,
            rasters: Rasters::default(),
            tags: Tags::new(),
            places: Places::default(),
            links: Links::default(),
            artifact: None,
            form_fonts: None,
        })
    }

    /// Adds a page that is only looked at after those added before.
    ///
    /// # Errors
    /// The error of the writer below; `InvalidData` if two different groups bear the same name, if a picture has not as
    /// many dots as it says, for a page that speaks of parts, and for one too large for the document's standard.
    pub fn add(&mut self, page: &EncodedPage) -> io::Result<()> {
        self.add_section(std::slice::from_ref(page), &Structure::default())
    }

    /// Adds the pages of one section after those added before, with what they are to a reader: the parts, links,
    /// anchors and bookmarks that the pages speak of belong to this structure.
    ///
    /// # Errors
    /// Those of [`Self::add`]; `InvalidData` if a page speaks of a part that the structure has not.
    pub fn add_section(&mut self, pages: &[EncodedPage], structure: &Structure) -> io::Result<()> {
        let nothing = Marks::default();
        let mut read = Vec::new();
        for page in pages {
            let tagged = page.marks.is_some() || !structure.elements.is_empty();
            let marks = page.marks.as_ref().unwrap_or(&nothing);
            let key = tagged.then(|| self.tags.next_key());
            let links = (!marks.links.is_empty()).then(|| self.objects.reserve());
            let id = self.add_page(page, key, links)?;
            self.places.add(id, page.boxes.size.height, &marks.anchors);
            read.extend(key.map(|key| structure::Page { id, height: page.boxes.size.height, marks, key, links }));
        }
        if read.is_empty() {
            return Ok(());
        }
        self.links.begin_section();
        self.tags.add_section(&mut self.objects, structure, &read, &mut self.links)
    }

    /// Writes a page and what it shows for the first time; `key` is its own among the parents of marks, `links` the list
    /// of its links.
    fn add_page(&mut self, page: &EncodedPage, key: Option<usize>, links: Option<Id>) -> io::Result<Id> {
        self.setup.standard.check_page(page.boxes.size)?;
        for group in &page.groups {
            self.add_group(group)?;
        }
        self.glyphs.merge(&page.glyphs);
        let opening = page.opening.as_ref().map(|opening| self.opening(opening)).transpose()?;
        let mut content: Vec<Id> = opening.into_iter().collect();
        content.push(self.content(&page.deflated)?);
        if !page.contours.is_empty() {
            content.push(self.contours(&page.contours)?);
        }
        match &page.marks {
            Some(marks) if !marks.rasters.is_empty() => {
                let operators = self.rasters.draw(&mut self.objects, marks)?;
                content.push(self.content(&content::deflated(&operators))?);
            }
            None if key.is_some() => {
                let (before, behind) = self.artifact()?;
                content.insert(0, before);
                content.push(behind);
            }
            Some(_) | None => {}
        }
        let mut entries = key.map(|key| format!("/StructParents {key}/Tabs/S")).unwrap_or_default();
        entries.extend(links.map(|links| format!("/Annots {}", links.reference())));
        self.tree.add(&mut self.objects, page.boxes, &content, self.resources, &entries)
    }

    /// Operators with which a page begins: written once for all pages behind each other that share them.
    fn opening(&mut self, opening: &Opening) -> io::Result<Id> {
        if let Some((_, id)) = self.opening.as_ref().filter(|(known, _)| known.is_like(opening)) {
            return Ok(*id);
        }
        let palette = self.setup.palette.clone();
        let drawn = opening.draw(&palette);
        for group in &drawn.groups {
            self.add_group(group)?;
        }
        self.glyphs.merge(&drawn.glyphs);
        let id = self.content(&drawn.deflate())?;
        self.opening = Some((opening.clone(), id));
        Ok(id)
    }

    /// Operators that make decoration of what stands between them.
    fn artifact(&mut self) -> io::Result<(Id, Id)> {
        if let Some(artifact) = self.artifact {
            return Ok(artifact);
        }
        let artifact =
            (self.content(&content::deflated(marked::ARTIFACT))?, self.content(&content::deflated(marked::END))?);
        self.artifact = Some(artifact);
        Ok(artifact)
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
        let palette = self.setup.palette.clone();
        let encode_page = |number| page(number).map(|page| encode(&page, &palette));
        // One page after the other, so that at the end of a batch no thread waits while another has several left.
        relay(
            batches(pages, PAGES_AT_ONCE),
            |some| some.into_par_iter().with_max_len(1).map(encode_page).collect::<io::Result<Vec<_>>>(),
            |encoded| encoded?.iter().try_for_each(|page| self.add(page)),
        )
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
        self.objects.object(self.resources, &shell::resources(&fonts, &groups, &self.rasters.resources(), &plates))?;
        if let Some(form_fonts) = self.form_fonts {
            self.objects.object(form_fonts, &shell::font_list(&fonts))?;
        }
        if let Some(layer) = self.layer {
            plates::write_layer(&mut self.objects, layer)?;
        }
        let (root, pages) = self.tree.finish(&mut self.objects)?;
        let intent = intent::write(&mut self.objects, &self.setup.standard)?;
        self.links.finish(&mut self.objects, &self.places, &mut self.tags)?;
        let tags = self.tags.finish(&mut self.objects)?;
        let names = self.places.write_names(&mut self.objects)?;
        let outline = self.places.outline.write(&mut self.objects)?;
        let parts = shell::Parts { pages: root, intent, layer: self.layer, tags, names, outline };
        let catalog = shell::write_catalog(&mut self.objects, &self.setup, &parts)?;
        let info = shell.write_info(&mut self.objects)?;
        let bytes = self.objects.finish(catalog, info)?;
        Ok(Written { bytes, pages })
    }

    /// The resources of a form: those of all pages, or where a form must not lead to itself, the fonts and the groups that
    /// it shows.
    fn form_resources(&mut self, shown: &[Arc<Group>]) -> Vec<u8> {
        if self.setup.standard != Standard::Archive {
            return self.resources.reference().into_bytes();
        }
        let fonts = self.form_fonts.get_or_insert_with(|| self.objects.reserve()).reference();
        let stored = |group: &Arc<Group>| self.groups.get(group.name).map(|(_, id)| (group.name, *id));
        let groups: Vec<_> = shown.iter().filter_map(stored).collect();
        [b"<</Font ", fonts.as_bytes(), b"/XObject<<", &shell::group_list(&groups), b">>>>"].concat()
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
        let resources = self.form_resources(&content.groups);
        let id = self.objects.reserve();
        let entries = content::form_entries(group.drawing.size, &resources);
        self.objects.deflated_stream(id, &entries, &content.deflate())?;
        self.groups.insert(group.name, (Arc::clone(group), id));
        Ok(())
    }
}

impl Setup {
    /// A printing works gets a date and its own colours, and nobody else gets those.
    fn check(&self) -> io::Result<()> {
        let refused = |name: &str, wanting: &str| {
            let message = format!("a document by {name} needs {wanting}");
            Err(io::Error::new(io::ErrorKind::InvalidData, message))
        };
        let in_inks = matches!(self.palette, Palette::Press(_));
        match (self.standard.name(), self.info.created) {
            (None, _) if self.standard == Standard::Archive && in_inks => {
                refused("PDF/A-1b", "greys or the colours of a screen")
            }
            (None, _) => Ok(()),
            (Some(name), _) if !in_inks => refused(name, "the colours of a printing works"),
            (Some(name), None) => refused(name, "a date"),
            (Some(_), Some(_)) => Ok(()),
        }
    }
}

fn two_groups(name: &str) -> io::Error {
    io::Error::new(io::ErrorKind::InvalidData, format!("two different groups are named `{name}`"))
}

#[cfg(test)]
mod tests;
