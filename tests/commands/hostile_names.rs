//! Designations and places made to do harm: on the terminal, in a report for scripts, as a file name, in a document.

use std::fs;
use std::path::Path;
use std::process::Output;

use crate::case::noticewright;
use crate::judge;

/// Names that mean something to a program that reads carelessly; to us they are names.
const ONLY_NAMES: [&str; 12] = [
    "../../etc/passwd",
    "..",
    "/absolute",
    "=cmd|' /C calc'!A0",
    "@SUM(1+1)*cmd",
    "<script>alert(1)</script>",
    "]]>&amp;<!--",
    "a\\b) Tj ET (c",
    "%s%n${HOME}$(id)`id`",
    "CON.svg",
    "-o",
    "quote\"quote",
];

/// Characters that act on what shows them, each refused wherever it stands.
const ACTING: [char; 12] = [
    '\u{0}', '\u{7}', '\u{8}', '\u{1B}', '\u{7F}', '\u{85}', '\u{9B}', '\u{200B}', '\u{202E}', '\u{2066}', '\u{2028}',
    '\u{FEFF}',
];

fn survey_of(names: &[&str]) -> String {
    let cell = |text: &str| format!("\"{}\"", text.replace('"', "\"\""));
    let rows = names.iter().map(|name| {
        let name = cell(name);
        format!("{name},DB/1,230,{name},{name}\n{name},DB/2,230,Q8,Room 2\n")
    });
    "enclosure,circuit,voltage_to_earth,isolator,isolator_location\n".to_owned() + &rows.collect::<String>()
}

fn run(place: &Path, words: &[&str]) -> Output {
    noticewright().current_dir(place).args(words).output().unwrap()
}

fn place_with(survey: &str) -> tempfile::TempDir {
    let place = tempfile::tempdir().unwrap();
    fs::write(place.path().join("survey.csv"), survey).unwrap();
    place
}

fn report(output: &Output) -> serde_json::Value {
    serde_json::from_slice(&output.stdout).unwrap()
}

#[test]
fn names_are_only_names_in_reports_and_documents() {
    let place = place_with(&survey_of(&ONLY_NAMES));
    let words = ["labels", "survey.csv", "-o", "notices.pdf", "--texts", "texts.csv", "--report", "json"];
    let output = run(place.path(), &words);
    assert_eq!(output.status.code(), Some(0), "{output:?}");
    let report = report(&output);
    let mut texts = csv::Reader::from_path(place.path().join("texts.csv")).unwrap();
    let numbers: Vec<String> = texts.records().map(|row| row.unwrap()[0].to_owned()).collect();
    let notices = report["notices"].as_array().unwrap();
    for name in ONLY_NAMES {
        assert!(notices.iter().any(|notice| notice["enclosure"] == name), "{name}");
        assert!(notices.iter().any(|notice| notice["number"] == format!("{name}/1")), "{name}");
        assert!(numbers.contains(&format!("{name}/1")), "{name} is not in the table of texts as it is in the survey");
    }
    let document = place.path().join("notices.pdf");
    let Some(text) = judge::run("pdftotext", &["-layout", "FILE", "-"], &document) else { return };
    let text = without_blanks(&text);
    for name in ONLY_NAMES {
        assert!(text.contains(&without_blanks(name)), "{name} is not in the document as it is in the survey");
    }
}

fn without_blanks(text: &str) -> String {
    text.chars().filter(|c| !c.is_whitespace()).collect()
}

#[test]
fn names_of_drawings_stay_in_their_folder_and_their_markup_stays_text() {
    let place = place_with(&survey_of(&ONLY_NAMES));
    let output = run(place.path(), &["labels", "survey.csv", "-o", "notices.pdf", "--svg", "drawings"]);
    assert_eq!(output.status.code(), Some(0), "{output:?}");
    assert_eq!(names(place.path()), ["drawings", "notices.pdf", "survey.csv"]);
    let drawings = place.path().join("drawings");
    // One drawing an enclosure, one an isolator: each of the names is both, and Q8 serves them all.
    assert_eq!(names(&drawings).len(), 2 * ONLY_NAMES.len() + 1);
    for name in names(&drawings) {
        assert!(name.ends_with(".svg") && !name.starts_with(['.', '-', '/']), "{name}");
        let text = fs::read_to_string(drawings.join(&name)).unwrap();
        for markup in ["<script", "<!--", "]]>"] {
            assert!(!text.contains(markup), "{name}: {markup}");
        }
    }
}

