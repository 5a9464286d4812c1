//! Each code leads where the report says, read from renderings that are not ours, and its modules can be printed.

use std::collections::{BTreeMap, BTreeSet};

use rayon::prelude::*;
use rxing::Point;
use serde_json::Value;

use crate::judge::{self, Raster};
use crate::site::{cell, printed, text};

/// Dots to an inch: a module of 0.4 mm is nearly five dots wide.
const DOTS: f64 = 300.0;

/// The smallest module that office printers hold (common practice), in millimetres.
const SMALLEST_MODULE: f64 = 0.4;

/// Of the measure in a rendering, in millimetres.
const ERROR: f64 = 0.01;

/// The notices with a code, by page.
fn pages() -> BTreeMap<usize, Vec<&'static Value>> {
    let mut pages: BTreeMap<usize, Vec<_>> = BTreeMap::new();
    for notice in printed().notices().iter().filter(|notice| notice["qr"].is_string()) {
        pages.entry(usize::try_from(notice["page"].as_u64().unwrap()).unwrap()).or_default().push(notice);
    }
    assert!(pages.values().map(Vec::len).sum::<usize>() >= 100, "few notices carry a code");
    pages
}

#[test]
fn each_code_reads_as_reported_and_is_coarse_enough_in_a_rendering_by_hayro() {
    let document = std::fs::read(printed().document()).unwrap();
    pages().into_par_iter().for_each(|(page, notices)| {
        let raster = judge::hayro(&document, page - 1, DOTS);
        notices.into_iter().for_each(|notice| judge_code(&raster, notice));
    });
}

fn judge_code(raster: &Raster, notice: &Value) {
    // Codes stand in the lower right part of a label: less to search.
    let [left, top, width, height] = cell(notice);
    let part = [left + width * 0.45, top + height * 0.3, width * 0.55, height * 0.7];
    let (grey, across, down) = raster.grey(part);
    let found = rxing::helpers::detect_in_luma_slice(&grey, across, down, Some(rxing::BarcodeFormat::QR_CODE));
    let found = found.unwrap_or_else(|error| panic!("{}: {error}", notice["number"]));
    assert_eq!(found.getText(), text(&notice["qr"]), "{}", notice["number"]);
    let module = module(raster, part, found.getPoints());
    assert!(module + ERROR >= SMALLEST_MODULE, "{}: a module of {module} mm", notice["number"]);
}

/// The side of a module: a seventh of the upper edge of a finder pattern (ISO/IEC 18004, 6.3.3), measured by the darkness
/// of its dots along the first row of modules, from the upper left corner that the reader found.
fn module(raster: &Raster, [left, top, ..]: [f64; 4], points: &[Point]) -> f64 {
    let upper_left = points.iter().min_by(|a, b| (a.x + a.y).total_cmp(&(b.x + b.y))).unwrap();
    let dots_a_mm = DOTS / 25.4;
    // Half a module is more than two dots.
    let row = (top * dots_a_mm).round() as usize + upper_left.y.round() as usize + 2;
    let inside = (left * dots_a_mm).round() as usize + upper_left.x.round() as usize + 2;
    let darkness = |x: usize| 1.0 - f64::from(raster.pixels[row * raster.width + x][0]) / 255.0;
    let until_light = |dots: &mut dyn Iterator<Item = usize>| -> f64 {
        let mut sum = 0.0;
        for dot in dots.map(darkness) {
            sum += dot;
            if dot < 0.5 {
                break;
            }
        }
        sum
    };
    (until_light(&mut (inside..raster.width)) + until_light(&mut (0..inside).rev())) / 7.0 / dots_a_mm
}

#[test]
fn each_code_reads_as_reported_by_zbar_in_a_rendering_by_poppler() {
    pages().into_par_iter().for_each(|(page, notices)| {
        let folder = tempfile::tempdir().unwrap();
        let stem = folder.path().join("page").display().to_string();
        let (number, dots) = (page.to_string(), DOTS.to_string());
        let arguments = ["-gray", "-singlefile", "-f", &number, "-l", &number, "-r", &dots, "FILE", &stem];
        if judge::run("pdftoppm", &arguments, &printed().document()).is_none() {
            return;
        }
        let picture = folder.path().join("page.pgm");
        // Over a whole page zbar now and then passes over a code that it reads when it looks along other rows of dots.
        let wanted: BTreeSet<String> = notices.iter().map(|notice| text(&notice["qr"]).to_owned()).collect();
        let mut found = BTreeSet::new();
        for density in 1..=3 {
            if found == wanted {
                break;
            }
            let [across, down] = ["x", "y"].map(|axis| format!("-S{axis}-density={density}"));
            let arguments = ["--quiet", "--raw", "-Sdisable", "-Sqrcode.enable", &across, &down, "FILE"];
            let Some(said) = judge::run("zbarimg", &arguments, &picture) else { return };
            // Builds of zbar that look for a message bus complain where there is none.
            found.extend(said.lines().filter(|line| !line.starts_with("Connection ")).map(str::to_owned));
        }
        assert_eq!(found, wanted, "page {page}");
    });
}
