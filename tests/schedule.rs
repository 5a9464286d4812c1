//! The label schedule, judged by readers that are not ours: what stands in PDF, CSV and workbook, and that they agree.
#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::string_slice,
    clippy::print_stderr,
    clippy::disallowed_methods,
    unreachable_pub,
    reason = "a test that cannot go on stops, and looks at the disk by itself"
)]

mod judge;
#[path = "schedule/office.rs"]
mod office;
#[path = "judge/preflight.rs"]
mod preflight;
#[path = "schedule/run.rs"]
mod run;
#[path = "schedule/surveys.rs"]
mod surveys;
#[path = "judge/tags.rs"]
mod tags;

use run::{HEAD, Run, demo, demo_survey, single_blanks, text};

#[test]
fn the_pdf_holds_each_notice_and_each_isolator_with_its_location() {
    let run = demo();
    let Some(pages) = run.pages() else { return };
    let notices = run.about(&pages, "Notices");
    for notice in run.notices() {
        let number = text(&notice["number"]);
        assert!(notices.contains(number), "{number}");
    }
    let index = run.about(&pages, "Isolator index");
    for isolator in run.report["isolators"].as_array().unwrap() {
        let (device, location) = (text(&isolator["device"]), text(&isolator["location"]));
        assert!(index.contains(&format!("{device} {location} ")), "{device} {location}");
    }
    let points = run.about(&pages, "Points of isolation");
    for enclosure in run.report["enclosures"].as_array().unwrap() {
        let name = text(&enclosure["enclosure"]);
        assert!(points.contains(&format!("{name} device location kind locking circuits remarks")), "{name}");
        for point in enclosure["points_of_isolation"].as_array().unwrap() {
            let words = format!("{} {} ", text(&point["device"]), text(&point["location"]));
            assert!(points.contains(&words), "{name}: {words}");
        }
    }
}

#[test]
fn the_points_of_isolation_show_no_less_danger_than_the_notices() {
    let run = demo();
    let sheet = run.sheet("Points of isolation");
    let column = sheet[0].iter().position(|name| name == "also on the notice").unwrap();
    let also = |name: &str| &sheet.iter().find(|row| row[0] == name).unwrap()[column];
    let pages = run.pages();
    let printed = pages.map(|pages| run.about(&pages, "Points of isolation"));
    let mut seen = 0;
    let warns = ["Stays live", "Stored charge", "May start", "Cannot be", "Live parts", "Lock off"];
    for notice in run.notices().iter().filter(|notice| notice["subject"]["kind"] == "enclosure") {
        let name = text(&notice["enclosure"]);
        let lines = notice["text"].as_array().unwrap().iter().map(|line| single_blanks(text(line)));
        for line in lines.filter(|line| {
            warns.iter().any(|warning| line.starts_with(warning)) || line.contains("whatever is switched off")
        }) {
            seen += 1;
            let line = line.trim_end_matches('.');
            assert!(single_blanks(also(name)).contains(line), "{name}: {line}");
            assert!(printed.as_ref().is_none_or(|printed| printed.contains(line)), "{name}: {line}");
        }
    }
    assert!(seen > 20, "{seen}");
    // Waiting times of the demo's survey.
    for (name, time) in [("PFC-1", "wait 3 minutes"), ("UPS-BAT", "wait 5 minutes")] {
        assert!(also(name).contains(time), "{name}: {}", also(name));
    }
    let proof = sheet[0].iter().position(|name| name == "proof").unwrap();
    for name in ["DB-B", "PVB-1", "EVC-1"] {
        let row = sheet.iter().find(|row| row[0] == name).unwrap();
        assert!(row[proof].contains("not of what is live all the same: "), "{name}: {}", row[proof]);
    }
}

