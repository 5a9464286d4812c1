//! Engraved plates against what is printed of the same notices, as readers, renderers and code readers that are not ours
//! see them.
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

use std::path::Path;
use std::process::Command;
use std::sync::Arc;

use i_overlay::core::fill_rule::FillRule;
use i_overlay::core::overlay::Overlay;
use i_overlay::core::overlay_rule::OverlayRule;
use i_overlay::i_float::int::point::IntPoint;
use noticewright::drawing::{Drawing, Face, Ink, Path as Outline};
use noticewright::length::{Length, Point};
use noticewright::limits::Limits;
use noticewright::sheets::{self, Formats, Label, Page, Palette, Plan, Run};
use noticewright::writers::pdf::{PdfWriter, Setup};
use noticewright::writers::{engraving, svg};

fn at(x: f64, y: f64) -> Point {
    Point::new(Length::mm(x), Length::mm(y))
}

/// A label with everything that a notice can show: a line around it, the sign's inks, words, a code, and a number left
/// standing in a disc.
fn label(number: usize) -> Drawing {
    let mut label = sample::label(number);
    label.fill(Outline::circle(at(95.0, 30.0), Length::mm(4.0)), Ink::Black);
    let figure = sample::typesetter().line(Face::Bold, "8").unwrap();
    label.text(figure, at(93.5, 32.0), Length::mm(6.0), Ink::White);
    label
}

fn plan(labels: usize) -> Plan {
    let labels = vec![Label { size: sample::A7, enclosure: "CH3-JB2" }; labels];
    let formats = Formats::only(sheets::find("plate-a7-4").unwrap());
    sheets::plan(&labels, &formats, Run::default(), &Limits::default()).unwrap().0
}

fn page(number: usize, drawing: impl Fn(usize) -> Drawing) -> Page {
    plan(6).page(0, number, sample::typesetter(), |label| Some(Arc::new(drawing(label)))).unwrap()
}

fn pdf(palette: &Palette, pages: usize, page: impl Fn(usize) -> Page + Sync) -> Vec<u8> {
    let mut bytes = Vec::new();
    let mut writer = PdfWriter::begin(&mut bytes, &Setup::plain(sample::info(), palette.clone())).unwrap();
    writer.add_all(pages, |number| Ok(page(number))).unwrap();
    writer.finish().unwrap();
    bytes
}

/// Two sheets of plates.
fn plates() -> Vec<u8> {
    pdf(&Palette::Engraving, 2, |number| page(number, |label_number| engraving::engraved(&label(label_number))))
}

/// The area in square millimetres that a renderer paints dark, edges by their share of the pixel.
fn dark(raster: &judge::Raster, dots: f64) -> f64 {
    let darkness = raster.pixels.iter().map(|pixel| f64::from(255 - pixel[1]) / 255.0).sum::<f64>();
    darkness * (25.4 / dots).powi(2)
}

/// The outlines of the engraving in an SVG, in micrometres.
fn outlines(picture: &str) -> Vec<Vec<IntPoint<i32>>> {
    let group = picture.split("<g id=\"engrave\"").nth(1).unwrap().split("</g>").next().unwrap();
    let data = group.split(" d=\"").skip(1).map(|rest| rest.split('"').next().unwrap());
    let of_path = |data: &str| -> Vec<Vec<IntPoint<i32>>> {
        let corner = |text: &str| {
            let (x, y) = text.split_once(' ').unwrap();
            let um = |text: &str| (text.parse::<f64>().unwrap() * 1_000.0).round() as i32;
            IntPoint::new(um(x), um(y))
        };
        let outlines = data.split('Z').filter(|outline| !outline.is_empty());
        outlines.map(|outline| outline.trim_start_matches('M').split('L').map(corner).collect()).collect()
    };
    data.flat_map(of_path).collect()
}

/// The area that outlines enclose in square millimetres, holes taken away, by the shoelace formula.
fn area(outlines: &[Vec<IntPoint<i32>>]) -> f64 {
    let doubled = |outline: &Vec<IntPoint<i32>>| -> i64 {
        let next = outline.iter().cycle().skip(1);
        let cross =
            |a: &IntPoint<i32>, b: &IntPoint<i32>| i64::from(a.x) * i64::from(b.y) - i64::from(b.x) * i64::from(a.y);
        outline.iter().zip(next).map(|(a, b)| cross(a, b)).sum()
    };
    outlines.iter().map(doubled).sum::<i64>().abs() as f64 / 2e6
}

fn area_by(outlines: &[Vec<IntPoint<i32>>], rule: FillRule) -> f64 {
    let shapes = Overlay::from_subj(outlines).overlay(OverlayRule::Subject, rule);
    area(&shapes.into_iter().flatten().collect::<Vec<_>>())
}

#[test]
fn as_much_is_engraved_as_a_renderer_paints_black() {
    // hayro draws the label as it is printed in black, with its fonts and its painting order.
    let dots = 600.0;
    let printed = pdf(&Palette::BlackOnly, 1, |_| Page::plain(label(3)));
    let seen = dark(&judge::hayro(&printed, 0, dots), dots);
    let picture = svg::to_engrave(&Page::plate(Arc::new(label(3)), Length::mm(2.5)), "", "");
    let engraved = area(&outlines(&picture));
    assert!((engraved / seen - 1.0).abs() < 0.005, "{engraved} is not {seen} square millimetres");
}

