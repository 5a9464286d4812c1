//! What stands around the pages: fonts, catalogue and information.
//!
//! `printpdf` makes a small document in memory that shows every glyph used, and its font and information dictionaries
//! are taken over. What it gets wrong is put right on the way: it truncates widths, leaves the height of capitals at
//! the ascent, and dates everything to 1970. Its glyphs are those of the font as cut down, while our pages use the
//! numbers of the whole font, so widths, characters and the map from one to the other are written here.

use std::collections::BTreeMap;
use std::io::{self, Write};

use lopdf::{Dictionary, Object, StringFormat};
use printpdf::{
    Codepoint, FontId, Mm, Op, ParsedFont, PdfDocument, PdfFont, PdfFontHandle, PdfPage, PdfSaveOptions, Pt, TextItem,
};
use sha2::{Digest, Sha256};
use subsetter::GlyphRemapper;

use super::archive;
use super::content::{deflated, push_name};
use super::fonts::{self, UsedGlyphs};
use super::metadata;
use super::object;
use super::standard::Standard;
use super::stream::{Id, Objects};
use super::{DocumentInfo, Setup};
use crate::drawing::Face;
use crate::typesetting;

const PRODUCER: &str = concat!("noticewright ", env!("CARGO_PKG_VERSION"));

/// The document that `printpdf` made, and what was cut from each font.
pub(super) struct Shell {
    document: lopdf::Document,
    cuts: Vec<Cut>,
    setup: Setup,
}

/// One font cut down to the glyphs that are used.
struct Cut {
    face: Face,
    /// Six capitals from the glyphs kept, a plus sign and the font's name.
    name: String,
    program: Vec<u8>,
    /// Number in the whole font, number in the cut font, text.
    glyphs: Vec<(u16, u16, String)>,
}

impl Shell {
    /// Cuts the fonts down and has the document made.
    ///
    /// # Errors
    /// `InvalidData` if a font cannot be cut down or embedded.
    pub(super) fn make(setup: &Setup, glyphs: &UsedGlyphs) -> io::Result<Self> {
        let faces = Face::ALL.into_iter().filter(|face| !glyphs.of(*face).is_empty());
        let cuts = faces.map(|face| cut(face, glyphs)).collect::<io::Result<Vec<_>>>()?;
        let mut document = PdfDocument::new("");
        let mut operators = Vec::new();
        for cut in &cuts {
            let id = FontId(cut.name.clone());
            document.resources.fonts.map.insert(id.clone(), PdfFont::new(parsed(cut)?));
            operators.extend(shown(cut, id));
        }
        document.pages.push(PdfPage::new(Mm(10.0), Mm(10.0), operators));
        fill_info(&mut document, &setup.info);
        let mut warnings = Vec::new();
        let document = document.to_lopdf_document(&PdfSaveOptions::default(), &mut warnings);
        match warnings.iter().find(|warning| warning.severity == printpdf::PdfParseErrorSeverity::Error) {
            Some(warning) => Err(invalid(warning.msg.clone())),
            None => Ok(Self { document, cuts, setup: setup.clone() }),
        }
    }

    /// Writes the fonts; returns each face's font.
    pub(super) fn write_fonts<W: Write>(&self, objects: &mut Objects<W>) -> io::Result<Vec<(Face, Id)>> {
        self.cuts.iter().map(|cut| Ok((cut.face, self.write_font(objects, cut)?))).collect()
    }

    /// Writes the information dictionary, with the job's date or none.
    pub(super) fn write_info<W: Write>(&self, objects: &mut Objects<W>) -> io::Result<Id> {
        if self.setup.standard == Standard::Archive {
            return write_new(objects, &Object::Dictionary(archive::info(&self.setup.info, PRODUCER)));
        }
        let mut info = self.trailer_dictionary(b"Info")?.clone();
        for unwanted in ["CreationDate", "ModDate", "GTS_PDFXVersion", "Identifier", "Keywords"] {
            info.remove(unwanted.as_bytes());
        }
        let own = &self.setup.info;
        for (key, text) in [("Author", &own.author), ("Subject", &own.subject)] {
            if text.is_empty() {
                info.remove(key.as_bytes());
            }
        }
        if let Some(created) = own.created {
            info.set("CreationDate", literal(&created.pdf()));
            info.set("ModDate", literal(&created.pdf()));
        }
        if let Some(standard) = self.setup.standard.name() {
            info.set("GTS_PDFXVersion", literal(standard));
        }
        write_new(objects, &Object::Dictionary(info))
    }

