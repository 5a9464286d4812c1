//! What must hold of a job file, provoked case by case.

use super::*;
use crate::length::{Length, Point};
use crate::limits::Limits;

#[test]
fn an_empty_job_is_the_usual_one() {
    let job = read("").unwrap();
    assert_eq!(job, Job::default());
    assert_eq!(job.job.edition, EDITION);
    assert_eq!(job.reading_distance(), Length::mm(700.0));
}

#[test]
fn an_unknown_key_is_named_with_its_line() {
    let fault = read("[job]\nsite = \"Saltmere\"\nrevison = \"B\"\n").unwrap_err();
    assert_eq!(fault.line, Some(3));
    assert!(fault.message.contains("revison"), "{}", fault.message);
}

#[test]
fn a_printer_that_shrinks_by_five_per_cent_is_refused() {
    let fault = read("[printers.office]\nscale_x = 0.95\n").unwrap_err();
    assert!(fault.message.contains("fit to page"), "{}", fault.message);
}

#[test]
fn what_cannot_be_printed_or_decided_by_is_refused() {
    let refused = |text: &str| read(text).unwrap_err().message;
    assert!(refused("[job]\nsite = \"Salt\\u202Emere\"\n").contains("`site` holds the hidden character U+202E"));
    for date in ["yesterday", "2026", "2026-13-45", "2026-02-30", "9223372036854775807-1-1", "2026-11-24-1"] {
        assert!(refused(&format!("[job]\ndate = \"{date}\"\n")).contains("write year-month-day"), "{date}");
    }
    assert!(read("[job]\ndate = \"2026-11\"\n").is_ok());
    assert!(refused("[job]\nedition = \"another\"\n").contains(EDITION));
    for limit in ["0", "121", "4294967295"] {
        assert!(refused(&format!("[notices]\nstored_charge_limit_v = {limit}\n")).contains("1 and 120"), "{limit}");
    }
    assert!(refused("[notices]\nreading_distance_m = 1e308\n").contains("is 1e308;"));
    assert!(refused("[notices]\ntag_reading_distance_m = 0\n").contains("`tag_reading_distance_m` is 0.0;"));
    assert!(refused("[press]\nprinting_condition = \"fogra\"\n").contains("FOGRA39, FOGRA47"));
    assert!(refused("[press]\nprofile = \"-\"\n").contains("a file beside the job file"));
    assert!(refused("[headers]\nBox = \"box\"\n").contains("not a column"));
    assert!(refused("[limits]\nrows = 0\n").contains("expected a whole number from 1"));
}

#[test]
fn every_key_of_the_starter_job_can_be_used() {
    let starter = include_str!("../cli/starter/job.toml");
    let is_name = |key: &str| key.chars().all(|c| c.is_ascii_lowercase() || matches!(c, '_' | '0'..='9'));
    let is_key = |rest: &str| {
        let key = rest.split_once(" = ").map(|(key, _)| key).unwrap_or_default();
        let quoted = key.strip_prefix('"').and_then(|key| key.strip_suffix('"'));
        rest.starts_with('[') || quoted.is_some() || (!key.is_empty() && is_name(key))
    };
    let all: String = starter
        .lines()
        .map(|line| line.strip_prefix("# ").filter(|rest| is_key(rest)).unwrap_or(line).to_owned() + "\n")
        .collect();
    let job = read(&all).unwrap();
    assert_eq!(job.limits(), Limits::default());
    assert_eq!((job.headers.len(), job.printers.len(), job.notices.messages.len()), (2, 1, 1));
    assert_eq!(job.job.supplies, "supplies.csv");
}

#[test]
fn limits_and_corrections_are_taken_over() {
    let job = read("[limits]\nrows = 10\n[printers.office]\noffset_x_mm = 1.5\n").unwrap();
    assert_eq!(job.limits().rows, 10);
    assert_eq!(job.limits().columns, Limits::default().columns);
    let correction = job.correction("office").unwrap();
    assert_eq!(correction.offset, Point::new(Length::mm(1.5), Length::ZERO));
    assert_eq!(job.correction("other"), None);
}

#[test]
fn a_skewed_printer_is_corrected_or_refused() {
    let job = read("[printers.office]\nskew_across_mm_per_m = -1.76\nskew_down_mm_per_m = 1.95\n").unwrap();
    let correction = job.correction("office").unwrap();
    assert_eq!((correction.skew_across, correction.skew_down, correction.scales()), (-1.76, 1.95, (1.0, 1.0)));
    for key in ["skew_across_mm_per_m", "skew_down_mm_per_m"] {
        assert!(read(&format!("[printers.office]\n{key} = 10.0\n")).is_ok());
        for value in ["10.01", "-10.01", "nan"] {
            let fault = read(&format!("[printers.office]\n{key} = {value}\n")).unwrap_err();
            assert!(fault.message.contains("printer `office`: a skew beyond 10 mm in a metre"), "{}", fault.message);
        }
    }
}

