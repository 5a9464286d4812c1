//! What stands in the margin of a sheet, and the page that measures a printer.

use super::*;

fn margin_of(format: &SheetFormat, run: Run) -> Drawing {
    let typesetter = Typesetter::new();
    let mut margin = furniture::margin_marks(format, &typesetter);
    margin.items.extend(furniture::margin_text(format, &run, 12, 34, &typesetter).items);
    margin
}

#[test]
fn the_margin_says_how_to_print_and_who_is_missing() {
    let left_out = vec!["CH3-JB2".to_owned(), "CH4-JB9".to_owned()];
    for format in office() {
        let said = said(&margin_of(format, Run { left_out: left_out.clone(), ..Run::default() }));
        let said = said.split_whitespace().collect::<Vec<_>>().join(" ");
        for wanted in
            ["Sheet 12 of 34", "100 % (actual size), single-sided", &format.name, "Left out", "CH3-JB2, CH4-JB9"]
        {
            assert!(said.contains(wanted), "{}: {wanted} is not in {said}", format.name);
        }
    }
    let many: Vec<_> = (0..5_000).map(|number| format!("CH{number}-JB1")).collect();
    let format = find("a4-a8-10").unwrap();
    let said = said(&margin_of(&format, Run { left_out: many.clone(), ..Run::default() }));
    assert!(said.contains(" more"), "{said}");
    let run = Run { left_out: many, ..Run::default() };
    assert_eq!(planned_findings(run), [code::MARGIN_TOO_NARROW]);
}

#[test]
fn a_narrow_margin_stays_empty() {
    let narrow =
        GOOD.replace("\"60x40\"", "\"60x69\"").replace("left = 10", "left = 9").replace("top = 20.5", "top = 8");
    let format = read_text(&narrow).0.unwrap();
    assert_eq!(margin_of(&format, Run::default()).items, []);
}

/// Everything that an item can touch, strokes included.
pub(super) fn reach(item: &Item) -> Option<Rect> {
    match item {
        Item::Path { path, .. } => {
            let points = path.segments.iter().flat_map(|segment| match *segment {
                Segment::Move(to) | Segment::Line(to) => vec![to],
                Segment::Cubic(one, other, to) => vec![one, other, to],
                Segment::Close => Vec::new(),
            });
            around(points.collect())
        }
        Item::Text { line, origin, em, .. } => {
            let width = em.scaled(f64::from(line.width) / 1_000.0);
            let top = Point::new(origin.x, origin.y - em.scaled(0.75));
            around(vec![top, Point::new(origin.x + width, origin.y + em.scaled(0.25))])
        }
        Item::Modules(_) | Item::Group { .. } => None,
    }
}

fn around(points: Vec<Point>) -> Option<Rect> {
    let (left, right) = (points.iter().map(|point| point.x).min()?, points.iter().map(|point| point.x).max()?);
    let (top, bottom) = (points.iter().map(|point| point.y).min()?, points.iter().map(|point| point.y).max()?);
    Some(Rect::new(Point::new(left, top), Size::new(right - left, bottom - top)).inset(Length::um(-60)))
}

#[test]
fn the_margin_keeps_out_of_the_cells_and_the_border() {
    let run = Run {
        left_out: (0..40).map(|number| format!("CH{number}-JB1")).collect(),
        correction: Correction {
            offset: Point::new(Length::um(400), Length::um(-300)),
            scale_x: 1.002,
            skew_across: 1.76,
            ..Correction::default()
        },
        printer: "office".into(),
        ..Run::default()
    };
    for format in office() {
        let margin = margin_of(format, run.clone());
        assert!(!margin.items.is_empty());
        for item in &margin.items {
            let pieces = match item {
                // The cutting marks are one path of many lines, each judged by itself.
                Item::Path { path, paint } => path
                    .segments
                    .chunk_by(|_, next| !matches!(next, Segment::Move(_)))
                    .map(|piece| Item::Path { path: crate::drawing::Path { segments: piece.to_vec() }, paint: *paint })
                    .collect(),
                Item::Text { .. } | Item::Modules(_) | Item::Group { .. } => vec![item.clone()],
            };
            for reach in pieces.iter().filter_map(reach) {
                assert!(format.printable().contains(reach), "{}: {reach:?}", format.name);
                let room = format.packing.map(|packing| packing.area);
                let touched = format.cells.iter().chain(room.as_ref()).find(|cell| cell.overlaps(reach));
                assert_eq!(touched, None, "{}: {item:?}", format.name);
            }
        }
    }
}

/// Every text that the ruler page sets keeps clear of the upright ruler, its numbers, and the level one, on the narrowest
/// paper and the usual ones, with the longest that a correction can say.
#[test]
fn the_ruler_page_holds_its_instructions() {
    let corrected = Correction {
        offset: Point::new(Length::mm(-10.25), Length::mm(-10.25)),
        scale_x: 0.985,
        scale_y: 0.985,
        skew_across: -8.88,
        skew_down: -8.88,
    };
    for (name, correction) in [("200x270", corrected), ("A4", Correction::default()), ("A3", corrected)] {
        let paper = parse_size(name).unwrap();
        let page = ruler(paper, correction, "intake office", &Typesetter::new()).unwrap();
        let numbers = Rect::new(
            Point::new(paper.width - Length::mm(20.0 + 13.0), Length::mm(33.0)),
            Size::new(Length::mm(13.0), paper.height - Length::mm(66.0)),
        );
        let level = Rect::new(
            Point::new(Length::ZERO, paper.height - Length::mm(20.0 + 15.0 + 8.0)),
            Size::new(paper.width, Length::mm(8.0)),
        );
        for item in &page.furniture.items {
            let Item::Text { line, .. } = item else { continue };
            let is_number = line.text.chars().all(|c| c.is_ascii_digit());
            let reach = reach(item).unwrap();
            assert!(is_number || line.text.len() == 1 || !numbers.overlaps(reach), "{name}: {}", line.text);
            assert!(is_number || line.text.len() == 1 || !level.overlaps(reach), "{name}: {}", line.text);
        }
    }
    let page = ruler(parse_size("A4").unwrap(), Correction::default(), "", &Typesetter::new()).unwrap();
    let said = said(&page.furniture);
    for line in ["noticewright ruler --printer \"office\" --measured", "a=19.6,b=20.3,c=149.8,d=200.2,e=20.6,f=19.1"] {
        assert!(said.lines().any(|text| text == line), "{line} in {said}");
    }
}

#[test]
fn no_ruler_page_is_made_for_a_paper_that_cannot_hold_it() {
    let page = |name: &str| ruler(parse_size(name).unwrap(), Correction::default(), "", &Typesetter::new());
    assert_eq!(page("A5"), None);
    assert!(page("200x270").is_some() && page("A3").is_some() && page("Letter").is_some());
}
