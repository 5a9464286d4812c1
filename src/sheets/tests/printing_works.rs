//! Sheets for a printing works: bleed and marks round them, contours on them.

use super::margins::reach;
use super::*;

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
            Item::Path { paint: crate::drawing::Paint::Stroke { ink: crate::drawing::Ink::Contour, .. }, .. }
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
