//! Readers, renderers and code readers that are not ours judge what the writer makes.
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

use noticewright::drawing::{Drawing, Face, Ink};
use noticewright::length::{Length, Point, Rect, Size};
use noticewright::limits::Limits;
use noticewright::sheets::{self, Correction, Formats, Label, Page, Run};
use noticewright::typesetting::fonts;

/// Every kind of page that there is: labels on two formats, the ruler, the picture of a format.
fn every_kind_of_page() -> Vec<Page> {
    let plan = sample::plan(9, sample::A7, Run { left_out: vec!["CH4-JB9".into()], ..Run::default() });
    let mut pages: Vec<_> = (0..3).map(|number| sample::page(&plan, number)).collect();
    pages.push(
        sheets::ruler(sheets::parse_size("A4").unwrap(), Correction::default(), "", sample::typesetter()).unwrap(),
    );
    let formats = sheets::built_in().iter();
    pages.extend(formats.map(|format| Page::plain(sheets::picture(format, sample::typesetter()))));
    pages
}

fn written(pages: &[Page]) -> tempfile::NamedTempFile {
    judge::file(&sample::written(&sample::info(), pages.len(), |number| pages[number].clone()).0)
}

#[test]
fn qpdf_finds_nothing_wrong() {
    let file = written(&every_kind_of_page());
    if let Some(said) = judge::run("qpdf", &["--check", "FILE"], file.path()) {
        assert!(said.contains("No syntax or stream encoding errors found"), "{said}");
        assert!(!said.contains("WARNING"), "{said}");
    }
}

#[test]
fn ghostscript_draws_it_without_a_warning() {
    let file = written(&every_kind_of_page());
    let strict = ["-dPDFSTOPONERROR", "-dPDFSTOPONWARNING", "-dSAFER", "-dBATCH", "-dNOPAUSE", "-q"];
    let arguments = [&strict[..], &["-sDEVICE=nullpage", "FILE"]].concat();
    if let Some(said) = judge::run("gs", &arguments, file.path()) {
        assert_eq!(said, "");
    }
}

#[test]
fn mutool_draws_it_without_a_warning() {
    let file = written(&every_kind_of_page());
    let picture = tempfile::Builder::new().suffix(".png").tempfile().unwrap();
    let picture = picture.path().display().to_string();
    if let Some(said) = judge::run("mutool", &["draw", "-q", "-r", "36", "-o", &picture, "FILE", "1"], file.path()) {
        // Some builds of it have no colour management and say so of every file.
        let said: Vec<_> = said.lines().filter(|line| !line.is_empty() && !line.contains("ICC support")).collect();
        assert!(said.is_empty(), "{said:?}");
    }
}

#[test]
fn page_boxes_are_the_paper_to_a_hundredth_of_a_millimetre() {
    // ISO 216: A4 is 210 x 297 mm, A3 297 x 420 mm. ANSI/ASME Y14.1: Letter is 215.9 x 279.4 mm.
    for (name, width, height) in [("A4", 210.0, 297.0), ("A3", 297.0, 420.0), ("Letter", 215.9, 279.4)] {
        let size = sheets::parse_size(name).unwrap();
        let file = written(&[sheets::ruler(size, Correction::default(), "", sample::typesetter()).unwrap()]);
        let Some(said) = judge::run("pdfinfo", &["-box", "-f", "1", "-l", "1", "FILE"], file.path()) else { return };
        for kind in ["MediaBox", "CropBox", "BleedBox", "TrimBox", "ArtBox"] {
            let line = said.lines().find(|line| line.contains(kind)).unwrap();
            let (_, numbers) = line.split_once(':').unwrap();
            let numbers: Vec<f64> = numbers.split_whitespace().filter_map(|word| word.parse().ok()).collect();
            for (found, wanted) in numbers.iter().zip([0.0, 0.0, width, height]) {
                assert!((found * 25.4 / 72.0 - wanted).abs() < 0.01, "{name} {line}");
            }
            assert_eq!(numbers.len(), 4, "{line}");
        }
    }
}

