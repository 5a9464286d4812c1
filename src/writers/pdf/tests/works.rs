//! What ISO 15930 asks of a document for a printing works, held by taking the document apart again. The requirements are
//! from memory and from secondary sources, without clauses.

use std::collections::BTreeSet;

use lopdf::content::Operation;
use lopdf::{Dictionary, Document, Object};

use super::*;
use crate::limits::Limits;
use crate::sheets::{self, Formats, Label, Production, Run};
use crate::typesetting::sign;

#[path = "../../../../tests/sample/profile.rs"]
mod profile;

const A6: Size = Size::whole_mm(148, 105);

fn x4() -> Standard {
    Standard::X4 { profile: Arc::new(Profile::read(profile::profile()).unwrap()), condition: None }
}

fn x1a() -> Standard {
    Standard::X1a(PrintingCondition::registered("FOGRA39").unwrap())
}

fn info() -> DocumentInfo {
    DocumentInfo {
        title: "Saltmere & others".into(),
        language: "en-GB".into(),
        created: Moment::day(2026, 11, 24),
        ..DocumentInfo::default()
    }
}

/// A label with every kind of mark: sign, text, white on black, code.
fn label(number: usize) -> Arc<Drawing> {
    let mut drawing = Drawing::new(A6);
    drawing.stroke(
        Path::rectangle(Rect::new(Point::default(), A6).inset(Length::um(900))),
        Ink::Black,
        Length::um(800),
    );
    let height = Length::mm(30.0);
    let at = Rect::new(point(8_000, 8_000), Size::new(sign::width(height), height));
    drawing.items.push(Item::Group { group: sign::group(), at });
    drawing.fill(Path::circle(point(60_000, 50_000), Length::mm(5.0)), Ink::Black);
    let line = |text: &str| Typesetter::new().line(Face::Bold, text).unwrap();
    drawing.text(line("1"), point(59_000, 52_000), Length::mm(5.0), Ink::White);
    drawing.text(line(&format!("Isolate {number}")), point(50_000, 20_000), Length::mm(8.0), Ink::Black);
    let rows = vec![0b0011, 0b0011, 0b1010, 0b1010];
    let code =
        Modules { origin: point(100_000, 60_000), module: Length::um(500), side: 4, rows, payload: String::new() };
    drawing.items.push(Item::Modules(code));
    Arc::new(drawing)
}

fn bytes(standard: Standard, format: &str, labels: usize, size: Size) -> Vec<u8> {
    let format = sheets::find(format).unwrap();
    let Production::Press(press) = &format.production else { panic!("{} is for no printing works", format.name) };
    let palette = Palette::Press(press.contour.as_str().into());
    let run = Run { slug: vec!["PDF/X".into(), "2026-11-24".into()], ..Run::default() };
    let labels = vec![Label { size, enclosure: "CH3-JB1" }; labels];
    let plan = sheets::plan(&labels, &Formats::only(Arc::clone(&format)), run, &Limits::default()).unwrap().0;
    let mut bytes = Vec::new();
    let mut writer = PdfWriter::begin(&mut bytes, &Setup { info: info(), palette, standard }).unwrap();
    let typesetter = Typesetter::new();
    let page = |number| Ok(plan.page(0, number, &typesetter, |number| Some(label(number)))?);
    writer.add_all(plan.documents[0].pages(), page).unwrap();
    writer.finish().unwrap();
    bytes
}

/// The document of six labels on two sheets.
fn written(standard: Standard) -> Document {
    Document::load_mem(&bytes(standard, "press-a3-a6-4", 6, A6)).unwrap()
}

