//! The inspection list in programs that are not ours: opened, converted, filled in there, and imported again.
#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::print_stderr,
    clippy::disallowed_methods,
    unreachable_pub,
    reason = "a test that cannot go on stops, and looks at the disk by itself"
)]

mod judge;

use std::io::Read as _;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

use calamine::{Data, Reader, Xlsx};

/// A folder with a record, in which the program runs.
struct Site(tempfile::TempDir);

impl Site {
    /// With the record of the command case `records-list`.
    fn new() -> Self {
        let folder = tempfile::tempdir().unwrap();
        let case = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/commands/records-list/in");
        for name in ["records.csv", "job.toml"] {
            std::fs::copy(case.join(name), folder.path().join(name)).unwrap();
        }
        Self(folder)
    }

    fn file(&self, name: &str) -> PathBuf {
        self.0.path().join(name)
    }

    fn run(&self, words: &[&str]) -> Output {
        let mut program = Command::new(env!("CARGO_BIN_EXE_noticewright"));
        let output = program.current_dir(self.0.path()).arg("records").args(words).output().unwrap();
        assert!(output.status.success(), "{words:?}: {}", String::from_utf8_lossy(&output.stderr));
        output
    }

    /// The list as a workbook.
    fn list(&self) -> PathBuf {
        self.run(&["list", "--on", "2025-03-01", "-o", "list.xlsx"]);
        self.file("list.xlsx")
    }

    /// A file in another form; `None` without the office suite. It gets a home of its own, so that two runs do not meet.
    fn converted(&self, file: &Path, to: &str) -> Option<PathBuf> {
        let folder = self.file(&format!("as {to}").replace([' ', ':', ','], "-"));
        let home = format!("-env:UserInstallation=file://{}/home", self.0.path().display());
        let into = folder.display().to_string();
        let from = if file.extension().unwrap() == "csv" { "--infilter=CSV:44,34,76,1" } else { "--norestore" };
        judge::run("soffice", &[&home, "--headless", from, "--convert-to", to, "--outdir", &into, "FILE"], file)?;
        let ending = to.split(':').next().unwrap();
        Some(folder.join(file.with_extension(ending).file_name().unwrap()))
    }
}

/// Commas, quotation marks, UTF-8, from the first row, values as they are rather than as they look.
const CSV: &str = "csv:Text - txt - csv (StarCalc):44,34,76,1,,0,false,false,false,false,false";

fn rows_of_workbook(path: &Path) -> Vec<Vec<String>> {
    let mut workbook: Xlsx<_> = calamine::open_workbook(path).unwrap();
    let range = workbook.worksheet_range("Inspection list").unwrap();
    range.rows().map(|row| row.iter().map(Data::to_string).collect()).collect()
}

fn rows_of_csv(path: &Path) -> Vec<Vec<String>> {
    let mut reader = csv::ReaderBuilder::new().has_headers(false).flexible(true).from_path(path).unwrap();
    reader.records().map(|row| row.unwrap().iter().map(str::to_owned).collect()).collect()
}

/// Without empty cells at the ends: programs differ in how far a row reaches.
fn trimmed(rows: Vec<Vec<String>>) -> Vec<Vec<String>> {
    let end = |row: &Vec<String>| row.iter().rposition(|cell| !cell.is_empty()).map_or(0, |last| last + 1);
    rows.into_iter().map(|row| row[..end(&row)].to_vec()).collect()
}

fn inside(path: &Path, name: &str) -> String {
    let mut text = String::new();
    let mut archive = zip::ZipArchive::new(std::fs::File::open(path).unwrap()).unwrap();
    archive.by_name(name).unwrap().read_to_string(&mut text).unwrap();
    text
}

/// Fills cells in, by number and column, and writes the rows as a CSV in which the suite calculates nothing.
fn fill(rows: &mut [Vec<String>], cells: &[(&str, &str, &str)], path: &Path) {
    for (number, column, cell) in cells {
        let place = rows[0].iter().position(|name| name == column).unwrap();
        let row = rows.iter_mut().find(|row| row[0] == *number).unwrap();
        row.resize(row.len().max(place + 1), String::new());
        (*cell).clone_into(&mut row[place]);
    }
    noticewright::schedule::csv::write_cells(std::fs::File::create(path).unwrap(), rows.to_vec()).unwrap();
}