    fn write_font<W: Write>(&self, objects: &mut Objects<W>, cut: &Cut) -> io::Result<Id> {
        let mut font = self.font_dictionary(&cut.name)?.clone();
        let mut descendant = self.descendant(&font)?.clone();
        let map = write_stream(objects, "", &glyph_map(cut))?;
        descendant.set("W", widths(cut));
        descendant.set("CIDToGIDMap", reference(map));
        descendant.set("FontDescriptor", reference(self.write_descriptor(objects, &descendant, cut)?));
        let descendant = write_new(objects, &Object::Dictionary(descendant))?;
        font.set("DescendantFonts", Object::Array(vec![reference(descendant)]));
        let to_unicode = write_stream(objects, "", to_unicode(cut).as_bytes())?;
        font.set("ToUnicode", reference(to_unicode));
        write_new(objects, &Object::Dictionary(font))
    }

    fn write_descriptor<W: Write>(
        &self,
        objects: &mut Objects<W>,
        descendant: &Dictionary,
        cut: &Cut,
    ) -> io::Result<Id> {
        let mut descriptor = self.dictionary(descendant.get(b"FontDescriptor").map_err(missing)?)?.clone();
        let program = write_stream(objects, &format!("/Length1 {}", cut.program.len()), &cut.program)?;
        descriptor.set("FontFile2", reference(program));
        descriptor.set("CapHeight", typesetting::fonts::heights(cut.face).capital);
        // 4 is "symbolic": the glyphs are reached by number, not by a standard encoding (ISO 32000-1, 9.8.2).
        descriptor.set("Flags", 4);
        if self.setup.standard == Standard::Archive {
            let set = archive::glyph_set(cut.glyphs.iter().map(|(id, _, _)| *id));
            descriptor.set("CIDSet", reference(write_stream(objects, "", &set)?));
        }
        write_new(objects, &Object::Dictionary(descriptor))
    }

    /// The font dictionary of this name among the resources of the only page.
    fn font_dictionary(&self, name: &str) -> io::Result<&Dictionary> {
        let page = self.document.page_iter().next().ok_or_else(|| invalid("the shell has no page"))?;
        let page = self.document.get_dictionary(page).map_err(missing)?;
        let resources = self.dictionary(page.get(b"Resources").map_err(missing)?)?;
        let fonts = self.dictionary(resources.get(b"Font").map_err(missing)?)?;
        self.dictionary(fonts.get(name.as_bytes()).map_err(missing)?)
    }

    fn descendant(&self, font: &Dictionary) -> io::Result<&Dictionary> {
        // The dictionary handed in is a clone; the one that lives in the document holds the same array.
        let name = font.get(b"BaseFont").and_then(Object::as_name).map_err(missing)?;
        let font = self.font_dictionary(&String::from_utf8_lossy(name))?;
        let descendants = font.get(b"DescendantFonts").and_then(Object::as_array).map_err(missing)?;
        self.dictionary(descendants.first().ok_or_else(|| invalid("a font without descendant"))?)
    }

    fn trailer_dictionary(&self, key: &[u8]) -> io::Result<&Dictionary> {
        self.dictionary(self.document.trailer.get(key).map_err(missing)?)
    }

    fn dictionary<'a>(&'a self, object: &'a Object) -> io::Result<&'a Dictionary> {
        let (_, object) = self.document.dereference(object).map_err(missing)?;
        object.as_dict().map_err(missing)
    }
}

