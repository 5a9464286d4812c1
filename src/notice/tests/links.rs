//! What a code may carry, and what it never carries.

use super::*;
use crate::finding::{Code, code};

/// The code of a notice whose survey gives this link, or why it has none.
fn carried(link: &str) -> Result<String, Code> {
    let mut situation = Situation::new("CH3-JB2", vec![point("Q7", "Switchroom 1", &[])]);
    situation.enclosure.record_link = RecordLink::Given(link.to_owned());
    let (notices, findings) = situation.composed();
    match (notices[0].code.clone(), findings.as_slice()) {
        (Some(code), []) => Ok(code),
        (None, [finding]) => {
            assert_eq!(finding.enclosure.as_deref(), Some("CH3-JB2"));
            assert!(finding.help.is_some() && notices[0].code_caption.is_empty());
            Err(finding.code)
        }
        other => panic!("{other:?}"),
    }
}

#[test]
fn links_and_record_numbers_are_carried() {
    for given in [
        "https://records.example/n/4711",
        "http://10.0.0.7:8080/n?id=4711#top",
        "HTTPS://RECORDS.EXAMPLE/N/4711",
        "https://[fe80::1]/n/%C5%81",
        "4711",
        "SCS 0004711 / B",
        "Łódź 7",
        "2026:17",
    ] {
        assert_eq!(carried(given).as_deref(), Ok(given));
    }
}

#[test]
fn what_a_link_cannot_hold_is_percent_encoded() {
    assert_eq!(
        carried("https://records.example/Kälte raum/<7>").as_deref(),
        Ok("https://records.example/K%C3%A4lte%20raum/%3C7%3E")
    );
}

#[test]
fn nothing_that_a_reader_would_act_on_is_carried() {
    for given in [
        "mailto:a@example.org",
        "tel:+44",
        "javascript:alert(1)",
        "JavaScript:alert(1)",
        "data:text/html,x",
        "file:///etc/passwd",
        "sms:1",
        "WIFI:S:x;;",
        "ftp://records.example/",
        "https:records.example",
        "https:///n",
        "https://",
        "https://records.example@evil.example/",
        "https://récords.example/",
        "https://records.example\\@evil.example/",
    ] {
        assert_eq!(carried(given), Err(code::RECORD_LINK_REFUSED), "{given}");
    }
}

#[test]
fn characters_that_are_not_seen_are_refused() {
    for given in [
        "47\u{7}11",
        "4711\u{202E}7",
        "47\u{200B}11",
        "https://records.example/\u{0}",
        "\u{FEFF}4711",
        "47\u{61C}11",
        "4711\u{E0037}",
        "47\u{FFFA}11",
    ] {
        assert_eq!(carried(given), Err(code::RECORD_LINK_REFUSED), "{given:?}");
    }
    assert_eq!(carried(" 47\t11\r\n").as_deref(), Ok("47 11"));
}

#[test]
fn a_link_beyond_the_limit_is_refused() {
    let link = |length: usize| format!("https://records.example/{}", "n".repeat(length - 24));
    assert_eq!(carried(&link(300)), Ok(link(300)));
    assert_eq!(carried(&link(301)), Err(code::RECORD_LINK_TOO_LONG));
    assert_eq!(carried(&format!("https://records.example/{}", "ä".repeat(100))), Err(code::RECORD_LINK_TOO_LONG));
}

#[test]
fn without_a_link_the_jobs_base_and_the_number_are_carried() {
    let mut situation = Situation::new("CH 3/JB2", vec![point("Q7", "Switchroom 1", &[])]);
    assert_eq!(situation.notice().code, None);
    situation.options.record_link_base = "https://records.example/?n=".to_owned();
    assert_eq!(situation.notice().code.as_deref(), Some("https://records.example/?n=CH%203/JB2/1"));
    assert_eq!(situation.notice().code_caption, ["Record"]);
    situation.enclosure.record_link = RecordLink::None;
    assert_eq!((situation.notice().code, situation.notice().code_caption), (None, Said::new()));
}

#[test]
fn a_faulty_base_is_found_once() {
    for base in ["mailto:x", "records.example/", "https://"] {
        let mut situation = Situation::new("CH3-JB2", vec![point("Q7", "Switchroom 1", &[])]);
        situation.options.record_link_base = base.to_owned();
        situation.enclosure.record_link = RecordLink::None;
        let (_, findings) = situation.composed();
        assert_eq!(
            findings.iter().map(|finding| finding.code).collect::<Vec<_>>(),
            [code::RECORD_LINK_REFUSED],
            "{base}"
        );
    }
}

#[test]
fn a_refused_link_is_found_once_for_all_positions() {
    let mut situation = Situation::new("CH3-JB2", vec![point("Q7", "Switchroom 1", &[])]);
    situation.enclosure.particulars.get_or_insert_default().positions = vec!["front".to_owned(), "rear".to_owned()];
    situation.enclosure.record_link = RecordLink::Given("tel:1".to_owned());
    let (notices, findings) = situation.composed();
    assert_eq!((notices.len(), findings.len()), (2, 1));
}

/// The link stands on the second row of the enclosure: the finding shows that cell.
#[test]
fn a_refused_link_is_found_at_its_cell() {
    let text = "enclosure,circuit,voltage_to_earth,isolator,isolator_location,record_link\n\
                CH3-JB1,DB-C/7,230,Q7,Switchroom 1,\n\
                CH3-JB1,DB-D/2,230,Q12,Chamber 3 lobby,tel:1\n";
    let survey = read(text.as_bytes(), &ReadOptions::new("survey.csv")).survey;
    assert_eq!(survey.enclosures[0].record_link, RecordLink::Given("tel:1".to_owned()));
    let points = vec![point("Q7", "Switchroom 1", &[]), point("Q12", "Chamber 3 lobby", &[])];
    let decisions = Decisions { enclosures: vec![Situation::new("CH3-JB1", points).decision], ..Decisions::default() };
    let (_, findings) = compose(&survey, &decisions, &Wording::english(), &NoticeOptions::default());
    let place = findings[0].place.as_ref().unwrap();
    assert_eq!(
        (&*place.file, place.line, place.address.as_str(), place.cell.as_str()),
        ("survey.csv", 3, "F3", "tel:1")
    );
}

#[test]
fn a_base_from_which_the_number_would_run_on_is_warned_of() {
    let found = |base: &str, carries| {
        let options = NoticeOptions { record_link_base: base.to_owned(), carries, ..NoticeOptions::default() };
        options.findings()
    };
    let warned = found("https://records.example/n", Carries::Link);
    assert_eq!(warned.iter().map(|one| one.code).collect::<Vec<_>>(), [code::RECORD_LINK_RUNS_ON]);
    assert!(warned[0].message.contains("`https://records.example/n`"), "{}", warned[0].message);
    assert!(warned[0].help.as_deref().unwrap().ends_with("`https://records.example/n/`"), "{:?}", warned[0].help);
    for base in ["https://records.example/n/", "https://records.example/?n=", "https://records.example/#"] {
        assert_eq!(found(base, Carries::Link), [], "{base}");
    }
    // A code that carries words has no use for it.
    assert_eq!(found("https://records.example/n", Carries::Text), []);
}
