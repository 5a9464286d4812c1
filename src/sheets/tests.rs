//! What must hold of this stage, provoked case by case.

mod rolls;

use std::collections::BTreeSet;
use std::sync::Arc;

use proptest::prelude::*;

use super::*;
use crate::drawing::{Drawing, Ink, Item, Paint, Segment};
use crate::finding::{Finding, Severity, code};
use crate::length::Point;
use crate::limits::Limits;
use crate::typesetting::Typesetter;

const A7: Size = Size::new(Length::um(105_000), Length::um(74_000));

const GOOD: &str = r#"title = "Twelve on A4"
paper = "A4"
orientation = "portrait"
cell = "60x40"
columns = 3
rows = 4
left = 10
top = 20.5
gap_across = 5
gap_down = 2
corner_radius = 2
unprintable = 5
cut_marks = false
material = "polyester"
process = "laser"
"#;

fn with_cells() -> impl Iterator<Item = &'static Arc<SheetFormat>> {
    built_in().iter().filter(|format| format.packing.is_none())
}

fn works() -> impl Iterator<Item = &'static Arc<SheetFormat>> {
    with_cells().filter(|format| matches!(format.production, Production::Press(_)))
}

fn read_text(text: &str) -> (Option<SheetFormat>, Vec<Finding>) {
    read("mine", "mine.toml", text, &Limits::default())
}

/// The only finding of a description in which `old` is replaced.
fn finding(old: &str, new: &str) -> Finding {
    assert!(GOOD.contains(old), "{old}");
    let (format, findings) = read_text(&GOOD.replace(old, new));
    assert_eq!(findings.len(), 1, "{findings:?}");
    assert_eq!(format.is_none(), findings[0].severity() == Severity::Error);
    findings.into_iter().next().unwrap()
}

fn place(finding: &Finding) -> (u32, u32, &str, &str) {
    let place = finding.place.as_ref().unwrap();
    (place.line, place.column, &place.cell, &place.line_text)
}

fn labels(count: usize, size: Size) -> Vec<Label<'static>> {
    vec![Label { size, enclosure: "CH3-JB2" }; count]
}

fn planned(count: usize, run: Run) -> Result<Plan, PlanError> {
    plan(&labels(count, A7), &Formats::default(), run, &Limits::default()).map(|(plan, _)| plan)
}

/// The built-in formats for an office printer.
fn office() -> impl Iterator<Item = &'static Arc<SheetFormat>> {
    built_in().iter().filter(|format| format.production == Production::Office)
}

#[test]
fn the_built_in_formats_are_sound_and_leave_the_border_free() {
    let made = |name: &str| built_in().iter().filter(|format| format.production.name() == name).count();
    assert_eq!(["office", "roll", "press", "engraving"].map(made), [10, 9, 7, 6]);
    for format in built_in() {
        // An office printer does not reach 5 mm (common practice); 8 mm is our own room for what holds a plate down.
        let border = match format.production {
            Production::Engraving(_) => 8.0,
            Production::Press(_) => 0.0,
            Production::Roll(_) => {
                if format.is_web() {
                    1.0
                } else {
                    0.0
                }
            }
            Production::Office => 5.0,
        };
        assert_eq!(format.unprintable, Length::mm(border), "{}", format.name);
        assert!(format.printable().contains(format.grid()), "{}", format.name);
        for (number, cell) in format.cells.iter().enumerate() {
            assert!(format.cells[number + 1..].iter().all(|other| !cell.overlaps(*other)), "{}", format.name);
        }
        // The grid stands in the middle of the paper from left to right, so a sheet fed the other way round still fits.
        assert_eq!(format.grid().origin.x, format.paper.width - format.grid().right(), "{}", format.name);
        let end = format.name.rsplit('-').next().unwrap();
        if let Some(packing) = format.packing {
            assert_eq!((end, format.cells.len()), ("mixed", 0), "{}", format.name);
            // The outermost cuts lie half a gap outside the room, and whole micrometres halve it.
            assert_eq!(packing.gap.to_um() % 2, 0, "{}", format.name);
            let rim = packing.area.inset(-(packing.gap / 2));
            assert!(!format.cut_marks || format.printable().contains(rim), "{}", format.name);
            if let Production::Press(press) = &format.production {
                assert!(packing.gap >= press.bleed * 2, "{}", format.name);
            }
        } else if !matches!(format.production, Production::Roll(_)) {
            assert_eq!(end.parse(), Ok(format.cells.len()), "{}", format.name);
        }
    }
}

