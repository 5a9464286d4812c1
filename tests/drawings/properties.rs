//! What holds for every notice that can be set, whatever it says.

use noticewright::drawing::{Ink, Item, Paint, Segment};
use noticewright::length::{Dots, Length, Rect};
use noticewright::notice::{Notice, Said, Subject};
use noticewright::typesetting::{LetterFloor, SetNotice, Typesetter};
use proptest::prelude::*;

use crate::look::{filled, kept_clear, lines, outline, words};
use crate::sample::{bilingual, device, mm, notice, point, said, with_cautions};

/// Words that a survey might hold, with designations, quantities, accents and long compounds.
fn word() -> impl Strategy<Value = String> {
    prop_oneof![
        "[A-Z][a-z]{2,9}",
        "[a-z]{1,8}",
        "[A-Z]{1,3}-[0-9]{1,5}(-[A-Z])?",
        "[0-9]{1,3} (V|mm|kW)",
        Just("Kühlraum-Verdampferstation".to_owned()),
        Just("Łódź".to_owned()),
        Just("Щитовая".to_owned()),
    ]
}

fn text(most: usize) -> impl Strategy<Value = String> {
    prop::collection::vec(word(), 1..=most).prop_map(|words| words.join(" "))
}

prop_compose! {
    fn any_notice()(
        kind in 0..4_u8,
        points in prop::collection::vec(("[A-Z]{1,3}[0-9]{1,4}(/[0-9]{1,2})?", text(6), prop::option::of(text(2)), prop::option::of(text(4))), 0..13),
        headline in text(6),
        statement in text(8),
        cautions in 0..7_usize,
        code in prop::option::of("[a-z0-9/]{1,60}"),
        distance in 300..1_500_i32,
        sign in 300..1_500_i32,
    ) -> Notice {
        let base = match kind {
            0 => bilingual(notice(3)),
            1 => device(2),
            _ => notice(3),
        };
        let points = points.into_iter().map(|(device, place, serves, remark)| {
            let mut point = point(&device, &place, &serves.unwrap_or_default());
            point.remarks = remark.map(|remark| said(&remark)).into_iter().collect();
            point
        });
        Notice {
            points: points.collect(),
            headline: if kind == 0 { base.headline.clone() } else { said(&headline) },
            statement: if kind == 0 { base.statement.clone() } else { said(&statement) },
            code: code.map(|path| format!("https://records.example/{path}")),
            reading_distance: Length::mm(f64::from(distance)),
            sign_distance: Length::mm(f64::from(sign)),
            ..with_cautions(base, cautions)
        }
    }
}

fn set(notice: &Notice, size: (i32, i32)) -> Option<SetNotice> {
    let size = mm(f64::from(size.0), f64::from(size.1));
    Typesetter::new().set(notice, &[size], LetterFloor::default()).ok()
}

fn set_on(notice: &Notice, size: (i32, i32), dots: Dots) -> Option<SetNotice> {
    let size = mm(f64::from(size.0), f64::from(size.1));
    Typesetter::new().set_on(notice, &[size], LetterFloor::default(), |_| Some(dots)).ok()
}

/// The same notice with every figure changed to the next one, in all that is printed but the code.
fn with_other_figures(notice: &Notice, designation: &str) -> Notice {
    let next = |text: &str| {
        let other = |letter: char| match letter {
            '0'..='8' => char::from_u32(letter as u32 + 1).unwrap_or(letter),
            '9' => '0',
            letter => letter,
        };
        text.chars().map(other).collect::<String>()
    };
    let all = |said: &[String]| said.iter().map(|text| next(text)).collect::<Said>();
    let mut other = notice.clone();
    other.designation = designation.to_owned();
    (other.headline, other.statement) = (all(&notice.headline), all(&notice.statement));
    other.cautions = notice.cautions.iter().map(|caution| all(caution)).collect();
    other.small_line = next(&notice.small_line);
    for point in &mut other.points {
        (point.designation, point.place, point.serves) =
            (next(&point.designation), next(&point.place), next(&point.serves));
        point.remarks = point.remarks.iter().map(|remark| all(remark)).collect();
    }
    other
}

/// How far a length is from a whole number of dots, in dots.
fn off(length: Length, dots: Dots) -> f64 {
    let count = length.to_mm() * dots.per_mm();
    (count - count.round()).abs()
}

