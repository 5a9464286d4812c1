//! The pages for approval, judged by a reader that is not ours: what stands on them, and that nothing leaves them.
#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::string_slice,
    clippy::print_stderr,
    clippy::disallowed_methods,
    reason = "a test that cannot go on stops, and looks at the disk by itself"
)]

mod judge;
#[path = "judge/tags.rs"]
mod tags;

use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::OnceLock;

use noticewright::rules::Rule;
use serde_json::Value;

/// What every page says.
const CAUTION: &str = "For approval, not a notice: do not fix this page";

/// A word with left, top, right and bottom in millimetres.
type Word = (String, [f64; 4]);

/// One run with `--approval`.
struct Run {
    folder: tempfile::TempDir,
    report: Value,
}

impl Run {
    fn of(survey: &Path, further: &[&str]) -> Self {
        Self::ending(survey, further, 0)
    }

    fn ending(survey: &Path, further: &[&str], code: i32) -> Self {
        let folder = tempfile::tempdir().unwrap();
        let output = Command::new(env!("CARGO_BIN_EXE_noticewright"))
            .args(["labels", "--approval", "--report", "json", "-o"])
            .args([&folder.path().join("approval.pdf"), survey])
            .args(further)
            .output()
            .unwrap();
        assert_eq!(output.status.code(), Some(code), "{}", String::from_utf8_lossy(&output.stderr));
        Self { folder, report: serde_json::from_slice(&output.stdout).unwrap() }
    }

    /// A survey made for the test, with columns of its own.
    fn on(text: &str, further: &[&str]) -> Self {
        let folder = tempfile::tempdir().unwrap();
        let survey = folder.path().join("survey.csv");
        std::fs::write(&survey, text).unwrap();
        // Read in the hand, so that many words find room on one notice.
        std::fs::write(folder.path().join("job.toml"), "[notices]\nreading_distance_m = 0.35\n").unwrap();
        Self::of(&survey, further)
    }

    fn document(&self) -> PathBuf {
        self.folder.path().join("approval.pdf")
    }

    fn notices(&self) -> &[Value] {
        self.report["notices"].as_array().unwrap()
    }

    /// The words of each page, with single blanks; `None` without a reader.
    fn pages(&self) -> Option<Vec<String>> {
        let text = judge::run("pdftotext", &["-layout", "FILE", "-"], &self.document())?;
        let mut pages: Vec<String> = text.split('\u{C}').map(single_blanks).collect();
        pages.truncate(pages.len() - 1);
        Some(pages)
    }

    /// The same in the order in which they were drawn, so that the words of one cell stand together.
    fn drawn(&self) -> Option<Vec<String>> {
        let text = judge::run("pdftotext", &["-raw", "FILE", "-"], &self.document())?;
        let mut pages: Vec<String> = text.split('\u{C}').map(single_blanks).collect();
        pages.truncate(pages.len() - 1);
        Some(pages)
    }

    /// Every word with left, top, right and bottom in millimetres, page by page.
    fn boxes(&self) -> Option<Vec<Vec<Word>>> {
        let text = judge::run("pdftotext", &["-bbox", "FILE", "-"], &self.document())?;
        let word = |line: &str| {
            let (head, rest) = line.trim().strip_prefix("<word ")?.split_once('>')?;
            let numbers: Vec<f64> = head.split('"').filter_map(|part| part.parse().ok()).collect();
            let said = rest.strip_suffix("</word>")?.to_owned();
            Some((said, [0, 1, 2, 3].map(|index| numbers[index] * 25.4 / 72.0)))
        };
        Some(text.split("<page ").skip(1).map(|page| page.lines().filter_map(word).collect()).collect())
    }
}

fn single_blanks(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn text(value: &Value) -> &str {
    value.as_str().unwrap_or_default()
}

fn demo_survey() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-data/survey.csv")
}

/// The run on the demo that all tests look at.
fn demo() -> &'static Run {
    static DEMO: OnceLock<Run> = OnceLock::new();
    DEMO.get_or_init(|| Run::of(&demo_survey(), &[]))
}

/// The pages whose running head is about a subject: from its first page on.
fn about<'a>(pages: &'a [String], subject: &str) -> Vec<&'a String> {
    let head = format!("{CAUTION} {subject} ");
    pages.iter().filter(|page| page.starts_with(&head)).collect()
}

