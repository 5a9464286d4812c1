//! Plates to engrave: their formats, and nothing beside them.

use super::margins::reach;
use super::*;

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
    assert_eq!(inks, rooms.iter().map(|room| (Ink::Contour, *room)).collect::<Vec<_>>());
    assert_eq!(rooms[0].size, small, "a smaller notice is a smaller plate");
}

/// The usual description, engraved.
fn plates(tool: u32) -> String {
    let text = GOOD.replace("\"laser\"", "\"engraving\"");
    format!("{text}[engraving]\ntool = {tool}\n")
}
