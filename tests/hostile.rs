//! Inputs named by their attack: each is read to the end, and shows exactly the findings that stand beside it.
#![expect(clippy::disallowed_methods, clippy::unwrap_used, reason = "the tests read their own cases")]

use std::fs;
use std::path::{Path, PathBuf};

use noticewright::finding::Finding;
use noticewright::survey::{ReadOptions, Reading, read};

/// The cases: every survey of the folder, whatever its form.
fn cases() -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/hostile");
    let mut cases: Vec<_> = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    let is_case =
        |path: &PathBuf| matches!(path.extension().and_then(|e| e.to_str()), Some("csv" | "xlsx" | "ods" | "xls"));
    cases.retain(is_case);
    cases.sort();
    cases
}

fn described(finding: &Finding) -> String {
    let place = finding.place.as_ref().unwrap();
    format!("{}:{} {} {}\n", place.line, place.column, place.address, finding.code.name).replace("  ", " ")
}

fn read_case(path: &Path) -> Reading {
    read(fs::read(path).unwrap(), &ReadOptions::new(path.file_name().unwrap().to_str().unwrap()))
}

#[test]
fn each_attack_shows_its_findings() {
    let cases = cases();
    assert!(cases.len() >= 30, "{}", cases.len());
    let mut wrong = Vec::new();
    for case in cases {
        let actual: String = read_case(&case).findings.iter().map(described).collect();
        let beside = PathBuf::from(format!("{}.codes", case.display()));
        if fs::read_to_string(&beside).ok().as_deref() != Some(&actual) {
            wrong.push(format!("{}\n{actual}", beside.display()));
        }
    }
    assert!(wrong.is_empty(), "these differ from what stands beside them:\n{}", wrong.join("\n"));
}

#[test]
fn a_zip_that_grows_without_measure_is_not_opened() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/survey_forms/survey.xlsx");
    let mut options = ReadOptions::new("survey.xlsx");
    let bytes = fs::read(path).unwrap();
    options.limits.file_bytes = u64::try_from(bytes.len()).unwrap();
    let findings = read(&bytes, &options).findings;
    assert_eq!(findings.iter().map(|finding| finding.code.name).collect::<Vec<_>>(), ["workbook-unreadable"]);
}
