//! What was left out because of errors is named on every sheet, where nobody can overlook it.

use std::fs;

use crate::case::noticewright;
use crate::judge;

#[test]
fn every_sheet_names_the_enclosures_left_out_and_prints_nothing_of_them() {
    let place = tempfile::tempdir().unwrap();
    let rows = (1..=12).map(|number| {
        let isolator = if number % 6 == 0 { "?," } else { "Q1,Room 1" };
        format!("CH{number},DB/{number},400,{isolator}\nCH{number},DX/{number},400,Q{number},Room 2\n")
    });
    let header = "enclosure,circuit,voltage_to_earth,isolator,isolator_location\n";
    fs::write(place.path().join("survey.csv"), header.to_owned() + &rows.collect::<String>()).unwrap();
    let words = ["labels", "survey.csv", "-o", "rest.pdf", "--leave-out-faulty", "--report", "json"];
    let output = noticewright().current_dir(place.path()).args(words).output().unwrap();
    assert_eq!(output.status.code(), Some(1));
    let said = String::from_utf8(output.stderr).unwrap();
    assert!(said.contains("left out because of errors: CH6, CH12"), "{said}");

    let report: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
    let printed = |number: &str| {
        let mut notices = report["notices"].as_array().unwrap().iter();
        notices.any(|notice| notice["number"] == number && notice["page"].is_u64())
    };
    assert!(printed("CH5/1") && !printed("CH6/1") && !printed("CH12/1"));
    // An isolator's notice that names such an enclosure would say what is not known to be true.
    assert!(printed("Q5@Room 2") && !printed("Q6@Room 2"));
    for page in 1..=report["outputs"][0]["pages"].as_u64().unwrap() {
        let page = page.to_string();
        let arguments = ["-layout", "-f", &page, "-l", &page, "FILE", "-"];
        let Some(text) = judge::run("pdftotext", &arguments, &place.path().join("rest.pdf")) else { return };
        let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(text.contains("CH6, CH12") || text.contains("CH6 and CH12"), "page {page}: {text}");
    }
}
