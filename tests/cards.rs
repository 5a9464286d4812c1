//! Isolation cards, judged by readers that are not ours: every point of isolation with its location on its card and in its
//! order, waiting times, the words that come first where something cannot be isolated, codes, and that nothing leaves a page.
#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::print_stderr,
    clippy::disallowed_methods,
    reason = "a test that cannot go on stops, and looks at the disk by itself"
)]

mod judge;
#[path = "judge/preflight.rs"]
mod preflight;
#[path = "judge/tags.rs"]
mod tags;

use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::OnceLock;

use serde_json::Value;

/// What every page says at its top.
const HEAD: &str = "Isolation card: makes nothing dead by itself";

/// One run of `cards`.
struct Run {
    folder: tempfile::TempDir,
    report: Value,
}

impl Run {
    fn of(survey: &Path, further: &[&str]) -> Self {
        let folder = tempfile::tempdir().unwrap();
        let output = Command::new(env!("CARGO_BIN_EXE_noticewright"))
            .args(["cards", "--report", "json", "-o"])
            .args([&folder.path().join("cards.pdf"), survey])
            .args(further)
            .output()
            .unwrap();
        assert_eq!(output.status.code(), Some(0), "{}", String::from_utf8_lossy(&output.stderr));
        Self { folder, report: serde_json::from_slice(&output.stdout).unwrap() }
    }

    /// A survey made for the test.
    fn on(text: &str, further: &[&str]) -> Self {
        let folder = tempfile::tempdir().unwrap();
        let survey = folder.path().join("survey.csv");
        std::fs::write(&survey, text).unwrap();
        Self::of(&survey, further)
    }

    fn document(&self) -> PathBuf {
        self.folder.path().join("cards.pdf")
    }

    /// The words of each page in the order in which they were drawn; `None` without a reader.
    fn pages(&self) -> Option<Vec<String>> {
        let text = judge::run("pdftotext", &["-raw", "FILE", "-"], &self.document())?;
        let mut pages: Vec<String> = text.split('\u{C}').map(single_blanks).collect();
        pages.truncate(pages.len() - 1);
        Some(pages)
    }

    /// The card of each enclosure: all its pages in one.
    fn card(pages: &[String], designation: &str) -> String {
        let head = format!("{HEAD} {designation} ");
        pages.iter().filter_map(|page| page.strip_prefix(&head)).collect::<Vec<_>>().join(" ")
    }
}

fn single_blanks(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn text(value: &Value) -> &str {
    value.as_str().unwrap_or_default()
}

fn demo() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-data/survey.csv")
}

/// The cards of the demo that several tests look at.
fn demo_cards() -> &'static Run {
    static DEMO: OnceLock<Run> = OnceLock::new();
    DEMO.get_or_init(|| Run::of(&demo(), &[]))
}

/// Every word lies within the page and its margins, in millimetres: width and height of the paper, and the margin.
fn within(run: &Run, width: f64, height: f64, margin: f64) {
    let Some(text) = judge::run("pdftotext", &["-bbox", "FILE", "-"], &run.document()) else { return };
    let sizes: Vec<&str> = text.lines().filter(|line| line.contains("<page ")).collect();
    let points = [width, height].map(|length| length / 25.4 * 72.0);
    for size in &sizes {
        let said: Vec<f64> = size.split('"').filter_map(|part| part.parse().ok()).collect();
        assert!((said[0] - points[0]).abs() < 0.01 && (said[1] - points[1]).abs() < 0.01, "{size}");
    }
    let words = text.lines().filter_map(|line| line.trim().strip_prefix("<word "));
    let mut count = 0;
    for word in words {
        let at: Vec<f64> =
            word.split('"').filter_map(|part| part.parse().ok()).map(|at: f64| at * 25.4 / 72.0).collect();
        let inside = at[0] > margin && at[1] > margin && at[2] < width - margin && at[3] < height - margin;
        assert!(inside, "{word}");
        count += 1;
    }
    assert!(count > 50, "{count} words");
}

