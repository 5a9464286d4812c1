//! Label rolls: one label a page, every one on dots, and what a roll cannot do.

use super::*;
use crate::drawing::Ink;
use crate::typesetting::sign;

fn rolls() -> Vec<Arc<SheetFormat>> {
    with_cells().filter(|format| format.production.dots().is_some()).cloned().collect()
}

fn on(format: &str, labels: &[Label<'_>], run: Run) -> Result<(Plan, Vec<Finding>), PlanError> {
    plan(labels, &Formats::only(find(format).unwrap()), run, &Limits::default())
}

/// A drawing with the warning sign on it.
fn signed(size: Size) -> Drawing {
    let mut drawing = Drawing::new(size);
    let height = Length::mm(15.0);
    let at = Rect::new(Point::default(), Size::new(sign::width(height), height));
    drawing.items.push(Item::Group { group: sign::group(), at });
    drawing
}

#[test]
fn every_built_in_roll_is_one_label_to_its_edges() {
    assert_eq!(rolls().len(), 8);
    for format in rolls() {
        assert_eq!(format.cells, [Rect::new(Point::default(), format.paper)], "{}", format.name);
        assert_eq!((format.unprintable, format.cut_marks), (Length::ZERO, false), "{}", format.name);
        assert_eq!(format.process, Process::ThermalTransfer);
        let dots = format.production.dots().unwrap().per_inch().to_string();
        assert!(format.name.split('-').any(|part| part == dots) && format.title.contains(&dots), "{}", format.name);
    }
}

#[test]
fn a_page_of_a_roll_is_its_label_in_whole_dots_with_nothing_beside_it() {
    for format in rolls() {
        let dots = format.production.dots().unwrap();
        let labels = labels(3, format.paper);
        let (plan, findings) = on(&format.name, &labels, Run::default()).unwrap();
        assert_eq!((findings, plan.documents[0].pages()), (vec![], 3));
        let page = plan.page(0, 1, &Typesetter::new(), |_| Some(Arc::new(Drawing::new(format.paper)))).unwrap();
        assert_eq!(page.furniture.items, []);
        assert_eq!((page.placed.len(), page.placed[0].corner), (1, Point::default()));
        for (side, whole) in [(format.paper.width, page.size.width), (format.paper.height, page.size.height)] {
            assert_eq!(whole, dots.length(dots.nearest(side)), "{}", format.name);
            // Half a dot, and half a micrometre.
            assert!((whole - side).abs().to_mm() <= 0.5 / dots.per_mm() + 0.000_5, "{}", format.name);
        }
        assert_eq!(page.trim.size, page.size);
    }
}

#[test]
fn a_smaller_label_begins_on_a_dot() {
    let dots = Dots::Dpi300;
    for um in (40_000..60_000).step_by(1_371) {
        let size = Size::new(Length::um(um), Length::um(um / 3));
        let plan = on("roll-tag-300", &labels(1, size), Run::default()).unwrap().0;
        let page = plan.page(0, 0, &Typesetter::new(), |_| Some(Arc::new(Drawing::new(size)))).unwrap();
        assert_eq!(dots.corner(page.placed[0].corner), page.placed[0].corner);
    }
}

#[test]
fn a_roll_has_no_used_cells() {
    for run in [Run { start_at: 2, ..Run::default() }, Run { used_cells: BTreeSet::from([1]), ..Run::default() }] {
        let refused = on("roll-a7-203", &labels(2, A7), run).unwrap_err();
        assert_eq!(refused, PlanError::OnRoll { format: "roll-a7-203".into() });
    }
    assert!(on("roll-a7-203", &labels(2, A7), Run { start_at: 1, copies: 2, ..Run::default() }).is_ok());
}

#[test]
fn a_head_is_corrected_by_whole_dots_and_never_by_a_scale() {
    let offset = Point::new(Length::um(400), Length::um(-300));
    let run = |scale_x| Run {
        correction: Correction { offset, scale_x, ..Correction::default() },
        printer: "roll".into(),
        ..Run::default()
    };
    let found = |run| {
        let (plan, findings) = on("roll-a7-203", &labels(1, A7), run).unwrap();
        let page = plan.page(0, 0, &Typesetter::new(), |_| Some(Arc::new(Drawing::new(A7)))).unwrap();
        (page.correction, findings.iter().map(|finding| finding.code).collect::<Vec<_>>())
    };
    // 0.4 mm is 3.2 dots and 0.3 mm is 2.4 dots of an eighth of a millimetre.
    let moved = Correction { offset: Point::new(Length::um(375), Length::um(-250)), ..Correction::default() };
    assert_eq!(found(run(1.0)), (moved, vec![]));
    assert_eq!(found(run(1.002)), (moved, vec![code::DOTS_ARE_NOT_SCALED]));
}

#[test]
fn a_sign_needs_yellow_from_the_ink_or_from_the_material() {
    let find_on =
        |format: &SheetFormat| without_yellow(format, [Arc::new(signed(A7)), Arc::new(Drawing::new(A7))].into_iter());
    for (name, wanted) in [
        ("roll-a7-203", None),
        ("roll-a7-300-two", None),
        ("a4-a7-4", None),
        ("roll-a8-203", Some(code::SIGN_WITHOUT_YELLOW)),
    ] {
        assert_eq!(find_on(&find(name).unwrap()).map(|finding| finding.code), wanted, "{name}");
    }
    let engraving = Production::Engraving(Engraving { tool: Length::mm(0.3) });
    let engraved = SheetFormat { production: engraving, ..SheetFormat::clone(&find("a4-a7-4").unwrap()) };
    for (stock, wanted) in [(Stock::White, true), (Stock::Silver, true), (Stock::Yellow, false)] {
        let found = find_on(&SheetFormat { stock, ..engraved.clone() });
        assert_eq!(found.is_some(), wanted, "{stock:?}");
        assert!(
            found.is_none_or(|found| found.message.contains("1 notice of") && found.message.ends_with(stock.name()))
        );
    }
    // Nothing yellow is drawn, nothing yellow is missed.
    let roll = find("roll-a8-203").unwrap();
    assert_eq!(without_yellow(&roll, std::iter::once(Arc::new(Drawing::new(A7)))), None);
    assert!(signed(A7).shows(Ink::SignalYellow) && signed(A7).shows(Ink::Black) && !signed(A7).shows(Ink::White));
}