fn both() -> [(&'static str, Document); 2] {
    [("PDF/X-1a:2003", written(x1a())), ("PDF/X-4", written(x4()))]
}

fn text(dictionary: &Dictionary, key: &str) -> String {
    lopdf::decode_text_string(dictionary.get(key.as_bytes()).unwrap()).unwrap()
}

fn dictionary<'a>(document: &'a Document, object: &'a Object) -> &'a Dictionary {
    document.dereference(object).unwrap().1.as_dict().unwrap()
}

fn described(document: &Document) -> (Dictionary, String) {
    let info = dictionary(document, document.trailer.get(b"Info").unwrap()).clone();
    let packet = document.catalog().unwrap().get(b"Metadata").unwrap();
    let packet = document.dereference(packet).unwrap().1.as_stream().unwrap().content.clone();
    (info, String::from_utf8(packet).unwrap())
}

/// The text within the element of this name.
fn element<'a>(packet: &'a str, name: &str) -> &'a str {
    let rest = packet.split(&format!("<{name}>")).nth(1).unwrap_or_else(|| panic!("no {name} in {packet}"));
    rest.split(&format!("</{name}>")).next().unwrap()
}

/// Every dictionary of a document, those within others and those of streams too.
fn dictionaries(document: &Document) -> Vec<Dictionary> {
    fn walk(object: &Object, found: &mut Vec<Dictionary>) {
        match object {
            Object::Dictionary(dictionary) => {
                found.push(dictionary.clone());
                dictionary.iter().for_each(|(_, value)| walk(value, found));
            }
            Object::Stream(stream) => walk(&Object::Dictionary(stream.dict.clone()), found),
            Object::Array(entries) => entries.iter().for_each(|entry| walk(entry, found)),
            Object::Null
            | Object::Boolean(_)
            | Object::Integer(_)
            | Object::Real(_)
            | Object::Name(_)
            | Object::String(..)
            | Object::Reference(_) => {}
        }
    }
    let mut found = Vec::new();
    document.objects.values().for_each(|object| walk(object, &mut found));
    found
}

/// The operators of all pages, and of all forms that they place.
fn operators(document: &Document) -> Vec<Vec<Operation>> {
    let decoded = |bytes: &[u8]| lopdf::content::Content::decode(bytes).unwrap().operations;
    let pages = document.get_pages().into_values().map(|page| decoded(&document.get_page_content(page)));
    let forms = document.objects.values().filter_map(|object| object.as_stream().ok());
    let forms = forms.filter(|form| form.dict.get(b"Subtype").is_ok_and(|kind| kind == &"Form".into()));
    pages.chain(forms.map(|form| decoded(&form.decompressed_content().unwrap()))).collect()
}

#[test]
fn the_header_names_the_version_of_the_standard() {
    // PDF/X-1a:2003 is PDF 1.4, PDF/X-4 is PDF 1.6.
    assert!(bytes(x1a(), "press-a5-1", 1, A6).starts_with(b"%PDF-1.4\n"));
    assert!(bytes(x4(), "press-a5-1", 1, A6).starts_with(b"%PDF-1.6\n"));
}

#[test]
fn there_is_one_output_intent_and_it_says_for_what_the_colours_are() {
    for (name, document) in both() {
        let intents = document.catalog().unwrap().get(b"OutputIntents").unwrap().as_array().unwrap();
        assert_eq!(intents.len(), 1, "{name}");
        let intent = dictionary(&document, &intents[0]);
        assert_eq!(intent.get(b"S").unwrap(), &"GTS_PDFX".into(), "{name}");
        assert!(!text(intent, "Info").is_empty() && !text(intent, "OutputCondition").is_empty(), "{name}");
    }
    // Without a profile: the reference name in the registry of the ICC, where FOGRA39 stands.
    let document = written(x1a());
    let intents = document.catalog().unwrap().get(b"OutputIntents").unwrap().as_array().unwrap();
    let intent = dictionary(&document, &intents[0]);
    assert_eq!(text(intent, "OutputConditionIdentifier"), "FOGRA39");
    assert_eq!(text(intent, "RegistryName"), "http://www.color.org");
    assert!(!intent.has(b"DestOutputProfile"));
    // With one: the profile itself, of four components, byte for byte.
    let document = written(x4());
    let intents = document.catalog().unwrap().get(b"OutputIntents").unwrap().as_array().unwrap();
    let intent = dictionary(&document, &intents[0]);
    assert_eq!(text(intent, "OutputConditionIdentifier"), "Custom");
    assert_eq!(text(intent, "Info"), profile::NAME);
    let embedded = document.dereference(intent.get(b"DestOutputProfile").unwrap()).unwrap().1.as_stream().unwrap();
    assert_eq!(embedded.dict.get(b"N").unwrap(), &4.into());
    assert_eq!(embedded.decompressed_content().unwrap(), profile::profile());
}

