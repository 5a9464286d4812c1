//! Readers and a plate maker that are not ours judge the documents for a printing works.
#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::string_slice,
    clippy::print_stderr,
    clippy::disallowed_methods,
    reason = "a test that cannot go on stops, and looks at the disk by itself"
)]

mod judge;
#[path = "judge/plates.rs"]
mod plates;
#[path = "sample/profile.rs"]
mod profile;
mod sample;

use std::path::Path;
use std::sync::{Arc, LazyLock};

use noticewright::length::Length;
use noticewright::limits::Limits;
use noticewright::sheets::{self, Formats, Label, Page, Palette, Placed, Plan, Run};
use noticewright::writers::pdf::{PdfWriter, PrintingCondition, Profile, Setup, Standard};
use plates::Plates;

/// The spot colour of the format that the tests use, as `label-layouts` names it.
const CONTOUR: &str = "Cutting contour";

fn x1a() -> Standard {
    Standard::X1a(PrintingCondition::registered("FOGRA39").unwrap())
}

fn x4(profile: Vec<u8>) -> Standard {
    Standard::X4 { profile: Arc::new(Profile::read(profile).unwrap()), condition: None }
}

/// The profile of four inks that comes with Ghostscript, where it is installed: a real one, made by others.
fn profile_of_others() -> Option<Vec<u8>> {
    let folders = glob::glob("/usr/share/ghostscript/*/iccprofiles/default_cmyk.icc").unwrap().filter_map(Result::ok);
    let found = folders.chain([Path::new("/usr/share/color/icc/ghostscript/default_cmyk.icc").to_owned()]);
    let bytes = found.into_iter().find_map(|path| std::fs::read(path).ok());
    if bytes.is_none() {
        assert!(std::env::var_os("REQUIRE_OUTSIDE").is_none_or(|value| value != "1"), "no profile of four inks");
        eprintln!("SKIPPED: there is no profile of four inks on this machine, so no real one was embedded");
    }
    bytes
}

fn plan() -> Plan {
    let format = sheets::find("press-a3-a7-9").unwrap();
    let labels = vec![Label { size: sample::A7, enclosure: "CH3-JB2" }; 10];
    let run = Run { slug: vec!["2026-03-14".into()], ..Run::default() };
    sheets::plan(&labels, &Formats::only(format), run, &Limits::default()).unwrap().0
}

/// Ten labels on two sheets, and the first page.
fn document(standard: Standard) -> (tempfile::NamedTempFile, Page) {
    let plan = plan();
    let mut bytes = Vec::new();
    let setup = Setup { info: sample::info(), palette: Palette::Press(CONTOUR.into()), standard };
    let mut writer = PdfWriter::begin(&mut bytes, &setup).unwrap();
    writer.add_all(plan.documents[0].pages(), |number| Ok(sample::page(&plan, number))).unwrap();
    writer.finish().unwrap();
    (judge::file(&bytes), sample::page(&plan, 0))
}

fn documents() -> Vec<(&'static str, tempfile::NamedTempFile)> {
    let of_others = profile_of_others().map(|profile| ("PDF/X-4", document(x4(profile)).0));
    let own = [("PDF/X-1a:2003", document(x1a()).0), ("PDF/X-4", document(x4(profile::profile())).0)];
    own.into_iter().chain(of_others).collect()
}

#[test]
fn three_readers_find_nothing_wrong() {
    let strict = ["-dPDFSTOPONERROR", "-dPDFSTOPONWARNING", "-dSAFER", "-dBATCH", "-dNOPAUSE", "-q"];
    let strict = [&strict[..], &["-sDEVICE=nullpage", "FILE"]].concat();
    let picture = tempfile::Builder::new().suffix(".png").tempfile().unwrap();
    let picture = picture.path().display().to_string();
    for (name, file) in documents() {
        if let Some(said) = judge::run("qpdf", &["--check", "FILE"], file.path()) {
            assert!(said.contains("No syntax or stream encoding errors found") && !said.contains("WARNING"), "{said}");
        }
        if let Some(said) = judge::run("gs", &strict, file.path()) {
            assert_eq!(said, "", "{name}");
        }
        if let Some(said) = judge::run("mutool", &["draw", "-q", "-r", "36", "-o", &picture, "FILE"], file.path()) {
            // Some builds of it have no colour management and say so of every file.
            let said: Vec<_> = said.lines().filter(|line| !line.is_empty() && !line.contains("ICC support")).collect();
            assert!(said.is_empty(), "{name}: {said:?}");
        }
    }
}

#[test]
fn poppler_sees_the_standard_the_dates_and_the_boxes() {
    for (name, file) in documents() {
        let Some(said) = judge::run("pdfinfo", &["-isodates", "-box", "-f", "2", "-l", "2", "FILE"], file.path())
        else {
            return;
        };
        let value = |key: &str| {
            let line = said.lines().find(|line| line.contains(key)).unwrap_or_else(|| panic!("no {key} in {said}"));
            line.split_once(':').unwrap().1.trim().to_owned()
        };
        assert_eq!(value("PDF subtype"), name);
        assert_eq!(
            (value("CreationDate").as_str(), value("ModDate").as_str()),
            ("2026-03-14T00:00:00Z", "2026-03-14T00:00:00Z")
        );
        assert_eq!(value("Encrypted"), "no");
        // ISO 216: A3 is 297 x 420 mm; 3 mm of bleed and 9 mm for marks lie round it.
        for (key, wanted) in [
            ("MediaBox", [0.0, 0.0, 444.0, 321.0]),
            ("BleedBox", [9.0, 9.0, 435.0, 312.0]),
            ("TrimBox", [12.0, 12.0, 432.0, 309.0]),
        ] {
            let found = value(key);
            let found: Vec<f64> =
                found.split_whitespace().map(|word| word.parse::<f64>().unwrap() * 25.4 / 72.0).collect();
            assert!(
                found.iter().zip(wanted).all(|(found, wanted)| (found - wanted).abs() < 0.01),
                "{name} {key} {found:?}"
            );
        }
    }
}