#[test]
fn materials_of_a_job_are_checked_at_their_line() {
    let text = "[materials.\"house film\"]\nlike = \"polyester-laminated\"\nsource = \"data sheet\"\n";
    let known = read(text).unwrap().materials();
    assert_eq!(known.find("house film").map(|film| film.basis.as_str()), Some("data sheet"));
    let fault = read(&text.replace("-laminated", "-laminate")).unwrap_err();
    assert_eq!(fault.line, Some(2));
    assert!(fault.message.contains("did you mean `polyester-laminated`?"), "{}", fault.message);
    assert!(read("").unwrap().materials().find("house film").is_none());
}

#[test]
fn a_wished_life_is_a_sensible_one() {
    assert_eq!(read("[notices]\nwanted_years = 15\n").unwrap().notices.wanted_years, Some(15));
    for years in ["0", "101", "-1"] {
        assert!(read(&format!("[notices]\nwanted_years = {years}\n")).is_err(), "{years}");
    }
}

#[test]
fn an_interval_of_inspections_is_a_sensible_one() {
    assert_eq!(read("").unwrap().notices.inspection_months, 12, "our own choice: no standard fixes it");
    for months in [1, 600] {
        let job = read(&format!("[notices]\ninspection_months = {months}\n")).unwrap();
        assert_eq!(job.notices.inspection_months, months);
    }
    for months in ["0", "601", "-1", "\"yearly\""] {
        assert!(read(&format!("[notices]\ninspection_months = {months}\n")).is_err(), "{months}");
    }
}

#[test]
fn a_revision_table_belongs_to_its_title_block() {
    let job = "[job]\nrevision = \"B\"\n";
    let line = |revision: &str, date: &str| format!("[[revisions]]\nrevision = \"{revision}\"\ndate = \"{date}\"\n");
    let read_with = |lines: &[String]| read(&format!("{job}{}", lines.concat()));
    let known = read_with(&[line("A", "2026-03"), line("B", "2026-11-24")]).unwrap().revisions;
    assert_eq!((known.len(), known[1].revision.as_str(), known[1].what.as_str()), (2, "B", ""));
    let refused = |lines: &[String]| read_with(lines).unwrap_err().message;
    assert_eq!(
        refused(&[line("A", "")]),
        "`revision` under [job] is `B`, and none of the [[revisions]] is; add its line"
    );
    assert_eq!(refused(&[line("B", ""), line("B", "")]), "[[revisions]] has `B` twice; each has its own line");
    assert_eq!(refused(&[line("", "")]), "the [[revisions]] number 1 has no `revision`");
    assert!(refused(&[line("B", "2026-02-30")]).starts_with("`date` of `[[revisions]]` is `2026-02-30`; write"));
    assert!(
        refused(&[line("B\\u202E", "")]).starts_with("`revision` of `[[revisions]]` holds the hidden character U+202E")
    );
    let dated = |date: &str| format!("[job]\nrevision = \"B\"\ndate = \"{date}\"\n{}", line("B", "2026-11-24"));
    assert!(read(&dated("2026-11-24")).is_ok());
    let clash = read(&dated("2027-01-01")).unwrap_err().message;
    assert!(clash.contains("2027-01-01") && clash.contains("2026-11-24"), "{clash}");
    assert!(read("[[revisions]]\nversion = \"B\"\n").unwrap_err().message.contains("version"));
}

#[test]
fn words_without_quotation_marks_are_told_so() {
    for line in ["date = 2026-11-29", "revision = 3"] {
        let message = read(&format!("[job]\n{line}\n")).unwrap_err().message;
        assert!(message.ends_with("expected words in quotation marks"), "{message}");
    }
}

#[test]
fn nothing_is_declared_of_every_enclosure_at_once() {
    for name in ["no_confusion", "purpose_obvious", "Purpose Obvious"] {
        let refused = read(&format!("[defaults]\n\"{name}\" = \"all, JD\"\n")).unwrap_err();
        assert!(
            refused.message.starts_with(&format!("`{name}` under [defaults] would declare")),
            "{}",
            refused.message
        );
    }
    let job = read("[defaults]\nenvironment = \"indoor; cold -28\"\n").unwrap();
    assert_eq!(job.read_options("survey.csv", None).unwrap().defaults.len(), 1);
}
