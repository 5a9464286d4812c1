//! Every limit on both sides: exactly as much as is accepted, and one less, where the message names the limit and the way out.

use std::fs;
use std::path::Path;

use noticewright::limits::Limits;

use crate::case::noticewright;

const SURVEY: &str = "enclosure,positions,circuit,voltage_to_earth,isolator,isolator_location,record_link\n\
                      CH1,door; rear,DB/1,400,Q1 + Q2,Room 1,HTTPS://X.EXAMPLE/12345678\n\
                      CH2,,DB/2,400,Q3,Room 1,\n";

/// Two cells that hold no voltage.
const FAULTY: &str =
    "enclosure,circuit,voltage_to_earth,isolator,isolator_location\nCH1,DB/1,x,Q1,Room 1\nCH2,DB/2,y,Q2,Room 1\n";

/// A limit, how much of the thing the command needs, and the command.
struct Case {
    field: &'static str,
    needs: u64,
    words: &'static [&'static str],
    /// What is said where one less is accepted.
    told: &'static str,
}

const LABELS: &[&str] = &["labels", "survey.csv", "-o", "n.pdf"];

const fn case(field: &'static str, needs: u64, words: &'static [&'static str], told: &'static str) -> Case {
    Case { field, needs, words, told }
}

/// Lengths of files, and pixels of the pictures, are looked up below.
fn cases(site: &Path) -> Vec<Case> {
    let length = |name: &str| fs::metadata(site.join(name)).unwrap().len();
    let pixels = |name: &str| {
        let decoder = png::Decoder::new(std::io::BufReader::new(fs::File::open(site.join(name)).unwrap()));
        let reader = decoder.read_info().unwrap();
        u64::from(reader.info().width) * u64::from(reader.info().height)
    };
    let picture: &[&str] =
        &["labels", "survey.csv", "-o", "n.pdf", "--sheet", "roll-a7-203", "--only", "CH2", "--png", "p"];
    let run = noticewright().current_dir(site).args(picture).output().unwrap();
    assert!(run.status.success(), "{}", String::from_utf8_lossy(&run.stderr));
    let drawn = pixels("p/CH2_1.png");
    let schedule: &[&str] = &["schedule", "survey.csv", "-o", "s.pdf"];
    let own_sheet: &[&str] = &["labels", "survey.csv", "-o", "n.pdf", "--only", "CH2/1", "--sheet", "own.toml"];
    let two_pages: &[&str] =
        &["labels", "survey.csv", "-o", "n.pdf", "--only", "CH2/1", "--sheet", "a4-a5-1", "--copies", "2"];
    vec![
        case("file_bytes", length("survey.csv"), LABELS, "the most that is accepted"),
        case("rows", 2, LABELS, "error[too-many-rows]"),
        case("columns", 7, LABELS, "error[too-many-columns]"),
        case("cell_chars", 26, LABELS, "error[cell-too-long]"),
        case("enclosures", 2, LABELS, "error[too-many-enclosures]"),
        case("devices_per_row", 2, LABELS, "error[too-many-devices]"),
        case("positions", 2, LABELS, "error[too-many-positions]"),
        case("copies", 2, two_pages, "2 copies are asked for, and 1 to 1 are accepted"),
        case("pages", 2, two_pages, "2 pages are needed, and 1 are accepted"),
        case("code_chars", 26, LABELS, "error[record-link-too-long]"),
        case("sheet_cells", 4, own_sheet, "give 4 cells"),
        case("picture_pixels", drawn, picture, "pixels"),
        case("logo_bytes", length("mark.png"), schedule, "mark.png` is larger than"),
        case("logo_pixels", pixels("mark.png"), schedule, "pixels"),
        case("findings", 2, &["check", "faulty.csv"], "1 more findings are not shown"),
    ]
}

fn site() -> tempfile::TempDir {
    let site = tempfile::tempdir().unwrap();
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    fs::copy(root.join("demo-data/mark.png"), site.path().join("mark.png")).unwrap();
    fs::copy(root.join("label-layouts/a4-a7-4.toml"), site.path().join("own.toml")).unwrap();
    fs::write(site.path().join("survey.csv"), SURVEY).unwrap();
    fs::write(site.path().join("faulty.csv"), FAULTY).unwrap();
    site
}

#[test]
fn every_limit_holds_at_the_very_number_and_names_the_way_out() {
    let site = site();
    let cases = cases(site.path());
    let said = |case: &Case, limit: u64| {
        let job = format!("[documents]\nlogo = \"mark.png\"\n[limits]\n{} = {limit}\n", case.field);
        fs::write(site.path().join("job.toml"), job).unwrap();
        let output = noticewright().current_dir(site.path()).args(case.words).arg("--force").output().unwrap();
        let ended = output.status.code().unwrap();
        (ended, String::from_utf8([output.stderr, output.stdout].concat()).unwrap())
    };
    for case in &cases {
        let (within, all) = said(case, case.needs);
        assert_eq!(within, i32::from(case.field == "findings"), "{} = {}: {all}", case.field, case.needs);
        assert!(!all.contains(case.told), "{} = {}: {all}", case.field, case.needs);
        let (beyond, all) = said(case, case.needs - 1);
        assert!(beyond == 1 || beyond == 2, "{} = {}: {all}", case.field, case.needs - 1);
        assert!(all.contains(case.told), "{} = {}: {all}", case.field, case.needs - 1);
        assert!(all.contains(&format!("`{}`", case.field)), "the way out of `{}` is not named: {all}", case.field);
        let number = (case.needs - 1).to_string();
        assert!(all.contains(&number), "the limit of {} is not named: {all}", case.field);
    }
}

/// A new limit needs a case, and its place in the README.
#[test]
fn every_limit_has_a_case_and_stands_in_the_readme() {
    let shown = format!("{:?}", Limits::default());
    let inside = shown.split_once('{').unwrap().1.trim_end_matches(['}', ' ']);
    let fields: Vec<&str> = inside.split(',').map(|field| field.split(':').next().unwrap().trim()).collect();
    let site = site();
    let cases = cases(site.path());
    let readme = fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("README.md")).unwrap();
    assert!(fields.len() >= 15, "{fields:?}");
    for field in fields {
        assert!(cases.iter().any(|case| case.field == field), "no case for `{field}`");
        assert!(readme.contains(&format!("`{field}`")), "README says nothing of `{field}`");
    }
}

/// The files that a job names by hand are small: exactly a mebibyte is read.
#[test]
fn a_job_file_of_a_mebibyte_is_read_and_one_byte_more_is_not() {
    let site = site();
    for (length, code) in [(1 << 20, 0), ((1 << 20) + 1, 2)] {
        fs::write(site.path().join("job.toml"), "#".repeat(length)).unwrap();
        let output = noticewright().current_dir(site.path()).args(["check", "survey.csv"]).output().unwrap();
        let said = String::from_utf8_lossy(&output.stderr).into_owned();
        assert_eq!(output.status.code(), Some(code), "{length}: {said}");
        assert_eq!(said.contains("is larger than 1048576 bytes"), code == 2, "{said}");
    }
}
