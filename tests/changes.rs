//! Changes of the demo site since its first issue, judged by readers that are not ours: what stands in PDF, CSV and labels,
//! and that they agree with the report.
#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::print_stderr,
    clippy::disallowed_methods,
    unreachable_pub,
    reason = "a test that cannot go on stops, and looks at the disk by itself"
)]

mod judge;
#[path = "judge/preflight.rs"]
mod preflight;
#[path = "judge/tags.rs"]
mod tags;

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::OnceLock;

use serde_json::Value;

struct Run {
    folder: tempfile::TempDir,
    report: Value,
}

impl Run {
    fn file(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    fn changes(&self) -> &[Value] {
        self.report["changes"].as_array().unwrap()
    }

    /// The words of the document, page by page, in the order in which they were drawn.
    fn pages(&self) -> Option<Vec<String>> {
        let text = judge::run("pdftotext", &["-raw", "FILE", "-"], &self.file("changes.pdf"))?;
        let mut pages: Vec<String> = text.split('\u{C}').map(single_blanks).collect();
        pages.truncate(pages.len() - 1);
        Some(pages)
    }
}

fn single_blanks(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn text(value: &Value) -> &str {
    value.as_str().unwrap_or_default()
}

/// The demo of today against its first issue.
fn demo() -> &'static Run {
    static RUN: OnceLock<Run> = OnceLock::new();
    RUN.get_or_init(|| {
        let folder = tempfile::tempdir().unwrap();
        let demo = Path::new("demo-data");
        let written = |name: &str| folder.path().join(name);
        let output = Command::new(env!("CARGO_BIN_EXE_noticewright"))
            .current_dir(env!("CARGO_MANIFEST_DIR"))
            .args(["changes", "--report", "json", "--quiet"])
            .args([demo.join("before/survey.csv"), demo.join("survey.csv")])
            .arg("-o")
            .arg(written("changes.pdf"))
            .arg("-o")
            .arg(written("changes.csv"))
            .arg("--labels")
            .arg(written("delta.pdf"))
            .output()
            .unwrap();
        assert_eq!(output.status.code(), Some(0), "{}", String::from_utf8_lossy(&output.stderr));
        Run { report: serde_json::from_slice(&output.stdout).unwrap(), folder }
    })
}

#[test]
fn the_most_dangerous_come_first_and_the_counts_are_those_of_the_list() {
    let run = demo();
    let ranks: Vec<u64> = run.changes().iter().map(|change| change["rank"].as_u64().unwrap()).collect();
    assert!(ranks.is_sorted() && ranks.first() == Some(&1), "{ranks:?}");
    for fate in ["new", "altered", "moved", "withdrawn"] {
        let count = run.changes().iter().filter(|change| change["change"] == fate).count() as u64;
        assert_eq!(run.report["counts"][fate].as_u64(), Some(count), "{fate}");
    }
    assert!(run.report["counts"]["unchanged"].as_u64().unwrap() > 100);
}

#[test]
fn the_document_holds_every_change_with_old_and_new_words() {
    let Some(pages) = demo().pages() else { return };
    let all = pages.join(" ");
    for (number, page) in (1..).zip(&pages) {
        assert!(page.starts_with("Changes, not a notice"), "{page}");
        assert!(page.contains(&format!(" page {number} of {}", pages.len())), "{page}");
    }
    for said in
        ["demo-data/before/survey.csv", "demo-data/survey.csv", "Approval of the changes", "signature", "prove dead"]
    {
        assert!(all.replace(' ', "").contains(&said.replace(' ', "")), "{said}");
    }
    let plain = |words: &str| words.replace(['\u{a0}', '\u{AD}'], " ");
    let all = plain(&all);
    for change in demo().changes() {
        assert!(all.contains(text(&change["number"])), "{}", change["number"]);
        if change["change"] != "altered" {
            continue;
        }
        for difference in change["differences"].as_array().unwrap() {
            for side in ["at", "old", "new"] {
                let words = single_blanks(&plain(text(&difference[side])));
                let whole = all.contains(&words) || all.replace(' ', "").contains(&words.replace(' ', ""));
                assert!(whole, "{}: {words}", change["number"]);
            }
        }
    }
}

#[test]
fn what_changed_on_site_names_each_notice_that_is_false_by_it() {
    let run = demo();
    let isolators = run.report["isolators"].as_array().unwrap();
    // The outputs of the UPS went from one cabinet to another, by both surveys.
    let moved = isolators.iter().find(|one| one["device"] == "QU2" && one["what"] == "point moved").unwrap();
    let numbers: Vec<&str> = moved["makes_false"].as_array().unwrap().iter().map(text).collect();
    assert!(numbers.contains(&"CH3-JB2/1"), "{numbers:?}");
    let changed: BTreeSet<&str> = run.changes().iter().map(|change| text(&change["number"])).collect();
    for one in isolators {
        let numbers = one["makes_false"].as_array().unwrap();
        assert!(!numbers.is_empty() && numbers.iter().all(|number| changed.contains(text(number))), "{one}");
    }
}

#[test]
fn the_table_has_a_row_for_each_difference_and_reads_back() {
    let run = demo();
    let rows = noticewright::schedule::csv::read(&std::fs::read(run.file("changes.csv")).unwrap()).unwrap();
    assert_eq!(rows[0][..4], ["rank", "danger", "number", "change"]);
    let expected: usize =
        run.changes().iter().map(|change| change["differences"].as_array().unwrap().len().max(1)).sum();
    assert_eq!(rows.len(), expected + 1);
    let mut rows = rows[1..].iter();
    for change in run.changes() {
        let differences = change["differences"].as_array().unwrap();
        for place in 0..differences.len().max(1) {
            let row = rows.next().unwrap();
            assert_eq!((row[2].as_str(), row[3].as_str()), (text(&change["number"]), text(&change["change"])));
            let Some(difference) = differences.get(place) else { continue };
            assert_eq!((row[10].as_str(), row[11].as_str()), (text(&difference["old"]), text(&difference["new"])));
        }
    }
}

/// Read from the labels by a reader that is not ours: the small line begins with the number.
#[test]
fn the_delta_run_prints_what_is_new_or_altered_and_nothing_else() {
    let run = demo();
    let printed: BTreeSet<&str> = run.report["labels"]["notices"].as_array().unwrap().iter().map(text).collect();
    let expected = run.changes().iter().filter(|change| ["new", "altered"].contains(&text(&change["change"])));
    assert_eq!(printed, expected.map(|change| text(&change["number"])).collect());
    let mut documents: Vec<PathBuf> =
        std::fs::read_dir(run.folder.path()).unwrap().map(|one| one.unwrap().path()).collect();
    documents.retain(|path| path.file_name().unwrap().to_string_lossy().starts_with("delta"));
    assert!(!documents.is_empty());
    let mut words = String::new();
    for document in documents {
        let Some(text) = judge::run("pdftotext", &["-raw", "FILE", "-"], &document) else { return };
        words.push_str(&text);
    }
    let words = words.replace(|c: char| c.is_whitespace(), "");
    for number in &printed {
        assert!(words.contains(&number.replace(' ', "")), "{number}");
    }
    for unchanged in ["CH1-JB1/1·rev", "CH3-JB1/1·rev"] {
        let number = unchanged.trim_end_matches("·rev");
        assert_eq!(words.contains(unchanged), printed.contains(number), "{number}");
    }
}

#[test]
fn the_document_is_kept_and_read_by_others() {
    let path = demo().file("changes.pdf");
    if let Some(said) = judge::run("qpdf", &["--check", "FILE"], &path) {
        assert!(said.contains("No syntax or stream encoding errors"), "{said}");
    }
    preflight::accepts(&path);
    let document = lopdf::Document::load(&path).unwrap();
    tags::check(&document);
    let (entries, _) = tags::outline(&document);
    let titles: BTreeSet<String> = entries.into_iter().map(|(_, title)| title).collect();
    for part in [
        "Changes of notices",
        "What changed on site",
        "Old and new words",
        "New notices",
        "Withdrawn notices",
        "Approval",
    ] {
        assert!(titles.contains(part), "{part}: {titles:?}");
    }
    let altered = demo().changes().iter().filter(|change| change["change"] == "altered");
    for change in altered {
        assert!(titles.contains(text(&change["number"])), "{}", change["number"]);
    }
}
