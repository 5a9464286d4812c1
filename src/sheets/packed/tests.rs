//! Packed sheets as a run sees them: order, numbers, copies, cuts, what is refused.

use std::collections::BTreeSet;

use proptest::prelude::*;

use super::*;
use crate::drawing::{Drawing, Ink, Item, Paint, Segment};
use crate::limits::Limits;
use crate::sheets::{Dots, Formats, Label, Placed, Plan, PlanError, Run, find, plan};
use crate::typesetting::Typesetter;

const A7: Size = Size::whole_mm(105, 74);
const A8: Size = Size::whole_mm(74, 52);

fn planned(name: &str, sizes: &[Size], run: Run) -> Result<Plan, PlanError> {
    let labels: Vec<_> = sizes.iter().map(|size| Label { size: *size, enclosure: "CH3-JB2" }).collect();
    plan(&labels, &Formats::only(find(name).unwrap()), run, &Limits::default()).map(|(plan, _)| plan)
}

#[test]
fn labels_of_one_size_keep_their_order_over_the_sheets() {
    let sizes: Vec<Size> = (0..40).map(|number| if number % 3 == 0 { A8 } else { A7 }).collect();
    let plan = planned("a4-mixed", &sizes, Run { copies: 2, ..Run::default() }).unwrap();
    for size in [A7, A8] {
        let of_size = (0..sizes.len()).filter(|label| sizes[*label] == size);
        let places: Vec<_> = of_size.flat_map(|label| plan.places(label)).collect();
        assert!(places.is_sorted(), "{places:?}");
    }
    // On each sheet the labels are numbered from 1 without a gap.
    for page in 1..=plan.documents[0].pages() {
        let all = (0..sizes.len()).flat_map(|label| plan.places(label)).filter(|place| place.page == page);
        let cells: BTreeSet<usize> = all.map(|place| place.cell).collect();
        assert_eq!(cells, (1..=cells.len()).collect());
    }
}

#[test]
fn cells_of_a_packed_sheet_cannot_be_named() {
    for run in [Run { start_at: 2, ..Run::default() }, Run { used_cells: BTreeSet::from([1]), ..Run::default() }] {
        let refused = planned("a4-mixed", &[A7], run).unwrap_err();
        assert_eq!(refused, PlanError::NoCells { format: "a4-mixed".into() });
        assert!(refused.to_string().contains("packed anew in every run"), "{refused}");
    }
}

#[test]
fn a_roll_ends_with_its_last_label() {
    let sizes = [A8, A8, A7];
    let plan = planned("roll-105-mixed", &sizes, Run::default()).unwrap();
    let page = plan.page(0, 0, &Typesetter::new(), |label| Some(Arc::new(Drawing::new(sizes[label])))).unwrap();
    let lowest = page.placed.iter().map(|placed| placed.room().bottom()).max().unwrap();
    let usage = plan.usage().next().unwrap();
    let length = usage.length.unwrap();
    // Labels lie on dots and the page ends on one, of 0.085 mm.
    let dots = Dots::Dpi300;
    assert!((lowest + Length::mm(2.0) - length).abs() < dots.length(1), "{lowest} {length}");
    assert_eq!(page.size, dots.size(Size::new(Length::mm(105.0), length)));
    assert_eq!((page.trim.size, page.furniture.size, usage.sheets), (page.size, page.size, 1));
}

/// The straight strokes of a drawing in one ink.
fn strokes(drawing: &Drawing, wanted: Ink) -> Vec<Rect> {
    let paths = drawing.items.iter().filter_map(|item| match item {
        Item::Path { path, paint: Paint::Stroke { ink, .. } } if *ink == wanted => Some(path),
        Item::Path { .. } | Item::Text { .. } | Item::Modules(_) | Item::Group { .. } => None,
    });
    let lines = paths.flat_map(|path| path.segments.chunks(2)).filter_map(|pair| match pair {
        [Segment::Move(from), Segment::Line(to)] => Some((*from, *to)),
        _ => None,
    });
    let upright = |(from, to): (Point, Point)| {
        let (left, top) = (from.x.min(to.x), from.y.min(to.y));
        Rect::new(Point::new(left, top), Size::new((from.x - to.x).abs(), (from.y - to.y).abs()))
    };
    lines.map(upright).collect()
}

#[test]
fn cuts_are_drawn_in_gaps_and_first_cuts_marked_outside_the_room() {
    let sizes = [A7, A7, A7, A7, A8, A8, A8];
    let plan = planned("a4-mixed", &sizes, Run::default()).unwrap();
    let page = plan.page(0, 0, &Typesetter::new(), |label| Some(Arc::new(Drawing::new(sizes[label])))).unwrap();
    let rooms: Vec<Rect> = page.placed.iter().map(Placed::room).collect();
    let grey = strokes(&page.furniture, Ink::Grey);
    assert!(grey.len() > rooms.len(), "{grey:?}");
    for line in grey {
        let near = line.inset(Length::um(-1_400));
        assert!(rooms.iter().all(|room| !room.overlaps(near)), "{line:?} comes nearer to a label than half a gap");
    }
    let area = find("a4-mixed").unwrap().packing.unwrap().area.inset(Length::um(-1_500));
    let marks = strokes(&page.repeated, Ink::Black)
        .into_iter()
        .chain(strokes(&page.furniture, Ink::Black))
        .filter(|line| !area.overlaps(line.inset(Length::um(-1))));
    let level: BTreeSet<_> = marks.filter(|line| line.size.height == Length::ZERO).map(|line| line.origin.y).collect();
    assert!(level.len() >= 2, "{level:?}");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(8))]
    #[test]
    fn every_copy_is_placed_once_in_its_place(
        wanted in prop::collection::vec(0..5_usize, 1..40),
        copies in 1..4_usize,
        name in prop::sample::select(vec!["a4-mixed", "a3-mixed", "press-a3-mixed", "plate-mixed"]),
    ) {
        let usual = [A7, A8, Size::whole_mm(60, 20), Size::whole_mm(148, 105), Size::whole_mm(52, 37)];
        let sizes: Vec<Size> = wanted.iter().map(|number| usual[*number]).collect();
        let plan = planned(name, &sizes, Run { copies, ..Run::default() }).unwrap();
        let drawings: Vec<_> = sizes.iter().map(|size| Arc::new(Drawing::new(*size))).collect();
        let typesetter = Typesetter::new();
        let mut seen = vec![0; sizes.len()];
        for number in 0..plan.documents[0].pages() {
            let page = plan.page(0, number, &typesetter, |label| drawings.get(label).cloned()).unwrap();
            let rooms: Vec<Rect> = page.placed.iter().map(Placed::room).collect();
            for (cell, placed) in page.placed.iter().enumerate() {
                let label = drawings.iter().position(|known| Arc::ptr_eq(known, &placed.drawing)).unwrap();
                seen[label] += 1;
                prop_assert!(Rect::new(Point::default(), page.size).contains(placed.room()));
                prop_assert!(rooms[cell + 1..].iter().all(|other| !placed.room().overlaps(*other)));
                let told = plan.places(label);
                prop_assert!(told.iter().any(|place| (place.page, place.cell) == (number + 1, cell + 1)), "{told:?}");
            }
        }
        prop_assert!(seen.iter().all(|count| *count == copies), "{seen:?}");
    }
}