#[test]
fn every_font_is_embedded() {
    for (name, file) in documents() {
        let Some(said) = judge::run("pdffonts", &["FILE"], file.path()) else { return };
        let fonts: Vec<_> = said.lines().skip(2).collect();
        assert!(fonts.len() == 3 && fonts.iter().all(|line| line.contains("yes yes yes")), "{name}: {said}");
    }
}

/// A document by its standard, the plates of its first page, and the edges of its labels in millimetres.
type Parted = (&'static str, Plates, Vec<[f64; 4]>);

/// The first pages at 200 dots an inch, parted once for all tests.
fn parted() -> &'static [Parted] {
    static PARTED: LazyLock<Vec<Parted>> = LazyLock::new(|| {
        let edges = |placed: &Placed| {
            let room = placed.room();
            [room.origin.x, room.origin.y, room.right(), room.bottom()].map(Length::to_mm)
        };
        let of_others = profile_of_others().map(|profile| ("PDF/X-4", document(x4(profile))));
        let all = [("PDF/X-1a:2003", document(x1a()))].into_iter().chain(of_others);
        let part = |(name, (file, page)): (_, (tempfile::NamedTempFile, Page))| {
            Some((name, Plates::of(file.path(), 200.0)?, page.placed.iter().map(edges).collect()))
        };
        all.filter_map(part).collect()
    });
    &PARTED
}

#[test]
fn each_ink_stands_on_its_own_plate() {
    for (name, plates, rooms) in parted() {
        assert_eq!(plates.names(), ["Black", CONTOUR, "Cyan", "Magenta", "Yellow"], "{name}");
        for [left, top, ..] in rooms {
            // Nothing but text stands here: it is on the black plate alone.
            let text = [left + 28.0, top + 9.0, left + 100.0, top + 25.0];
            assert!(plates.most("Black", text) > 0.95, "{name}");
            // The code too.
            let code = [left + 76.0, top + 47.0, left + 99.0, top + 70.0];
            for (part, ink) in
                [text, code].into_iter().flat_map(|part| ["Cyan", "Magenta", "Yellow", CONTOUR].map(|ink| (part, ink)))
            {
                assert_eq!(plates.most(ink, part), 0.0, "{name}: {ink}");
            }
            // Signal yellow by the table of ISO 3864-4 (from a secondary source): 35 % magenta, 100 % yellow.
            let yellow = [left + 11.0, top + 20.0, left + 12.0, top + 21.0];
            for (ink, wanted) in [("Cyan", 0.0), ("Magenta", 0.35), ("Yellow", 1.0), ("Black", 0.0), (CONTOUR, 0.0)] {
                assert!((plates.most(ink, yellow) - wanted).abs() < 0.01, "{name}: {ink}");
                assert!((plates.least(ink, yellow) - wanted).abs() < 0.01, "{name}: {ink}");
            }
            // Black over it leaves the yellow below, so that no light edge can open.
            let disc = [left + 16.3, top + 17.7, left + 17.2, top + 18.6];
            assert!(plates.least("Black", disc) > 0.99 && plates.least("Yellow", disc) > 0.99, "{name}");
        }
    }
}

#[test]
fn the_contour_is_on_its_own_plate_and_on_no_other() {
    for (name, plates, rooms) in parted() {
        for [left, top, right, bottom] in rooms {
            for edge in [
                [left - 0.2, top + 20.0, left + 0.2, top + 50.0],
                [right - 0.2, top + 20.0, right + 0.2, top + 50.0],
                [left + 20.0, top - 0.2, left + 80.0, top + 0.2],
                [left + 20.0, bottom - 0.2, left + 80.0, bottom + 0.2],
            ] {
                assert!(plates.most(CONTOUR, edge) > 0.99, "{name}: {edge:?}");
                for ink in ["Cyan", "Magenta", "Yellow", "Black"] {
                    assert_eq!(plates.most(ink, edge), 0.0, "{name}: {ink} at {edge:?}");
                }
            }
            let within = [left + 1.0, top + 1.0, right - 1.0, bottom - 1.0];
            let corner = [*left, *top, left + 0.5, top + 0.5];
            assert_eq!(plates.most(CONTOUR, within), 0.0, "{name}: nothing but its edge");
            assert_eq!(plates.most(CONTOUR, corner), 0.0, "{name}: the corners are round");
        }
        // Register marks are on every plate: the upper crop mark in line with the left edge of the trimmed sheet.
        for ink in plates.names() {
            assert!(plates.most(ink, [11.5, 4.0, 12.5, 7.0]) > 0.99, "{name}: {ink}");
        }
    }
}

#[test]
fn the_profile_of_the_command_cases_is_the_invented_one() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/commands/labels-press-profile/in/works.icc");
    if std::env::var_os("UPDATE_COMMANDS").is_some() {
        std::fs::write(&path, profile::profile()).unwrap();
    }
    assert!(std::fs::read(&path).unwrap() == profile::profile(), "UPDATE_COMMANDS=1 writes it anew");
}