/// The resources that all pages and forms share.
pub(super) fn resources(fonts: &[(Face, Id)], groups: &[(&'static str, Id)], rasters: &[u8], plates: &[u8]) -> Vec<u8> {
    let mut body = [b"<</Font", &font_list(fonts)[..], b"/XObject<<"].concat();
    body.extend(group_list(groups));
    body.extend_from_slice(rasters);
    body.extend_from_slice(b">>");
    body.extend_from_slice(plates);
    body.extend_from_slice(b">>");
    body
}

/// The fonts by the names of their faces.
pub(super) fn font_list(fonts: &[(Face, Id)]) -> Vec<u8> {
    let mut list = b"<<".to_vec();
    for (face, id) in fonts {
        list.extend_from_slice(fonts::resource(*face));
        list.extend_from_slice(format!(" {}", id.reference()).as_bytes());
    }
    list.extend_from_slice(b">>");
    list
}

/// Groups by their names.
pub(super) fn group_list(groups: &[(&'static str, Id)]) -> Vec<u8> {
    let mut list = Vec::new();
    for (name, id) in groups {
        push_name(&mut list, name.as_bytes());
        list.extend_from_slice(format!(" {}", id.reference()).as_bytes());
    }
    list
}

/// What the catalogue leads to.
pub(super) struct Parts {
    /// Root of the page tree.
    pub(super) pages: Id,
    /// For which printing condition the colours are meant.
    pub(super) intent: Option<Id>,
    /// The layer of the cutting contours.
    pub(super) layer: Option<Id>,
    /// Root of the tags.
    pub(super) tags: Option<Id>,
    /// Root of the names of places.
    pub(super) names: Option<Id>,
    /// Root of the bookmarks.
    pub(super) outline: Option<Id>,
}

/// Writes the catalogue: true to size, on one side, on the paper of the page, with the title in the window's bar.
pub(super) fn write_catalog<W: Write>(objects: &mut Objects<W>, setup: &Setup, parts: &Parts) -> io::Result<Id> {
    let info = &setup.info;
    let packet = metadata::packet(setup, PRODUCER, &objects.identity());
    let metadata = objects.reserve();
    objects.plain_stream(metadata, "/Type/Metadata/Subtype/XML", packet.as_bytes())?;
    let mut catalog = Dictionary::new();
    catalog.set("Type", "Catalog");
    catalog.set("Pages", reference(parts.pages));
    catalog.set("ViewerPreferences", preferences(&setup.standard));
    if let Some(intent) = parts.intent {
        catalog.set("OutputIntents", Object::Array(vec![reference(intent)]));
    }
    if let Some(layer) = parts.layer {
        catalog.set("OCProperties", layers(layer));
    }
    if let Some(tags) = parts.tags {
        catalog.set("MarkInfo", one("Marked", true.into()));
        catalog.set("StructTreeRoot", reference(tags));
    }
    if let Some(names) = parts.names {
        catalog.set("Names", one("Dests", reference(names)));
    }
    if let Some(outline) = parts.outline {
        catalog.set("Outlines", reference(outline));
        catalog.set("PageMode", "UseOutlines");
    }
    catalog.set("Metadata", reference(metadata));
    if !info.language.is_empty() {
        catalog.set("Lang", literal(&info.language));
    }
    write_new(objects, &Object::Dictionary(catalog))
}

/// A dictionary of one entry.
fn one(key: &str, value: Object) -> Dictionary {
    let mut dictionary = Dictionary::new();
    dictionary.set(key, value);
    dictionary
}

/// How a person's viewer shows and prints it; a printing works needs none of it, and its formats are older than most.
fn preferences(standard: &Standard) -> Dictionary {
    let mut preferences = Dictionary::new();
    if *standard == Standard::Plain {
        preferences.set("PrintScaling", "None");
        preferences.set("Duplex", "Simplex");
        preferences.set("PickTrayByPDFSize", true);
    }
    preferences.set("DisplayDocTitle", true);
    preferences
}

/// The layers of a document (ISO 32000-1, 8.11.4): shown from the start, and listed by name.
fn layers(layer: Id) -> Dictionary {
    let all = || Object::Array(vec![reference(layer)]);
    let mut usual = Dictionary::new();
    usual.set("Name", literal("Usual"));
    usual.set("Order", all());
    usual.set("ON", all());
    let mut layers = Dictionary::new();
    layers.set("OCGs", all());
    layers.set("D", usual);
    layers
}

fn cut(face: Face, used: &UsedGlyphs) -> io::Result<Cut> {
    let used_ids = used.of(face);
    let remapper = GlyphRemapper::new_from_glyphs_sorted(&used_ids);
    let program = subsetter::subset(typesetting::fonts::bytes(face), 0, &remapper)
        .map_err(|error| invalid(format!("the font {} cannot be cut down: {error}", typesetting::fonts::name(face))))?;
    let glyphs = used_ids.into_iter().filter_map(|id| Some((id, remapper.get(id)?, used.text(face, id)))).collect();
    Ok(Cut { face, name: subset_name(face, &program), program, glyphs })
}

/// Six capitals that follow from the font program, a plus sign, the font's name (ISO 32000-1, 9.6.4).
fn subset_name(face: Face, program: &[u8]) -> String {
    let digest = Sha256::digest(program);
    let tag: String = digest.iter().take(6).map(|byte| char::from(b'A' + byte % 26)).collect();
    format!("{tag}+{}", typesetting::fonts::name(face))
}

fn parsed(cut: &Cut) -> io::Result<ParsedFont> {
    let mut warnings = Vec::new();
    let mut font = ParsedFont::from_bytes(&cut.program, 0, &mut warnings)
        .ok_or_else(|| invalid(format!("the font {} cannot be embedded", cut.name)))?;
    font.font_name = Some(cut.name.clone());
    Ok(font)
}

/// Operators that show every glyph of a font once, so that `printpdf` embeds it.
fn shown(cut: &Cut, id: FontId) -> [Op; 4] {
    let codepoint = |(_, glyph, text): &(u16, u16, String)| Codepoint::with_cid(*glyph, 0.0, text.clone());
    let glyphs = cut.glyphs.iter().map(codepoint).collect();
    [
        Op::StartTextSection,
        Op::SetFont { font: PdfFontHandle::External(id), size: Pt(10.0) },
        Op::ShowText { items: vec![TextItem::GlyphIds(glyphs)] },
        Op::EndTextSection,
    ]
}

fn fill_info(document: &mut PdfDocument, info: &DocumentInfo) {
    let target = &mut document.metadata.info;
    target.document_title.clone_from(&info.title);
    target.author.clone_from(&info.author);
    target.subject.clone_from(&info.subject);
    target.creator = PRODUCER.into();
    target.producer = PRODUCER.into();
}

/// Widths by number in the whole font: runs of neighbours, each as its first number and the widths from there on.
fn widths(cut: &Cut) -> Object {
    let table = fonts::table(cut.face);
    let mut runs: BTreeMap<u16, Vec<Object>> = BTreeMap::new();
    let mut open: Option<(u16, u16)> = None;
    for (id, _, _) in &cut.glyphs {
        let start = match open {
            Some((start, last)) if last.checked_add(1) == Some(*id) => start,
            Some(_) | None => *id,
        };
        open = Some((start, *id));
        runs.entry(start).or_default().push(i64::from(table.width(*id)).into());
    }
    let entries = runs.into_iter().flat_map(|(start, widths)| [i64::from(start).into(), Object::Array(widths)]);
    Object::Array(entries.collect())
}

/// For each number in the whole font, the number in the cut font as two bytes.
fn glyph_map(cut: &Cut) -> Vec<u8> {
    let last = cut.glyphs.last().map_or(0, |(id, _, _)| usize::from(*id));
    let mut map = vec![0; (last + 1) * 2];
    for (id, glyph, _) in &cut.glyphs {
        let at = usize::from(*id) * 2;
        if let Some(slot) = map.get_mut(at..at + 2) {
            slot.copy_from_slice(&glyph.to_be_bytes());
        }
    }
    map
}

/// The map from glyph numbers back to text (ISO 32000-1, 9.10.3); at most 100 entries stand in one block.
fn to_unicode(cut: &Cut) -> String {
    let mut map = String::from(
        "/CIDInit /ProcSet findresource begin\n12 dict begin\nbegincmap\n/CIDSystemInfo\n<</Registry (Adobe)/Ordering \
         (UCS)/Supplement 0>> def\n/CMapName /Adobe-Identity-UCS def\n/CMapType 2 def\n1 begincodespacerange\n\
         <0000><FFFF>\nendcodespacerange\n",
    );
    let spoken: Vec<_> = cut.glyphs.iter().filter(|(_, _, text)| !text.is_empty()).collect();
    for block in spoken.chunks(100) {
        map.push_str(&format!("{} beginbfchar\n", block.len()));
        for (id, _, text) in block {
            let units: String = text.encode_utf16().map(|unit| format!("{unit:04X}")).collect();
            map.push_str(&format!("<{id:04X}><{units}>\n"));
        }
        map.push_str("endbfchar\n");
    }
    map.push_str("endcmap\nCMapName currentdict /CMap defineresource pop\nend\nend\n");
    map
}

pub(super) fn write_new<W: Write>(objects: &mut Objects<W>, object: &Object) -> io::Result<Id> {
    let id = objects.reserve();
    let mut body = Vec::new();
    object::push(&mut body, object)?;
    objects.object(id, &body)?;
    Ok(id)
}

fn write_stream<W: Write>(objects: &mut Objects<W>, entries: &str, bytes: &[u8]) -> io::Result<Id> {
    let id = objects.reserve();
    objects.deflated_stream(id, entries, &deflated(bytes))?;
    Ok(id)
}

pub(super) fn reference(id: Id) -> Object {
    Object::Reference((id.number(), 0))
}

pub(super) fn literal(text: &str) -> Object {
    Object::String(text.as_bytes().to_vec(), StringFormat::Literal)
}

fn missing(error: lopdf::Error) -> io::Error {
    io::Error::new(io::ErrorKind::InvalidData, error)
}

fn invalid(message: impl Into<String>) -> io::Error {
    io::Error::new(io::ErrorKind::InvalidData, message.into())
}