#[test]
fn plates_are_engraved_in_laminate_with_room_for_the_cutter_between_them() {
    let plates: Vec<_> = with_cells().filter(|format| matches!(format.production, Production::Engraving(_))).collect();
    assert_eq!(plates.len(), 5);
    for format in plates {
        assert_eq!((&*format.material, format.process), ("engraved-laminate", Process::Engraving));
        assert!(!format.is_usual() && !format.cut_marks, "{}", format.name);
        let yellow = format.name != "plate-tag-28";
        assert_eq!(format.stock == Stock::Yellow, yellow, "{}", format.name);
        for (number, cell) in format.cells.iter().enumerate() {
            // Common practice: cutters of 3 to 4 mm.
            let around = cell.inset(Length::mm(-5.9));
            assert!(format.cells[number + 1..].iter().all(|other| !around.overlaps(*other)), "{}", format.name);
        }
    }
}

#[test]
fn nothing_but_plates_and_their_edges_is_on_laminate() {
    let format = Arc::new(read_text(&plates(1)).0.unwrap());
    let run = Run { left_out: vec!["CH4-JB9".into()], ..Run::default() };
    let small = Size::whole_mm(50, 30);
    let sizes = [labels(1, small), labels(1, format.cell())].concat();
    let (plan, findings) = plan(&sizes, &Formats::only(format), run, &Limits::default()).unwrap();
    // There is no margin that could name who is left out.
    assert_eq!(findings.iter().map(|finding| finding.code).collect::<Vec<_>>(), [code::MARGIN_TOO_NARROW]);
    let page = plan.page(0, 0, &Typesetter::new(), |label| Some(Arc::new(Drawing::new(sizes[label].size)))).unwrap();
    assert_eq!(page.furniture.items, []);
    let rooms: Vec<_> = page.placed.iter().map(Placed::room).collect();
    let inks = page.contours.items.iter().map(|item| {
        let Item::Path { paint: Paint::Stroke { ink, .. }, .. } = item else { panic!("{item:?}") };
        (*ink, reach(item).unwrap().inset(Length::um(60)))
    });
    let inks: Vec<_> = inks.collect();
    assert_eq!(inks, rooms.iter().map(|room| (Ink::CutContour, *room)).collect::<Vec<_>>());
    assert_eq!(rooms[0].size, small, "a smaller notice is a smaller plate");
}

/// The usual description, engraved.
fn plates(tool: u32) -> String {
    let text = GOOD.replace("\"laser\"", "\"engraving\"");
    format!("{text}[engraving]\ntool = {tool}\n")
}

#[test]
fn a_description_is_read_as_it_stands() {
    let (format, findings) = read_text(GOOD);
    assert_eq!(findings, []);
    let format = format.unwrap();
    assert_eq!((format.cells.len(), format.columns, format.name.as_str()), (12, 3, "mine"));
    assert_eq!(format.cells[4].origin, Point::new(Length::mm(75.0), Length::mm(62.5)));
    assert_eq!(format.cell(), Size::new(Length::mm(60.0), Length::mm(40.0)));
    // A size by name lies, one in millimetres stands as written; the paper follows the orientation.
    let lying = GOOD.replace("60x40", "A8").replace("columns = 3", "columns = 2").replace("portrait", "landscape");
    let lying = read_text(&lying.replace("rows = 4", "rows = 3")).0.unwrap();
    assert_eq!(lying.cell(), Size::new(Length::mm(74.0), Length::mm(52.0)));
    assert_eq!(lying.paper, Size::new(Length::mm(297.0), Length::mm(210.0)));
}