fn names(folder: &Path) -> Vec<String> {
    let names = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().file_name().to_string_lossy().into_owned());
    let mut names: Vec<_> = names.collect();
    names.sort();
    names
}

#[test]
fn what_acts_on_a_terminal_is_refused_and_shown_without_acting() {
    for acting in ACTING {
        let name = format!("CH{acting}1");
        let place = place_with(&survey_of(&[&name, "CH2"]));
        let commands: [&[&str]; 6] = [
            &["check", "survey.csv"],
            &["check", "survey.csv", "--report", "short"],
            &["check", "survey.csv", "--report", "json"],
            &["labels", "survey.csv", "-o", "notices.pdf"],
            &["labels", "survey.csv", "-o", "rest.pdf", "--leave-out-faulty"],
            &["labels", "survey.csv", "-o", "rest.pdf", "--leave-out-faulty", "--report", "json", "--force"],
        ];
        for words in commands {
            let output = run(place.path(), words);
            assert_eq!(output.status.code(), Some(1), "{acting:?} {words:?} {output:?}");
            let said = String::from_utf8([output.stdout, output.stderr].concat()).unwrap();
            let acts = |c: char| c != '\n' && (c.is_control() || ACTING.contains(&c));
            assert!(!said.contains(acts), "{acting:?} {words:?} {said}");
        }
        assert!(!names(place.path()).contains(&"notices.pdf".to_owned()));
    }
}

#[test]
fn what_acts_on_a_terminal_is_not_obeyed_from_the_command_line_either() {
    let place = place_with(&survey_of(&["CH1"]));
    let hostile = "no\u{1B}[31m\u{9B}1m\u{202E}where";
    for words in [
        &["check", hostile][..],
        &["why", "survey.csv", hostile],
        &["why", hostile],
        &["labels", "survey.csv", "-o", "x.pdf", "--sheet", hostile],
        &["labels", "survey.csv", "-o", "x.pdf", "--only", hostile],
        &["labels", "survey.csv", "-o", "x.pdf", "--printer", hostile],
        &["check", "survey.csv", "--encoding", hostile],
        &["ruler", "-o", "x.pdf", "--paper", hostile],
        &["notice", "CH1", "--isolator", hostile, "--to-earth", "230", "-o", "x.pdf"],
    ] {
        let output = run(place.path(), words);
        assert_eq!(output.status.code(), Some(2), "{words:?} {output:?}");
        let said = String::from_utf8([output.stdout, output.stderr].concat()).unwrap();
        let acts = |c: char| c != '\n' && (c.is_control() || ACTING.contains(&c));
        assert!(!said.contains(acts), "{words:?} {said}");
    }
}

#[test]
fn a_reader_of_the_report_gets_the_very_characters_back() {
    let name = "CH\u{9B}\u{202E}1";
    let place = place_with(&survey_of(&[name]));
    let report = report(&run(place.path(), &["check", "survey.csv", "--report", "json"]));
    let cells = report["findings"].as_array().unwrap().iter().map(|finding| &finding["cell"]);
    let quoted = format!("\"{name}\"");
    assert!(cells.clone().any(|cell| *cell == quoted), "{:?}", cells.collect::<Vec<_>>());
}

#[test]
fn a_name_without_end_is_an_error_and_never_cut() {
    for (length, code) in [(300, "notice-does-not-fit"), (2_500, "cell-too-long")] {
        let name = "W".repeat(length);
        let place = place_with(&survey_of(&[&name]));
        let output =
            run(place.path(), &["labels", "survey.csv", "-o", "notices.pdf", "--svg", "x", "--report", "short"]);
        assert_eq!(output.status.code(), Some(1), "{length}");
        let said = String::from_utf8(output.stderr).unwrap();
        assert!(said.contains(&format!("error[{code}]")), "{length}: {said}");
        assert_eq!(names(place.path()), ["survey.csv"], "{length}");
    }
}