/// Codes, boxes, the outline and baselines lie on dots; a micrometre of rounding is a fortieth of the finest dot.
fn check_dots(set: &SetNotice, dots: Dots) -> Result<(), TestCaseError> {
    const ROUNDED: f64 = 0.025;
    prop_assert_eq!(set.drawing.dots, Some(dots));
    for item in &set.drawing.items {
        let lengths = match item {
            Item::Modules(modules) => {
                let ([x, y], module) = modules.exact(Some(dots));
                for exact in [x, y, module].map(|mm| mm * dots.per_mm()) {
                    prop_assert!((exact - exact.round()).abs() < 1e-9, "{exact}");
                }
                // 0.4 mm is the least that a telephone reads from a hand's breadth (common practice).
                prop_assert!(module >= 0.4, "{module}");
                vec![modules.origin.x, modules.origin.y, modules.module]
            }
            Item::Text { origin, .. } => vec![origin.y],
            Item::Group { at, .. } => vec![at.origin.x, at.bottom()],
            Item::Path { paint: Paint::Stroke { width, .. }, .. } => vec![*width],
            Item::Path { path, paint: Paint::Fill(_) } => match path.segments.as_slice() {
                [Segment::Move(one), Segment::Line(_), Segment::Line(two), ..] => vec![one.x, one.y, two.x, two.y],
                _ => Vec::new(),
            },
        };
        for length in lengths {
            prop_assert!(off(length, dots) <= ROUNDED, "{length:?} in {item:?}");
        }
    }
    let (outline, width) = outline(&set.drawing);
    for edge in [outline.origin.x - width / 2, outline.right() + width / 2, outline.bottom() + width / 2] {
        prop_assert!(off(edge, dots) <= 2.0 * ROUNDED, "{edge:?} of the outline");
    }
    Ok(())
}