#[test]
fn a_sheet_shows_what_is_printed_and_the_edges_of_the_plates() {
    let dots = 300.0;
    let engraved = plates();
    let printed = pdf(&Palette::BlackOnly, 1, |_| page(0, label));
    let (one, other) = (judge::hayro(&engraved, 0, dots), judge::hayro(&printed, 0, dots));
    // Full green is taken away by black and by the magenta of the edges alike, red only by black.
    let red = |raster: &judge::Raster| {
        raster.pixels.iter().map(|pixel| f64::from(255 - pixel[0]) / 255.0).sum::<f64>() * (25.4 / dots).powi(2)
    };
    assert!((red(&one) / red(&other) - 1.0).abs() < 0.005, "{} {}", red(&one), red(&other));
    let format = sheets::find("plate-a7-4").unwrap();
    for cell in &format.cells {
        let [red, green, blue] = one.at(cell.origin.x.to_mm(), (cell.origin.y + cell.size.height / 2).to_mm());
        assert!(green < red && green < blue, "{red} {green} {blue}");
    }
    // Nothing stands beside the plates.
    let grid = format.grid();
    for (x, y) in [(4.0, 4.0), (grid.origin.x.to_mm() - 3.0, 100.0), (150.0, grid.bottom().to_mm() + 3.0)] {
        assert_eq!(one.at(x, y), [255; 3]);
    }
}

#[test]
fn a_code_is_read_from_its_outlines() {
    let bytes = plates();
    let format = sheets::find("plate-a7-4").unwrap();
    for dots in [200.0, 300.0, 600.0] {
        let raster = judge::hayro(&bytes, 0, dots);
        for (number, cell) in format.cells.iter().enumerate() {
            let code = [cell.origin.x.to_mm() + 75.0, cell.origin.y.to_mm() + 46.0, 24.0, 24.0];
            assert_eq!(judge::decoded(&raster, code), Ok(sample::payload(number)), "at {dots} dots an inch");
        }
    }
}

#[test]
fn readers_accept_the_plates_and_find_no_font() {
    let file = judge::file(&plates());
    if let Some(said) = judge::run("qpdf", &["--check", "FILE"], file.path()) {
        assert!(said.contains("No syntax or stream encoding errors found") && !said.contains("WARNING"), "{said}");
    }
    let strict = ["-dPDFSTOPONERROR", "-dPDFSTOPONWARNING", "-dSAFER", "-dBATCH", "-dNOPAUSE", "-q"];
    let strict = [&strict[..], &["-sDEVICE=nullpage", "FILE"]].concat();
    if let Some(said) = judge::run("gs", &strict, file.path()) {
        assert_eq!(said, "");
    }
    let picture = tempfile::Builder::new().suffix(".png").tempfile().unwrap();
    let picture = picture.path().display().to_string();
    if let Some(said) = judge::run("mutool", &["draw", "-q", "-r", "36", "-o", &picture, "FILE", "1"], file.path()) {
        let said: Vec<_> = said.lines().filter(|line| !line.is_empty() && !line.contains("ICC support")).collect();
        assert!(said.is_empty(), "{said:?}");
    }
    if let Some(said) = judge::run("pdffonts", &["FILE"], file.path()) {
        assert_eq!(said.lines().count(), 2, "only the heading: {said}");
    }
    if let Some(said) = judge::run("pdftotext", &["FILE", "-"], file.path()) {
        assert_eq!(said.trim(), "");
    }
    if let Some(said) = judge::run("pdfinfo", &["FILE"], file.path()) {
        // 300 x 200 mm in points.
        assert!(said.contains("Page size:       850.394 x 566.929 pts"), "{said}");
    }
}

#[test]
fn the_same_plates_give_the_same_bytes_on_one_thread_and_many() {
    let made = || (plates(), svg::to_engrave(&page(0, label), "sheet", "plates"));
    let one = rayon::ThreadPoolBuilder::new().num_threads(1).build().unwrap().install(made);
    assert!(one == made());
}

/// Runs the program in a folder; what it said on standard error.
fn noticewright(folder: &Path, words: &[&str]) -> String {
    let mut command = Command::new(env!("CARGO_BIN_EXE_noticewright"));
    let output = command.env_remove("NO_COLOR").current_dir(folder).args(words).output().unwrap();
    let said = String::from_utf8_lossy(&output.stderr).into_owned();
    assert!(output.status.success(), "{words:?}: {said}");
    said
}

/// The notices of a part of the demo site as drawings for an office printer and as plates.
fn demo(folder: &Path) {
    let survey = concat!(env!("CARGO_MANIFEST_DIR"), "/demo-data/survey.csv");
    let only = ["--subject", "enclosure", "--only", "CH3-*"];
    for (sheets, name) in [(["a4-a7-4", "a4-a6-2"], "printed"), (["plate-a7-4", "plate-a6-2"], "plates")] {
        let (output, texts) = (format!("{name}.pdf"), format!("{name}.csv"));
        let words = ["labels", survey, "-o", &output, "--sheet", sheets[0], "--sheet", sheets[1], "--svg", name];
        noticewright(folder, &[&words[..], &["--texts", &texts], &only].concat());
    }
}