#[test]
fn what_needs_no_notice_says_why_and_on_whose_word() {
    let run = demo();
    let Some(pages) = run.pages() else { return };
    let silent = run.about(&pages, "No notice, lifted and unknown");
    assert!(silent.contains("Everything here is on the survey's word"));
    let mut seen = 0;
    for enclosure in run.report["enclosures"].as_array().unwrap() {
        let name = text(&enclosure["enclosure"]);
        let prints = enclosure["notice"] != "not-needed";
        for reason in enclosure["reasons"].as_array().unwrap() {
            let outcome = text(&reason["outcome"]);
            if outcome == "lifted" || (!prints && outcome == "not-needed") || (prints && outcome == "unknown") {
                seen += 1;
                let because = text(&reason["because"]);
                let rule = text(&reason["rule"]);
                assert!(silent.contains(&single_blanks(&because[1..])), "{name}, {rule}: {because}");
                let clause = text(&reason["clause"]);
                assert!(silent.contains(clause), "{name}: {clause}");
            }
        }
        assert!(prints || silent.contains(&format!(" {name} ")), "{name}");
    }
    assert!(seen > 100, "{seen}");
    // The declarations of the demo's survey, with the initials behind them.
    for declared in [
        "purpose_obvious: sole isolator, fixed to the leveller it serves by JD",
        "purpose_obvious: one handle beside the panel it isolates by JD",
        "interlock IL-6 (coupled) by the survey",
        "expected: yes for circuit PV/3, PV/4 by the survey",
        "by nobody: not known",
    ] {
        assert!(silent.contains(declared), "{declared}");
    }
    assert!(silent.contains("no_confusion: "), "the locations that CH6-JB1 leaves away");
    for never in ["is safe", "is dead.", "safe to work"] {
        assert!(!pages.join(" ").replace("that something is dead.", "").contains(never), "{never}");
    }
}

#[test]
fn standing_notices_say_whose_words_they_bear_and_when_was_inspected() {
    let run = demo();
    let (notices, notes, pages) = (run.sheet("Notices"), run.sheet("Drawings and notes"), run.pages());
    let column = |name: &str| notices[0].iter().position(|column| column == name).unwrap();
    let mut list = csv::Reader::from_path(demo_survey().with_file_name("standing.csv")).unwrap();
    let entries: Vec<csv::StringRecord> = list.records().map(Result::unwrap).collect();
    assert!(entries.len() > 8);
    for entry in &entries {
        let row = notices.iter().find(|row| row[0] == entry[0]).unwrap();
        let cell = |name: &str| row[column(name)].as_str();
        assert_eq!((cell("on"), cell("name"), cell("area or location")), ("standing notice", &entry[1], &entry[2]));
        assert_eq!((cell("last inspection"), cell("next inspection")), (&entry[4], &entry[5]));
        assert_eq!(cell("whose words") == "your own, from the list", !entry[6].is_empty(), "{}", cell("whose words"));
        let note = notes.iter().find(|row| row[0] == "standing notices" && row[1] == entry[0]);
        assert_eq!(note.map_or("", |row| row[5].as_str()), &entry[12]);
        let Some(pages) = &pages else { continue };
        let listed = run.about(pages, "Notices");
        assert!(listed.contains(&format!("words: {}", cell("whose words"))), "{}", &entry[0]);
        assert!(
            entry[4].is_empty() || listed.contains(&format!("last inspection {} next", &entry[4])),
            "{}",
            &entry[4]
        );
        assert!(pages[0].contains("demo-data/standing.csv"), "{}", pages[0]);
    }
    // Every other notice says what follows from the survey, and bears nobody's words.
    assert_eq!(notices.iter().filter(|row| !row[column("whose words")].is_empty()).count(), entries.len() + 1);
}

