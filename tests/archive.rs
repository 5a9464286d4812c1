//! Documents that are read: kept for long by PDF/A-1b, told aloud by their tags, walked through by links and bookmarks.
//! Validators and readers of other hands judge them.
#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::string_slice,
    clippy::print_stderr,
    clippy::disallowed_methods,
    reason = "a test that cannot go on stops, and looks at the disk by itself"
)]

mod judge;
mod sample;

#[path = "judge/preflight.rs"]
mod preflight;
#[path = "sample/reading.rs"]
mod reading;
#[path = "judge/tags.rs"]
mod tags;

use std::sync::OnceLock;

use lopdf::{Document, Object};
use noticewright::writers::pdf::{DocumentInfo, Standard};

/// The document that most tests look at: forty rows over several pages.
fn archive() -> &'static [u8] {
    static ARCHIVE: OnceLock<Vec<u8>> = OnceLock::new();
    ARCHIVE.get_or_init(|| reading::written(40, Standard::Archive, reading::info(true)))
}

fn loaded() -> Document {
    Document::load_mem(archive()).unwrap()
}

#[test]
fn the_validator_finds_it_valid_with_and_without_a_date() {
    preflight::accepts(judge::file(archive()).path());
    preflight::accepts(judge::file(&reading::written(4, Standard::Archive, reading::info(false))).path());
}

#[test]
fn the_validator_finds_it_valid_whatever_is_said_about_it() {
    let hostile = DocumentInfo {
        title: " a\u{1}b\r\nc\u{FFFE}\t ".to_owned(),
        author: "(J.\u{85} Doe) \u{1F512}".to_owned(),
        language: String::new(),
        ..DocumentInfo::default()
    };
    for info in [hostile, DocumentInfo::default()] {
        preflight::accepts(judge::file(&reading::written(1, Standard::Archive, info)).path());
    }
}

#[test]
fn the_validator_sees_what_is_wrong() {
    // A judge that calls everything valid would be none.
    let plain = judge::file(&reading::written(1, Standard::Plain, reading::info(true)));
    let Some(said) = preflight::said(plain.path()) else { return };
    assert!(said.contains("is not a valid PDF/A-1b file"), "{said}");
}

#[test]
fn every_mark_and_every_part_is_reached_once() {
    for standard in [Standard::Archive, Standard::Plain] {
        let document = Document::load_mem(&reading::written(40, standard, reading::info(true))).unwrap();
        let tags = tags::check(&document);
        // One for the schedule and one for each of three enclosures.
        assert_eq!((tags.count("Document"), tags.count("Sect"), tags.count("H1")), (1, 4, 4));
        // The head once though it stands on every page; four cells a row, one of them empty.
        assert_eq!((tags.count("Table"), tags.count("TR")), (1, 41));
        assert_eq!((tags.count("TH"), tags.count("TD")), (4 + 40, 3 * 40));
        assert_eq!((tags.count("L"), tags.count("LI"), tags.count("Lbl"), tags.count("LBody")), (1, 2, 2, 2));
        // Three notices in the table, three on their own pages; the logo decorates.
        assert_eq!(tags.count("Figure"), 6);
        // Three rows and three ways back lead somewhere; 37 rows and one line do not.
        assert_eq!((tags.count("Link"), tags.links.len(), tags.count("Span")), (6, 6, 38));
    }
}

#[test]
fn a_picture_says_what_it_shows_and_where_it_is() {
    let document = loaded();
    let tags = tags::check(&document);
    for figure in tags.of("Figure") {
        let said = lopdf::decode_text_string(figure.get(b"Alt").unwrap()).unwrap();
        assert!(said.starts_with("The notice"), "{said}");
        let room = figure.get(b"A").unwrap().as_dict().unwrap().get(b"BBox").unwrap().as_array().unwrap();
        let room: Vec<f64> = room.iter().map(|number| f64::from(number.as_float().unwrap())).collect();
        // The label is 105 x 74 mm, and three tenths of it in the table.
        let (width, height) = ((room[2] - room[0]) * 25.4 / 72.0, (room[3] - room[1]) * 25.4 / 72.0);
        let scale = if width < 50.0 { 0.3 } else { 1.0 };
        assert!((width - 105.0 * scale).abs() < 0.01 && (height - 74.0 * scale).abs() < 0.01, "{room:?}");
        assert!(room[0] > 0.0 && room[1] > 0.0 && room[3] < 595.28, "{room:?}");
    }
    let alt = tags
        .of("Figure")
        .find_map(|one| lopdf::decode_text_string(one.get(b"Alt").unwrap()).ok().filter(|said| said.contains('≥')));
    assert_eq!(alt.unwrap().split(':').next(), Some("The notice on CH1-JB2"));
}