#[test]
fn the_document_says_what_it_is() {
    let file = written(&every_kind_of_page());
    let Some(said) = judge::run("pdfinfo", &["-isodates", "FILE"], file.path()) else { return };
    let value = |key: &str| said.lines().find_map(|line| line.strip_prefix(key)).unwrap_or_default().trim().to_owned();
    assert_eq!(value("Title:"), sample::info().title);
    assert_eq!(value("Author:"), "J. Doe");
    assert_eq!(value("CreationDate:"), "2026-03-14T00:00:00Z");
    assert_eq!(value("PDF version:"), "1.7");
    assert_eq!(value("Pages:"), every_kind_of_page().len().to_string());
    let described = judge::run("pdfinfo", &["-meta", "FILE"], file.path()).unwrap();
    assert!(described.contains("(notices) &amp; &lt;record&gt; \\ é"), "{described}");
}

#[test]
fn every_font_is_embedded_as_a_subset_with_its_text() {
    let file = written(&every_kind_of_page());
    let Some(said) = judge::run("pdffonts", &["FILE"], file.path()) else { return };
    let fonts: Vec<_> = said.lines().skip(2).collect();
    assert_eq!(fonts.len(), 3, "{said}");
    for face in Face::ALL {
        let line = fonts.iter().find(|line| line.contains(&format!("+{} ", fonts::name(face)))).unwrap();
        assert!(line.contains("CID TrueType") && line.contains("yes yes yes"), "{line}");
        let tag = line.split('+').next().unwrap();
        assert!(tag.len() == 6 && tag.bytes().all(|byte| byte.is_ascii_uppercase()), "{line}");
    }
}

#[test]
fn the_text_comes_back_as_it_went_in() {
    let file = judge::file(&sample::document(6, Run::default()).0);
    let Some(said) = judge::run("pdftotext", &["-layout", "FILE", "-"], file.path()) else { return };
    let plain = said.split_whitespace().collect::<Vec<_>>().join(" ");
    for number in 0..6 {
        for (_, text, ..) in sample::texts(number) {
            let text = text.replace('\u{a0}', " ");
            assert!(plain.contains(&text), "{text:?} is not in {plain}");
        }
    }
    assert!(plain.contains("Sheet 2 of 2"), "{plain}");
}

/// A page with one line of text at the place (20, 30) mm.
fn one_line(face: Face, text: &str, em: Length) -> Page {
    let mut drawing = Drawing::new(Size::new(Length::mm(210.0), Length::mm(297.0)));
    let line = sample::typesetter().line(face, text).unwrap();
    drawing.text(line, Point::new(Length::mm(20.0), Length::mm(30.0)), em, Ink::Black);
    Page::plain(drawing)
}

#[test]
fn a_glyph_that_shows_another_text_here_still_reads_right() {
    // One glyph may serve several characters, and an accent typed by itself: whatever was written comes back.
    for text in [
        "5 \u{2126} and 5 Ω",
        "10 µF and 10 \u{3bc}F",
        "DB\u{2011}C/7",
        "fi fl ffi",
        "office 50\u{a0}Hz",
        "Cafe\u{301} 5",
    ] {
        let file = written(&[one_line(Face::Medium, text, Length::mm(6.0))]);
        let Some(said) = judge::run("pdftotext", &["FILE", "-"], file.path()) else { return };
        let plain = |text: &str| text.replace('\u{a0}', " ").replace('\u{2011}', "-");
        assert_eq!(plain(said.trim()), plain(text));
    }
}

#[test]
fn a_line_is_as_wide_as_it_was_shaped() {
    // Kerned pairs on purpose: a reader adds up widths and moves of its own accord.
    let text = "AVATAR To. Ty, LT Yo 1711 WAVE AVATAR To. Ty, LT Yo 1711 WAVE";
    for face in Face::ALL {
        let em = Length::mm(5.0);
        let line = sample::typesetter().line(face, text).unwrap();
        let file = written(&[one_line(face, text, em)]);
        let Some(said) = judge::run("pdftotext", &["-bbox", "FILE", "-"], file.path()) else { return };
        let mm = |key: &str, line: &str| -> f64 {
            let rest = line.split(&format!("{key}=\"")).nth(1).unwrap();
            rest.split('"').next().unwrap().parse::<f64>().unwrap() * 25.4 / 72.0
        };
        let words: Vec<_> = said.lines().filter(|line| line.contains("<word")).collect();
        let (left, right) = (mm("xMin", words.first().unwrap()), mm("xMax", words.last().unwrap()));
        let wanted = em.to_mm() * f64::from(line.width) / 1_000.0;
        assert!((left - 20.0).abs() < 0.001, "{left}");
        assert!((right - left - wanted).abs() < 0.01, "{face:?}: {} is not {wanted}", right - left);
    }
}