#[test]
fn a_condition_that_is_said_of_a_profile_is_named_beside_it() {
    let Standard::X4 { profile, .. } = x4() else { panic!() };
    let condition = PrintingCondition::registered("FOGRA51");
    let document = written(Standard::X4 { profile, condition });
    let intents = document.catalog().unwrap().get(b"OutputIntents").unwrap().as_array().unwrap();
    let intent = dictionary(&document, &intents[0]);
    assert_eq!(text(intent, "OutputConditionIdentifier"), "FOGRA51");
    assert!(intent.has(b"DestOutputProfile") && intent.has(b"RegistryName"));
}

#[test]
fn trim_lies_in_bleed_and_bleed_in_the_medium() {
    for (name, document) in both() {
        for page in document.get_pages().into_values() {
            let page = document.get_dictionary(page).unwrap();
            let edges = |key: &str| -> Vec<f64> {
                let edges = page.get(key.as_bytes()).unwrap().as_array().unwrap();
                edges.iter().map(|edge| f64::from(edge.as_float().unwrap()) * 25.4 / 72.0).collect()
            };
            // A3 with 3 mm of bleed and 9 mm for marks: 12 mm on every side.
            for (key, wanted) in [
                ("MediaBox", [0.0, 0.0, 444.0, 321.0]),
                ("CropBox", [0.0, 0.0, 444.0, 321.0]),
                ("BleedBox", [9.0, 9.0, 435.0, 312.0]),
                ("TrimBox", [12.0, 12.0, 432.0, 309.0]),
            ] {
                let found = edges(key);
                assert!(
                    found.iter().zip(wanted).all(|(found, wanted)| (found - wanted).abs() < 0.01),
                    "{name} {found:?}"
                );
            }
            assert!(!page.has(b"ArtBox"), "a page has a trim box or an art box, not both");
        }
    }
}

#[test]
fn the_document_says_the_same_of_itself_twice() {
    for (name, document) in both() {
        let (info, packet) = described(&document);
        assert_eq!(info.get(b"Trapped").unwrap(), &"False".into(), "a name, True or False");
        assert_eq!(element(&packet, "pdf:Trapped"), "False");
        assert_eq!(text(&info, "GTS_PDFXVersion"), name);
        assert_eq!(text(&info, "Title"), "Saltmere & others");
        assert!(element(&packet, "dc:title").contains(">Saltmere &amp; others<"), "{packet}");
        for (key, named) in [("CreationDate", "xmp:CreateDate"), ("ModDate", "xmp:ModifyDate")] {
            assert_eq!(
                (text(&info, key).as_str(), element(&packet, named)),
                ("D:20261124000000Z", "2026-11-24T00:00:00Z")
            );
        }
        assert_eq!(text(&info, "Producer"), element(&packet, "pdf:Producer"));
        let id = document.trailer.get(b"ID").unwrap().as_array().unwrap();
        assert!(id.len() == 2 && id.iter().all(|part| part.as_str().unwrap().len() == 16), "{name}");
    }
}

