//! The main job on the demo site, judged from outside: by readers, renderers and code readers that are not ours, and by
//! what the demo's own README says of it.
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::string_slice,
    clippy::print_stderr,
    clippy::disallowed_methods,
    reason = "a test that cannot go on stops, and looks at the disk by itself"
)]

#[path = "demo/codes.rs"]
mod codes;
mod judge;
#[path = "demo/readme.rs"]
mod readme;
#[path = "demo/site.rs"]
mod site;
#[path = "demo/words.rs"]
mod words;

use std::collections::BTreeSet;

use noticewright::survey::{ReadOptions, read};
use site::{printed, text};

#[test]
fn the_site_is_large_enough_and_each_enclosure_is_decided() {
    let bytes = std::fs::read(site::survey()).unwrap();
    let survey = read(&bytes, &ReadOptions::new("survey.csv")).survey;
    let circuits: usize = survey.enclosures.iter().map(|enclosure| enclosure.rows.len()).sum();
    assert!(survey.enclosures.len() >= 40 && circuits >= 120, "{} {circuits}", survey.enclosures.len());
    let decided: Vec<&str> =
        printed().list("enclosures").iter().map(|enclosure| text(&enclosure["enclosure"])).collect();
    let surveyed: Vec<&str> = survey.enclosures.iter().map(|enclosure| enclosure.designation.as_str()).collect();
    assert_eq!(decided, surveyed);
}

#[test]
fn nothing_is_wrong_with_it_and_few_things_are_worth_a_look() {
    let found: Vec<_> = printed()
        .list("findings")
        .iter()
        .map(|finding| (text(&finding["severity"]), text(&finding["code"]), text(&finding["enclosure"])))
        .collect();
    assert_eq!(
        found,
        [
            ("advice", "nominal-read-as-pair", "DLV-3"),
            ("warning", "cannot-be-isolated", "INTAKE"),
            ("warning", "cannot-be-isolated", "IS1"),
            ("warning", "back-feed-not-listed", "MSB"),
            ("warning", "back-feed-not-listed", "CO1"),
            ("warning", "line-side-isolation-not-given", "PMP-1"),
            ("warning", "isolator-without-locking", "DLV-3"),
            ("advice", "fewer-devices-would-do", ""),
            // STN-2 waits for its inspection, STN-9 is printed black; five kinds have words that nobody here has compared.
            ("advice", "standing-date-left-to-write", ""),
            ("advice", "standing-not-red", ""),
            ("advice", "standing-words-unverified", ""),
            ("advice", "standing-words-unverified", ""),
            ("advice", "standing-words-unverified", ""),
            ("advice", "standing-words-unverified", ""),
            ("advice", "standing-words-unverified", ""),
            // A curved surface that is washed down: film under a film is too stiff for it.
            ("warning", "material-does-not-suit", "CH6-JB1"),
        ]
    );
}

#[test]
fn each_enclosure_in_need_and_each_position_has_its_notice() {
    let numbers: BTreeSet<&str> = printed().notices().iter().map(|notice| text(&notice["number"])).collect();
    assert_eq!(numbers.len(), printed().notices().len(), "a number is a notice's own");
    for enclosure in printed().list("enclosures") {
        let name = text(&enclosure["enclosure"]);
        let needed = enclosure["notice"] != "not-needed";
        assert_eq!(numbers.contains(format!("{name}/1").as_str()), needed, "{name}");
    }
    for notice in printed().notices() {
        assert!(notice["page"].is_u64() && notice["sheet_cell"].is_u64(), "{notice}");
    }
}

#[test]
fn two_runs_give_the_same_bytes() {
    assert!(std::fs::read(site::print().document()).unwrap() == std::fs::read(printed().document()).unwrap());
}

#[test]
fn letters_and_signs_are_as_high_as_the_distance_asks() {
    // Common practice: capitals 1/200 of the reading distance. ISO 3864-1: the height of a sign is the distance / 40.
    let bytes = std::fs::read(site::survey()).unwrap();
    let enclosures = read(&bytes, &ReadOptions::new("survey.csv")).survey.enclosures;
    let listed = site::standing();
    for notice in printed().notices() {
        let own = enclosures.iter().find(|enclosure| notice["enclosure"] == enclosure.designation.as_str());
        let standing = listed.iter().find(|entry| notice["number"] == entry.number.as_str());
        let own_distance = own.and_then(|enclosure| enclosure.particulars().reading_distance);
        let own_distance = own_distance.or(standing.and_then(|entry| entry.reading_distance));
        let reading = own_distance.map_or(site::READING_MM, |own| own.to_mm());
        let sign = own.and_then(|enclosure| enclosure.particulars().sign_distance).map_or(reading, |own| own.to_mm());
        let letters = notice["letter_height_mm"].as_f64().unwrap();
        assert!(letters + 0.001 >= reading / 200.0, "{}: {letters} mm from {reading} mm", notice["number"]);
        match notice["sign_height_mm"].as_f64() {
            Some(height) => assert!(height + 0.001 >= sign / 40.0, "{}: {height}", notice["number"]),
            None => assert_ne!(notice["subject"]["kind"], "enclosure", "{}", notice["number"]),
        }
    }
}

#[test]
fn qpdf_finds_nothing_wrong() {
    if let Some(said) = judge::run("qpdf", &["--check", "FILE"], &printed().document()) {
        assert!(said.contains("No syntax or stream encoding errors found"), "{said}");
    }
}

#[test]
fn each_page_is_exactly_its_paper() {
    let pages = printed().list("outputs")[0]["pages"].as_u64().unwrap();
    let last = pages.to_string();
    let arguments = ["-box", "-f", "1", "-l", &last, "FILE"];
    let Some(said) = judge::run("pdfinfo", &arguments, &printed().document()) else { return };
    let mut judged = BTreeSet::new();
    for notice in printed().notices() {
        let (format, page) = (site::format(notice), notice["page"].as_u64().unwrap());
        if !judged.insert(page) {
            continue;
        }
        for kind in ["MediaBox", "CropBox", "TrimBox"] {
            let line = said.lines().find(|line| {
                let words: Vec<&str> = line.split_whitespace().collect();
                words.get(1) == Some(&page.to_string().as_str()) && words.get(2) == Some(&format!("{kind}:").as_str())
            });
            let numbers: Vec<f64> = line
                .unwrap()
                .split_whitespace()
                .skip(3)
                .map(|word| word.parse::<f64>().unwrap() * 25.4 / 72.0)
                .collect();
            let paper = [0.0, 0.0, format.paper.width.to_mm(), format.paper.height.to_mm()];
            assert!(numbers.iter().zip(paper).all(|(found, wanted)| (found - wanted).abs() < 0.01), "{line:?}");
            assert_eq!(numbers.len(), 4, "{line:?}");
        }
    }
    assert_eq!(judged.len() as u64, pages, "each page holds a notice");
}