#[test]
fn a_description_that_cannot_be_read_shows_where() {
    let found = finding("gap_down = 2", "gapdown = 2");
    assert_eq!((found.code, place(&found)), (code::LAYOUT_NOT_READABLE, (10, 1, "gapdown", "gapdown = 2")));
    let found = finding("\"laser\"", "\"lasser\"");
    assert_eq!(found.code, code::LAYOUT_NOT_READABLE);
    assert!(found.message.contains("`thermal-transfer`"), "{}", found.message);
    assert_eq!(finding("rows = 4\n", "").code, code::LAYOUT_NOT_READABLE);
    assert_eq!(finding("columns = 3", "columns = -3").code, code::LAYOUT_NOT_READABLE);
    assert_eq!(finding("title = \"Twelve", "title = Twelve\"").code, code::LAYOUT_NOT_READABLE);
}

#[test]
fn values_that_cannot_be_used_are_shown() {
    let found = finding("\"60x40\"", "\"60 by 40\"");
    assert_eq!((found.code, place(&found)), (code::LAYOUT_VALUE, (4, 8, "\"60 by 40\"", "cell = \"60 by 40\"")));
    for (old, new) in [
        ("left = 10", "left = nan"),
        ("left = 10", "left = -1"),
        ("top = 20.5", "top = 1e300"),
        ("\"A4\"", "\"A0\""),
        ("columns = 3", "columns = 0"),
        ("columns = 3", "columns = 5000000000"),
        ("corner_radius = 2", "corner_radius = 20.1"),
        ("gap_across = 5\n", ""),
    ] {
        assert_eq!(finding(old, new).code, code::LAYOUT_VALUE, "{new}");
    }
    assert_eq!(finding("gap_across = 5", "gap_across = -0.1").code, code::CELLS_OVERLAP);
}

#[test]
fn cells_lie_on_the_paper_and_within_its_border() {
    let found = finding("left = 10", "left = 20.1");
    assert_eq!(found.code, code::CELLS_OUTSIDE_PAPER);
    assert_eq!(
        found.message,
        "the cells end 210.1 mm from the left and 186.5 mm from the top of a paper of 210 x 297 mm"
    );
    assert_eq!(finding("\"60x40\"", "\"2000x2000\"").code, code::CELLS_OUTSIDE_PAPER);
    // Up to the edge of the paper is accepted with a warning, since the printer may reach further than is said.
    let found = finding("left = 10", "left = 20");
    assert_eq!((found.code, place(&found).0), (code::CELLS_IN_UNPRINTABLE_BORDER, 12));
    assert_eq!(read_text(&GOOD.replace("left = 10", "left = 15")).1, []);
}

#[test]
fn each_size_of_notice_has_its_sheet() {
    let name = |width: f64, height: f64| {
        Formats::default().for_size(Size::new(Length::mm(width), Length::mm(height))).map(|format| format.name.clone())
    };
    for (width, height, wanted) in [
        (74.0, 52.0, "a4-a8-10"),
        (105.0, 74.0, "a4-a7-4"),
        (148.0, 105.0, "a4-a6-2"),
        (210.0, 148.0, "a4-a5-1"),
        (297.0, 210.0, "a3-a4-1"),
        (60.0, 20.0, "a4-strip-36"),
        (120.0, 80.0, "a4-a6-2"),
        (74.0, 105.0, "a4-a6-2"),
        (30.0, 19.9, "a4-strip-36"),
    ] {
        assert_eq!(name(width, height).as_deref(), Some(wanted), "{width} x {height}");
    }
    assert_eq!(name(297.1, 210.0), None);
}

#[test]
fn a_size_without_a_sheet_is_reported_and_left_out() {
    let mut wanted = labels(2, A7);
    wanted.insert(1, Label { size: Size::new(Length::mm(400.0), Length::mm(300.0)), enclosure: "MSB-1" });
    let (plan, findings) = plan(&wanted, &Formats::default(), Run::default(), &Limits::default()).unwrap();
    assert_eq!(findings.len(), 1);
    assert_eq!((findings[0].code, findings[0].enclosure.as_deref()), (code::NO_SHEET_FOR_SIZE, Some("MSB-1")));
    assert!(!plan.is_complete());
    assert_eq!(plan.places(1), []);
    assert_eq!(plan.places(2), [Place { document: 0, page: 1, cell: 2 }]);
}

