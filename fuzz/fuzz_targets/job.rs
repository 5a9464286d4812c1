//! Text as a job file: a fault has its line, and a job that is taken gives every stage options that it can use.
#![no_main]

use libfuzzer_sys::fuzz_target;
use noticewright::{job, standing, supplies, survey};

const SURVEY: &str = "enclosure,circuit,voltage_to_earth,isolator,isolator_location\nJB1,C/7,230,Q7,Room 1\n";

fuzz_target!(|text: &str| {
    let read = job::read(text);
    assert_eq!(read, job::read(text), "two readings differ");
    let job = match read {
        Ok(job) => job,
        Err(fault) => {
            assert!(!fault.message.is_empty(), "{fault:?}");
            let lines = text.matches('\n').count() + 1;
            assert!(fault.line.is_none_or(|line| (1..=lines).contains(&line)), "{fault:?} of {lines} lines");
            return;
        }
    };
    assert_eq!(job::read(&format!("{text}\n# a remark\n")).as_ref(), Ok(&job), "a remark changes the job");
    let options = job.read_options("site.csv", None).unwrap();
    let limits = job.limits();
    assert_eq!(options.limits, limits);
    let reading = survey::read(SURVEY.as_bytes(), &options);
    assert!(reading.survey.enclosures.len() <= limits.enclosures && reading.findings.len() <= limits.findings + 1);
    let _ = supplies::read(SURVEY.as_bytes(), &job.supplies_options("supplies.csv", None));
    let _ = standing::read(SURVEY.as_bytes(), &job.standing_options("standing.csv", None));
    let notices = job.notice_options();
    assert!(notices.reading_distance.to_mm() > 0.0 && notices.tag_distance.to_mm() > 0.0, "{notices:?}");
    assert!(notices.link_schemes.iter().all(|scheme| scheme == "https" || scheme == "http"));
    let volts = job.rule_options().stored_charge_limit.to_volts();
    assert!((1.0..=120.0).contains(&volts), "{volts}");
    for name in job.printers.keys() {
        let correction = job.correction(name).unwrap();
        let (x, y) = correction.scales();
        assert!((0.9..1.1).contains(&x) && (0.9..1.1).contains(&y), "{correction:?}");
    }
    let _ = (job.document_info(), job.date(), job.materials(), job.letter_floor());
});
