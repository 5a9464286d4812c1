//! What must hold of this stage, provoked case by case.

use std::collections::BTreeSet;
use std::sync::Arc;

use proptest::prelude::*;

use super::*;
use crate::drawing::{Drawing, Item, Segment};
use crate::finding::{Finding, Severity, code};
use crate::length::Point;
use crate::limits::Limits;
use crate::survey::value::Environment;
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

#[test]
fn the_built_in_formats_are_sound_and_leave_the_border_free() {
    assert_eq!(built_in().len(), 13);
    for format in built_in() {
        if format.production == Production::Office {
            assert_eq!(format.unprintable, Length::mm(5.0), "{}", format.name);
        }
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
        } else {
            assert_eq!(end.parse(), Ok(format.cells.len()), "{}", format.name);
        }
    }
}

/// The built-in formats whose margin speaks.
fn office_formats() -> impl Iterator<Item = &'static Arc<SheetFormat>> {
    built_in().iter().filter(|format| format.production == Production::Office)
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
fn materials_are_held_against_the_environment() {
    let environment = Environment { outdoor: true, washdown: true, heat: Some(90), ..Environment::default() };
    let found = suits(Material::Paper, Process::Laser, environment, "CH3-JB2").unwrap();
    assert_eq!(found.code, code::MATERIAL_DOES_NOT_SUIT);
    let expected = "`paper` marked by `laser` is not made for the open air and washing down or solvents and 90 °C";
    assert_eq!(found.message, expected);
    assert_eq!(suits(Material::PolyesterLaminated, Process::Laser, environment, ""), None);
    let hot = Environment { heat: Some(121), ..Environment::default() };
    assert!(suits(Material::PolyesterLaminated, Process::Laser, hot, "").is_some());
    assert_eq!(suits(Material::Paper, Process::Inkjet, Environment::default(), ""), None);
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
    for format in office_formats() {
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
        correction: Correction { offset: Point::new(Length::um(400), Length::um(-300)), scale_x: 1.002, scale_y: 0.0 },
        printer: "office".into(),
        ..Run::default()
    };
    for format in office_formats() {
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

/// A printer that scales by `k` and then shifts by `e` mm: what the page's own formulas make of it.
#[test]
fn the_correction_worked_out_on_the_ruler_page_undoes_the_printer() {
    for (k, e) in [(1.0, 1.3), (0.985, -2.0), (1.012, 0.7)] {
        let printed = |x: f64| k * x + e;
        let (a, c) = (printed(20.0), printed(150.0 + 20.0) - printed(20.0));
        let scale_x = 150.0 / c;
        let offset_x_mm = 20.0 - a * scale_x;
        for x in [0.0, 20.0, 105.0, 210.0] {
            assert!((printed(scale_x * x + offset_x_mm) - x).abs() < 1e-9, "{k} {e} {x}");
        }
    }
    let page = ruler(parse_size("A4").unwrap(), Correction::default(), "", &Typesetter::new()).unwrap();
    let said = said(&page.furniture);
    for line in ["scale_x = 150 / c", "offset_x_mm = 20 − a × scale_x", "offset_y_mm = 20 − b × scale_y"] {
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