#[test]
fn heads_say_what_they_are_the_heads_of() {
    let document = loaded();
    let tags = tags::check(&document);
    let scope = |head: &lopdf::Dictionary| {
        let attributes = head.get(b"A").unwrap().as_dict().unwrap();
        String::from_utf8_lossy(attributes.get(b"Scope").unwrap().as_name().unwrap()).into_owned()
    };
    let scopes: Vec<String> = tags.of("TH").map(scope).collect();
    let count = |wanted: &str| scopes.iter().filter(|one| *one == wanted).count();
    assert_eq!((count("Column"), count("Row")), (4, 40));
}

#[test]
fn bookmarks_are_nested_and_counted() {
    let (entries, seen) = tags::outline(&loaded());
    let wanted =
        [(0, "Schedule"), (0, "The end\u{2026}"), (1, "CH1-JB2 (Łódź)"), (1, "CH2-JB2 (Łódź)"), (1, "CH3-JB2 (Łódź)")];
    assert_eq!(entries, wanted.map(|(depth, title)| (depth, title.to_owned())));
    assert_eq!(seen, 5);
    assert_eq!(loaded().catalog().unwrap().get(b"PageMode").unwrap().as_name().unwrap(), b"UseOutlines");
}

#[test]
fn every_place_can_be_reached_by_name() {
    let names = tags::names(&loaded());
    assert_eq!(names.len(), 40 + 3 + 2);
    assert!(names.contains_key(&b"row 17"[..]) && !names.contains_key(&b"nowhere"[..]));
}

#[test]
fn a_picture_of_dots_is_stored_once_and_stands_over_the_running_head() {
    let document = loaded();
    let images = document.objects.values().filter_map(|object| object.as_stream().ok());
    let images: Vec<_> =
        images.filter(|one| one.dict.get(b"Subtype").is_ok_and(|kind| *kind == "Image".into())).collect();
    assert_eq!(images.len(), 1);
    assert_eq!(images[0].decompressed_content().unwrap(), reading::logo().rgb);
    // Four dots by two at 9 mm high are 18 mm wide; the text ends 14 mm from the right edge, 28 mm from the top.
    let raster = judge::hayro(archive(), 0, 254.0);
    let near = |found: [u8; 3], wanted: [u8; 3]| found.iter().zip(wanted).all(|(one, other)| one.abs_diff(other) <= 3);
    for (x, y, dot) in [(265.0 + 2.2, 19.0 + 2.2, 0), (297.0 - 14.0 - 2.2, 19.0 + 2.2, 3), (265.0 + 2.2, 28.0 - 2.2, 4)]
    {
        let wanted = [0, 1, 2].map(|part| (dot * 3 + part) * 10);
        assert!(near(raster.at(x, y), wanted), "{:?} is not {wanted:?} at {x} {y}", raster.at(x, y));
    }
}

#[test]
fn what_the_standard_forbids_is_not_there() {
    let document = loaded();
    assert_eq!(document.version, "1.4");
    let catalogue = document.catalog().unwrap();
    let preferences: Vec<&[u8]> =
        catalogue.get(b"ViewerPreferences").unwrap().as_dict().unwrap().iter().map(|(key, _)| key.as_slice()).collect();
    assert_eq!(preferences, [b"DisplayDocTitle"]);
    let id = document.trailer.get(b"ID").unwrap().as_array().unwrap();
    assert_eq!((id.len(), id[0].as_str().unwrap().len()), (2, 16));
    for unwanted in ["OCProperties", "AA", "OpenAction", "AcroForm"] {
        assert!(!catalogue.has(unwanted.as_bytes()), "{unwanted}");
    }
    for object in document.objects.values() {
        let entries = object.as_dict().or_else(|_| object.as_stream().map(|stream| &stream.dict));
        let Ok(entries) = entries else { continue };
        for unwanted in ["SMask", "Group", "ca", "CA", "BM", "Interpolate", "OC", "JS", "EF"] {
            assert!(!entries.has(unwanted.as_bytes()), "{unwanted} in {entries:?}");
        }
    }
    let descriptors = document.objects.values().filter_map(|object| object.as_dict().ok());
    let descriptors: Vec<_> = descriptors.filter(|one| one.has(b"FontFile2")).collect();
    assert!(descriptors.len() == 3 && descriptors.iter().all(|one| one.has(b"CIDSet")));
}