#[test]
fn paper_sizes_are_never_mixed_in_one_document() {
    let sizes = [(105.0, 74.0), (74.0, 52.0), (297.0, 210.0), (105.0, 74.0)];
    let wanted =
        sizes.map(|(width, height)| Label { size: Size::new(Length::mm(width), Length::mm(height)), enclosure: "" });
    let plan = plan(&wanted, &Formats::default(), Run::default(), &Limits::default()).unwrap().0;
    let names: Vec<_> = plan.documents.iter().map(|document| (document.paper_name(), document.pages())).collect();
    assert_eq!(names, [("A4".to_owned(), 2), ("A3".to_owned(), 1)]);
    let place = |document, page, cell| vec![Place { document, page, cell }];
    let found: Vec<_> = (0..4).map(|label| plan.places(label)).collect();
    assert_eq!(found, [place(0, 1, 1), place(0, 2, 1), place(1, 1, 1), place(0, 1, 2)]);
}

#[test]
fn part_used_sheets_are_used_up_first() {
    let run = Run { start_at: 2, used_cells: BTreeSet::from([3]), copies: 2, ..Run::default() };
    let (plan, findings) = plan(&labels(3, A7), &Formats::default(), run, &Limits::default()).unwrap();
    let cells: Vec<_> = (0..3).flat_map(|label| plan.places(label)).map(|place| (place.page, place.cell)).collect();
    assert_eq!(cells, [(1, 2), (1, 4), (2, 1), (2, 2), (2, 3), (2, 4)]);
    assert_eq!(findings.iter().map(|finding| finding.code).collect::<Vec<_>>(), [code::PART_USED_SHEET]);
}

#[test]
fn what_cannot_be_done_is_refused() {
    let run = |start_at, used: &[usize], copies| Run {
        start_at,
        used_cells: used.iter().copied().collect(),
        copies,
        ..Run::default()
    };
    let said = |run: Run| planned(1, run).unwrap_err().to_string();
    assert_eq!(said(run(5, &[], 1)), "there is no cell 5 on a sheet `a4-a7-4`, which has 4");
    assert_eq!(said(run(1, &[7], 1)), "there is no cell 7 on a sheet `a4-a7-4`, which has 4");
    assert_eq!(said(run(3, &[3, 4], 1)), "every cell of the first sheet `a4-a7-4` is used");
    assert_eq!(said(run(1, &[], 0)), "0 copies are asked for, and 1 to 100 are accepted");
    assert_eq!(said(run(1, &[], 101)), "101 copies are asked for, and 1 to 100 are accepted");
    let mixed = [labels(1, A7), labels(1, A7.turned())].concat();
    let error = plan(&mixed, &Formats::default(), run(2, &[], 1), &Limits::default()).unwrap_err();
    assert_eq!(error, PlanError::SeveralFormats { formats: vec!["a4-a7-4".into(), "a4-a6-2".into()] });
    let limits = Limits { pages: 2, ..Limits::default() };
    let error = plan(&labels(9, A7), &Formats::default(), Run::default(), &limits).unwrap_err();
    assert_eq!(error, PlanError::TooManyPages { pages: 3, most: 2 });
    assert!(plan(&labels(8, A7), &Formats::default(), Run::default(), &limits).is_ok());
}

#[test]
fn lists_of_cells_are_read() {
    let cells = |text: &str| parse_cells(text, 36);
    assert_eq!(cells("1,4-6"), Ok(BTreeSet::from([1, 4, 5, 6])));
    assert_eq!(cells(" 2 - 3 , 2 "), Ok(BTreeSet::from([2, 3])));
    for wrong in ["", ",", "0", "1,", "a", "1-", "-3", "1--2", "1.5", "+1", "1 2"] {
        assert!(matches!(cells(wrong), Err(CellsError::NotACell { .. })), "{wrong}");
    }
    assert_eq!(cells("6-4"), Err(CellsError::Backwards { part: "6-4".into() }));
    assert_eq!(cells("37"), Err(CellsError::TooLarge { part: "37".into(), most: 36 }));
    assert_eq!(
        cells("1-99999999999999999999"),
        Err(CellsError::TooLarge { part: "1-99999999999999999999".into(), most: 36 })
    );
}