#[test]
fn every_point_of_every_enclosure_stands_on_its_card_in_order_with_its_location() {
    let run = demo_cards();
    let Some(pages) = run.pages() else { return };
    assert_eq!(pages.len() as u64, run.report["outputs"][0]["pages"].as_u64().unwrap());
    let enclosures = run.report["enclosures"].as_array().unwrap();
    assert!(enclosures.len() > 60, "{}", enclosures.len());
    let mut count = 0;
    for enclosure in enclosures {
        let name = text(&enclosure["enclosure"]);
        let card = Run::card(&pages, name);
        assert!(!card.is_empty(), "no card for {name}");
        let mut rest = card.as_str();
        for (number, point) in (1..).zip(enclosure["points_of_isolation"].as_array().unwrap()) {
            let said = format!("{number} {} {} ", text(&point["device"]), text(&point["location"]));
            rest = rest.split_once(&single_blanks(&said)).unwrap_or_else(|| panic!("{name}: `{said}` in {card}")).1;
            count += 1;
        }
        let needed = enclosure["notice"] != "not-needed";
        assert_eq!(card.contains("It carries no notice: none is needed, on the survey's word"), !needed, "{name}");
        assert!(card.contains("no permit to work") && card.contains("Indicator proved on a known source"), "{name}");
        assert!(card.contains("rev B · 2026-11-24 · survey.csv · Saltmere cold store page 1 of "), "{name}");
        for never in ["is safe", "is dead.", "safe to work"] {
            assert!(!card.replace("something is dead.", "").contains(never), "{name}: {never}");
        }
    }
    assert!(count > 120, "{count} points");
    within(run, 148.0, 210.0, 10.0);
}

#[test]
fn what_must_be_seen_first_stands_first_and_what_stays_live_has_boxes() {
    let Some(pages) = demo_cards().pages() else { return };
    let card = |name| Run::card(&pages, name);
    let intake = card("INTAKE");
    assert!(intake.starts_with("STOP. Cannot be fully isolated Lock off. Live parts remain"), "{intake}");
    assert!(intake.contains("Circuit Incoming supply: nothing isolates it"), "{intake}");
    // `survey.csv` gives 420 V and 300 s for the UPS, and no time for the condenser fan's drive.
    assert!(card("UPS-1").contains("Stored charge of 420 V d.c.: wait 5 min after the last point is open"));
    assert!(card("CND-D1").contains("waiting time NOT KNOWN, prove discharged"), "{}", card("CND-D1"));
    // No row of it gives a figure: the survey declares nothing.
    assert!(card("CH3-JB2").contains("Stored charge: the survey names none. Prove discharged."));
    let compressor = card("CMP-2");
    assert!(compressor.contains("QT3 Plant room, transformer 1 output isolates incoming terminals of QK1 off secured"));
    // Neither isolates both parts by itself, and Q18 has its boxes among the points.
    let chiller = card("CHL-1");
    let together =
        "QM8 Switchroom 1, main board together with Q18 above, isolates incoming terminals of QS1; crankcase heater";
    assert!(chiller.contains(together), "{chiller}");
    assert!(!chiller.contains("Q18 Plant room, board F together with"), "{chiller}");
    assert!(card("PVB-1").contains("Solar d.c., circuit PV/1: live at any time"));
    assert!(card("GEN").contains("inhibit starting"), "{}", card("GEN"));
}