#[test]
fn both_descriptions_say_the_same_and_nothing_unknown_is_said() {
    let document = loaded();
    let packet =
        document.dereference(document.catalog().unwrap().get(b"Metadata").unwrap()).unwrap().1.as_stream().unwrap();
    assert!(!packet.dict.has(b"Filter"));
    let packet = String::from_utf8(packet.content.clone()).unwrap();
    let info = document.dereference(document.trailer.get(b"Info").unwrap()).unwrap().1.as_dict().unwrap();
    let keys: Vec<_> = info.iter().map(|(key, _)| String::from_utf8_lossy(key).into_owned()).collect();
    assert_eq!(keys, ["Title", "Author", "Subject", "Creator", "Producer", "CreationDate", "ModDate"]);
    for (key, value) in info.iter().take(5) {
        let said =
            lopdf::decode_text_string(value).unwrap().replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;");
        assert!(packet.contains(&format!(">{said}<")), "{}: {said} is not in {packet}", String::from_utf8_lossy(key));
    }
    assert!(packet.contains("<pdfaid:part>1</pdfaid:part><pdfaid:conformance>B</pdfaid:conformance>"));
    assert!(!packet.contains("Trapped") && !packet.contains("pdfx"), "{packet}");
    let dates = packet.matches("2026-03-14T00:00:00Z").count();
    assert_eq!((dates, info.get(b"CreationDate").unwrap().as_str().unwrap()), (2, &b"D:20260314000000Z"[..]));
    let undated = reading::written(1, Standard::Archive, reading::info(false));
    assert!(!String::from_utf8_lossy(&undated).contains("Date"));
}

#[test]
fn the_colours_are_described_by_a_profile_of_version_2() {
    let document = loaded();
    let intents = document.catalog().unwrap().get(b"OutputIntents").unwrap().as_array().unwrap().clone();
    assert_eq!(intents.len(), 1);
    let intent = tags::dictionary(&document, &intents[0]);
    assert_eq!(intent.get(b"S").unwrap().as_name().unwrap(), b"GTS_PDFA1");
    let profile = document.dereference(intent.get(b"DestOutputProfile").unwrap()).unwrap().1.as_stream().unwrap();
    assert_eq!(profile.dict.get(b"N").unwrap(), &Object::Integer(3));
    let read = moxcms::ColorProfile::new_from_slice(&profile.decompressed_content().unwrap()).unwrap();
    assert_eq!((read.version(), read.color_space), (moxcms::ProfileVersion::V2_1, moxcms::DataColorSpace::Rgb));
}

#[test]
fn outside_readers_accept_it() {
    let file = judge::file(archive());
    if let Some(said) = judge::run("qpdf", &["--check", "FILE"], file.path()) {
        assert!(said.contains("No syntax or stream encoding errors found") && !said.contains("WARNING"), "{said}");
    }
    let strict =
        ["-dPDFSTOPONERROR", "-dPDFSTOPONWARNING", "-dSAFER", "-dBATCH", "-dNOPAUSE", "-q", "-sDEVICE=nullpage"];
    if let Some(said) = judge::run("gs", &[&strict[..], &["FILE"]].concat(), file.path()) {
        assert_eq!(said, "");
    }
    if let Some(said) = judge::run("mutool", &["show", "FILE", "outline"], file.path()) {
        assert!(said.contains("\"CH2-JB2 (Łódź)\""), "{said}");
    }
    if let Some(said) = judge::run("pdfinfo", &["-dests", "FILE"], file.path()) {
        assert!(said.contains("\"row 17\"") && said.contains("\"schedule\""), "{said}");
    }
}

#[test]
fn a_reader_of_another_hand_tells_it_in_order() {
    let file = judge::file(archive());
    let Some(said) = judge::run("pdfinfo", &["-struct-text", "FILE"], file.path()) else { return };
    let mut rest = said.as_str();
    let order = [
        "H1 (block)",
        "Schedule of notices, Σ 400 V",
        "words that go on words",
        "LBody (block)",
        "another thing",
        "H2 (block)",
        "\"Enclosures\"",
        "Table (block)",
        "/Scope /Column",
        "\"enclosure\"",
        "/Scope /Row",
        "Link",
        "\"CH1-JB2\"",
        "Figure",
        "Isolate at all 3 points",
        "\"fixed\"",
        "\"CH40-JB2\"",
        "To a place that there is not",
        "H1 (block)",
        "\"CH1-JB2\"",
        "Back to the schedule",
        "\"initials\"",
    ];
    for wanted in order {
        let at = rest.find(wanted).unwrap_or_else(|| panic!("{wanted} does not come in {rest}"));
        rest = &rest[at + wanted.len()..];
    }
    // Running heads and feet and the logo are passed over, and the head of the table is told once.
    for unwanted in ["Saltmere cold store", "page 1 of", "Ring the gatehouse"] {
        assert!(!said.contains(unwanted), "{unwanted}");
    }
    assert_eq!(said.matches("\"enclosure\"").count(), 1);
}

#[test]
fn the_same_document_has_the_same_bytes() {
    assert!(archive() == reading::written(40, Standard::Archive, reading::info(true)));
}