#[test]
fn a_large_correction_is_doubted() {
    let found = |scale_x| {
        let correction = Correction { scale_x, ..Correction::default() };
        planned_findings(Run { correction, printer: "office".into(), ..Run::default() })
    };
    assert_eq!(found(1.0), []);
    assert_eq!(found(0.995), []);
    assert_eq!(found(1.02), [code::LARGE_CORRECTION]);
    assert_eq!(found(f64::NAN), [code::LARGE_CORRECTION]);
    let skewed = |skew_across| {
        let correction = Correction { skew_across, ..Correction::default() };
        planned_findings(Run { correction, printer: "office".into(), ..Run::default() })
    };
    assert_eq!((skewed(2.0), skewed(-2.01)), (Vec::new(), vec![code::LARGE_CORRECTION]));
    assert_eq!(skewed(f64::NAN), [code::LARGE_CORRECTION]);
}

fn planned_findings(run: Run) -> Vec<crate::finding::Code> {
    let planned = plan(&labels(1, A7), &Formats::default(), run, &Limits::default());
    planned.unwrap().1.iter().map(|finding| finding.code).collect()
}

/// The texts of a drawing.
fn said(drawing: &Drawing) -> String {
    let text = |item: &Item| match item {
        Item::Text { line, .. } => Some(line.text.to_string()),
        Item::Path { .. } | Item::Modules(_) | Item::Group { .. } => None,
    };
    drawing.items.iter().filter_map(text).collect::<Vec<_>>().join("\n")
}

