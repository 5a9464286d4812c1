//! The demo site, printed once by the program as a user runs it.

use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::{Arc, OnceLock};

use noticewright::length::{Length, Size};
use noticewright::sheets::{Formats, SheetFormat};
use serde_json::Value;

/// From how far notices are read unless the survey says otherwise, as `demo-data/job.toml` has it, in millimetres.
pub(crate) const READING_MM: f64 = 700.0;

/// One run of the main job.
pub(crate) struct Printed {
    folder: tempfile::TempDir,
    report: Value,
}

/// The run that all tests look at.
pub(crate) fn printed() -> &'static Printed {
    static PRINTED: OnceLock<Printed> = OnceLock::new();
    PRINTED.get_or_init(print)
}

/// The demo's survey.
pub(crate) fn survey() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-data/survey.csv")
}

/// The demo's list of standing notices.
pub(crate) fn standing() -> Vec<noticewright::standing::Entry> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-data/standing.csv");
    let options = noticewright::standing::ReadOptions::new("standing.csv");
    noticewright::standing::read(std::fs::read(path).unwrap(), &options).standing.entries
}

/// Prints the demo site anew.
pub(crate) fn print() -> Printed {
    let folder = tempfile::tempdir().unwrap();
    let output = Command::new(env!("CARGO_BIN_EXE_noticewright"))
        .args(["labels", "--read-back", "--report", "json", "-o"])
        .args([&folder.path().join("notices.pdf"), &survey()])
        .output()
        .unwrap();
    assert_eq!(output.status.code(), Some(0), "{}", String::from_utf8_lossy(&output.stderr));
    Printed { folder, report: serde_json::from_slice(&output.stdout).unwrap() }
}

impl Printed {
    /// The document; the demo needs one paper only.
    pub(crate) fn document(&self) -> PathBuf {
        assert_eq!(self.list("outputs").len(), 1);
        self.folder.path().join("notices.pdf")
    }

    /// A list of the report.
    pub(crate) fn list(&self, name: &str) -> &[Value] {
        self.report[name].as_array().unwrap()
    }

    /// The notices of the report.
    pub(crate) fn notices(&self) -> &[Value] {
        self.list("notices")
    }
}

/// A text of the report; empty for `null`.
pub(crate) fn text(value: &Value) -> &str {
    value.as_str().unwrap_or_default()
}

/// The sheet format on which a notice is printed.
pub(crate) fn format(notice: &Value) -> Arc<SheetFormat> {
    let side = |index: usize| Length::mm(notice["size_mm"][index].as_f64().unwrap());
    Formats::default().for_size(Size::new(side(0), side(1))).unwrap()
}

/// Left, top, width and height of a notice's cell on its page, in millimetres.
pub(crate) fn cell(notice: &Value) -> [f64; 4] {
    let cell = format(notice).cells[usize::try_from(notice["sheet_cell"].as_u64().unwrap()).unwrap() - 1];
    [cell.origin.x.to_mm(), cell.origin.y.to_mm(), cell.size.width.to_mm(), cell.size.height.to_mm()]
}