/// Where the code of a label lies on the sheet with its quiet zone, in millimetres.
fn code_on_sheet(cell: Rect) -> [f64; 4] {
    [cell.origin.x.to_mm() + 75.0, cell.origin.y.to_mm() + 46.0, 24.0, 24.0]
}

#[test]
fn every_code_is_read_back_by_a_reader_that_is_not_ours() {
    let (bytes, _) = sample::document(4, Run::default());
    let file = judge::file(&bytes);
    let format = sheets::find("a4-a7-4").unwrap();
    for dots in [150.0, 200.0, 300.0, 317.0, 600.0] {
        let rasters = [Some(judge::hayro(&bytes, 0, dots)), judge::poppler(file.path(), 1, dots)];
        for raster in rasters.into_iter().flatten() {
            for (number, cell) in format.cells.iter().enumerate() {
                let read = judge::decoded(&raster, code_on_sheet(*cell));
                assert_eq!(read, Ok(sample::payload(number)), "at {dots} dots an inch");
            }
        }
    }
}

/// A page of `a4-mixed` with five labels, of which some lie turned.
fn packed_page() -> Page {
    let labels = vec![Label { size: sample::A7, enclosure: "CH3-JB2" }; 5];
    let formats = Formats::only(sheets::find("a4-mixed").unwrap());
    let plan = sheets::plan(&labels, &formats, Run::default(), &Limits::default()).unwrap().0;
    assert_eq!(plan.documents[0].pages(), 1);
    sample::page(&plan, 0)
}

#[test]
fn text_of_a_turned_label_stands_where_it_was_put() {
    let page = packed_page();
    let turned: Vec<_> = page.placed.iter().filter(|placed| placed.turned).map(sheets::Placed::room).collect();
    assert!((1..5).contains(&turned.len()), "{turned:?}");
    let file = written(&[page]);
    let Some(said) = judge::run("pdftotext", &["-bbox", "FILE", "-"], file.path()) else { return };
    let mm = |key: &str, line: &str| -> f64 {
        let rest = line.split(&format!("{key}=\"")).nth(1).unwrap();
        rest.split('"').next().unwrap().parse::<f64>().unwrap() * 25.4 / 72.0
    };
    let words: Vec<_> = said.lines().filter(|line| line.contains(">Isolate<")).collect();
    assert_eq!(words.len(), 5, "{said}");
    for room in turned {
        // The word begins 28 mm from the left of the label, on a line 15 mm below its upper edge, which is on the right.
        let (top, line) = (room.origin.y.to_mm() + 28.0, room.right().to_mm() - 15.0);
        let stands = |word: &&&str| {
            (mm("yMin", word) - top).abs() < 0.01 && mm("xMin", word) < line && line + 4.0 < mm("xMax", word)
        };
        assert_eq!(words.iter().filter(stands).count(), 1, "{room:?} in {words:?}");
    }
}

#[test]
fn codes_of_turned_labels_are_read_back() {
    let page = packed_page();
    let places: Vec<_> = page.placed.iter().map(|placed| (placed.room(), placed.turned)).collect();
    let file = written(&[page]);
    let bytes = std::fs::read(file.path()).unwrap();
    let rasters = [Some(judge::hayro(&bytes, 0, 300.0)), judge::poppler(file.path(), 1, 300.0)];
    for raster in rasters.into_iter().flatten() {
        let place = |(room, turned): &(Rect, bool)| match turned {
            true => [room.right().to_mm() - 46.0 - 24.0, room.origin.y.to_mm() + 75.0, 24.0, 24.0],
            false => code_on_sheet(*room),
        };
        let mut read: Vec<_> = places.iter().map(|label| judge::decoded(&raster, place(label)).unwrap()).collect();
        read.sort_unstable();
        assert_eq!(read, (0..5).map(sample::payload).collect::<Vec<_>>());
    }
}

#[test]
fn zbar_reads_every_code_of_a_page() {
    let file = judge::file(&sample::document(4, Run::default()).0);
    let folder = tempfile::tempdir().unwrap();
    let stem = folder.path().join("page").display().to_string();
    let Some(_) = judge::run("pdftoppm", &["-singlefile", "-r", "300", "-png", "FILE", &stem], file.path()) else {
        return;
    };
    let picture = folder.path().join("page.png");
    let Some(said) = judge::run("zbarimg", &["-q", "--raw", "FILE"], &picture) else { return };
    let mut read: Vec<_> = said.lines().filter(|line| line.starts_with("https:")).collect();
    read.sort_unstable();
    assert_eq!(read, (0..4).map(sample::payload).collect::<Vec<_>>());
}

