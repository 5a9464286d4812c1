//! Plates of words: whole, legible and clear whatever they say, and a gallery of them to look at.

use std::path::Path;

use noticewright::drawing::{Drawing, Ink, Item, Paint};
use noticewright::length::{Dots, Length, Size};
use noticewright::network::Network;
use noticewright::notice::{Notice, NoticeFigure, NoticeOptions, Said, Subject, compose_standing};
use noticewright::rules::{self, LeastPlate};
use noticewright::standing::{Kind, ReadOptions, read};
use noticewright::survey::Survey;
use noticewright::typesetting::{LetterFloor, Misfit, SetNotice, Typesetter};
use noticewright::wording::Wording;
use noticewright::writers::svg::svg;
use proptest::prelude::*;

use crate::look::{filled, kept_clear, lines, outline, words};
use crate::sample::{A5, A6, A7, A8, mm, notice as sample, said};

/// The notice of a kind as the program words it.
fn listed(kind: Kind, rest: &str) -> Notice {
    let list = format!(
        "number,kind,last_inspection,next_inspection,record_link,reading_distance\nSTN-3,{},{rest}\n",
        kind.name()
    );
    let list = read(list.as_bytes(), &ReadOptions::new("standing.csv")).standing;
    let decided = rules::standing::decide(&list, &Survey::default(), &Network::default(), None).0;
    let options = NoticeOptions {
        site: "Saltmere cold store".into(),
        revision: "B".into(),
        date: "2026-11".into(),
        ..NoticeOptions::default()
    };
    compose_standing(&list, &decided, &Wording::english(), &options).0.remove(0)
}

/// A plate of any words.
fn any(heading: &str, text: &str, dates: Vec<NoticeFigure>, code: Option<String>) -> Notice {
    Notice {
        subject: Subject::Standing,
        number: "STN-3".into(),
        designation: "STN-3".into(),
        headline: said(heading),
        statement: said(text),
        closing: Said::new(),
        points: Vec::new(),
        figures: dates,
        small_line: "STN-3 · rev B · 2026-11 · Saltmere cold store".into(),
        code,
        ..sample(1)
    }
}

fn date(figure: &str, meaning: &str) -> NoticeFigure {
    NoticeFigure { figure: figure.replace(' ', "\u{a0}"), meaning: said(meaning) }
}

/// Boxes of dates: every stroke but the outline.
fn boxes(drawing: &Drawing) -> Vec<noticewright::length::Rect> {
    let strokes = drawing.items.iter().skip(1).filter_map(|item| match item {
        Item::Path { path, paint: Paint::Stroke { .. } } => Some(path.clone()),
        Item::Path { .. } | Item::Text { .. } | Item::Modules(_) | Item::Group { .. } => None,
    });
    let mut alone = Drawing::new(drawing.size);
    strokes.for_each(|path| alone.fill(path, Ink::Black));
    filled(&alone)
}

fn check(notice: &Notice, set: &SetNotice) -> Result<(), TestCaseError> {
    let drawing = &set.drawing;
    let (outline, stroke) = outline(drawing);
    let inside = outline.inset(Length::um(stroke.to_um() / 2));
    let (lines, clear, filled, boxes) = (lines(drawing), kept_clear(drawing), filled(drawing), boxes(drawing));
    let floor = LetterFloor::default().height(notice.reading_distance).max(notice.least.capitals.unwrap_or_default());
    prop_assert!(set.setting.letter_height >= floor && set.setting.sign_height.is_none() && !set.setting.is_tag);
    for (index, line) in lines.iter().enumerate() {
        prop_assert!(line.ink == Ink::Black && inside.contains(line.area), "{line:?} leaves the outline {inside:?}");
        for other in lines.iter().skip(index + 1) {
            prop_assert!(!line.area.overlaps(other.area), "{line:?} and {other:?}");
        }
        for area in clear.iter().chain(&filled) {
            prop_assert!(!line.area.overlaps(*area), "{line:?} and {area:?}");
        }
        for area in &boxes {
            prop_assert!(area.contains(line.area) || !area.overlaps(line.area), "{line:?} crosses a box {area:?}");
        }
        let small = [&notice.small_line, &"Record".to_owned()].into_iter().any(|aside| aside.contains(&line.text));
        prop_assert!(line.capitals >= Length::mm(2.0) && (small || line.capitals >= floor), "{line:?} below {floor}");
    }
    for area in clear.iter().chain(&boxes) {
        prop_assert!(inside.contains(*area), "{area:?} leaves the outline");
    }
    prop_assert!(boxes.iter().all(|one| clear.iter().all(|code| !one.overlaps(*code))));
    prop_assert_eq!(boxes.len(), notice.figures.len());
    let said = words(drawing);
    let mut rest = said.as_str();
    for text in notice.headline.iter().chain(&notice.statement).filter(|text| !text.is_empty()) {
        let after = rest.split_once(text.as_str()).map(|(_, after)| after);
        prop_assert!(after.is_some(), "`{}` is not in order in `{}`", text, said);
        rest = after.unwrap_or_default();
    }
    for figure in &notice.figures {
        let figures = figure.figure.replace('\u{a0}', " ");
        prop_assert!(rest.contains(&figures) && rest.contains(&figure.meaning[0]), "{figure:?} in {said}");
    }
    Ok(())
}

