//! The fixing list, judged by readers that are not ours: every notice once, by area in walking order, with the sheet and cell
//! that `labels` gives it and a box for each isolator that it names.
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

use serde_json::Value;

const HEAD: &str = "Fixing list: prove first, then fix";

/// One run of a command that writes a document and reports as JSON.
struct Run {
    folder: tempfile::TempDir,
    report: Value,
}

impl Run {
    fn of(command: &str, survey: &Path, further: &[&str]) -> Self {
        let folder = tempfile::tempdir().unwrap();
        let output = Command::new(env!("CARGO_BIN_EXE_noticewright"))
            .args([command, "--report", "json", "-o"])
            .args([&folder.path().join("out.pdf"), survey])
            .args(further)
            .output()
            .unwrap();
        assert_eq!(output.status.code(), Some(0), "{}", String::from_utf8_lossy(&output.stderr));
        Self { folder, report: serde_json::from_slice(&output.stdout).unwrap() }
    }

    fn document(&self) -> PathBuf {
        self.folder.path().join("out.pdf")
    }

    /// The words of each page in the order in which they were drawn; `None` without a reader.
    fn pages(&self) -> Option<Vec<String>> {
        let text = judge::run("pdftotext", &["-raw", "FILE", "-"], &self.document())?;
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

fn demo() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-data/survey.csv")
}

#[test]
fn every_notice_stands_once_with_its_sheet_and_cell_and_a_box_for_each_isolator() {
    let only = ["--only", "Chamber *", "--only", "Plant room*"];
    // Without a record the options alone tell where each notice lies.
    let folder = tempfile::tempdir().unwrap();
    let none = folder.path().join("none.csv");
    let without = ["--records", none.to_str().unwrap()];
    let run = Run::of("fixing", &demo(), &[&only[..], &without].concat());
    let Some(pages) = run.pages() else { return };
    let all = pages.join(" ");
    let labels = Run::of("labels", &demo(), &only);
    let printed: Vec<&Value> =
        labels.report["notices"].as_array().unwrap().iter().filter(|one| !one["sheet_cell"].is_null()).collect();
    assert!(printed.len() > 50, "{}", printed.len());
    let points_of = |name: &str| {
        let enclosures = labels.report["enclosures"].as_array().unwrap();
        let found = enclosures.iter().find(|one| one["enclosure"] == name);
        found.map(|one| one["points_of_isolation"].as_array().unwrap().clone()).unwrap_or_default()
    };
    for notice in &printed {
        let number = text(&notice["number"]);
        // The picture says the number too, followed by the revision.
        let on = match text(&notice["subject"]["kind"]) {
            "device" => "isolator".to_owned(),
            "standing" => "standing notice".to_owned(),
            _ => text(&notice["enclosure"]).to_owned(),
        };
        assert_eq!(all.matches(&format!(" {number} {on} ")).count(), 1, "{number} stands once");
        let place = format!("page {}, cell {} (", notice["page"], notice["sheet_cell"]);
        assert!(all.contains(&place), "{number}: {place}");
        if notice["subject"]["kind"] == "enclosure" {
            for point in points_of(text(&notice["enclosure"])) {
                let tick = format!("{} ({}) operated", text(&point["device"]), text(&point["location"]));
                assert!(all.contains(&tick), "{number}: {tick}");
            }
        }
    }
    assert_eq!(all.matches("printed: A4, page ").count(), printed.len());
    assert_eq!(all.matches("notice fixed").count(), printed.len());
}

#[test]
fn areas_stand_in_walking_order_with_their_counts_and_every_page_has_its_number() {
    let run = Run::of("fixing", &demo(), &[]);
    let Some(pages) = run.pages() else { return };
    for (number, page) in (1..).zip(&pages) {
        assert!(page.starts_with(HEAD), "{page}");
        assert!(page.contains(&format!(" page {number} of {}", pages.len())), "{page}");
    }
    let all = pages.join(" ");
    // Numbers within names count as numbers, and an area's counts are those of its notices.
    let mut rest = all.as_str();
    for head in ["Chamber 2 (3 notices)", "Chamber 3 (3 notices)", "Intake room (6 notices)", "Plant room (11 notices)"]
    {
        rest = rest.split_once(head).unwrap_or_else(|| panic!("{head}")).1;
    }
    for said in ["surface not known: look before fixing", "environment not known", "existing fixings", "Drill nothing"]
    {
        assert!(all.contains(said) || said == "existing fixings", "{said}");
    }
    assert!(pages[0].contains("64 notices on enclosures, 122 on isolators, 10 standing, in "), "{}", pages[0]);
    assert!(all.contains("STOP. Cannot be fully isolated: fix it on the closed enclosure"));
    // The page that the contents name is one on which the area's head stands.
    let contents: String = pages.iter().take_while(|page| !page.contains("tried on site")).cloned().collect();
    let listed = contents.split_once("Plant room 11 ").unwrap().1;
    let page: usize = listed.split(' ').next().unwrap().parse().unwrap();
    assert!(pages[page - 1].contains("Plant room (11 notices)"), "page {page}: {}", pages[page - 1]);
}

#[test]
fn nothing_leaves_the_page_and_outside_programs_accept_it() {
    let [run, again] = [(), ()].map(|()| Run::of("fixing", &demo(), &["--subject", "enclosure"]));
    assert!(std::fs::read(run.document()).unwrap() == std::fs::read(again.document()).unwrap());
    if let Some(said) = judge::run("qpdf", &["--check", "FILE"], &run.document()) {
        assert!(said.contains("No syntax or stream encoding errors found"), "{said}");
    }
    preflight::accepts(&run.document());
    let document = lopdf::Document::load(run.document()).unwrap();
    let tags = tags::check(&document);
    let (bookmarks, _) = tags::outline(&document);
    assert!(bookmarks.contains(&(0, "Chamber 3 (3 notices)".to_owned())), "{bookmarks:?}");
    assert_eq!(tags.links.len(), bookmarks.len(), "every area has a link and a bookmark");
    let Some(boxes) = judge::run("pdftotext", &["-bbox", "FILE", "-"], &run.document()) else { return };
    let mut count = 0;
    for word in boxes.lines().filter_map(|line| line.trim().strip_prefix("<word ")) {
        let at: Vec<f64> =
            word.split('"').filter_map(|part| part.parse().ok()).map(|at: f64| at * 25.4 / 72.0).collect();
        // ISO 216: A4 lying is 297 x 210 mm.
        assert!(at[0] > 10.0 && at[1] > 10.0 && at[2] < 287.0 && at[3] < 200.5, "{word}");
        count += 1;
    }
    assert!(count > 2_000, "{count} words");
}

/// What is to be tried for one notice of a survey made for the test, from its number to its boxes for what is done.
fn tried(survey: &Path, number: &str, further: &[&str]) -> Option<String> {
    let pages = Run::of("fixing", survey, further).pages()?;
    let all = pages.join(" ");
    // The picture stands before it, and ends with its number and revision.
    let number = format!(" {number} ");
    let row =
        all.match_indices(&number).map(|(at, _)| all.split_at(at).1).find(|row| row.contains("old notice removed"))?;
    Some(row.split("old notice removed").next().unwrap().to_owned())
}

#[test]
fn the_list_never_asks_to_prove_dead_what_the_notice_says_stays_live() {
    for name in ["PVB-1", "UPS-BAT", "RK-2", "EML-1", "INV-1", "EVC-1", "MSB", "CO1"] {
        let Some(row) = tried(&demo(), &format!("{name}/1"), &["--only", name, "--subject", "enclosure"]) else {
            return;
        };
        assert!(row.contains("what stays live is as the notice says; the rest proved dead"), "{row}");
        assert!(row.contains("STOP. Parts stay live, or may, with every point open"), "{row}");
        assert!(!row.contains("proved dead inside"), "{row}");
    }
    let row = tried(&demo(), "PFC-1/1", &["--only", "PFC-1", "--subject", "enclosure"]);
    assert!(row.is_none_or(|row| row.contains("proved dead inside as the notice says")));
}

#[test]
fn each_box_for_switching_stands_after_its_warnings_and_in_its_order() {
    let folder = tempfile::tempdir().unwrap();
    let survey = folder.path().join("survey.csv");
    let rows = "enclosure,circuit,voltage_to_earth,isolator,isolator_location,locking,order,on_load,before_isolating,stored_v\n\
                JB-1,C/1,230,Q1,Room 1,padlock,1,no,stop the fan,\nJB-1,C/2,230,Q2,Room 2,none,2,yes,,400\n";
    std::fs::write(&survey, rows).unwrap();
    let Some(row) = tried(&survey, "JB-1/1", &["--subject", "enclosure"]) else { return };
    let said = "In this order: First: stop the fan Do not open under load Q1 (Room 1) operated";
    let (_, after) = row.split_once(said).unwrap_or_else(|| panic!("{row}"));
    let (warnings, after) = after.split_once("Q2 (Room 2) operated").unwrap();
    assert!(warnings.contains("No means of locking off"), "{warnings}");
    assert!(after.contains("waiting time not known: measure it and write it down"), "{after}");
    let Some(row) = tried(&survey, "Q1@Room 1", &["--subject", "device"]) else { return };
    let (warnings, after) = row.split_once("Q1 operated").unwrap();
    assert!(warnings.contains("First: stop the fan") && warnings.contains("Do not open under load"), "{warnings}");
    // The other circuit stays: nothing is said of what loses its supply alone.
    assert!(
        after.contains("with what its notice says to open too: each circuit it lists is as the notice says"),
        "{after}"
    );
    let row = tried(&demo(), "GEN/1", &["--only", "GEN", "--subject", "enclosure"]).unwrap();
    assert!(row.contains("Inhibit starting: generator may start without warning"), "{row}");
}

#[test]
fn isolators_of_further_sources_and_of_a_ups_that_feeds_back_have_boxes() {
    let Some(row) = tried(&demo(), "MSB/1", &["--only", "MSB", "--subject", "enclosure"]) else { return };
    assert!(row.contains("UPS-1 isolated: its isolator is not known here, find it first"), "{row}");
    let run = Run::of("fixing", &demo(), &["--subject", "enclosure", "--only", "INTAKE", "--only", "IS1"]);
    let all = run.pages().unwrap().join(" ");
    // `INTAKE` has one point, IS1; its notice names the isolators of every source of the installation.
    for device in ["IS1 (Intake room)", "QD1 (Roof deck, PVB-1)", "QEV (Car park, charger post)"] {
        assert!(all.contains(&format!("{device} operated")), "{device}: {all}");
    }
}

#[test]
fn hostile_and_long_words_stay_on_the_list() {
    let long = "X".repeat(120);
    let folder = tempfile::tempdir().unwrap();
    let survey = folder.path().join("survey.csv");
    let rows = format!(
        "enclosure,name,area,circuit,voltage_to_earth,isolator,isolator_location,locking\n\
         =A1+B2-Q3,\"{long}\",\"Hall) Tj (\",C/1,230,Q1,Room 1,padlock\n=A1+B2-Q3,,,C/2,230,Q2,Room 2,padlock\n"
    );
    std::fs::write(&survey, rows).unwrap();
    let run = Run::of("fixing", &survey, &["--subject", "enclosure"]);
    let Some(pages) = run.pages() else { return };
    let all = pages.join(" ");
    assert!(all.contains("Hall) Tj (") && all.contains("=A1+B2-Q3/1"), "{all}");
    assert!(all.matches('X').count() >= 120, "{all}");
}

const TWO: &str = "enclosure,area,circuit,fed_from,voltage_to_earth,isolator,isolator_location,size,purpose_obvious\n\
                   CH3-JB1,Chamber 3,DB-C/7,DB-C,230,Q7,Switchroom 1,A7,\"on its door, JD\"\n\
                   CH3-JB1,Chamber 3,DB-D/12,DB-D,230,Q12,Lobby,,\n\
                   CH3-JB2,Chamber 3,DB-C/8,DB-C,230,Q8,Switchroom 1,A7,\"on its door, JD\"\n\
                   CH3-JB2,Chamber 3,DB-D/9,DB-D,230,Q9,Lobby,,\n";

/// The words of the list of a survey of which `labels` was run, with a record or without.
fn listed(folder: &Path, options: &[&str]) -> Option<String> {
    let output = Command::new(env!("CARGO_BIN_EXE_noticewright"))
        .current_dir(folder)
        .args(["fixing", "survey.csv", "--force", "-o", "list.pdf"])
        .args(options)
        .output()
        .unwrap();
    assert_eq!(output.status.code(), Some(0), "{}", String::from_utf8_lossy(&output.stderr));
    Some(single_blanks(&judge::run("pdftotext", &["-raw", "FILE", "-"], &folder.join("list.pdf"))?))
}

#[test]
fn the_cells_are_those_that_were_printed_by_the_record_or_by_the_same_options() {
    let folder = tempfile::tempdir().unwrap();
    let at = |name: &str| folder.path().join(name);
    std::fs::write(at("survey.csv"), TWO).unwrap();
    std::fs::write(at("job.toml"), "[job]\nrevision = \"A\"\nrecords = \"records.csv\"\n").unwrap();
    let Some(fresh) = listed(folder.path(), &["--start-at", "3"]) else { return };
    assert!(fresh.contains("printed: A4, page 1, cell 3 (a4-a7-4)"), "{fresh}");
    assert!(fresh.contains("printed: A4, page 1, cell 4 (a4-a7-4)"), "{fresh}");
    let labels = Command::new(env!("CARGO_BIN_EXE_noticewright"))
        .current_dir(folder.path())
        .args(["labels", "survey.csv", "-o", "n.pdf", "--start-at", "3", "--only", "CH3-JB1", "--copies", "2"])
        .args(["--record", "--date", "2026-01-11"])
        .output()
        .unwrap();
    assert_eq!(labels.status.code(), Some(0), "{}", String::from_utf8_lossy(&labels.stderr));
    let all = listed(folder.path(), &[]).unwrap();
    let printed = "printed on 2026-01-11: n.pdf, page 1, cell 3, the first of 2 copies (a4-a7-4)";
    assert!(all.contains(printed), "{all}");
    assert!(all.contains("not printed by the record; on fresh sheets: A4, page 1, cell 2 (a4-a7-4)"), "{all}");
    assert!(!all.contains("printed: A4"), "{all}");
    // What was printed says something else by now.
    std::fs::write(at("survey.csv"), TWO.replace("Q12,Lobby", "Q12,Loft")).unwrap();
    let all = listed(folder.path(), &[]).unwrap();
    assert!(all.contains("do not fix the copy printed on 2026-01-11, it says something else"), "{all}");
}