#[test]
fn the_demo_notices_are_engraved_as_they_are_printed() {
    let folder = tempfile::tempdir().unwrap();
    demo(folder.path());
    let mut plates: Vec<_> = std::fs::read_dir(folder.path().join("plates"))
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    plates.sort();
    assert!(plates.len() > 4 && plates.contains(&"sheet-1.svg".to_owned()), "{plates:?}");
    for name in &plates {
        let picture = std::fs::read_to_string(folder.path().join("plates").join(name)).unwrap();
        for unwanted in ["<text", "href", "url(", "style", "<image", "transform"] {
            assert!(!picture.contains(unwanted), "{name}: {unwanted}");
        }
        let outlines = outlines(&picture);
        let (odd, non_zero) = (area_by(&outlines, FillRule::EvenOdd), area_by(&outlines, FillRule::NonZero));
        assert!((odd - non_zero).abs() < 0.001 && (area(&outlines) - odd).abs() < 0.001, "{name}: {odd} {non_zero}");
    }
    let dots = 600.0;
    for name in plates.iter().filter(|name| !name.starts_with("sheet")).take(4) {
        let picture = std::fs::read_to_string(folder.path().join("plates").join(name)).unwrap();
        let engraved = area(&outlines(&picture));
        let png = folder.path().join("seen.png");
        let words = ["-d", "600", "-p", "600", "-o", &png.display().to_string(), "FILE"];
        let Some(_) = judge::run("rsvg-convert", &words, &folder.path().join("printed").join(name)) else { return };
        let seen = image::open(&png).unwrap().into_rgb8();
        // Yellow is not dark, and an edge counts where more than half of the pixel is black.
        let black = seen.pixels().filter(|pixel| pixel.0[0] < 128).count() as f64 * (25.4_f64 / dots).powi(2);
        assert!((engraved / black - 1.0).abs() < 0.005, "{name}: {engraved} is not {black} square millimetres");
    }
}

#[test]
fn a_renderer_accepts_every_drawing_of_plates_at_its_size() {
    let folder = tempfile::tempdir().unwrap();
    demo(folder.path());
    let png = folder.path().join("sheet.png");
    let words = ["-d", "254", "-p", "254", "-o", &png.display().to_string(), "FILE"];
    let Some(_) = judge::run("rsvg-convert", &words, &folder.path().join("plates/sheet-1.svg")) else { return };
    // 254 dots an inch are ten a millimetre; the larger notices lie on the first sheet, 200 mm wide and 300 mm high.
    assert_eq!(image::image_dimensions(&png).unwrap(), (2_000, 3_000));
}

#[test]
fn the_texts_are_those_of_the_notices_whatever_they_are_made_on() {
    let folder = tempfile::tempdir().unwrap();
    demo(folder.path());
    let rows = |name: &str| -> Vec<Vec<String>> {
        let mut reader = csv::Reader::from_path(folder.path().join(name)).unwrap();
        reader.records().map(|row| row.unwrap().iter().take(12).map(str::to_owned).collect()).collect()
    };
    assert!(rows("plates.csv").len() > 30);
    assert_eq!(rows("plates.csv"), rows("printed.csv"));
    let standing = rows("plates.csv").into_iter().filter(|row| row[11] == "left-standing");
    let standing: Vec<String> = standing.map(|row| row[4].clone()).collect();
    assert!(standing.contains(&"2".to_owned()), "the numbers in the discs: {standing:?}");
}

#[test]
fn a_designation_like_a_formula_is_neither_altered_nor_passed_over() {
    let folder = tempfile::tempdir().unwrap();
    let survey = "enclosure,circuit,voltage_to_earth,isolator,isolator_location\n\
                  CH3-JB1,DB-C/7,230,=A1+B2-Q3,\"Room \"\"1\"\", left\"\nCH3-JB1,DB-D/2,230,@Q8,+Lobby\n";
    std::fs::write(folder.path().join("survey.csv"), survey).unwrap();
    let words = ["labels", "survey.csv", "-o", "notices.pdf", "--texts", "texts.csv", "--report", "short"];
    let said = noticewright(folder.path(), &words);
    assert!(said.contains("text-like-formula"), "{said}");
    let mut reader = csv::Reader::from_path(folder.path().join("texts.csv")).unwrap();
    let texts: Vec<String> = reader.records().map(|row| row.unwrap()[4].to_owned()).collect();
    for wanted in ["=A1+B2-Q3", "@Q8", "Room \"1\", left", "+Lobby"] {
        assert!(texts.iter().any(|text| text == wanted), "{wanted} is not in {texts:?}");
    }
    assert!(!noticewright(folder.path(), &["labels", "survey.csv", "-o", "again.pdf"]).contains("text-like-formula"));
}