/// ISO 216: A4 lying is 297 x 210 mm.
fn within_the_page(run: &Run) {
    let Some(pages) = run.boxes() else { return };
    for (number, words) in (1..).zip(&pages) {
        for (word, [left, top, right, bottom]) in words {
            let inside = *left > 10.0 && *top > 10.0 && *right < 287.0 && *bottom < 200.5;
            assert!(inside, "page {number}: {word} at {left} {top} {right} {bottom}");
        }
    }
}

#[test]
fn each_demo_notice_stands_beside_its_reasons_on_the_pages_of_its_subject() {
    let run = demo();
    let (Some(pages), Some(drawn)) = (run.pages(), run.drawn()) else { return };
    assert_eq!(pages.len() as u64, run.report["outputs"][0]["pages"].as_u64().unwrap());
    assert_eq!(run.report["outputs"][0]["notices"].as_u64().unwrap() as usize, run.notices().len());
    let reasons_of = |enclosure: &str| {
        let decided = run.report["enclosures"].as_array().unwrap().iter().find(|one| one["enclosure"] == enclosure);
        decided.map(|one| one["reasons"].as_array().unwrap().clone()).unwrap_or_default()
    };
    for notice in run.notices() {
        let number = text(&notice["number"]);
        let is_standing = notice["subject"]["kind"] == "standing";
        let place = number.split_once('@').map_or(text(&notice["enclosure"]), |(_, place)| place);
        let place = if is_standing { "Standing notices" } else { place };
        let own: Vec<&String> = about(&drawn, place).into_iter().chain(about(&pages, place)).collect();
        let all = own.iter().map(|page| page.as_str()).collect::<Vec<_>>().join(" ");
        assert!(all.contains(number), "{number} stands on no page about {place}");
        assert!(all.contains(&single_blanks(text(&notice["text"][0]))), "{number}: {}", notice["text"][0]);
        // By which what was signed is told from what was changed after.
        let fingerprint = text(&notice["fingerprint"]);
        assert!(fingerprint.len() == 16 && all.contains(fingerprint), "{number}: {fingerprint}");
        let mut reasons = reasons_of(place);
        if notice["subject"]["kind"] == "device" {
            // The report has no reasons of devices; all of them answer this rule.
            let clause = Rule::DeviceIdentity.clause().unwrap().reference;
            reasons = vec![serde_json::json!({ "clause": clause, "basis": "secondary", "because": "disconnects" })];
        }
        if is_standing {
            let listed = run.report["standing"].as_array().unwrap();
            reasons = listed.iter().filter(|one| one["number"] == number).cloned().collect();
        }
        assert!(!reasons.is_empty(), "{number}");
        // Good practice has no clause.
        for reason in reasons.iter().filter(|reason| !reason["clause"].is_null()) {
            assert!(all.contains(text(&reason["clause"])), "{number}: {}", reason["clause"]);
            // The figure of speech that is never left away: an unverified clause is not a certain one.
            let (clause, basis) = (text(&reason["clause"]), text(&reason["basis"]));
            if basis == "memory" {
                assert!(all.contains(&format!("{clause} (from memory, unverified")), "{number}: {clause}");
            }
        }
    }
}

#[test]
fn each_page_says_that_it_is_no_notice_and_has_its_number() {
    let Some(pages) = demo().pages() else { return };
    for (number, page) in (1..).zip(&pages) {
        assert!(page.starts_with(CAUTION), "{page}");
        assert!(page.ends_with(&format!("page {number} of {}", pages.len())), "{page}");
    }
    let contents: String = pages.iter().filter(|page| page.contains(" Contents ")).cloned().collect();
    let first = pages.iter().position(|page| page.starts_with(&format!("{CAUTION} CH3-JB2"))).unwrap() + 1;
    assert!(contents.contains(&format!("CH3-JB2 Evaporator junction box · Chamber 3 1 notice, required {first} ")));
    let all = pages.join(" ");
    for said in ["makes nothing dead", "prove dead", "Local rules", "BS 7671:2018+A4:2026", "demo-data/survey.csv"] {
        assert!(pages[0].contains(said), "{said}");
    }
    for never in ["is safe", "is dead.", "safe to work"] {
        assert!(!all.replace("that something is dead.", "").contains(never), "{never}");
    }
}