#[test]
fn a_code_that_carries_words_is_read_with_every_letter() {
    let folder = tempfile::tempdir().unwrap();
    let path = |name: &str| folder.path().join(name);
    let survey = "enclosure,area,circuit,voltage_to_earth,isolator,isolator_location,size\n\
                  KÜ3-JB1,Kühlraum 3,DB-C/7,230,Q7,Schaltraum 1 – Süd,A5\n\
                  KÜ3-JB1,,DB-D/12,230,Q12,\"Ωmega lobby, łącznik\",A5\n";
    std::fs::write(path("survey.csv"), survey).unwrap();
    std::fs::write(path("job.toml"), "[notices]\nqr = \"text\"\n").unwrap();
    let output = std::process::Command::new(env!("CARGO_BIN_EXE_noticewright"))
        .args(["labels", "--report", "json", "--only", "KÜ3-JB1/1", "-o"])
        .args([path("notices.pdf"), path("survey.csv")])
        .output()
        .unwrap();
    assert_eq!(output.status.code(), Some(0), "{}", String::from_utf8_lossy(&output.stderr));
    let report: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
    let notices = report["notices"].as_array().unwrap();
    let words = notices.iter().find(|notice| notice["number"] == "KÜ3-JB1/1").unwrap()["qr"].as_str().unwrap();
    assert!(["KÜ3-JB1", "Süd", "Ωmega lobby, łącznik"].iter().all(|word| words.contains(word)), "{words}");
    let raster = judge::hayro(&std::fs::read(path("notices.pdf")).unwrap(), 0, 300.0);
    let [width, height] = [raster.width, raster.height].map(|dots| dots as f64 * 25.4 / 300.0 - 0.1);
    assert_eq!(judge::decoded(&raster, [0.0, 0.0, width, height]).unwrap(), words);
    let stem = path("page").display().to_string();
    let drawing = ["-singlefile", "-r", "300", "-png", "FILE", &stem];
    if judge::run("pdftoppm", &drawing, &path("notices.pdf")).is_none() {
        return;
    }
    let Some(said) = judge::run("zbarimg", &["-q", "--raw", "FILE"], &path("page.png")) else { return };
    assert!(said.contains(words), "{said}\n{words}");
}

#[test]
fn no_seam_opens_between_the_modules_of_a_code() {
    // The outer ring of a finder pattern is seven dark modules long in both directions: no pixel inside it may be lighter.
    let (bytes, _) = sample::document(1, Run::default());
    let cell = sheets::find("a4-a7-4").unwrap().cells[0];
    let (left, top) = (cell.origin.x.to_mm() + 77.0, cell.origin.y.to_mm() + 48.0);
    for dots in [150.0, 203.0, 300.0, 600.0] {
        let raster = judge::hayro(&bytes, 0, dots);
        for step in 4..70 {
            let along = f64::from(step) * 0.1 * 0.487 * 0.98;
            for (x, y) in [(left + along, top + 0.24), (left + 0.24, top + along)] {
                assert!(raster.at(x, y)[0] < 40, "{:?} at {x} {y}, {dots} dots an inch", raster.at(x, y));
            }
        }
    }
}

#[test]
fn the_yellow_is_the_same_in_every_renderer() {
    // RAL 1003 as F9A800 by the table of ISO 3864-4 (from a secondary source). The place lies inside the triangle.
    let (bytes, _) = sample::document(1, Run::default());
    let file = judge::file(&bytes);
    let cell = sheets::find("a4-a7-4").unwrap().cells[0];
    let (x, y) = (cell.origin.x.to_mm() + 11.5, cell.origin.y.to_mm() + 20.5);
    let rasters = [
        Some(judge::hayro(&bytes, 0, 150.0)),
        judge::poppler(file.path(), 1, 150.0),
        judge::ghostscript(file.path(), 1, 150.0),
    ];
    for raster in rasters.into_iter().flatten() {
        let found = raster.at(x, y);
        let far = found.iter().zip([0xF9_u8, 0xA8, 0x00]).map(|(part, wanted)| part.abs_diff(wanted)).max();
        assert!(far <= Some(2), "{found:?}");
    }
}