#[test]
fn a_card_stops_whoever_reads_it_where_parts_stay_live_or_a_ups_may_feed_back() {
    let Some(pages) = demo_cards().pages() else { return };
    let card = |name| Run::card(&pages, name);
    for name in ["PVB-1", "UPS-BAT", "RK-2", "EML-1", "INV-1", "EVC-1"] {
        let card = card(name);
        assert!(card.starts_with("STOP. Parts stay live with every point open Lock off"), "{card}");
        assert!(card.contains("Live parts remain: prove dead where you work"), "{card}");
    }
    // What is isolated elsewhere is named before anything else, and has its boxes below.
    let stop = "STOP. Parts stay live with every point open: isolate QT3 (Plant room, transformer 1 output) and Q8 (Plant \
                room, board F) as well Lock off each";
    assert!(card("CMP-2").starts_with(stop), "{}", card("CMP-2"));
    for name in ["MSB", "CO1"] {
        let card = card(name);
        assert!(card.starts_with("STOP. Parts may stay live with every point open: a UPS may feed back"), "{card}");
        let row = "Isolator of UPS-1 where: not known, find it first back-feed from UPS-1 is possible: isolate it as well, \
                   then check for voltage off secured";
        assert!(card.contains(row), "{card}");
    }
    for name in ["UPS-1", "UPS-BAT", "MSB", "CO1"] {
        let first = pages.iter().find(|page| page.starts_with(&format!("{HEAD} {name} "))).unwrap();
        assert!(first.contains("Not proved: Whether a UPS feeds back") && first.contains("Treat as live."), "{first}");
    }
    assert!(!card("PFC-1").contains("STOP") && !card("PFC-1").contains("Not proved"), "{}", card("PFC-1"));
}

#[test]
fn no_charge_is_waited_for_only_where_the_survey_gives_its_figures() {
    // IEC 60204-1, 6.2.4 (from a guide that paraphrases it): 60 V d.c., 5 s.
    let survey = "enclosure,circuit,voltage_to_earth,isolator,isolator_location,locking,stored_v,discharge_s\n\
                  LOW,C/1,230,Q1,Room 1,padlock,48,0\nQUICK,C/2,230,Q2,Room 1,padlock,325,4\n\
                  SILENT,C/3,230,Q3,Room 1,padlock,,\nPART,C/4,230,Q4,Room 1,padlock,48,0\nPART,C/5,230,Q5,Room 1,padlock,,\n";
    let Some(pages) = Run::on(survey, &[]).pages() else { return };
    for (name, said) in [
        ("LOW", "Stored charge: none to wait for, on the survey's word"),
        ("QUICK", "Stored charge: below the limit 4 s after isolating, on the survey's word: wait that long"),
        ("SILENT", "Stored charge: the survey names none. Prove discharged."),
        ("PART", "none named in the others. Prove discharged."),
    ] {
        let card = Run::card(&pages, name);
        assert!(card.contains(said), "{card}");
        // No supplies file describes what stands behind the isolators.
        assert!(card.contains("Not proved: ") && !card.contains("No path found"), "{card}");
        assert_eq!(card.matches("Stored charge").count(), 1, "{card}");
    }
}

#[test]
fn boxes_to_sign_stand_on_one_page_with_their_heading() {
    let Some(pages) = demo_cards().pages() else { return };
    let mut count = 0;
    for page in &pages {
        assert_eq!(page.contains("Signed name and signature"), page.contains("Permit number"), "{page}");
        count += usize::from(page.contains("Permit number"));
    }
    assert!(count > 60, "{count}");
}

#[test]
fn a_point_never_parts_from_its_boxes_and_every_page_names_its_card() {
    let header = "enclosure,name,area,circuit,voltage_to_earth,isolator,isolator_location,locking,order,on_load,before_isolating";
    let rows = (1..=24).map(|number| {
        format!("MCC-1,Control centre,Hall,C/{number},230,Q{number},\"Room {number}, board {number}\",padlock,{number},no,tell line {number}")
    });
    let survey = std::iter::once(header.to_owned()).chain(rows).collect::<Vec<_>>().join("\n");
    let run = Run::on(&survey, &[]);
    let Some(pages) = run.pages() else { return };
    let mut seen = 0;
    for (number, page) in (1..).zip(&pages) {
        assert!(page.starts_with(&format!("{HEAD} MCC-1 ")), "{page}");
        assert!(page.contains(&format!(" page {number} of {}", pages.len())), "{page}");
        for point in 1..=24 {
            let words =
                format!("{point} Q{point} Room {point}, board {point} First: tell line {point} Do not open under load");
            if page.contains(&words) {
                let after = page.split_once(&words).unwrap().1;
                assert!(after.split("secured by padlock").nth(1).unwrap().contains("off secured"), "{page}");
                seen += 1;
            }
        }
    }
    assert_eq!(seen, 24);
    within(&run, 148.0, 210.0, 10.0);
}

