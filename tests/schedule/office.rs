//! The workbook in an office suite that is not ours: opened, written as CSV sheet by sheet, and written again.

use std::path::Path;

use crate::judge;
use crate::run::{Run, demo, sheet, sheets};
use crate::surveys::hostile;

/// Converts a workbook into a folder; `None` without the suite. It gets a home of its own, so that two runs do not meet.
fn converted(workbook: &Path, to: &str, folder: &Path) -> Option<()> {
    let home = format!("-env:UserInstallation=file://{}/home", folder.display());
    let folder = folder.display().to_string();
    judge::run("soffice", &[&home, "--headless", "--convert-to", to, "--outdir", &folder, "FILE"], workbook)?;
    Some(())
}

/// Commas, quotation marks, UTF-8, from the first row, values as they are rather than as they look, every sheet.
const EACH_SHEET: &str = "csv:Text - txt - csv (StarCalc):44,34,76,1,,0,false,false,false,false,false,-1";

fn unchanged(run: &Run) {
    let folder = tempfile::tempdir().unwrap();
    let own = run.file("schedule.xlsx");
    if converted(&own, EACH_SHEET, folder.path()).is_none() {
        return;
    }
    let names = sheets(&own);
    assert_eq!(names.len(), 8);
    for name in &names {
        let path = folder.path().join(format!("schedule-{name}.csv"));
        let mut reader = csv::ReaderBuilder::new().has_headers(false).flexible(true).from_path(&path).unwrap();
        let told: Vec<Vec<String>> =
            reader.records().map(|row| row.unwrap().iter().map(str::to_owned).collect()).collect();
        assert_same(name, &told, &sheet(&own, name));
    }
    let again = tempfile::tempdir().unwrap();
    converted(&own, "xlsx", again.path()).unwrap();
    for name in &names {
        assert_same(name, &sheet(&again.path().join("schedule.xlsx"), name), &sheet(&own, name));
    }
}

/// Row by row; cells and rows without words at the end do not count, since programs differ in how far a sheet reaches.
fn assert_same(sheet: &str, one: &[Vec<String>], other: &[Vec<String>]) {
    let trimmed = |rows: &[Vec<String>]| -> Vec<Vec<String>> {
        let mut rows: Vec<Vec<String>> = rows.to_vec();
        for row in &mut rows {
            while row.last().is_some_and(String::is_empty) {
                row.pop();
            }
        }
        rows.retain(|row| !row.is_empty());
        rows
    };
    let (one, other) = (trimmed(one), trimmed(other));
    assert_eq!(one.len(), other.len(), "{sheet}");
    for (number, (one, other)) in (1..).zip(one.iter().zip(&other)) {
        assert_eq!(one, other, "{sheet}, row {number}");
    }
}

#[test]
fn an_office_suite_opens_the_demo_and_gives_every_cell_back_unchanged() {
    unchanged(demo());
}

#[test]
fn an_office_suite_takes_hostile_names_for_words() {
    unchanged(&hostile());
}
