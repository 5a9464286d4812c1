//! What must hold of this stage, provoked case by case.

mod margins;
mod plates;
mod printing_works;
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
    assert!(findings[0].help.as_ref().unwrap().starts_with("choose a smaller notice"), "{:?}", findings[0].help);
    let smaller =
        super::without_sheet(&Label { size: Size::new(Length::mm(420.0), Length::mm(297.0)), enclosure: "MSB-2" });
    assert!(smaller.help.as_ref().unwrap().starts_with("`--sheet press-a3-1` has one"), "{:?}", smaller.help);
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
