//! What is packed comes back whole, and takes no more than its own texts.

use super::*;
use crate::length::Length;
use crate::notice::Fingerprint;
use crate::rules::LeastPlate;

/// A notice that says all that one can.
fn notice(name: &str) -> Notice {
    let said = |texts: &[&str]| texts.iter().map(|&text| text.to_owned()).collect::<Said>();
    let point = |designation: &str| NoticePoint {
        designation: designation.to_owned(),
        place: format!("{name}, board {designation}"),
        serves: String::new(),
        remarks: vec![said(&["Not under load", "Nicht unter Last"]), said(&[name, ""])],
    };
    Notice {
        number: format!("{name}/1"),
        subject: Subject::Device,
        designation: name.to_owned(),
        name: "Kühlzelle".to_owned(),
        area: "Chamber 3\u{0}@\u{7f}".to_owned(),
        position: String::new(),
        rules: vec![crate::rules::Rule::DeviceIdentity],
        headline: said(&[name, name]),
        statement: Said::new(),
        cautions: vec![said(&["", ""]), said(&[name])],
        points: vec![point("Q7"), point("Q8")],
        figures: vec![super::super::NoticeFigure { figure: "230 V".to_owned(), meaning: said(&["to earth", name]) }],
        closing: said(&["Lock off"]),
        small_line: format!("{name} \u{b7} rev B"),
        code_caption: Said::new(),
        code: Some("https://records.example/".repeat(60)),
        tag: Some(Tag {
            cautions: vec![said(&[name])],
            small_line: "rev B".to_owned(),
            reading_distance: Length::um(7),
        }),
        reading_distance: Length::um(700_000),
        sign_distance: Length::um(700_001),
        size: None,
        least: LeastPlate::default(),
        space: None,
        environment: Environment::default(),
        surface: None,
        revision: "B".to_owned(),
        hashed: Fingerprint::at(&"Saltmere cold store".into()),
    }
}

#[test]
fn what_is_packed_comes_back_whole() {
    let mut packing = Packing::default();
    for name in ["Q7", "", "@@", "\u{0}", "\u{1F50C}", &"long ".repeat(500)] {
        let (one, again) = (notice(name), notice(name));
        let packed = packing.pack(one);
        assert_eq!(packed.notice(), again);
        assert_eq!(packed.brief(), again.brief());
        // As often as one likes.
        assert_eq!(packed.clone().notice(), again);
        let without = Notice { code: None, tag: None, points: Vec::new(), ..notice(name) };
        assert_eq!(packing.pack(without.clone()).notice(), without, "a clone shares what it says");
    }
}

#[test]
fn a_fingerprint_that_was_asked_for_is_kept() {
    let (asked, unasked) = (notice("Q7"), notice("Q7"));
    let fingerprint = asked.fingerprint().to_owned();
    let mut packing = Packing::default();
    let [asked, unasked] = [asked, unasked].map(|notice| packing.pack(notice));
    assert!(asked.texts.ends_with(&fingerprint) && !unasked.texts.contains(&fingerprint));
    assert_eq!([asked.notice().fingerprint(), unasked.notice().fingerprint()], [&fingerprint; 2]);
}

#[test]
fn what_notices_have_in_common_is_kept_once() {
    let mut packing = Packing::default();
    let mut packed = Vec::new();
    for number in 0..100 {
        packed.push(packing.pack(notice(&format!("Q{number}"))));
        // Others between them change nothing of it.
        packed.push(packing.pack(Notice { subject: Subject::Enclosure, ..notice(&format!("E{number}")) }));
    }
    let alike = |one: &&Packed, other: &Packed| Arc::ptr_eq(&one.like, &other.like);
    assert!(packed.iter().step_by(2).all(|one| alike(&one, &packed[0])));
    assert!(packed.iter().skip(1).step_by(2).all(|one| alike(&one, &packed[1])));
    assert!(!alike(&&packed[0], &packed[1]));
    // Its own texts with their lengths, and nothing else.
    let Notice { number, designation, name, area, small_line, code, points, .. } = packed[0].notice();
    let once = [number, name, area, small_line, code.unwrap(), points[0].place.clone(), points[1].place.clone()];
    let texts = once.iter().map(String::len).sum::<usize>()
        + 20 * designation.len()
        + "Not under loadNicht unter Last".len() * 2;
    assert!(packed[0].texts.len() < texts + 120, "{} of {texts}", packed[0].texts.len());
    assert!(size_of::<Packed>() <= 24);
}

/// Lengths at the edges of what one, two and three characters can say.
#[test]
fn every_length_is_read_as_it_is_written() {
    let lengths = [0, 1, 31, 32, 33, 1_023, 1_024, 1_025, 32_767, 32_768, 1_000_000];
    let mut texts = String::new();
    for length in lengths {
        push_length(&mut texts, length);
        texts.push_str(&"x".repeat(length));
    }
    let mut texts = Texts(&texts);
    lengths.iter().for_each(|length| assert_eq!(texts.take().len(), *length));
    assert_eq!((texts.take(), texts.0), ("", ""));
}
