//! Standing notices against what is published of them: the words, the least plate, the least letters.
//!
//! Nobody here has read BS 7671 itself. Each figure and text says where it is from; the program says the same.

use noticewright::length::{Length, Size};
use noticewright::network::{Network, NetworkOptions};
use noticewright::notice::{Notice, NoticeOptions, compose_standing};
use noticewright::rules::{self, Clause, Confidence, Rule, StandingDecision, WhoseWords};
use noticewright::standing::{Kind, ReadOptions, read};
use noticewright::survey::Survey;
use noticewright::typesetting::{LetterFloor, Misfit, Typesetter, fonts};
use noticewright::wording::Wording;

fn listed(row: &str) -> (Notice, StandingDecision) {
    let list = format!("number,kind,size,reading_distance\nSTN-1,{row}\n");
    let list = read(list.as_bytes(), &ReadOptions::new("standing.csv")).standing;
    let network = Network::join(&Survey::default(), None, &NetworkOptions::default()).0;
    let mut decisions = rules::standing::decide(&list, &Survey::default(), &network, None).0;
    let mut notices = compose_standing(&list, &decisions, &Wording::english(), &NoticeOptions::default()).0;
    (notices.remove(0), decisions.remove(0))
}

/// A clause with how surely it is known.
type Known = Option<(&'static str, Confidence)>;

/// Kind, clause, how surely its words are known, and the words with the dash that parts them.
const PUBLISHED: [(Kind, Known, Option<Confidence>, &str); 6] = [
    // Texts on A4 that quote the clause.
    (
        Kind::PeriodicInspection,
        Some(("BS 7671 514.12.1", Confidence::Secondary)),
        Some(Confidence::Secondary),
        "Important – This installation should be periodically inspected and tested and a report on its condition obtained, \
         as prescribed in BS 7671 Requirements for Electrical Installations.",
    ),
    // The words of A2, from memory; texts on A4 give only that a test is asked for six-monthly.
    (
        Kind::RcdTest,
        Some(("BS 7671 514.12.2", Confidence::Secondary)),
        Some(Confidence::Memory),
        "This installation, or part of it, is protected by a device which automatically switches off the supply if an earth \
         fault develops. Test six-monthly by pressing the button marked 'T' or 'Test'. The device should switch off the \
         supply and should then be switched on to restore the supply. If the device does not switch off the supply when \
         the button is pressed seek expert advice.",
    ),
    // Two texts on earthing that quote the words.
    (
        Kind::EarthingConnection,
        Some(("BS 7671 514.13.1", Confidence::Secondary)),
        Some(Confidence::Secondary),
        "Safety Electrical Connection – Do Not Remove",
    ),
    // Clause and words from memory.
    (
        Kind::EarthFreeLocation,
        Some(("BS 7671 514.13.2", Confidence::Memory)),
        Some(Confidence::Memory),
        "The protective bonding conductors associated with the electrical installation in this location MUST NOT BE \
         CONNECTED TO EARTH. Equipment having exposed-conductive-parts connected to earth must not be brought into this \
         location.",
    ),
    // A text that gives plate, letters and words.
    (
        Kind::FirefightersSwitch,
        Some(("BS 7671 537.4", Confidence::Secondary)),
        Some(Confidence::Secondary),
        "FIREFIGHTER'S SWITCH",
    ),
    // The deleted 514.14.1, from memory: good practice, so that no clause prescribes it.
    (
        Kind::MixedColours,
        None,
        None,
        "CAUTION – This installation has wiring colours to two versions of BS 7671. Great care should be taken before \
         undertaking extension, alteration or repair that all conductors are correctly identified.",
    ),
];

#[test]
fn prescribed_words_stand_letter_by_letter() {
    for (kind, clause, confidence, words) in PUBLISHED {
        let (notice, decision) = listed(&format!("{},,", kind.name()));
        let parts = [notice.headline.join(""), notice.statement.join("")];
        let said: Vec<&str> = parts.iter().map(String::as_str).filter(|part| !part.is_empty()).collect();
        assert_eq!(said.join(" – "), words, "{kind:?}");
        let known = decision.reason.clause.map(|Clause { reference, confidence }| (*reference, *confidence));
        assert_eq!(known, clause, "{kind:?}");
        let ours = confidence.map_or(WhoseWords::OursFree, WhoseWords::OursPrescribed);
        assert_eq!(decision.words, ours, "{kind:?}");
    }
}

#[test]
fn surge_protection_has_free_words_and_a_clause_of_its_own() {
    // 514.16.1, new in A4 (texts on A4): that surge protective devices are fitted, in words of one's own.
    let (notice, decision) = listed("surge-protection,,");
    assert_eq!(decision.reason.clause.unwrap().reference, "BS 7671 514.16.1");
    assert_eq!(decision.words, WhoseWords::OursFree);
    assert!(notice.statement[0].contains("Surge protective devices are fitted"));
    assert_eq!(decision.reason.rule, Rule::StandingSurgeProtection);
}

/// 36 point of 1/72 inch in mm: what a printer's rule says too.
const POINTS_36: f64 = 36.0 * 25.4 / 72.0;

#[test]
fn a_firefighters_plate_is_never_smaller_than_published() {
    // 537.4 (a text that gives them): 150 x 100 mm, letters of 36 point.
    assert!((POINTS_36 - 12.7).abs() < 1e-9);
    let (notice, _) = listed("firefighters-switch,150x100,");
    let set = Typesetter::new().set(&notice, &[], LetterFloor::default()).unwrap();
    assert_eq!(set.drawing.size, Size::whole_mm(150, 100));
    // In the face that is used, letters whose solid type is 36 point have capitals of 8.9 mm; in other faces up to 9.1 mm.
    let heights = fonts::heights(noticewright::drawing::Face::Bold);
    let em = set.setting.letter_height.to_mm() * f64::from(heights.units_per_em) / f64::from(heights.capital);
    assert!(em >= POINTS_36 && set.setting.letter_height >= Length::mm(9.09), "{em}");
    for smaller in ["A6", "149x100", "150x99", "A7"] {
        let (notice, _) = listed(&format!("firefighters-switch,{smaller},"));
        let refused = Typesetter::new().set(&notice, &[], LetterFloor::default());
        assert!(matches!(refused, Err(Misfit::TooLong { .. })), "{smaller}");
        let set = Typesetter::new().set(
            &notice,
            &[Size::whole_mm(148, 105), Size::whole_mm(210, 148)],
            LetterFloor::default(),
        );
        assert_eq!(set.unwrap().drawing.size, Size::whole_mm(210, 148), "the first that is large enough");
    }
}

#[test]
fn letters_keep_what_is_published_however_near_they_are_read() {
    let letters = |row: &str, size: Size| {
        let (notice, _) = listed(row);
        Typesetter::new().set(&notice, &[size], LetterFloor::default()).unwrap().setting.letter_height.to_mm()
    };
    // Earlier editions: characters of at least 11 point (from memory), held for the capitals: 3.88 mm.
    assert!(letters("periodic-inspection,,0.3", Size::whole_mm(148, 105)) >= 11.0 * 25.4 / 72.0);
    // BS 951: letters of at least 4.75 mm (from memory).
    assert!(letters("earthing-connection,,0.3", Size::whole_mm(60, 40)) >= 4.75);
}
