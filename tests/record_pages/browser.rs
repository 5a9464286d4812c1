//! The pages in a browser that is not ours: on a telephone's and on a screen's width, light and dark, and printed.

use std::collections::BTreeSet;
use std::path::Path;
use std::process::{Child, Command, Stdio};

use serde_json::Value;

use crate::judge;
use crate::server::Server;
use crate::site::Site;
use crate::{hostile, recorded};

const HARNESS: &str = include_str!("harness.html");

/// The least contrast of text (WCAG 2.2, success criterion 1.4.3, level AA).
const LEAST_CONTRAST: f64 = 4.5;

/// The width to which a page must shrink without being scrolled sideways (WCAG 2.2, success criterion 1.4.10).
const TELEPHONE: u64 = 320;

/// A browser of its own, with a new profile, ended with this value.
struct Browser {
    child: Child,
    profile: tempfile::TempDir,
}

impl Drop for Browser {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// Whether there is a browser; skipped loudly, or a failure where `REQUIRE_OUTSIDE` is `1`.
fn is_there() -> bool {
    judge::run("chromium", &["--version"], Path::new("")).is_some()
}

fn chromium(profile: &Path, further: &[&str]) -> Command {
    let mut command = Command::new("chromium");
    command.args(["--headless=new", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", "--no-first-run"]);
    command.args(["--disable-background-networking", "--disable-component-update", "--disable-sync"]);
    command
        .args(["--enable-logging=stderr", "--v=0"])
        .arg(format!("--user-data-dir={}", profile.display()))
        .args(further);
    command.stdin(Stdio::null()).stdout(Stdio::null());
    command
}

impl Browser {
    fn open(address: &str, dark: bool) -> Self {
        let profile = tempfile::tempdir().unwrap();
        let log = std::fs::File::create(profile.path().join("log")).unwrap();
        let scheme = format!("--blink-settings=preferredColorScheme={}", u8::from(!dark));
        // The port keeps the browser running until it is ended.
        let further = [scheme.as_str(), "--window-size=1400,1000", "--remote-debugging-port=0", address];
        let child = chromium(profile.path(), &further).stderr(log).spawn().unwrap();
        Self { child, profile }
    }

    /// What the pages wrote into the console.
    fn console(&self) -> String {
        let log = std::fs::read(self.profile.path().join("log")).unwrap();
        String::from_utf8_lossy(&log)
            .lines()
            .filter(|line| line.contains("CONSOLE"))
            .map(|line| format!("{line}\n"))
            .collect()
    }
}

/// What the harness found on these pages, two widths each.
fn looked_at(site: &Site, pages: &[String], dark: bool, searches: &[&str]) -> Vec<Value> {
    let server = Server::of(&site.folder(), HARNESS);
    let asked = serde_json::json!({ "pages": pages, "widths": [TELEPHONE, 1280], "searches": searches }).to_string();
    let asked: String = asked.bytes().map(|byte| format!("%{byte:02X}")).collect();
    let browser = Browser::open(&server.address(&format!("/harness#{asked}")), dark);
    let result = server.result().unwrap_or_else(|| panic!("no answer from the browser\n{}", browser.console()));
    let results: Value = serde_json::from_str(&result).unwrap();
    assert_eq!(browser.console(), "", "a page wrote into the console");
    assert_eq!(server.missed(), [], "a page asked for something that is not there");
    results.as_array().unwrap_or_else(|| panic!("{results}")).clone()
}

/// Addresses of some pages of a site, the index first.
fn addresses(site: &Site, every: usize) -> Vec<String> {
    let pages = site.pages();
    let encoded = |part: &str| part.bytes().map(|byte| format!("%{byte:02X}")).collect::<String>();
    let address = |path: &str| format!("/{}", path.split('/').map(encoded).collect::<Vec<_>>().join("/"));
    let others = pages.iter().filter(|page| page.path != "index.html").step_by(every);
    ["/".to_owned()].into_iter().chain(others.map(|page| address(&page.path))).collect()
}

/// A page as the browser laid it out.
fn judge_page(found: &Value, dark: bool) {
    let path = found["path"].as_str().unwrap();
    let width = found["width"].as_u64().unwrap();
    assert!(
        found["scroll_width"].as_u64().unwrap() <= width,
        "{path} is scrolled sideways at {width}: {}",
        found["scroll_width"]
    );
    assert_eq!(found["asked_for"], serde_json::json!([]), "{path} asks for something");
    assert_eq!((&found["lang"], &found["landmarks"]), (&"en".into(), &serde_json::json!([1, 1, 1])), "{path}");
    assert!(!found["title"].as_str().unwrap().is_empty(), "{path}");
    for count in ["heads_without_scope", "scrolled_without_focus"] {
        assert_eq!(found[count], 0, "{path}: {count}");
    }
    assert_eq!((&found["doubled_ids"], &found["skip_is_seen"]), (&serde_json::json!([]), &true.into()), "{path}");
    let headings: Vec<u64> =
        found["headings"].as_array().unwrap().iter().map(|level| level.as_u64().unwrap()).collect();
    assert!(headings[0] == 1 && headings[1..].iter().all(|level| *level > 1), "{path}: {headings:?}");
    assert!(headings.windows(2).all(|pair| pair[1] <= pair[0] + 1), "{path}: a level is left out, {headings:?}");
    for picture in found["pictures"].as_array().unwrap() {
        assert!(
            picture["width"].as_u64().unwrap() > 0 && !picture["alt"].as_str().unwrap().is_empty(),
            "{path}: {picture}"
        );
    }
    assert_eq!(found["dark"], dark, "{path}");
    for (pair, words) in found["colours"].as_object().unwrap() {
        let (ink, paper) = pair.split_once(" on ").unwrap();
        let contrast = contrast(colour(ink), colour(paper));
        assert!(contrast >= LEAST_CONTRAST, "{path}: {contrast:.2} for {words}, {pair}");
    }
}

/// `rgb(1, 2, 3)`
fn colour(text: &str) -> [f64; 3] {
    let inside = text.strip_prefix("rgb(").and_then(|text| text.strip_suffix(')')).unwrap_or_else(|| panic!("{text}"));
    let parts: Vec<f64> = inside.split(", ").map(|part| part.parse().unwrap()).collect();
    [parts[0], parts[1], parts[2]]
}

/// The contrast ratio by relative luminance (WCAG 2.2, definitions of `contrast ratio` and `relative luminance`).
fn contrast(one: [f64; 3], other: [f64; 3]) -> f64 {
    let linear = |part: f64| {
        let part = part / 255.0;
        if part <= 0.04045 { part / 12.92 } else { ((part + 0.055) / 1.055).powf(2.4) }
    };
    let luminance = |[r, g, b]: [f64; 3]| 0.2126 * linear(r) + 0.7152 * linear(g) + 0.0722 * linear(b);
    let (one, other) = (luminance(one), luminance(other));
    (one.max(other) + 0.05) / (one.min(other) + 0.05)
}

#[test]
fn contrast_is_that_of_the_guidelines() {
    // WCAG 2.2: black on white has 21 to 1. #767676 is known as the lightest grey that passes on white, with 4.54 (common
    // practice); pure red has 4.00 (common practice).
    let white = [255.0; 3];
    for (ink, wanted) in [([0.0; 3], 21.0), ([118.0; 3], 4.54), ([255.0, 0.0, 0.0], 4.00), (white, 1.0)] {
        assert!((contrast(ink, white) - wanted).abs() < 0.005, "{ink:?}");
    }
}

#[test]
fn pages_are_sound_in_a_browser_light_and_dark() {
    if !is_there() {
        return;
    }
    for (site, every) in [(hostile(), 1), (recorded(), 1), (Site::demo(), 12)] {
        site.made(&[]);
        let pages = addresses(&site, every);
        for dark in [false, true] {
            let found = looked_at(&site, &pages, dark, &[]);
            assert_eq!(found.len(), 2 * pages.len());
            found.iter().for_each(|found| judge_page(found, dark));
        }
    }
}

#[test]
fn the_search_finds_by_number_designation_area_and_link() {
    if !is_there() {
        return;
    }
    let site = recorded();
    site.made(&[]);
    let searches = ["ch1/1", "  Q8 ", "chamber 2", "RECORDS.EXAMPLE/CH2", "no longer", "room 1 q9", "nothing like it"];
    let found = looked_at(&site, &["/".to_owned()], false, &searches);
    let search = &found[0]["search"];
    assert_eq!((&search["shown"], &search["hidden"]), (&true.into(), &0.into()), "{search}");
    let left: Vec<(u64, &str)> = searches
        .iter()
        .map(|words| (search["left"][words][0].as_u64().unwrap(), search["left"][words][1].as_str().unwrap()))
        .collect();
    let expected = [
        (1, "1 notice"),
        (1, "1 notice"),
        (1, "1 notice"),
        (1, "1 notice"),
        (2, "2 notices"),
        (1, "1 notice"),
        (0, "0 notices"),
    ];
    assert_eq!(left, expected);
}

fn text_pages(pdf: &Path) -> usize {
    let said = judge::run("pdfinfo", &["FILE"], pdf).unwrap();
    let pages = said.lines().find_map(|line| line.strip_prefix("Pages:")).unwrap();
    pages.trim().parse().unwrap()
}

#[test]
fn a_printed_page_holds_every_word() {
    if !is_there() {
        return;
    }
    for (site, pages) in [(recorded(), vec!["/CH1/1/", "/CH9/1/", "/"]), (Site::demo(), vec!["/CH3-JB2/1/"])] {
        site.made(&[]);
        let found = looked_at(&site, &pages.iter().map(|page| (*page).to_owned()).collect::<Vec<_>>(), false, &[]);
        let server = Server::of(&site.folder(), "");
        for (place, page) in pages.iter().enumerate() {
            let (profile, pdf) = (tempfile::tempdir().unwrap(), site.at("printed.pdf"));
            let print = format!("--print-to-pdf={}", pdf.display());
            let status = chromium(profile.path(), &[&print, "--no-pdf-header-footer", &server.address(page)])
                .stderr(Stdio::null())
                .status();
            assert!(status.unwrap().success(), "{page}");
            let Some(text) = judge::run("pdftotext", &["-raw", "FILE", "-"], &pdf) else { return };
            let text: String = text.split_whitespace().collect();
            let words: BTreeSet<&str> = found[2 * place]["words"].as_str().unwrap().split_whitespace().collect();
            // What only a screen is for is not printed.
            let of_screen = ["Find", "by", "number,", "designation,", "area", "or", "record", "link"];
            let missing: Vec<&&str> = words
                .iter()
                .filter(|word| !(text.contains(**word) || *page == "/" && of_screen.contains(word)))
                .collect();
            assert!(missing.is_empty(), "{page} printed without {missing:?}");
            let sheets = text_pages(&pdf);
            assert!(sheets <= 3, "{page} takes {sheets} sheets");
            let boxes = judge::run("pdfinfo", &["-box", "FILE"], &pdf).unwrap();
            // ISO 216: A4 is 210 x 297 mm, 595.3 x 841.9 points.
            assert!(boxes.lines().any(|line| line.starts_with("Page size") && line.contains("A4")), "{boxes}");
        }
    }
}
