//! Surveys made to be awkward: hostile names, five columns, no notice at all, long words, errors.

use std::path::Path;

use crate::run::{HEAD, Run, single_blanks};

/// Names that a spreadsheet or a markup reader takes for something else; to us they are names.
const NAMES: [&str; 14] = [
    "=A1+B2-Q3",
    "'=A1",
    "''+1",
    "=cmd|' /C calc'!A0",
    "@SUM(1+1)*cmd",
    "-5",
    "<script>alert(1)</script>",
    "]]>&amp;<!--",
    "<r>bold</r>",
    "_x0041_",
    "a\\b) Tj ET (c",
    "quote\"quote",
    "007",
    "1e5",
];

/// A schedule of enclosures and isolators with these names.
pub fn hostile() -> Run {
    let cell = |text: &str| format!("\"{}\"", text.replace('"', "\"\""));
    let rows = NAMES.iter().map(|name| {
        let name = cell(name);
        format!("{name},{name},DB/1,230,{name},{name},{name}\n{name},,DB/2,230,Q8,Room 2,\n")
    });
    let header = "enclosure,name,circuit,voltage_to_earth,isolator,isolator_location,note\n";
    Run::on(&(header.to_owned() + &rows.collect::<String>()), "[job]\ntitle = \"=1+1 & 'co\"\n", &[], 0)
}

#[test]
fn hostile_names_are_names_in_all_three() {
    let run = hostile();
    let (table, sheet) = (run.csv(), run.sheet("Notices"));
    assert_eq!(table, sheet);
    let all = run.pages().map(|pages| pages.join(" ").split(' ').collect::<String>());
    for name in NAMES {
        assert!(table.iter().any(|row| row[2] == name && row[0] == format!("{name}/1")), "{name}");
        assert!(run.sheet("Drawings and notes").iter().any(|row| row[1] == name && row[5] == name), "{name}");
        assert!(run.sheet("Isolator index").iter().any(|row| row[0] == name && row[1] == name), "{name}");
        let Some(all) = &all else { continue };
        assert!(all.contains(&name.split(' ').collect::<String>()), "{name} is not in the document");
    }
    // What a program that is not ours reads: nothing that begins as a formula does.
    let bytes = std::fs::read(run.file("schedule.csv")).unwrap();
    let mut reader = csv::ReaderBuilder::new().has_headers(false).from_reader(&bytes[3..]);
    let cells: Vec<String> =
        reader.records().flat_map(|row| row.unwrap().iter().map(str::to_owned).collect::<Vec<_>>()).collect();
    assert!(cells.iter().all(|cell| !cell.starts_with(['=', '+', '-', '@', '\t', '\r'])), "{cells:?}");
    assert!(cells.iter().any(|cell| cell == "'=A1+B2-Q3") && cells.iter().any(|cell| cell == "''=A1"));
}

#[test]
fn five_columns_give_a_schedule_that_says_what_is_not_known() {
    let survey = std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-data/five-columns.csv"));
    let run = Run::on(&survey.unwrap(), "", &[], 0);
    let points = run.sheet("Points of isolation");
    assert!(
        points.iter().any(|row| row[0] == "CH1-JB1"
            && row[5..9] == ["Q1", "Switchroom 1, board C", "kind not said", "locking not said"])
    );
    let title = run.sheet("Title and cautions");
    assert!(title.iter().any(|row| row[0] == "Supplies file" && row[1].starts_with("none: nothing is proved")));
    let silent = run.sheet("No notice, lifted, unknown");
    let unknown = silent.iter().filter(|row| row[0] == "enclosure" && row[6] == "unknown");
    assert!(unknown.filter(|row| row[4] == "printed" && row[9] == "nobody: not known").count() > 10);
    let notices = run.sheet("Notices");
    for name in ["environment", "surface"] {
        let column = notices[0].iter().position(|column| column == name).unwrap();
        assert!(notices[1..].iter().all(|row| row[column] == "not said"), "{name}");
    }
    let Some(pages) = run.pages() else { return };
    assert!(run.about(&pages, "Points of isolation").contains("kind not said locking not said"));
    assert!(pages[0].contains("Revision not said") && pages[0].contains("none: nothing is proved"), "{}", pages[0]);
}

#[test]
fn a_survey_that_needs_no_notice_still_has_a_schedule() {
    let survey = "enclosure,name,area,circuit,fed_from,source,nominal,conductors,earthing,voltage_to_earth,isolator,\
                  isolator_location,device_kind,poles,locking,purpose_obvious,basis\n\
                  DB-A,Distribution board A,Switchroom 1,MSB/1,MSB,mains,230/400,L1 L2 L3 N,TN-S,230,QM1,\
                  Switchroom 2,breaker,3+N,padlock,\"beside it, KT\",proved\n";
    let run = Run::on(survey, "", &[], 0);
    assert_eq!(run.csv().len(), 1, "only the names of the columns");
    assert_eq!(run.sheet("Notices")[1][0], "none");
    let silent = run.sheet("No notice, lifted, unknown");
    assert_eq!(silent.iter().filter(|row| row[1] == "DB-A" && row[4] == "none, on the survey's word").count(), 9);
    let isolator = silent.iter().find(|row| row[0] == "isolator").unwrap();
    assert_eq!(
        (isolator[1].as_str(), isolator[8].as_str(), isolator[9].as_str()),
        ("QM1", "purpose_obvious: beside it", "KT")
    );
    let Some(pages) = run.pages() else { return };
    assert!(run.about(&pages, "Notices").contains("No notice is made of what is asked for, on the survey's word"));
    assert!(run.about(&pages, "No notice, lifted and unknown").contains("purpose_obvious: beside it by KT"));
    assert!(run.about(&pages, "Materials and quantities").contains("There is nothing to order"));
}