#[test]
fn no_word_leaves_its_page_and_none_is_too_small_to_read() {
    let run = demo();
    within_the_page(run);
    let Some(said) = judge::run("pdftotext", &["-bbox", "-f", "1", "-l", "40", "FILE", "-"], &run.document()) else {
        return;
    };
    assert!(said.matches("<page width=\"841.8898").count() >= 40, "A4 lying is 841.89 points wide");
    // A reader's box of a word is as high as ascent and descent of its face; the smallest words of these pages have
    // capitals of 2 mm, which is 0.698 em of the face in use.
    let heads = run.boxes().unwrap();
    for (word, [_, top, _, bottom]) in heads.iter().flatten() {
        assert!(bottom - top > 2.0 / 0.698, "{word}: {} mm", bottom - top);
    }
}

#[test]
fn an_enclosure_without_a_notice_says_why_on_the_last_pages() {
    let run = demo();
    let Some(pages) = run.drawn() else { return };
    let last = about(&pages, "No notice, and left out").iter().map(|page| page.as_str()).collect::<Vec<_>>().join(" ");
    for enclosure in run.report["enclosures"].as_array().unwrap() {
        let name = text(&enclosure["enclosure"]);
        let silent = enclosure["notice"] == "not-needed";
        assert!(!silent || last.contains(&format!(" {name} ")), "{name}");
        assert_eq!(about(&pages, name).is_empty(), silent, "{name}");
    }
    assert!(last.contains("on the survey's word"));
}

const HEADER: &str = "enclosure,name,area,positions,circuit,serves,fed_from,source,nominal,conductors,earthing,\
                      voltage_to_earth,isolator,isolator_location,device_kind,locking,basis,note";

#[test]
fn a_device_with_sixty_circuits_and_an_enclosure_with_twenty_four_isolators_flow_over_pages() {
    let mut survey = format!("{HEADER}\n");
    for number in 1..=60 {
        let _ = writeln!(
            survey,
            "JB{number},Junction box {number},Hall,,DB-A/{number},fan {number},DB-A,mains,230/400,L1 N,TN-S,230,QA,Switchroom,breaker,padlock,traced,"
        );
    }
    let positions: Vec<String> = (1..=12).map(|number| format!("door {number}")).collect();
    for number in 1..=24 {
        let positions = if number == 1 { positions.join("; ") } else { String::new() };
        let _ = writeln!(
            survey,
            "BIG,Marshalling cubicle,Hall,{positions},C/{number},pump {number},DB-{number},mains,230/400,L1 N,TN-S,230,QB{number},Switchroom {number},breaker,padlock,?,"
        );
    }
    let run = Run::on(&survey, &["--sheet", "a3-a4-1"]);
    within_the_page(&run);
    let Some(pages) = run.drawn() else { return };
    let big = about(&pages, "BIG").iter().map(|page| page.as_str()).collect::<Vec<_>>().join(" ");
    for number in 1..=24 {
        assert!(big.contains(&format!(" QB{number} Switchroom {number} ")), "{number}");
    }
    for number in 1..=12 {
        assert!(big.contains(&format!("BIG/{number} door {number}")) || number == 1, "{number}");
    }
    assert!(big.contains("further positions"), "{big}");
    let switchroom = about(&pages, "Switchroom").iter().map(|page| page.as_str()).collect::<Vec<_>>().join(" ");
    for number in 1..=60 {
        assert!(switchroom.contains(&format!("JB{number}, Junction box {number} (Hall)")), "{number}");
        assert!(switchroom.contains(&format!("Circuit DB-A/{number}, fan {number}")), "{number}");
    }
}

#[test]
fn long_words_and_long_cells_stay_on_their_page() {
    let (long, many) = ("X".repeat(300), "many words ".repeat(170));
    let survey = format!(
        "{HEADER}\nCH1,{long},{many},,C/1,{many},DB-A,mains,230/400,L1 N,TN-S,230,Q1,R1,breaker,{long},traced,\nCH1,,,,{long},fan,DB-B,mains,230/400,L1 N,TN-S,230,Q2,R2,breaker,{many},?,\n"
    );
    let run = Run::on(&survey, &["--subject", "enclosure", "--sheet", "a3-a4-1"]);
    within_the_page(&run);
    let Some(drawn) = run.drawn() else { return };
    let all = drawn.join(" ");
    assert!(all.matches("many words").count() > 500, "{}", all.matches("many words").count());
    assert!(all.matches('X').count() >= 900, "{}", all.matches('X').count());
}