#[test]
fn x4_is_named_in_the_metadata_with_version_and_rendition() {
    let (_, packet) = described(&written(x4()));
    assert_eq!(element(&packet, "pdfxid:GTS_PDFXVersion"), "PDF/X-4");
    assert!(packet.contains("xmlns:pdfxid=\"http://www.npes.org/pdfx/ns/id/\""));
    assert_eq!(element(&packet, "xmpMM:VersionID"), "1");
    assert_eq!(element(&packet, "xmpMM:RenditionClass"), "default");
    assert_eq!(element(&packet, "xmp:MetadataDate"), "2026-11-24T00:00:00Z");
    let identity = |labels| {
        let document = Document::load_mem(&bytes(x4(), "press-a3-a6-4", labels, A6)).unwrap();
        element(&described(&document).1, "xmpMM:DocumentID").to_owned()
    };
    let one = identity(1);
    assert!(one.starts_with("uuid:") && one.len() == 41, "{one}");
    assert_eq!(one, identity(1), "the identity follows from the content");
    assert_ne!(one, identity(2));
    assert!(!described(&written(x1a())).1.contains("GTS_PDFXVersion"));
}

#[test]
fn every_font_travels_with_the_document() {
    for (name, document) in both() {
        let all = dictionaries(&document);
        let descriptors: Vec<_> = all.iter().filter(|one| one.has(b"FontName") && one.has(b"Flags")).collect();
        assert!(descriptors.len() >= 2, "{name}");
        assert!(descriptors.iter().all(|one| one.has(b"FontFile2")), "{name}");
    }
}

#[test]
fn no_mark_is_in_red_green_and_blue_or_in_an_undeclared_grey() {
    let known: BTreeSet<&str> =
        "q Q cm w j J m l c h re f S BT ET Tf Td TJ Tr Ts gs k K cs CS scn SCN Do BDC EMC".split(' ').collect();
    for (name, document) in both() {
        for operation in operators(&document).into_iter().flatten() {
            assert!(known.contains(operation.operator.as_str()), "{name}: {operation:?}");
            if matches!(operation.operator.as_str(), "cs" | "CS") {
                let space = operation.operands[0].as_name().unwrap();
                assert!(space == b"Contour" || space == b"All", "{name}: {operation:?}");
            }
        }
        let spaces = dictionaries(&document).into_iter().find(|one| one.has(b"Contour")).unwrap();
        for (resource, ink) in [("Contour", "Cutting contour"), ("All", "All")] {
            let space = spaces.get(resource.as_bytes()).unwrap().as_array().unwrap();
            let names: Vec<_> = space[..3].iter().map(|part| part.as_name().unwrap()).collect();
            assert_eq!(names, [&b"Separation"[..], ink.as_bytes(), b"DeviceCMYK"], "{name}");
        }
    }
}

#[test]
fn black_overprints_and_white_and_yellow_never_do() {
    for (name, document) in both() {
        let mut seen = BTreeSet::new();
        for operations in operators(&document) {
            // Fill, stroke and overprint, kept over `q` and `Q`.
            let mut state = (String::new(), String::new(), None);
            let mut kept = Vec::new();
            for operation in operations {
                let said = format!("{:?}", operation.operands);
                match operation.operator.as_str() {
                    "q" => kept.push(state.clone()),
                    "Q" => state = kept.pop().unwrap(),
                    "k" | "cs" => state.0 = said,
                    "K" | "CS" => state.1 = said,
                    "gs" => state.2 = Some(operation.operands[0].as_name().unwrap() == b"Over"),
                    "f" | "TJ" | "S" => {
                        let ink = if operation.operator == "S" { &state.1 } else { &state.0 };
                        let over = ink == "[0, 0, 0, 1]" || ink == "[/Contour]" || ink == "[/All]";
                        assert_eq!(state.2, Some(over), "{name}: {ink}");
                        seen.insert(ink.clone());
                    }
                    _ => {}
                }
            }
        }
        assert!(seen.contains("[0, 0, 0, 0]") && seen.len() == 5, "white, black, yellow, contour, marks: {seen:?}");
        let states: Vec<_> = dictionaries(&document).into_iter().filter(|one| one.has(b"OPM")).collect();
        let said: Vec<_> = states.iter().map(|one| (one.get(b"OP").unwrap(), one.get(b"op").unwrap())).collect();
        assert_eq!(said, [(&true.into(), &true.into()), (&false.into(), &false.into())]);
    }
}