#[test]
fn revisions_are_listed_and_without_any_that_of_the_title_block() {
    let survey = "enclosure,circuit,voltage_to_earth,isolator,isolator_location\nE,C/1,230,Q1,R1\nE,C/2,230,Q2,R2\n";
    let job = "[job]\ntitle = \"Notices\"\nrevision = \"B\"\ndate = \"2026-11-24\"\nprepared_by = \"JD\"\n";
    let listed = "[[revisions]]\nrevision = \"A\"\ndate = \"2026-03\"\nby = \"KT\"\nwhat = \"first issue\"\n\
                  [[revisions]]\nrevision = \"B\"\nwhat = \"chamber 3 added\"\n";
    let rows = |run: &Run| {
        let sheet = run.sheet("Title and cautions");
        let first = sheet.iter().position(|row| row[0] == "revision").unwrap() + 1;
        let own = sheet[first..].iter().take_while(|row| !row[0].is_empty());
        own.map(|row| row[..4].join("|")).collect::<Vec<_>>()
    };
    let run = Run::on(survey, job, &[], 0);
    assert_eq!(rows(&run), ["B|Notices|2026-11-24|JD"]);
    let run = Run::on(survey, &format!("{job}{listed}"), &[], 0);
    assert_eq!(rows(&run), ["A|first issue|2026-03|KT", "B|chamber 3 added||"]);
    let Some(pages) = run.pages() else { return };
    assert!(pages[0].contains("A 2026-03 KT first issue") && pages[0].contains("B not said not said chamber 3 added"));
}

#[test]
fn what_is_left_out_is_listed_with_its_errors() {
    let survey = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/commands/labels-faulty-left-out/in/survey.csv");
    let run = Run::of(&survey, &["--leave-out-faulty"], 1);
    let silent = run.sheet("No notice, lifted, unknown");
    let row = silent.iter().find(|row| row[1] == "AMP-1").unwrap();
    assert_eq!(row[4], "left out because of errors; treat as live");
    assert!(row[7].contains("nobody knows yet what isolates circuit"), "{row:?}");
    let Some(pages) = run.pages() else { return };
    let said = run.about(&pages, "No notice, lifted and unknown");
    assert!(said.contains("Left out because of errors; to be treated as live"), "{said}");
    assert!(!run.about(&pages, "Notices").contains("AMP-1/"), "{pages:?}");
}

#[test]
fn only_narrows_notices_and_points_but_an_isolator_lists_all_that_it_serves() {
    let run = Run::of(&crate::run::demo_survey(), &["--only", "CH3-JB1"], 0);
    assert_eq!(run.csv().iter().map(|row| row[0].as_str()).collect::<Vec<_>>(), ["number", "CH3-JB1/1"]);
    let index = run.sheet("Isolator index");
    let of_q7: Vec<&str> = index.iter().filter(|row| row[0] == "Q7").map(|row| row[3].as_str()).collect();
    assert_eq!(of_q7, ["CH3-JB1", "CH3-JB2"]);
    assert!(run.sheet("Points of isolation")[1..].iter().all(|row| row[0] == "CH3-JB1"));
    // Its notice exists, and a reader must not take it for needless.
    let own = index[0].iter().position(|name| name == "notice").unwrap();
    let all = crate::run::demo().sheet("Isolator index");
    let of = |rows: &[Vec<String>]| rows.iter().find(|row| row[0] == "Q7").unwrap()[own].clone();
    assert!(of(&all).starts_with("Q7@"), "{}", of(&all));
    assert_eq!(of(&index), "not in this selection");
    let selection = "only CH3-JB1: an extract, not the whole schedule";
    let title = run.sheet("Title and cautions");
    assert!(title.iter().any(|row| row[0] == "Selection" && row[1] == selection));
    assert!(run.pages().is_none_or(|pages| pages[0].contains(&format!("Selection {selection}"))));
}

#[test]
fn long_words_and_long_cells_stay_on_their_page() {
    let (long, many) = ("X".repeat(300), "many words ".repeat(170));
    let header = "enclosure,name,area,circuit,serves,fed_from,source,nominal,conductors,earthing,voltage_to_earth,isolator,\
                  isolator_location,device_kind,locking,basis,drawing,note";
    let survey = format!(
        "{header}\n\
         CH1,{long},{many},C/1,{many},DB-A,mains,230/400,L1 N,TN-S,230,Q1,R1,breaker,{long},traced,{long},{many}\n\
         CH1,,,{long},fan,DB-B,mains,230/400,L1 N,TN-S,230,Q2,R2,breaker,{many},?,,\n"
    );
    let job = "[notices]\nreading_distance_m = 0.35\n";
    let run = Run::on(&survey, job, &["--subject", "enclosure", "--sheet", "a3-a4-1"], 0);
    run.within_the_page();
    let Some(pages) = run.pages() else { return };
    assert!(pages.iter().all(|page| page.starts_with(HEAD)));
    let points = single_blanks(&run.about(&pages, "Points of isolation"));
    assert!(points.matches('X').count() >= 900 && points.matches("words").count() >= 340, "{points}");
    let notes = run.about(&pages, "Drawings and notes");
    assert!(notes.matches('X').count() >= 600 && notes.matches("words").count() >= 170, "{notes}");
}