/// What ISO/IEC 29500-1 calls them: 18.3.1.33 data validations, 18.3.1.66 panes, 18.5.1.2 tables with their filter,
/// 18.3.1.63 page set-up (paper 9 is A4), 18.2.5 defined names for what is printed on every page (clauses from memory).
#[test]
fn the_workbook_is_made_to_be_filled_in_and_printed() {
    let site = Site::new();
    let list = site.list();
    let sheet = inside(&list, "xl/worksheets/sheet1.xml");
    for part in [
        "<dataValidation type=\"list\"",
        "<formula1>\"inspected,fixed,replaced,withdrawn\"</formula1>",
        "<formula1>\"good,faded,damaged,missing,wrong\"</formula1>",
        "sqref=\"I2:I11\"",
        "sqref=\"J2:J11\"",
        "state=\"frozen\"",
        "paperSize=\"9\"",
        "orientation=\"landscape\"",
        "fitToHeight=\"0\"",
    ] {
        assert!(sheet.contains(part), "{part} in {sheet}");
    }
    assert!(inside(&list, "xl/tables/table1.xml").contains("<autoFilter ref=\"A1:O11\""));
    assert!(inside(&list, "xl/workbook.xml").contains("_xlnm.Print_Titles"));
    assert!(!sheet.contains("<f>"), "no cell is a formula");
}

#[test]
fn an_office_suite_gives_every_cell_back_unchanged() {
    let site = Site::new();
    let list = site.list();
    let own = trimmed(rows_of_workbook(&list));
    assert_eq!(own.len(), 11);
    assert!(own.iter().any(|row| row[0] == "=A1+B2/1"));
    let Some(converted) = site.converted(&list, CSV) else { return };
    assert_eq!(trimmed(rows_of_csv(&converted)), own);
    // Opened and saved again it is still a list that nobody filled in.
    for form in ["ods", "xlsx"] {
        let again = site.converted(&list, form).unwrap();
        let output = site.run(&["import", &again.display().to_string()]);
        let told = String::from_utf8(output.stderr).unwrap();
        assert_eq!(told, "nothing new to record; 10 rows say neither condition nor event and are left out\n", "{form}");
    }
}

#[test]
fn a_list_filled_in_with_an_office_suite_is_imported_in_every_form() {
    let site = Site::new();
    let Some(plain) = site.converted(&site.list(), CSV) else { return };
    let mut rows = rows_of_csv(&plain);
    let filled = site.file("filled.csv");
    let cells = [
        ("CH1-JB1/1", "event", "fixed"),
        ("CH1-JB1/1", "date", "2025-03-03"),
        ("CH4-JB1/1", "condition", "Faded"),
        ("CH4-JB1/1", "date", "4 March 2025"),
        ("CH4-JB1/1", "note", "sun, \"all\" day"),
    ];
    fill(&mut rows, &cells, &filled);
    let before = std::fs::read_to_string(site.file("records.csv")).unwrap();
    let mut added: Vec<String> = Vec::new();
    for form in ["csv", "ods", "xlsx"] {
        std::fs::write(site.file("records.csv"), &before).unwrap();
        // The suite turns the days into days of its own.
        let list = if form == "csv" { filled.clone() } else { site.converted(&filled, form).unwrap() };
        let import = ["import", &list.display().to_string(), "--by", "JD"];
        let told = String::from_utf8(site.run(&import).stderr).unwrap();
        assert!(
            told.ends_with("recorded 2 entries; 8 rows say neither condition nor event and are left out\n"),
            "{told}"
        );
        let after = std::fs::read_to_string(site.file("records.csv")).unwrap();
        added.push(after.strip_prefix(before.as_str()).unwrap().to_owned());
        let told = String::from_utf8(site.run(&import).stderr).unwrap();
        assert!(told.contains("nothing new to record; 2 rows were recorded before"), "{form}: {told}");
    }
    assert!(added[0].contains("2025-03-03,fixed,CH1-JB1/1,A,,JD,"), "{}", added[0]);
    assert!(added[0].contains("2025-03-04,inspected,CH4-JB1/1,A,faded,JD,,,\"sun, \"\"all\"\" day\","), "{}", added[0]);
    assert!(added.iter().all(|lines| *lines == added[0]), "{added:#?}");
}