#[test]
fn only_and_subject_narrow_the_pages_too() {
    let survey = demo_survey();
    let run = Run::of(&survey, &["--only", "Chamber 2"]);
    let Some(pages) = run.drawn() else { return };
    assert!(!about(&pages, "CH2-DH").is_empty());
    assert!(about(&pages, "CH3-JB1").is_empty());
    let last = pages.last().unwrap();
    assert!(last.contains("CH2-JB2") && !last.contains("DB-A "), "{last}");
    let run = Run::of(&survey, &["--only", "Chamber 2", "--only", "Switchroom 1, board C", "--subject", "device"]);
    let pages = run.drawn().unwrap();
    assert!(about(&pages, "CH2-DH").is_empty() && !about(&pages, "Switchroom 1, board C").is_empty());
}

#[test]
fn what_is_left_out_is_listed_with_its_errors() {
    let survey = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/commands/labels-faulty-left-out/in/survey.csv");
    let run = Run::ending(&survey, &["--leave-out-faulty"], 1);
    let Some(pages) = run.drawn() else { return };
    let last = pages.last().unwrap();
    assert!(last.contains("AMP-1 what was found") && last.contains("nobody knows yet what isolates circuit"), "{last}");
    assert!(about(&pages, "AMP-1").is_empty());
}

#[test]
fn contents_and_bookmarks_lead_to_the_pages_of_their_subject() {
    let run = demo();
    let document = lopdf::Document::load(run.document()).unwrap();
    let numbers: std::collections::BTreeMap<_, _> = document.get_pages().into_iter().map(|(n, id)| (id, n)).collect();
    let (tags, names) = (tags::check(&document), tags::names(&document));
    let Some(pages) = run.pages() else { return };
    let page_of = |name: &[u8]| {
        let page = names[name].as_array().unwrap()[0].as_reference().unwrap();
        &pages[numbers[&page] as usize - 1]
    };
    let mut led_to = std::collections::BTreeSet::new();
    for (from, name) in &tags.links {
        let said = String::from_utf8(name.clone()).unwrap();
        let subject = match said.as_str() {
            "standing notices" => "Standing notices",
            place => {
                place.strip_prefix("enclosure ").or_else(|| place.strip_prefix("isolators at ")).unwrap_or("No notice")
            }
        };
        assert!(page_of(name).starts_with(&format!("{CAUTION} {subject}")), "{said} leads to {}", page_of(name));
        if pages[numbers[from] as usize - 1].starts_with(&format!("{CAUTION} Contents")) {
            led_to.insert(said);
        }
    }
    let places = names.keys().filter(|name| name.starts_with(b"enclosure ") || name.starts_with(b"isolators at "));
    // Beside them the standing notices, and the enclosures without a notice.
    assert_eq!(led_to.len(), places.count() + 2, "{led_to:?}");
    // An enclosure without a notice has no pages, and its name is no link: there are some in the demo.
    assert!(tags.count("Span") > 0);
    let (entries, seen) = tags::outline(&document);
    let highest: Vec<&str> = entries.iter().filter(|(depth, _)| *depth == 0).map(|(_, title)| title.as_str()).collect();
    assert_eq!(
        highest,
        ["Cover", "Contents", "Enclosures", "Isolators", "Standing notices", "No notice, and left out"]
    );
    assert_eq!((seen, entries.len()), (6, names.len()));
    assert_eq!(tags.count("H1"), tags.count("Sect"));
}

#[test]
fn outside_programs_accept_the_document_and_two_runs_give_the_same_bytes() {
    let (run, again) = (demo(), Run::of(&demo_survey(), &[]));
    assert!(std::fs::read(run.document()).unwrap() == std::fs::read(again.document()).unwrap());
    if let Some(said) = judge::run("qpdf", &["--check", "FILE"], &run.document()) {
        assert!(said.contains("No syntax or stream encoding errors found"), "{said}");
    }
    let strict = ["-dPDFSTOPONERROR", "-dPDFSTOPONWARNING", "-dSAFER", "-dBATCH", "-dNOPAUSE", "-q", "-dLastPage=30"];
    let arguments = [&strict[..], &["-sDEVICE=nullpage", "FILE"]].concat();
    if let Some(said) = judge::run("gs", &arguments, &run.document()) {
        assert_eq!(said, "");
    }
}