#[test]
fn a4_is_the_same_card_in_larger_letters() {
    let [small, large] = ["a5", "a4"].map(|size| Run::of(&demo(), &["--size", size, "--only", "CMP-2"]));
    let (Some(small_pages), Some(large_pages)) = (small.pages(), large.pages()) else { return };
    assert_eq!(small_pages, large_pages);
    within(&small, 148.0, 210.0, 10.0);
    within(&large, 210.0, 297.0, 14.0);
}

#[test]
fn hostile_words_and_long_ones_stay_on_the_card() {
    let long = "X".repeat(300);
    let survey = format!(
        "enclosure,name,area,circuit,serves,voltage_to_earth,isolator,isolator_location,locking,live_after,before_isolating\n\
         =A1+B2-Q3,{long},\"Hall) Tj (, \\x\",C/1,{long},230,Q1,{long},padlock,\u{202e}evil,{long}\n"
    );
    let run = Run::on(&survey.replace('\u{202e}', ""), &[]);
    let Some(pages) = run.pages() else { return };
    let card = Run::card(&pages, "=A1+B2-Q3");
    assert!(card.contains("Hall) Tj (, \\x"), "{card}");
    assert!(card.matches('X').count() >= 1_500, "{}", card.matches('X').count());
    within(&run, 148.0, 210.0, 10.0);
}

#[test]
fn a_telephone_reads_the_record_on_each_card() {
    let run = Run::of(&demo(), &["--only", "Chamber 3"]);
    let drawing = ["-r", "200", "-gray", "FILE", "FILE.page"];
    if judge::run("pdftoppm", &drawing, &run.document()).is_none() {
        return;
    }
    let pages = run.pages().unwrap();
    let digits = pages.len().to_string().len();
    let (mut found, mut expected) = (Vec::new(), Vec::new());
    for (number, page) in (1..).zip(&pages) {
        let Some((_, record)) = page.split_once(" Record ") else { continue };
        let picture = run.folder.path().join(format!("cards.pdf.page-{number:0digits$}.pgm"));
        let Some(said) = judge::run("zbarimg", &["-q", "--raw", "FILE"], &picture) else { return };
        // The program complains of a bus that it does not need.
        found.extend(said.lines().filter(|line| line.starts_with("HTTPS:")).map(str::to_owned));
        expected.push(format!("HTTPS://SALTMERE.EXAMPLE/{}", record.split(' ').next().unwrap()));
    }
    assert_eq!(found, expected);
    assert!(found.len() >= 3, "{found:?}");
}

#[test]
fn outside_programs_accept_the_cards_and_two_runs_give_the_same_bytes() {
    let [run, again] = [(), ()].map(|()| Run::of(&demo(), &["--only", "Plant room"]));
    assert!(std::fs::read(run.document()).unwrap() == std::fs::read(again.document()).unwrap());
    if let Some(said) = judge::run("qpdf", &["--check", "FILE"], &run.document()) {
        assert!(said.contains("No syntax or stream encoding errors found"), "{said}");
    }
    let strict = ["-dPDFSTOPONERROR", "-dPDFSTOPONWARNING", "-dSAFER", "-dBATCH", "-dNOPAUSE", "-q"];
    let arguments = [&strict[..], &["-sDEVICE=nullpage", "FILE"]].concat();
    if let Some(said) = judge::run("gs", &arguments, &run.document()) {
        assert_eq!(said, "");
    }
    preflight::accepts(&run.document());
    let tags = tags::check(&lopdf::Document::load(run.document()).unwrap());
    assert!(tags.count("H1") >= 5 && tags.count("Table") >= 20 && tags.count("Figure") >= 10, "{:?}", tags.parts);
}
