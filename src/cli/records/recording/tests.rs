//! Two runs at once, and a record that fails once the document is there.
#![expect(clippy::disallowed_methods, reason = "files for the tests")]

use super::*;
use crate::cli::arguments::General;
use crate::cli::prepared::{self, Asked, Outcome, Prepared};
use crate::records::Issue;

const SURVEY: &str = "enclosure,circuit,voltage_to_earth,isolator,isolator_location\n\
                      CH3-JB1,DB-C/7,400,Q7,Room 1\nCH3-JB2,DB-C/8,400,Q8,Room 1\n";

/// A site in a folder of its own, with its record.
struct Site {
    folder: tempfile::TempDir,
    general: General,
}

impl Site {
    fn new() -> Self {
        let folder = tempfile::tempdir().unwrap();
        std::fs::write(folder.path().join("survey.csv"), SURVEY).unwrap();
        std::fs::write(folder.path().join("job.toml"), "[job]\nrevision = \"B\"\nrecords = \"records.csv\"\n").unwrap();
        let general = General { quiet: true, no_color: true, ..General::USUAL };
        Self { folder, general }
    }

    fn load(&self) -> Loaded {
        pipeline::load(&self.folder.path().join("survey.csv"), &self.general).unwrap()
    }

    fn says(&self, survey: &str) {
        std::fs::write(self.folder.path().join("survey.csv"), survey).unwrap();
    }

    fn lines(&self) -> usize {
        std::fs::read_to_string(self.folder.path().join("records.csv")).unwrap_or_default().lines().count()
    }
}

fn ready<'a>(loaded: &'a Loaded, site: &Site) -> Box<Prepared<'a>> {
    match prepared::prepare(loaded, Asked::default(), &site.general, false).unwrap() {
        Outcome::Ready(prepared) => prepared,
        Outcome::Faulty(findings, _) | Outcome::NothingLeft(findings, _) => panic!("{findings:?}"),
    }
}

fn recording(loaded: &Loaded) -> Recording<'_> {
    let day = Date::parse("2026-11-24").unwrap();
    Recording::begin(loaded, (day, Some("JD")), "noticewright records printed ...".to_owned()).unwrap()
}

/// Holds the record, as just before the documents take their names, and adds what they hold.
fn finish(recording: &Recording<'_>, prepared: &Prepared<'_>) -> Result<Recorded, Failure> {
    let adding = recording.hold(&prepared.printable)?;
    recording.keep(adding, &prepared.plan, &prepared.printable, &[PathBuf::from("notices.pdf")])
}

#[test]
fn two_runs_of_one_survey_are_both_recorded() {
    let site = Site::new();
    let (one, other) = (site.load(), site.load());
    let (first, second) = (recording(&one), recording(&other));
    assert_eq!(site.lines(), 0, "nothing is made before there is something to keep");
    assert_eq!(finish(&first, &ready(&one, &site)).unwrap().notices, 4);
    // Neither revision changes by it; what is there already is not told twice.
    assert_eq!(finish(&second, &ready(&other, &site)).unwrap().notices, 4);
    assert_eq!(site.lines(), 5);
}

#[test]
fn a_revision_that_another_run_took_meanwhile_stops_the_document() {
    let site = Site::new();
    let one = site.load();
    site.says(&SURVEY.replace("Q7,Room 1", "Q7,Room 2"));
    let other = site.load();
    let revision = |loaded: &Loaded| loaded.notices()[0].revision.clone();
    assert_eq!([revision(&one), revision(&other)], ["B", "B"], "each alone would be this revision");
    let (first, second) = (recording(&one), recording(&other));
    finish(&first, &ready(&one, &site)).unwrap();
    let message = finish(&second, &ready(&other, &site)).unwrap_err().message();
    assert!(message.contains("`CH3-JB1/1` while this one went on, and it is revision `B.2` now"), "{message}");
    assert!(message.contains("nothing was written") && message.contains("run the same again"), "{message}");
    assert_eq!(site.lines(), 5);
    // Again, as the message says.
    let again = site.load();
    assert_eq!(revision(&again), "B.2");
    assert!(again.notices()[0].small_line.contains("rev B.2"), "{}", again.notices()[0].small_line);
    finish(&recording(&again), &ready(&again, &site)).unwrap();
}

#[test]
fn a_record_damaged_meanwhile_stops_the_document() {
    let site = Site::new();
    let loaded = site.load();
    let recording = recording(&loaded);
    std::fs::write(site.folder.path().join("records.csv"), "no record\n").unwrap();
    let message = finish(&recording, &ready(&loaded, &site)).unwrap_err().message();
    assert!(message.contains("was damaged while this run went on; nothing was written"), "{message}");
}

#[test]
fn a_document_that_is_written_and_not_recorded_says_how_it_is() {
    let site = Site::new();
    let loaded = site.load();
    let failure = recording(&loaded).not_kept(Failure::could_not_run("the disk is full"), &[PathBuf::from("n.pdf")]);
    assert_eq!(failure.exit_code(), 2);
    let message = failure.message();
    assert!(message.contains("`n.pdf` is written, but its notices are not recorded: the disk is full"), "{message}");
    assert!(message.contains("record them with\n  noticewright records printed ..."), "{message}");
}

#[test]
fn an_entry_tells_all_that_was_printed() {
    let site = Site::new();
    let loaded = site.load();
    let prepared = ready(&loaded, &site);
    let entries = recording(&loaded).entries(&prepared.plan, &prepared.printable, &[PathBuf::from("notices.pdf")]);
    for (one, entry) in prepared.printable.iter().zip(&entries) {
        let print = entry.print.as_deref().unwrap();
        assert_eq!((entry.revision.as_str(), entry.by.as_str()), ("B", "JD"));
        assert_eq!(entry.fingerprint, one.notice().fingerprint());
        assert_eq!((print.size, print.file.as_str()), (one.set.size, "notices.pdf"));
        assert_eq!((print.material.as_str(), print.process.as_str()), ("polyester-laminated", "laser"));
        // Nobody says where they are: indoors, the mildest (`classes.toml`: 10 years and more).
        assert_eq!((print.environment.as_str(), print.lasts.cell().as_str()), ("", "10 years and more"));
        assert_eq!(print.says, Statement::of(&one.notice()));
        assert!(print.page > 0 && print.cell > 0);
    }
    let places: std::collections::BTreeSet<_> = entries
        .iter()
        .map(|entry| {
            let print = entry.print.as_deref().unwrap();
            (print.page, print.cell)
        })
        .collect();
    assert_eq!(places.len(), entries.len());
    let own = Issue { revision: "B", date: "" };
    assert_eq!(crate::records::issue(None, "", own), None);
}