/// Left edges of the dark runs along the check ruler of the first sheet, just over its line.
fn ruler_ticks(run: Run) -> Option<(f64, f64)> {
    let file = judge::file(&sample::document(1, run.clone()).0);
    let raster = judge::poppler(file.path(), 1, 600.0)?;
    let (_, scale) = run.correction.scales();
    let y = (210.0 - 5.5 - 0.4) * scale + run.correction.offset.y.to_mm();
    let runs = raster.dark_along(y);
    Some((runs.first()?.0, runs.last()?.0))
}

#[test]
fn the_check_ruler_is_a_hundred_millimetres_long() {
    let Some((first, last)) = ruler_ticks(Run::default()) else { return };
    assert!((last - first - 100.0).abs() < 0.05, "{}", last - first);
    // A printer that shrinks by 2 in a thousand and prints 0.4 mm too far left is given the opposite.
    let offset = Point::new(Length::um(400), Length::um(-300));
    let correction = Correction { offset, scale_x: 1.002, scale_y: 0.999, ..Correction::default() };
    let Some((moved, end)) = ruler_ticks(Run { correction, ..Run::default() }) else { return };
    assert!((end - moved - 100.2).abs() < 0.05, "{}", end - moved);
    assert!((moved - (first * 1.002 + 0.4)).abs() < 0.05, "{moved} against {first}");
}

#[test]
fn the_ruler_page_measures_what_it_says() {
    let size = sheets::parse_size("A4").unwrap();
    let file = written(&[sheets::ruler(size, Correction::default(), "", sample::typesetter()).unwrap()]);
    let Some(raster) = judge::poppler(file.path(), 1, 600.0) else { return };
    // Just over the level ruler, 35 mm from the lower edge: the frames, 31 ticks 5 mm apart, the frames again.
    let runs = raster.dark_along(297.0 - 35.0 - 0.8);
    let middles: Vec<f64> = runs.iter().map(|(from, to)| f64::midpoint(*from, *to)).collect();
    let frames = [3.0, 5.0, 8.0, 10.0];
    let wanted = frames.into_iter().chain((0..=30).map(|tick| 20.0 + f64::from(tick) * 5.0));
    let wanted: Vec<f64> = wanted.chain(frames.into_iter().rev().map(|frame| 210.0 - frame)).collect();
    assert_eq!(middles.len(), wanted.len(), "{middles:?}");
    for (found, wanted) in middles.iter().zip(wanted) {
        assert!((found - wanted).abs() < 0.05, "{found} is not {wanted}");
    }
}

#[test]
fn a_document_of_many_pages_keeps_its_order() {
    let size = Size::new(Length::mm(60.0), Length::mm(20.0));
    let labels = vec![Label { size, enclosure: "Q1" }; 300];
    let wide = sheets::read("one", "one", ONE_STRIP, &Limits::default()).0.unwrap();
    let formats = Formats::only(std::sync::Arc::new(wide));
    let plan = sheets::plan(&labels, &formats, Run::default(), &Limits::default()).unwrap().0;
    let strip = |number: usize| {
        let mut drawing = Drawing::new(size);
        let line = sample::typesetter().line(Face::Bold, &format!("Q{number}")).unwrap();
        drawing.text(line, Point::new(Length::mm(5.0), Length::mm(12.0)), Length::mm(6.0), Ink::Black);
        Some(std::sync::Arc::new(drawing))
    };
    let page = |number: usize| plan.page(0, number, sample::typesetter(), strip).unwrap();
    let file = judge::file(&sample::written(&sample::info(), 300, page).0);
    let Some(said) = judge::run("pdftotext", &["FILE", "-"], file.path()) else { return };
    let read: Vec<_> = said.split_whitespace().collect();
    assert_eq!(read, (0..300).map(|number| format!("Q{number}")).collect::<Vec<_>>());
    judge::run("qpdf", &["--check", "FILE"], file.path());
}

/// A small paper that holds one strip and leaves no room for anything else.
const ONE_STRIP: &str = r#"
title = "One strip"
paper = "62x22"
orientation = "landscape"
cell = "60x20"
columns = 1
rows = 1
left = 1
top = 1
corner_radius = 0
unprintable = 0.5
cut_marks = false
material = "polyester"
process = "thermal-transfer"
"#;
