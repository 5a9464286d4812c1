//! A run of `schedule` with its three files, and what readers find in them.

use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::OnceLock;

use calamine::{Data, Reader, Xlsx};
use serde_json::Value;

use crate::judge;

/// What every page says.
pub const HEAD: &str = "Label schedule, not a notice";

/// One run.
pub struct Run {
    folder: tempfile::TempDir,
    pub report: Value,
}

impl Run {
    /// The run on a survey that ends with this code.
    pub fn of(survey: &Path, further: &[&str], code: i32) -> Self {
        let folder = tempfile::tempdir().unwrap();
        let output = Command::new(env!("CARGO_BIN_EXE_noticewright"))
            .args(["schedule", "--report", "json"])
            .args(["pdf", "csv", "xlsx"].map(|ending| format!("-o{}/schedule.{ending}", folder.path().display())))
            .arg(survey)
            .args(further)
            .output()
            .unwrap();
        assert_eq!(output.status.code(), Some(code), "{}", String::from_utf8_lossy(&output.stderr));
        Self { folder, report: serde_json::from_slice(&output.stdout).unwrap() }
    }

    /// The run on a survey made for a test, with a job file beside it.
    pub fn on(survey: &str, job: &str, further: &[&str], code: i32) -> Self {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("survey.csv");
        std::fs::write(&path, survey).unwrap();
        std::fs::write(folder.path().join("job.toml"), job).unwrap();
        Self::of(&path, further, code)
    }

    pub fn file(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    pub fn notices(&self) -> &[Value] {
        self.report["notices"].as_array().unwrap()
    }

    /// The words of each page in the order in which they were drawn, so that those of one cell stand together.
    pub fn pages(&self) -> Option<Vec<String>> {
        let text = judge::run("pdftotext", &["-raw", "FILE", "-"], &self.file("schedule.pdf"))?;
        let mut pages: Vec<String> = text.split('\u{C}').map(single_blanks).collect();
        pages.truncate(pages.len() - 1);
        Some(pages)
    }

    /// All words of the pages of one part, without their running heads and feet.
    pub fn about(&self, pages: &[String], part: &str) -> String {
        let head = format!("{HEAD} {part} ");
        let own = pages.iter().filter_map(|page| page.strip_prefix(&head));
        own.map(|page| page.rsplit_once(" page ").map_or(page, |(words, _)| words)).collect::<Vec<_>>().join(" ")
    }

    /// ISO 216: A4 lying is 297 x 210 mm. Capitals of 2 mm, which are 0.698 em of the face in use.
    pub fn within_the_page(&self) {
        let Some(text) = judge::run("pdftotext", &["-bbox", "FILE", "-"], &self.file("schedule.pdf")) else { return };
        assert!(text.contains("<page width=\"841.8898"), "A4 lying is 841.89 points wide");
        let mut words = 0;
        for line in text.lines().filter_map(|line| line.trim().strip_prefix("<word ")) {
            let numbers: Vec<f64> = line.split('"').filter_map(|part| part.parse().ok()).collect();
            let [left, top, right, bottom] = [0, 1, 2, 3].map(|index| numbers[index] * 25.4 / 72.0);
            let inside = left > 10.0 && top > 10.0 && right < 287.0 && bottom < 200.5;
            assert!(inside, "{line}: {left} {top} {right} {bottom}");
            words += 1;
        }
        assert!(words > 100, "{words}");
    }

    /// The cells of the CSV as our own reader gives them.
    pub fn csv(&self) -> Vec<Vec<String>> {
        noticewright::schedule::csv::read(&std::fs::read(self.file("schedule.csv")).unwrap()).unwrap()
    }

    /// The cells of a sheet of the workbook as another reader gives them.
    pub fn sheet(&self, name: &str) -> Vec<Vec<String>> {
        sheet(&self.file("schedule.xlsx"), name)
    }
}

/// The cells of a sheet as words.
pub fn sheet(path: &Path, name: &str) -> Vec<Vec<String>> {
    let mut workbook: Xlsx<_> = calamine::open_workbook(path).unwrap();
    let range = workbook.worksheet_range(name).unwrap();
    range.rows().map(|row| row.iter().map(Data::to_string).collect()).collect()
}

/// The names of the sheets of a workbook.
pub fn sheets(path: &Path) -> Vec<String> {
    let workbook: Xlsx<_> = calamine::open_workbook(path).unwrap();
    workbook.sheet_names()
}

pub fn single_blanks(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

pub fn text(value: &Value) -> &str {
    value.as_str().unwrap_or_default()
}

pub fn demo_survey() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-data/survey.csv")
}

/// The run on the demo that most tests look at.
pub fn demo() -> &'static Run {
    static DEMO: OnceLock<Run> = OnceLock::new();
    DEMO.get_or_init(|| Run::of(&demo_survey(), &[], 0))
}
