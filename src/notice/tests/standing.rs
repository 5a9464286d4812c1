//! What standing notices say, and what they must not say.

use crate::network::Network;
use crate::notice::{Notice, NoticeOptions, Subject, compose_standing};
use crate::rules;
use crate::standing::{Kind, ReadOptions, read};
use crate::survey::Survey;
use crate::wording::Wording;

const HEADER: &str = "number,kind,area,last_inspection,next_inspection,words,record_link\n";

fn composed(rows: &str, wording: &Wording) -> (Vec<Notice>, Vec<String>) {
    let list = read(format!("{HEADER}{rows}").as_bytes(), &ReadOptions::new("standing.csv")).standing;
    let decided = rules::standing::decide(&list, &Survey::default(), &Network::default(), None).0;
    let options = NoticeOptions {
        site: "Saltmere cold store".into(),
        revision: "B".into(),
        record_link_base: "https://records.example/".into(),
        ..NoticeOptions::default()
    };
    let (notices, findings) = compose_standing(&list, &decided, wording, &options);
    (notices, findings.into_iter().map(|finding| format!("{}: {}", finding.code.name, finding.message)).collect())
}

fn one(row: &str) -> Notice {
    composed(row, &Wording::english()).0.remove(0)
}

#[test]
fn a_dash_parts_the_heading_from_the_rest() {
    let notice = one("STN-1,earthing-connection,Intake room,,,,\n");
    assert_eq!(
        (notice.headline, notice.statement),
        (vec!["Safety Electrical Connection".into()].into(), vec!["Do Not Remove".into()].into())
    );
    let notice = one("STN-1,rcd-test,,,,Test six-monthly - by pressing 'T' - and call for advice,\n");
    assert_eq!(notice.headline, ["Test six-monthly"]);
    assert_eq!(notice.statement, ["by pressing 'T' - and call for advice"]);
    let long = "A sentence so long that nobody would set it as a heading - or would they";
    assert_eq!(one(&format!("STN-1,rcd-test,,,,{long},\n")).statement, [long]);
    assert_eq!(one("STN-1,firefighters-switch,,,,FIREMAN'S SWITCH,\n").headline, ["FIREMAN'S SWITCH"]);
}

#[test]
fn what_it_says_is_its_words_its_dates_and_its_number() {
    let notice = one("STN-1,periodic-inspection,Intake room,2026-05-14,,,\n");
    assert_eq!(notice.subject, Subject::Standing);
    assert_eq!((notice.number.as_str(), notice.area.as_str()), ("STN-1", "Intake room"));
    assert_eq!(
        notice.lines(),
        [
            "Important",
            "This installation should be periodically inspected and tested and a report on its condition obtained, as \
             prescribed in BS 7671 Requirements for Electrical Installations.",
            "14\u{a0}May\u{a0}2026 Date of last inspection",
            "Recommended date of next inspection",
            "STN-1 · rev B · Saltmere cold store",
        ]
    );
    assert_eq!(one("STN-2,rcd-test,,,,,\n").figures, [], "only a periodic inspection has dates");
}

#[test]
fn nothing_of_it_speaks_of_isolating_or_of_voltages() {
    for kind in Kind::ALL {
        let notice = one(&format!("STN-1,{},,,,,\n", kind.name()));
        assert!(notice.points.is_empty() && notice.cautions.is_empty() && notice.closing.is_empty());
        let said = notice.lines().join(" ").to_lowercase();
        for word in ["isolat", "dead", " v ", "volt", "safe ", "live"] {
            assert!(!said.contains(word), "{kind:?} says `{word}`: {said}");
        }
    }
}

#[test]
fn only_a_link_of_its_own_makes_a_code() {
    assert_eq!(one("STN-1,rcd-test,,,,,\n").code, None, "the job's base makes none");
    assert_eq!(one("STN-1,rcd-test,,,,,SCS-S-001\n").code.as_deref(), Some("SCS-S-001"));
    let (notices, findings) = composed("STN-1,rcd-test,,,,,javascript:alert(1)\n", &Wording::english());
    assert_eq!(notices[0].code, None);
    assert!(findings[0].starts_with("record-link-refused: the record link of `STN-1`"), "{findings:?}");
}

#[test]
fn what_it_says_changes_its_fingerprint() {
    let row = "STN-1,periodic-inspection,,2026-05-14,2031-05-14,,\n";
    assert_eq!(one(row).fingerprint(), one(row).fingerprint());
    assert_ne!(one(row).fingerprint(), one(&row.replace("2026", "2027")).fingerprint());
    assert_ne!(one(row).fingerprint(), one(&row.replace("inspection,,2026", "inspection,,")).fingerprint());
}

#[test]
fn a_translation_of_prescribed_words_is_pointed_out() {
    let wording = Wording::new(&["en".into(), "de".into()], &[]).unwrap().0;
    let (notices, findings) = composed("STN-1,earthing-connection,,,,,\n", &wording);
    assert_eq!(notices[0].headline.len(), 2);
    assert!(
        findings.iter().any(|one| one.starts_with("standing-words-unverified") && one.contains("`de`")),
        "{findings:?}"
    );
    let own = composed("STN-1,earthing-connection,,,,Safety Electrical Connection - Do Not Remove,\n", &wording);
    assert_eq!(own.1, [""; 0], "the reader's own words are the same in every language");
    assert_eq!(own.0[0].headline, ["Safety Electrical Connection"; 2]);
}