#[test]
fn nothing_is_transparent_hidden_locked_or_active() {
    let banned = [
        "ca",
        "CA",
        "SMask",
        "BM",
        "AIS",
        "TK",
        "TR",
        "TR2",
        "HTP",
        "AA",
        "OpenAction",
        "JavaScript",
        "JS",
        "Annots",
        "AcroForm",
        "EF",
        "Encrypt",
        "PS",
        "OPI",
        "Alternates",
    ];
    for (name, document) in both() {
        assert!(!document.is_encrypted() && !document.trailer.has(b"Encrypt"));
        for one in dictionaries(&document) {
            let found: Vec<_> = banned.iter().filter(|key| one.has(key.as_bytes())).collect();
            assert!(found.is_empty(), "{name}: {found:?} in {one:?}");
            assert!(!one.has(b"Group"), "{name}: a transparency group");
            let filter = one.get(b"Filter").ok();
            assert!(filter.is_none_or(|filter| filter == &"FlateDecode".into()), "{name}: {filter:?}");
        }
    }
}

#[test]
fn x1a_has_neither_layers_nor_objects_within_streams() {
    let bytes = bytes(x1a(), "press-a3-a6-4", 6, A6);
    let document = Document::load_mem(&bytes).unwrap();
    assert!(!document.catalog().unwrap().has(b"OCProperties"));
    for one in dictionaries(&document) {
        let kind = one.get(b"Type").and_then(Object::as_name).unwrap_or_default();
        assert!(!matches!(kind, b"OCG" | b"ObjStm" | b"XRef"), "{one:?}");
    }
    assert!(operators(&document).iter().flatten().all(|operation| operation.operands.first() != Some(&"OC".into())));
}

#[test]
fn in_x4_the_contours_lie_alone_on_a_layer_above_everything() {
    let document = written(x4());
    let layers = document.catalog().unwrap().get(b"OCProperties").unwrap().as_dict().unwrap();
    let groups = layers.get(b"OCGs").unwrap().as_array().unwrap();
    assert_eq!(groups.len(), 1);
    let group = dictionary(&document, &groups[0]);
    let step = group.get(b"GTS_Metadata").unwrap().as_dict().unwrap();
    assert_eq!(step.get(b"GTS_ProcStepsGroup").unwrap(), &"Structural".into());
    assert_eq!(step.get(b"GTS_ProcStepsType").unwrap(), &"Cutting".into());
    let usual = layers.get(b"D").unwrap().as_dict().unwrap();
    assert!(!usual.has(b"AS") && usual.has(b"Name"), "no automatic states, and a name");
    assert_eq!(
        (usual.get(b"Order").unwrap(), usual.get(b"ON").unwrap()),
        (&Object::Array(groups.clone()), &Object::Array(groups.clone()))
    );
    let pages = document.get_pages();
    for (number, labels) in [(1, 4), (2, 2)] {
        let content = document.get_page_content(pages[&number]);
        let operations = lopdf::content::Content::decode(&content).unwrap().operations;
        let opens = operations.iter().rposition(|operation| operation.operator == "BDC").unwrap();
        assert_eq!(operations[opens].operands, ["OC".into(), "Cutting".into()]);
        let within = &operations[opens..];
        assert_eq!(within.last().unwrap().operator, "EMC", "nothing lies above");
        let count = |operator: &str, of: &[Operation]| of.iter().filter(|one| one.operator == operator).count();
        assert_eq!((count("S", within), count("f", within), count("TJ", within)), (labels, 0, 0));
        let spot = |of: &[Operation]| of.iter().any(|one| one.operands == ["Contour".into()]);
        assert!(spot(within) && !spot(&operations[..opens]));
    }
}

