//! Tags: strips of 60 x 20 mm fixed to isolators.

use noticewright::drawing::Item;
use noticewright::length::Length;
use noticewright::notice::{Notice, Tag};
use noticewright::typesetting::{LetterFloor, Misfit, SetNotice, Typesetter};
use proptest::prelude::*;

use crate::look::{filled, kept_clear, lines, outline, words};
use crate::sample::{device, mm, said};

fn tagged(circuits: usize) -> Notice {
    let tag = Tag {
        cautions: vec![said("Other supplies may remain")],
        small_line: "rev B · 2026-11-24".into(),
        reading_distance: Length::mm(400.0),
    };
    Notice { tag: Some(tag), code: Some("https://records.example/Q7".into()), ..device(circuits) }
}

fn set(notice: &Notice, size: (f64, f64)) -> Result<SetNotice, Misfit> {
    Typesetter::new().set(notice, &[mm(size.0, size.1)], LetterFloor::default())
}

#[test]
fn a_tag_shows_the_designation_large_and_what_it_disconnects() {
    let notice = tagged(2);
    let set = set(&notice, (60.0, 20.0)).unwrap();
    let found = lines(&set.drawing);
    let designation = found.iter().find(|line| line.text == "Q7").unwrap();
    assert!(designation.capitals > Length::mm(6.0), "{designation:?}");
    assert_eq!(
        words(&set.drawing),
        "Q7 rev B 2026-11-24 Disconnects these circuits DB-C/7 CH3-JB2 fan DB-C/8 CH3-JB3 fan Other supplies may remain"
    );
    // It carries neither sign nor code, and says so.
    assert!(kept_clear(&set.drawing).is_empty());
    assert_eq!((set.setting.is_tag, set.setting.sign_height, set.setting.code_module), (true, None, None));
    assert_eq!(set.setting.lines(&notice), notice.on_a_tag().unwrap().lines());
}

#[test]
fn a_plate_that_is_no_strip_shows_the_whole_notice() {
    let notice = tagged(1);
    let set = set(&notice, (74.0, 52.0)).unwrap();
    assert!(!set.setting.is_tag && set.setting.code_module.is_some());
    assert_eq!(set.setting.lines(&notice), notice.lines());
}

#[test]
fn what_a_tag_cannot_hold_is_not_shortened() {
    let mut notice = tagged(4);
    notice.tag.as_mut().unwrap().cautions.push(said("Do not open under load"));
    let misfit = set(&notice, (60.0, 20.0)).unwrap_err();
    assert!(misfit.finding(&notice).message.contains("60 x 20 mm with letters that can be read from 0.4 m"));
    let help = misfit.finding(&notice).help.unwrap();
    assert!(help.starts_with("it fits into 105 x 74 mm; a tag has room for a designation of some letters"), "{help}");
    // An enclosure has no tag, however low the strip: its sign and its points need more.
    let enclosure = crate::sample::notice(2);
    let misfit = set(&enclosure, (60.0, 20.0)).unwrap_err();
    assert!(misfit.finding(&enclosure).help.unwrap().contains("shorten the place names"));
}

proptest! {
    #[test]
    fn every_tag_is_whole_legible_and_clear(
        designation in "[A-Z]{1,3}[0-9]{0,3}(-[A-Z])?",
        rows in prop::collection::vec(("[A-Z]{2,4}-[A-Z]/[0-9]{1,2}", "[A-Z]{2}[0-9]-[A-Z]{2}[0-9]", "([a-z]{3,9})?"), 1..4),
        cautions in prop::sample::subsequence(vec!["Other supplies may remain", "Do not open under load", "First: tell the shift"], 0..=3),
        small in prop::option::of(Just("rev B · 2026-11-24")),
        size in (50..90_u32, 15..25_u32),
        centimetres in 20..60_u32,
    ) {
        let mut notice = tagged(1);
        notice.headline = said(&designation);
        notice.points = rows.iter().map(|(circuit, enclosure, serves)| crate::sample::point(circuit, enclosure, serves)).collect();
        notice.tag = Some(Tag {
            cautions: cautions.iter().map(|text| said(text)).collect(),
            small_line: small.unwrap_or_default().to_owned(),
            reading_distance: Length::mm(f64::from(centimetres) * 10.0),
        });
        if let Ok(set) = set(&notice, (f64::from(size.0), f64::from(size.1))) {
            let floor = LetterFloor::default().height(Length::mm(f64::from(centimetres) * 10.0));
            let (outline, stroke) = outline(&set.drawing);
            let inside = outline.inset(stroke / 2);
            let (found, rules) = (lines(&set.drawing), filled(&set.drawing));
            for (index, line) in found.iter().enumerate() {
                prop_assert!(inside.contains(line.area), "{line:?} leaves {inside:?}");
                prop_assert!(found[index + 1..].iter().all(|other| !line.area.overlaps(other.area)), "{line:?} {found:?}");
                prop_assert!(rules.iter().all(|rule| !line.area.overlaps(*rule)), "{line:?} over a rule");
                let is_aside = small.is_some_and(|small| small.contains(line.text.as_str()))
                    || rows.iter().any(|(_, _, serves)| *serves == line.text);
                prop_assert!(line.capitals >= Length::mm(2.0) && (is_aside || line.capitals >= floor), "{line:?}");
            }
            let words = words(&set.drawing);
            let must = rows.iter().flat_map(|(circuit, enclosure, _)| [circuit.as_str(), enclosure]);
            for text in must.chain([designation.as_str()]).chain(cautions.iter().copied()) {
                prop_assert!(words.contains(text), "{text} is missing in {words}");
            }
            let pictured = |item: &Item| matches!(item, Item::Modules(_) | Item::Group { .. });
            prop_assert!(!set.drawing.items.iter().any(pictured));
        }
    }
}

#[test]
fn large_letters_keep_their_descenders_off_the_outline() {
    // Letters of 3.95 mm reach 1.22 mm below the last line, and the margin leaves 1.2 mm there.
    let mut notice = tagged(1);
    notice.headline = said("A");
    notice.tag = Some(Tag {
        cautions: vec![said("First: tell the shift")],
        small_line: String::new(),
        reading_distance: Length::mm(550.0),
    });
    let set = set(&notice, (73.0, 22.0)).unwrap();
    let (outline, stroke) = outline(&set.drawing);
    let inside = outline.inset(stroke / 2);
    assert!(lines(&set.drawing).iter().all(|line| inside.contains(line.area)));
}