fn squeezed(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Everything that must be read, in the order in which it is drawn.
fn required(notice: &Notice) -> Vec<String> {
    let mut required: Vec<&String> = notice.headline.iter().chain(&notice.statement).collect();
    for point in &notice.points {
        required.extend([&point.designation, &point.place]);
        required.extend(point.remarks.iter().flatten());
    }
    for figure in &notice.figures {
        required.push(&figure.figure);
        required.extend(&figure.meaning);
    }
    required.extend(notice.cautions.iter().flatten().chain(&notice.closing));
    // A small line of several lines shows no dot where it breaks.
    let small_line = squeezed(&notice.small_line).replace(" ·", "");
    required.into_iter().map(|text| squeezed(text)).chain([small_line]).collect()
}

fn check(notice: &Notice, set: &SetNotice) -> Result<(), TestCaseError> {
    let drawing = &set.drawing;
    let (outline, stroke) = outline(drawing);
    let inside = outline.inset(Length::um(stroke.to_um() / 2));
    let lines = lines(drawing);
    let (clear, filled) = (kept_clear(drawing), filled(drawing));
    let black: Vec<_> = lines.iter().filter(|line| line.ink == Ink::Black).collect();
    for (index, line) in black.iter().enumerate() {
        prop_assert!(inside.contains(line.area), "{line:?} leaves the outline {inside:?}");
        for other in black.iter().skip(index + 1) {
            prop_assert!(!line.area.overlaps(other.area), "{line:?} and {other:?}");
        }
        for area in clear.iter().chain(&filled) {
            prop_assert!(!line.area.overlaps(*area), "{line:?} and {area:?}");
        }
    }
    for area in &clear {
        prop_assert!(inside.contains(*area), "{area:?} leaves the outline");
        let others = clear.iter().chain(&filled).filter(|other| *other != area);
        prop_assert!(others.clone().all(|other| !area.overlaps(*other)), "{area:?} and {others:?}");
    }
    // A plate for a printing head ends on a whole dot, at most half a dot further than its size.
    let whole = drawing.dots.map_or(drawing.size, |dots| dots.size(drawing.size));
    check_margin(whole, lines.iter().map(|line| line.area))?;
    for number in lines.iter().filter(|line| line.ink == Ink::White) {
        prop_assert!(number.capitals >= LetterFloor::default().height(notice.reading_distance), "{number:?}");
        let inside = filled.iter().any(|disc| disc.inset(number.capitals / 20).contains(without_descent(number)));
        prop_assert!(inside, "{number:?} leaves its disc");
    }
    check_letters(notice, set, &black)
}

/// Figures reach no lower than their baseline.
fn without_descent(line: &crate::look::Line) -> Rect {
    Rect::new(line.area.origin, noticewright::length::Size::new(line.area.size.width, line.capitals))
}

/// The margin of a plate is the same on all sides: nothing starts left of the leftmost or ends right of its mirror image.
fn check_margin(size: noticewright::length::Size, areas: impl Iterator<Item = Rect>) -> Result<(), TestCaseError> {
    let least = if size.width.min(size.height) < Length::mm(40.0) { 2.3 } else { 1.74 };
    for area in areas {
        let slack = Length::mm(0.005);
        prop_assert!(
            area.origin.x + slack >= Length::mm(least) && area.right() - slack <= size.width - Length::mm(least)
        );
    }
    Ok(())
}

/// Letters that must be read keep their floor, the others 2 mm.
fn check_letters(notice: &Notice, set: &SetNotice, lines: &[&crate::look::Line]) -> Result<(), TestCaseError> {
    let floor = LetterFloor::default().height(notice.reading_distance);
    prop_assert!(set.setting.letter_height >= floor);
    let aside: Vec<&String> = (notice.points.iter().map(|point| &point.serves))
        .chain([&notice.name, &notice.small_line])
        .chain(&notice.code_caption)
        .collect();
    for line in lines {
        prop_assert!(line.capitals >= Length::mm(2.0), "{line:?}");
        let is_aside = aside.iter().any(|text| squeezed(text).contains(squeezed(&line.text).as_str()));
        prop_assert!(is_aside || line.capitals >= floor, "{line:?} below {floor}");
    }
    match (notice.subject, set.setting.sign_height) {
        (Subject::Enclosure, Some(height)) => prop_assert!(height * 40 >= notice.sign_distance),
        (Subject::Device | Subject::Standing, height) => prop_assert_eq!(height, None),
        (Subject::Enclosure, None) => prop_assert!(false, "no sign"),
    }
    prop_assert!(set.setting.code_module.is_none_or(|module| module >= Length::mm(0.4)));
    prop_assert_eq!(set.setting.code_module.is_some(), notice.code.is_some());
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, ..ProptestConfig::default() })]

    #[test]
    fn what_was_set_before_changes_nothing(notice in any_notice(), named in 0..3_u8) {
        // A thread keeps how it fitted notices that differ in figures alone; a new thread knows nothing of them.
        let designation = match named {
            0 => notice.designation.clone(),
            1 => notice.points.first().map(|point| point.place.clone()).unwrap_or_default(),
            _ => "Panel 3".to_owned(),
        };
        let first = Notice { designation: designation.clone(), ..notice };
        let other = with_other_figures(&first, &designation);
        for size in [(105, 74), (148, 105), (120, 40)] {
            set(&first, size);
            let after = set(&other, size);
            let alone = std::thread::scope(|scope| scope.spawn(|| set(&other, size)).join().unwrap());
            prop_assert_eq!(after, alone);
        }
    }

    #[test]
    fn every_set_notice_is_whole_legible_and_clear(notice in any_notice(), width in 60..420_i32, height in 20..300_i32) {
        if let Some(set) = set(&notice, (width, height)) {
            check(&notice, &set)?;
            let found = words(&set.drawing).replace(" ·", "");
            let mut rest = found.as_str();
            for text in required(&notice) {
                let after = rest.split_once(text.as_str()).map(|(_, after)| after);
                prop_assert!(after.is_some(), "`{}` is not in order in `{}`", text, found);
                rest = after.unwrap_or_default();
            }
        }
    }

    #[test]
    fn small_plates_keep_as_clear_as_large_ones(notice in any_notice(), width in 50..150_i32, height in 15..80_i32) {
        let near = Notice { reading_distance: Length::mm(400.0), sign_distance: Length::mm(400.0), ..notice };
        if let Some(set) = set(&near, (width, height)) {
            check(&near, &set)?;
        }
    }

    #[test]
    fn what_is_printed_in_dots_keeps_to_them_and_as_clear(
        notice in any_notice(),
        width in 50..220_i32,
        height in 15..150_i32,
        dots in prop::sample::select(&Dots::ALL[..]),
        near in any::<bool>(),
    ) {
        let distance = if near { Length::mm(400.0) } else { notice.reading_distance };
        let notice = Notice { reading_distance: distance, sign_distance: distance, ..notice };
        if let Some(set) = set_on(&notice, (width, height), dots) {
            check(&notice, &set)?;
            check_dots(&set, dots)?;
        }
    }

    #[test]
    fn the_same_notice_gives_the_same_drawing(notice in any_notice()) {
        prop_assert_eq!(set(&notice, (210, 148)), set(&notice, (210, 148)));
    }

    #[test]
    fn a_larger_plate_has_no_smaller_letters(notice in any_notice()) {
        let sizes = [(105, 74), (148, 105), (210, 148), (297, 210), (420, 297)];
        let heights: Vec<_> = sizes.iter().filter_map(|size| set(&notice, *size)).map(|set| set.setting.letter_height).collect();
        prop_assert!(heights.windows(2).all(|pair| pair[0] <= pair[1].scaled(1.02)), "{:?}", heights);
    }
}