fn margin_of(format: &SheetFormat, run: Run) -> Drawing {
    furniture::margin(format, &run, 12, 34, &Typesetter::new())
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
fn reach(item: &Item) -> Option<Rect> {
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

#[test]
fn printing_cannot_start_at_cell_zero() {
    let run = Run { start_at: 0, ..Run::default() };
    assert_eq!(plan(&labels(1, A7), &Formats::default(), run, &Limits::default()), Err(PlanError::CellZero));
}

#[test]
fn formats_of_one_name_are_told_apart() {
    let built_in = find("a4-a7-4").unwrap();
    let own = SheetFormat { cells: built_in.cells[..1].to_vec(), columns: 1, ..SheetFormat::clone(&built_in) };
    let smaller = Size::new(Length::mm(100.0), Length::mm(70.0));
    let formats = Formats::default().with(A7, built_in).with(smaller, Arc::new(own));
    let labels = [labels(1, A7), labels(2, smaller)].concat();
    let plan = plan(&labels, &formats, Run::default(), &Limits::default()).unwrap().0;
    let pages: Vec<usize> = plan.documents[0].parts.iter().map(|part| part.pages).collect();
    assert_eq!(pages, [1, 2]);
}

#[test]
fn a_smaller_label_lies_in_the_middle_and_a_larger_one_is_refused() {
    let size = Size::new(Length::mm(100.0), Length::mm(70.0));
    let plan = plan(&labels(1, size), &Formats::default(), Run::default(), &Limits::default()).unwrap().0;
    let typesetter = Typesetter::new();
    let page = plan.page(0, 0, &typesetter, |_| Some(Arc::new(Drawing::new(size)))).unwrap();
    let cell = find("a4-a7-4").unwrap().cells[0];
    assert_eq!(page.placed[0].corner, cell.origin + Point::new(Length::mm(2.5), Length::mm(2.0)));
    let larger = Size::new(Length::um(105_001), Length::mm(70.0));
    let refused = plan.page(0, 0, &typesetter, |_| Some(Arc::new(Drawing::new(larger))));
    assert_eq!(refused, Err(PageError::Oversized { label: 0, size: larger, cell: A7 }));
    let missing = plan.page(0, 1, &typesetter, |_| Some(Arc::new(Drawing::new(size))));
    assert_eq!(missing, Err(PageError::NoSuchPage { document: 0, page: 1 }));
    let undrawn = plan.page(0, 0, &typesetter, |_| None);
    assert_eq!(undrawn, Err(PageError::NoDrawing { label: 0 }));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]
    #[test]
    fn every_copy_is_placed_once_inside_and_none_over_another(
        wanted in prop::collection::vec((20_000..150_000_i32, 15_000..105_000_i32), 0..60),
        copies in 1..4_usize,
    ) {
        let sizes: Vec<_> = wanted.iter().map(|(width, height)| Size::new(Length::um(*width), Length::um(*height))).collect();
        let labels: Vec<_> = sizes.iter().map(|size| Label { size: *size, enclosure: "" }).collect();
        let run = Run { copies, ..Run::default() };
        let plan = plan(&labels, &Formats::default(), run, &Limits::default()).unwrap().0;
        prop_assert!(plan.is_complete());
        let typesetter = Typesetter::new();
        let mut seen = vec![0; labels.len()];
        for (document, sheets) in plan.documents.iter().enumerate() {
            for number in 0..sheets.pages() {
                // Which label a drawing belongs to is told by the drawing itself.
                let drawings: Vec<_> = sizes.iter().map(|size| Arc::new(Drawing::new(*size))).collect();
                let page = plan.page(document, number, &typesetter, |label| drawings.get(label).map(Arc::clone)).unwrap();
                let boxes: Vec<_> = page.placed.iter().map(Placed::room).collect();
                for (index, Placed { corner, drawing, .. }) in page.placed.iter().enumerate() {
                    let label = drawings.iter().position(|known| Arc::ptr_eq(known, drawing)).unwrap();
                    seen[label] += 1;
                    prop_assert!(boxes[index + 1..].iter().all(|other| !boxes[index].overlaps(*other)));
                    prop_assert!(Rect::new(Point::default(), page.size).contains(boxes[index]));
                    // The page agrees with the place that the plan told beforehand.
                    let cell = |place: &Place| sheets.part_of(number).unwrap().format.cells[place.cell - 1];
                    let here = plan.places(label).into_iter().filter(|place| (place.document, place.page) == (document, number + 1));
                    prop_assert!(here.clone().any(|place| cell(&place).contains(Rect::new(*corner, drawing.size))));
                }
            }
        }
        prop_assert!(seen.iter().all(|count| *count == copies), "{:?}", seen);
        let places: BTreeSet<_> = (0..labels.len()).flat_map(|label| plan.places(label)).collect();
        prop_assert_eq!(places.len(), labels.len() * copies);
    }
}

/// A page of a printing works with its cells full.
fn page_of_works(format: &Arc<SheetFormat>, run: Run) -> Page {
    let labels = vec![Label { size: format.cell(), enclosure: "CH3-JB2" }; format.cells.len()];
    let plan = plan(&labels, &Formats::only(Arc::clone(format)), run, &Limits::default()).unwrap().0;
    plan.page(0, 0, &Typesetter::new(), |_| Some(Arc::new(Drawing::new(format.cell())))).unwrap()
}

fn for_works() -> Run {
    let slug = ["PDF/X-1a:2003, printing condition FOGRA39", "2026-11-24", "Durable warning notices, first issue"];
    Run { slug: slug.map(str::to_owned).to_vec(), ..Run::default() }
}

#[test]
fn a_page_of_a_printing_works_is_the_sheet_with_bleed_and_marks_round_it() {
    for format in works() {
        let page = page_of_works(format, for_works());
        let whole = Rect::new(Point::default(), page.size);
        assert_eq!(page.trim.size, format.paper, "{}", format.name);
        // 3 mm of bleed and 9 mm for marks.
        assert_eq!((page.bleed, page.trim.inset(Length::mm(-12.0))), (Length::mm(3.0), whole), "{}", format.name);
        for (placed, cell) in page.placed.iter().zip(&format.cells) {
            assert_eq!(placed.corner, cell.origin + page.trim.origin, "{}", format.name);
        }
        let bleeds: Vec<_> = page.placed.iter().map(|one| one.room().inset(-page.bleed)).collect();
        assert!(bleeds.iter().enumerate().all(|(at, one)| bleeds[at + 1..].iter().all(|other| !one.overlaps(*other))));
        for reach in strokes(&page.furniture).iter().filter_map(reach) {
            assert!(whole.contains(reach), "{}: {reach:?}", format.name);
            assert!(!page.trim.inset(-page.bleed).overlaps(reach), "{}: {reach:?} in the bleed", format.name);
        }
    }
}

/// The items of a drawing with every line of a path by itself.
fn strokes(drawing: &Drawing) -> Vec<Item> {
    let apart = |item: &Item| match item {
        Item::Path { path, paint } => path
            .segments
            .chunk_by(|_, next| !matches!(next, Segment::Move(_)))
            .map(|piece| Item::Path { path: crate::drawing::Path { segments: piece.to_vec() }, paint: *paint })
            .collect(),
        Item::Text { .. } | Item::Modules(_) | Item::Group { .. } => vec![item.clone()],
    };
    drawing.items.iter().flat_map(apart).collect()
}

#[test]
fn what_stands_outside_the_trim_tells_the_works_what_it_must_know() {
    for format in works().filter(|format| format.paper.width > Length::mm(200.0)) {
        let said = said(&page_of_works(format, for_works()).furniture);
        for wanted in [
            "Sheet 1 of 1",
            "cut along the spot colour Cutting contour, which is not printed",
            "bleed 3 mm",
            &format.name,
            "PDF/X-1a:2003, printing condition FOGRA39",
            "2026-11-24",
            "Durable warning notices, first issue",
        ] {
            assert!(said.contains(wanted), "{}: {wanted} is not in {said}", format.name);
        }
        assert!(!said.contains("100 %"), "{said}");
    }
    // A title that is longer than any line costs nothing but itself.
    let mut run = for_works();
    run.slug[2] = "long ".repeat(200);
    let format = works().next().unwrap();
    assert!(said(&page_of_works(format, run).furniture).contains("2026-11-24"));
}

#[test]
fn every_label_has_one_contour_round_it() {
    for format in works() {
        let page = page_of_works(format, for_works());
        let rounds: Vec<_> =
            page.contours.items.iter().map(|item| reach(item).unwrap().inset(Length::um(60))).collect();
        assert_eq!(rounds, page.placed.iter().map(Placed::room).collect::<Vec<_>>(), "{}", format.name);
        assert!(page.contours.items.iter().all(|item| matches!(
            item,
            Item::Path { paint: crate::drawing::Paint::Stroke { ink: crate::drawing::Ink::CutContour, .. }, .. }
        )));
    }
    let office = office().next().unwrap();
    assert_eq!(page_of_works(office, Run::default()).contours.items, []);
}

#[test]
fn who_is_missing_is_named_outside_the_trim_or_a_warning_says_that_nobody_is() {
    let format = find("press-a3-a6-4").unwrap();
    let run = |count: usize| {
        let left_out = (0..count).map(|number| format!("CH{number}-JB1")).collect();
        Run { left_out, ..for_works() }
    };
    let said = said(&page_of_works(&format, run(3)).furniture).split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(said.contains("Left out because of errors: CH0-JB1, CH1-JB1, CH2-JB1"), "{said}");
    let found = |count: usize| {
        let labels = labels(1, format.cell());
        let planned = plan(&labels, &Formats::only(Arc::clone(&format)), run(count), &Limits::default());
        planned.unwrap().1.iter().map(|finding| finding.code).collect::<Vec<_>>()
    };
    assert_eq!((found(3), found(500)), (Vec::new(), vec![code::MARGIN_TOO_NARROW]));
}

#[test]
fn labels_whose_bleeds_would_overlap_are_doubted() {
    const WORKS: &str = r#"title = "Four for a printing works"
paper = "A4"
orientation = "landscape"
cell = "A7"
columns = 2
rows = 2
left = 20
top = 20
gap_across = 6
gap_down = 6
corner_radius = 2
unprintable = 0
cut_marks = false
material = "polyester"
process = "press"

[press]
bleed = 3
marks = 0
contour = "Cut"
"#;
    let codes = |text: &str| read_text(text).1.iter().map(|finding| finding.code).collect::<Vec<_>>();
    assert_eq!(codes(WORKS), []);
    for key in ["gap_across = 6", "gap_down = 6"] {
        let (_, findings) = read_text(&WORKS.replace(key, &key.replace('6', "5.9")));
        assert_eq!(findings.iter().map(|finding| finding.code).collect::<Vec<_>>(), [code::BLEEDS_OVERLAP]);
        assert_eq!(findings[0].message, "labels lie 5.9 mm apart, and the print of each goes on for 3 mm beyond it");
    }
    assert_eq!(codes(&WORKS.replace("bleed = 3", "bleed = 2.9").replace("gap_down = 6", "gap_down = 5.8")), []);
    let cells = WORKS.find("cell =").unwrap()..WORKS.find("corner_radius").unwrap();
    let mut packed = WORKS.to_owned();
    packed.replace_range(cells, "");
    let packed = |gap: &str| format!("{packed}\n[packing]\nborder = 5\ngap = {gap}\n");
    assert_eq!((codes(&packed("6")), codes(&packed("5"))), (Vec::new(), vec![code::BLEEDS_OVERLAP]));
    // Without room for marks a page is the sheet with its bleed, and nothing stands round it.
    let format = Arc::new(read_text(WORKS).0.unwrap());
    let page = page_of_works(&format, for_works());
    assert_eq!((page.size, page.furniture.items), (Size::whole_mm(303, 216), Vec::new()));
}

#[test]
fn a_material_that_nobody_knows_is_found_at_its_place() {
    let finding = finding("material = \"polyester\"", "material = \"polyster\"");
    assert_eq!(finding.code, code::MATERIAL_NOT_KNOWN);
    let place = finding.place.unwrap();
    assert_eq!((place.line, place.column, place.cell.as_str()), (14, 12, "\"polyster\""));
    assert_eq!(finding.help.as_deref(), Some("did you mean `polyester`?"));
    let change = toml::from_str("like = \"polyester\"\nsource = \"data sheet\"\n").unwrap();
    let known = crate::material::Materials::default().with("house film", &change).unwrap();
    let text = GOOD.replace("\"polyester\"", "\"house film\"");
    let (format, findings) = read_knowing(&known, "mine", "mine.toml", &text, &Limits::default());
    assert_eq!((format.map(|format| format.material), findings), (Some("house film".into()), Vec::new()));
}

#[test]
fn quantities_count_every_copy_once() {
    let small = Size::new(Length::mm(100.0), Length::mm(70.0));
    let labels = [labels(5, A7), labels(2, small)].concat();
    let run = Run { copies: 2, ..Run::default() };
    let plan = plan(&labels, &Formats::default(), run, &Limits::default()).unwrap().0;
    let piece = |label: usize| {
        let size = labels.get(label)?.size;
        Some(Piece { size, environment_known: label > 0, surface_known: size != small })
    };
    let found = quantities(&plan, &crate::material::Materials::default(), piece);
    let [only] = found.as_slice() else { panic!("one format: {found:?}") };
    // Fourteen notices, four to a sheet of A4: 4 sheets of 0.210 x 0.297 m. Ten of 0.105 x 0.074 m, four of 0.100 x 0.070 m.
    assert_eq!((only.sheets, only.notices(), only.material()), (4, 14, "polyester-laminated"));
    let counts: Vec<_> = only.sizes.iter().map(|one| (one.size, one.notices)).collect();
    assert_eq!(counts, [(A7, 10), (small, 4)]);
    assert!((only.material_area() - 4.0 * 0.06237).abs() < 1e-9);
    assert!((only.notice_area() - (10.0 * 0.00777 + 4.0 * 0.007)).abs() < 1e-9);
    assert_eq!((only.environment_unknown, only.surface_unknown), (2, 4));
    assert_eq!(only.rub_test.unwrap().expectation, crate::material::Expectation::Passes);
}