/// What does not fit a size comfortably is set on it only where it is asked for.
fn set(notice: &Notice, size: Size, dots: Option<Dots>) -> Option<SetNotice> {
    Typesetter::new().set_on(notice, &[size], LetterFloor::default(), |_| dots).ok()
}

fn word() -> impl Strategy<Value = String> {
    prop_oneof!["[A-Z][a-z]{2,9}", "[a-z]{1,8}", "[A-Z]{1,3}-[0-9]{1,5}", Just("Überspannungsschutzgeräte".to_owned())]
}

fn text(words: std::ops::RangeInclusive<usize>) -> impl Strategy<Value = String> {
    prop::collection::vec(word(), words).prop_map(|words| words.join(" "))
}

prop_compose! {
    fn any_plate()(
        heading in prop_oneof![Just(String::new()), text(1..=4)],
        body in text(1..=40),
        dates in prop::collection::vec((prop::bool::ANY, text(1..=5)), 0..=2),
        code in prop::option::of("[a-z0-9/]{1,40}"),
        distance in 300..1_500_i32,
        least in prop::option::of(2_000..9_000_i32),
    ) -> Notice {
        let dates = dates.into_iter().map(|(known, meaning)| date(if known { "24 Sep 2026" } else { "" }, &meaning));
        let notice = any(&heading, &body, dates.collect(), code);
        let least = LeastPlate { capitals: least.map(Length::um), ..LeastPlate::default() };
        Notice { reading_distance: Length::mm(f64::from(distance)), least, ..notice }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, ..ProptestConfig::default() })]

    #[test]
    fn every_plate_of_words_is_whole_legible_and_clear(
        notice in any_plate(),
        width in 50..300_i32,
        height in 20..210_i32,
        dots in prop::option::of(prop::sample::select(&Dots::ALL[..])),
    ) {
        if let Some(set) = set(&notice, Size::whole_mm(width, height), dots) {
            check(&notice, &set)?;
            prop_assert_eq!(set.setting.code_module.is_some(), notice.code.is_some());
        }
    }
}

#[test]
#[expect(clippy::disallowed_methods, reason = "pictures to look at, in the build folder")]
fn every_kind_is_handsome_on_every_size_that_holds_it() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("target/gallery");
    std::fs::create_dir_all(&folder).unwrap();
    const STRIP: (f64, f64) = (100.0, 26.0);
    let fits = |kind: Kind| -> &'static [(f64, f64)] {
        match kind {
            Kind::EarthingConnection => &[A8, A7, A6, A5, (60.0, 40.0), STRIP],
            Kind::SurgeProtection => &[A7, A6, A5],
            Kind::FirefightersSwitch => &[A5, (150.0, 100.0)],
            Kind::MixedColours | Kind::RcdTest | Kind::EarthFreeLocation => &[A7, A6, A5],
            Kind::PeriodicInspection => &[A6, A5],
        }
    };
    for kind in Kind::ALL {
        let dates = if kind == Kind::PeriodicInspection { ["2026-05-14,2031-05-14", ","] } else { [","; 2] };
        for (number, dates) in dates.iter().enumerate() {
            for (width, height) in fits(kind) {
                let notice = listed(kind, &format!("{dates},,0.7"));
                let set =
                    set(&notice, mm(*width, *height), None).unwrap_or_else(|| panic!("{kind:?} on {width} x {height}"));
                check(&notice, &set).unwrap();
                let name = format!("standing-{}-{width}x{height}-{number}.svg", kind.name());
                std::fs::write(folder.join(name), svg(&set.drawing, &notice.number)).unwrap();
            }
        }
    }
}

#[test]
fn a_plate_grows_with_its_words_and_says_what_would_hold_them() {
    let long = any("Important", &"many words ".repeat(200), Vec::new(), None);
    match Typesetter::new().set(&long, &[mm(A8.0, A8.1)], LetterFloor::default()) {
        Err(Misfit::TooLong { tried, would_fit: Some(larger) }) => assert!(tried.fits_in(larger)),
        other => panic!("{other:?}"),
    }
    let code = any("Important", "few words", Vec::new(), Some("x".repeat(1_000)));
    let refused = Typesetter::new().set(&code, &[mm(A8.0, A8.1)], LetterFloor::default());
    assert!(matches!(refused, Err(Misfit::CodeTooLarge { .. })), "{refused:?}");
}

#[test]
fn a_date_to_write_has_room_for_a_hand() {
    let notice = listed(Kind::PeriodicInspection, "2026-05-14,,,0.7");
    let set = set(&notice, mm(A6.0, A6.1), None).unwrap();
    let (boxes, rules) = (boxes(&set.drawing), filled(&set.drawing));
    let rule = rules.iter().find(|rule| boxes.iter().any(|area| area.contains(**rule))).unwrap();
    let area = boxes.iter().find(|area| area.contains(*rule)).unwrap();
    // 8 mm in height, and two centimetres for six figures (common practice of forms).
    assert!(rule.origin.y - area.origin.y >= Length::mm(8.0) && rule.size.width >= Length::mm(35.0), "{rule:?}");
}