#[test]
fn drawings_notes_materials_and_findings_stand_on_it() {
    let run = demo();
    let Some(pages) = run.pages() else { return };
    let notes = run.about(&pages, "Drawings and notes");
    let mut survey = csv::Reader::from_path(demo_survey()).unwrap();
    let columns = survey.headers().unwrap().clone();
    let at = |name: &str| columns.iter().position(|column| column == name).unwrap();
    for row in survey.records().map(Result::unwrap) {
        for column in ["drawing", "note"] {
            assert!(notes.contains(&single_blanks(&row[at(column)])), "{}: {}", &row[0], &row[at(column)]);
        }
    }
    let materials = run.about(&pages, "Materials and quantities");
    for quantity in run.report["quantities"].as_array().unwrap() {
        let words = format!("{} ", text(&quantity["format"]));
        assert!(materials.contains(&words) && materials.contains(&format!("{} sheets", quantity["sheets"])), "{words}");
    }
    let findings = run.about(&pages, "Findings");
    for finding in run.report["findings"].as_array().unwrap() {
        let message = single_blanks(text(&finding["message"]));
        // On paper the marks round a quoted word are quotation marks.
        let plain = |text: &str| text.replace(['`', '\u{201C}', '\u{201D}'], "'");
        assert!(plain(&findings).contains(&plain(&message)[1..]), "{message}");
    }
}

#[test]
fn each_page_has_its_number_and_says_what_it_is() {
    let Some(pages) = demo().pages() else { return };
    assert_eq!(pages.len() as u64, demo().report["outputs"][0]["pages"].as_u64().unwrap());
    for (number, page) in (1..).zip(&pages) {
        assert!(page.starts_with(HEAD), "{page}");
        assert!(page.contains(&format!(" page {number} of {}", pages.len())), "{page}");
    }
    for said in ["Saltmere cold store", "demo-data/survey.csv", "supplies.csv", "BS 7671:2018+A4:2026", "prove dead"] {
        assert!(pages[0].contains(said), "{said}");
    }
    let of = |part: &str| pages.iter().position(|page| page.starts_with(&format!("{HEAD} {part} {part}"))).unwrap() + 1;
    assert!(pages[0].contains(&format!("Points of isolation 70 enclosures {}", of("Points of isolation"))));
    assert!(pages[0].contains(&format!("125 isolators {}", of("Isolator index"))), "{}", pages[0]);
}

#[test]
fn no_word_leaves_its_page_and_none_is_too_small_to_read() {
    demo().within_the_page();
}

#[test]
fn outside_programs_accept_the_document_and_two_runs_give_the_same_bytes() {
    let (run, again) = (demo(), Run::of(&demo_survey(), &[], 0));
    for name in ["schedule.pdf", "schedule.csv", "schedule.xlsx"] {
        let bytes = |run: &Run| std::fs::read(run.file(name)).unwrap();
        assert!(bytes(run) == bytes(&again), "{name} differs");
    }
    if let Some(said) = judge::run("qpdf", &["--check", "FILE"], &run.file("schedule.pdf")) {
        assert!(said.contains("No syntax or stream encoding errors found"), "{said}");
    }
    let strict = ["-dPDFSTOPONERROR", "-dPDFSTOPONWARNING", "-dSAFER", "-dBATCH", "-dNOPAUSE", "-q", "-dLastPage=30"];
    let arguments = [&strict[..], &["-sDEVICE=nullpage", "FILE"]].concat();
    if let Some(said) = judge::run("gs", &arguments, &run.file("schedule.pdf")) {
        assert_eq!(said, "");
    }
}