#[test]
fn a_document_for_a_printing_works_is_not_begun_without_date_or_inks() {
    let refused = |setup: Setup| PdfWriter::begin(Vec::new(), &setup).err().unwrap().to_string();
    let palette = Palette::Press("Cut".into());
    let undated = Setup { palette: palette.clone(), standard: x1a(), ..Setup::default() };
    assert_eq!(refused(undated), "a document by PDF/X-1a:2003 needs a date");
    let office = Setup { info: info(), palette: Palette::Office, standard: x4() };
    assert_eq!(refused(office), "a document by PDF/X-4 needs the colours of a printing works");
    assert!(PdfWriter::begin(Vec::new(), &Setup { info: info(), palette, standard: x1a() }).is_ok());
}

#[test]
fn what_is_no_profile_of_a_four_ink_printer_is_refused() {
    let whole = profile::profile();
    assert_eq!(Profile::read(whole.clone()).unwrap().description(), profile::NAME);
    let changed = |at: usize, with: &[u8]| {
        let mut bytes = whole.clone();
        bytes[at..at + with.len()].copy_from_slice(with);
        Profile::read(bytes).unwrap_err()
    };
    assert_eq!(Profile::read(Vec::new()), Err(ProfileError::NoProfile));
    assert_eq!(Profile::read(b"%PDF-1.7".repeat(40)), Err(ProfileError::NoProfile));
    assert_eq!(changed(36, b"acsq"), ProfileError::NoProfile);
    let cut = Profile::read(whole[..whole.len() - 1].to_vec()).unwrap_err();
    assert_eq!(cut, ProfileError::Length { declared: whole.len() as u32, found: whole.len() - 1 });
    assert_eq!(changed(8, &[5]), ProfileError::Version { major: 5 });
    assert_eq!(changed(12, b"mntr"), ProfileError::Class { class: "mntr".into() });
    assert_eq!(changed(12, b"\x1B[2J"), ProfileError::Class { class: "?[2J".into() });
    assert_eq!(changed(16, b"RGB "), ProfileError::Space { space: "RGB".into() });
    // More entries than there are, a part beyond the end, no table of inks.
    assert_eq!(changed(128, &[0xFF; 4]), ProfileError::Contents);
    assert_eq!(changed(136, &[0x7F, 0xFF, 0xFF, 0xFF]), ProfileError::Contents);
    let table = whole.windows(4).position(|tag| tag == b"A2B0").unwrap();
    assert_eq!(changed(table, b"A2B9"), ProfileError::Contents);
}

#[test]
fn a_profile_is_named_by_either_form_of_description() {
    let name = |part: &[u8]| {
        let mut bytes = profile::profile();
        // The description is the first part; a new one is put behind everything.
        let (at, size) = (bytes.len() as u32, part.len() as u32);
        bytes[136..144].copy_from_slice(&[at.to_be_bytes(), size.to_be_bytes()].concat());
        bytes.extend_from_slice(part);
        let whole = bytes.len() as u32;
        bytes[..4].copy_from_slice(&whole.to_be_bytes());
        Profile::read(bytes).unwrap().description().to_owned()
    };
    // ICC.1:2010 10.13: one record of 12 bytes, text in UTF-16.
    let many = b"mluc\0\0\0\0\0\0\0\x01\0\0\0\x0CenGB\0\0\0\x08\0\0\0\x1C\0C\0\xF6\0\x1B\0d";
    assert_eq!(name(many), "C??d");
    assert_eq!(name(b"desc\0\0\0\0\0\0\0\x04One\0"), "One");
    for broken in
        [&b"desc"[..], b"desc\0\0\0\0\xFF\xFF\xFF\xFF", b"mluc\0\0\0\0", b"text\0\0\0\0A", b"desc\0\0\0\0\0\0\0\0"]
    {
        assert_eq!(name(broken), "without a name");
    }
}