#[test]
fn it_is_kept_for_long_and_its_links_lead_to_what_they_say() {
    let run = demo();
    preflight::accepts(&run.file("schedule.pdf"));
    let document = lopdf::Document::load(run.file("schedule.pdf")).unwrap();
    let numbers: std::collections::BTreeMap<_, _> = document.get_pages().into_iter().map(|(n, id)| (id, n)).collect();
    let (tags, names) = (tags::check(&document), tags::names(&document));
    let Some(pages) = run.pages() else { return };
    let of = |page: &(u32, u16)| pages[numbers[page] as usize - 1].as_str();
    // From which part to which, and to which places there.
    let mut ways = std::collections::BTreeMap::new();
    for (from, name) in &tags.links {
        let to = names[name].as_array().unwrap()[0].as_reference().unwrap();
        let title = |page: &str| {
            let parts =
                ["Label schedule", "Notices", "Points of isolation", "Isolator index", "No notice, lifted", "Findings"];
            parts.into_iter().find(|part| page.starts_with(&format!("{HEAD} {part}"))).unwrap_or("other")
        };
        let way: &mut std::collections::BTreeSet<_> = ways.entry((title(of(from)), title(of(&to)))).or_default();
        way.insert(name);
    }
    // A number that takes two lines is two links to one place.
    let places = |from, to| ways[&(from, to)].len();
    let of_kind = |kind: &str| run.notices().iter().filter(|one| one["subject"]["kind"] == kind).collect::<Vec<_>>();
    let (on_enclosures, on_isolators) = (of_kind("enclosure"), of_kind("device"));
    let enclosures: std::collections::BTreeSet<_> = on_enclosures.iter().map(|one| text(&one["enclosure"])).collect();
    assert_eq!(places("Notices", "Points of isolation"), enclosures.len());
    assert_eq!(places("Points of isolation", "Notices"), on_enclosures.len());
    assert_eq!(places("Notices", "Isolator index"), on_isolators.len());
    assert_eq!(places("Isolator index", "Notices"), on_isolators.len());
    assert!(places("Isolator index", "Points of isolation") > 60 && places("Findings", "Points of isolation") > 4);
    assert_eq!(places("Points of isolation", "No notice, lifted"), 1);
    let (entries, _) = tags::outline(&document);
    let highest: Vec<&str> = entries.iter().filter(|(depth, _)| *depth == 0).map(|(_, title)| title.as_str()).collect();
    let parts = ["Title block", "Notices", "Points of isolation", "Isolator index", "No notice, lifted and unknown"];
    assert_eq!(highest[..5], parts);
    assert_eq!(highest[5..], ["Drawings and notes", "Materials and quantities", "Findings"]);
    assert_eq!(entries.len() - highest.len(), run.report["enclosures"].as_array().unwrap().len());
    assert_eq!(tags.count("Figure"), run.notices().len());
}

#[test]
fn csv_workbook_report_and_pdf_agree() {
    let run = demo();
    let (table, sheet) = (run.csv(), run.sheet("Notices"));
    assert_eq!(table, sheet);
    assert_eq!(table.len(), run.notices().len() + 1);
    let pages = run.pages();
    let listed = pages.as_ref().map(|pages| run.about(pages, "Notices"));
    let column = |name: &str| table[0].iter().position(|column| column == name).unwrap();
    let mut revisions = std::collections::BTreeSet::new();
    for notice in run.notices() {
        let number = text(&notice["number"]);
        let row = table.iter().find(|row| row[column("number")] == number).unwrap();
        let cell = |name: &str| row[column(name)].as_str();
        assert_eq!(cell("width, mm"), notice["size_mm"][0].as_f64().unwrap().to_string(), "{number}");
        assert_eq!(cell("height, mm"), notice["size_mm"][1].as_f64().unwrap().to_string(), "{number}");
        let fingerprint = text(&notice["fingerprint"]);
        assert!(fingerprint.starts_with(cell("fingerprint")) && cell("fingerprint").len() == 12, "{number}");
        assert_eq!(cell("revision"), text(&notice["revision"]), "{number}");
        revisions.insert(cell("revision"));
        let Some(listed) = &listed else { continue };
        for name in ["designation", "position", "sheet format", "material", "fingerprint"] {
            let words = single_blanks(cell(name));
            // A position begins with a capital where it stands alone.
            assert!(listed.contains(words.get(1..).unwrap_or_default()), "{number}: {name} {words}");
        }
    }
    assert_eq!(revisions.into_iter().collect::<Vec<_>>(), ["A", "B"], "what says the same keeps its revision");
}
