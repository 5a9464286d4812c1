//! What must hold of every packing, judged by checks that know nothing of how it was made.

use proptest::prelude::*;

use super::*;
use crate::length::Point;

const GAP: Length = Length::um(3_000);

fn room(width: i32, height: i32) -> Room {
    Room { size: Size::whole_mm(width, height), gap: GAP, is_roll: false }
}

fn demand(width: i32, height: i32, count: usize) -> Demand {
    Demand { size: Size::whole_mm(width, height), may_turn: true, count }
}

/// A run of notices of usual sizes.
fn run(of: usize) -> Vec<Demand> {
    let sizes = [(105, 74, 40), (148, 105, 20), (210, 148, 8), (74, 52, 30), (60, 20, 40)];
    sizes.map(|(width, height, share)| demand(width, height, (share * of).div_ceil(138))).to_vec()
}

/// Whether boxes can be parted by cuts from edge to edge, each at least `gap` wide, until every box is alone.
fn can_be_cut_apart(boxes: &[Rect], gap: Length) -> bool {
    if boxes.len() < 2 {
        return true;
    }
    let part = |start: fn(Rect) -> Length, end: fn(Rect) -> Length| {
        let mut sorted = boxes.to_vec();
        sorted.sort_by_key(|one| start(*one));
        let mut reach = end(sorted[0]);
        for number in 1..sorted.len() {
            if start(sorted[number]) - reach >= gap {
                return Some((sorted[..number].to_vec(), sorted[number..].to_vec()));
            }
            reach = reach.max(end(sorted[number]));
        }
        None
    };
    let parts = part(|one| one.origin.x, Rect::right).or_else(|| part(|one| one.origin.y, Rect::bottom));
    // A cut that is possible never makes another one impossible, so the first one found will do.
    parts.is_some_and(|(one, other)| can_be_cut_apart(&one, gap) && can_be_cut_apart(&other, gap))
}

/// Carries the cuts of a pattern out, one after the other, and shows that each label is then alone on a piece, half a gap
/// from every edge that was cut.
fn carry_out(pattern: &Pattern, room: &Room) {
    let half = room.gap / 2;
    let whole = Rect::new(Point::new(-half, -half), Size::new(room.size.width + room.gap, room.size.height + room.gap));
    let mut pieces = vec![whole];
    for cut in &pattern.cuts {
        let (across, edges) = match cut.axis {
            Axis::Across => (true, (whole.origin.y, whole.bottom())),
            Axis::Down => (false, (whole.origin.x, whole.right())),
        };
        if cut.at == edges.0 || cut.at == edges.1 {
            continue;
        }
        let spans = |piece: &Rect| {
            if across {
                (piece.origin.x, piece.right()) == (cut.from, cut.to)
                    && piece.origin.y < cut.at
                    && cut.at < piece.bottom()
            } else {
                (piece.origin.y, piece.bottom()) == (cut.from, cut.to)
                    && piece.origin.x < cut.at
                    && cut.at < piece.right()
            }
        };
        let number = pieces.iter().position(spans);
        let piece = pieces.swap_remove(number.unwrap_or_else(|| panic!("{cut:?} goes through no piece of {pieces:?}")));
        let (mut one, mut other) = (piece, piece);
        if across {
            one.size.height = cut.at - piece.origin.y;
            other = Rect::new(Point::new(piece.origin.x, cut.at), Size::new(piece.size.width, piece.bottom() - cut.at));
        } else {
            one.size.width = cut.at - piece.origin.x;
            other.origin.x = cut.at;
            other.size.width = piece.right() - cut.at;
        }
        pieces.extend([one, other]);
    }
    for spot in &pattern.spots {
        let cell = spot.room.inset(-half);
        assert_eq!(pieces.iter().filter(|piece| **piece == cell).count(), 1, "{spot:?} in {pieces:?}");
    }
}

/// Everything that must be true of a packing; how many sheets it has.
fn checked(room: &Room, demands: &[Demand]) -> usize {
    let packed = pack(room, demands).unwrap();
    let area = Rect::new(Point::default(), room.size);
    let mut counts = vec![0; demands.len()];
    for pattern in &packed.sheets {
        assert!(!pattern.spots.is_empty());
        let boxes: Vec<Rect> = pattern.spots.iter().map(|spot| spot.room).collect();
        for (number, spot) in pattern.spots.iter().enumerate() {
            let demand = demands[spot.demand];
            counts[spot.demand] += 1;
            assert!(area.contains(spot.room), "{spot:?}");
            assert!(demand.may_turn || !spot.turned);
            assert_eq!(if spot.turned { demand.size.turned() } else { demand.size }, spot.room.size);
            let (wide, half) = (spot.room.inset(-(room.gap / 2)), room.gap / 2);
            assert!(boxes[number + 1..].iter().all(|other| !wide.overlaps(other.inset(-half))), "{spot:?}");
        }
        assert!(can_be_cut_apart(&boxes, room.gap));
        carry_out(pattern, room);
    }
    assert_eq!(counts, demands.iter().map(|demand| demand.count).collect::<Vec<_>>());
    assert!(packed.sheets.len() >= fewest_by_area(room, demands));
    assert_eq!(pack(room, demands).unwrap(), packed, "the same labels give the same sheets");
    packed.sheets.len()
}

/// The most labels of one size in rows and columns, all one way, computed by itself.
fn grid(room: &Room, demand: &Demand) -> usize {
    let along = |room: Length, label: Length| usize::try_from((room + GAP).to_um() / (label + GAP).to_um()).unwrap();
    let way = |size: Size| along(room.size.width, size.width) * along(room.size.height, size.height);
    way(demand.size).max(way(demand.size.turned()))
}

#[test]
fn labels_of_one_size_lie_at_least_as_close_as_in_a_plain_grid() {
    for room in [room(190, 265), room(277, 388), room(287, 200), room(201, 188)] {
        for (width, height) in [(52, 37), (74, 52), (105, 74), (148, 105), (60, 20), (61, 23), (90, 45)] {
            let one = demand(width, height, 1);
            let each = grid(&room, &one);
            for sheets in [1, 2, 7] {
                let demand = Demand { count: each * sheets, ..one };
                assert!(checked(&room, &[demand]) <= sheets, "{width} x {height} in {}", room.size);
            }
        }
    }
    // Both ways on one sheet: two lying and three standing, where a grid of one way holds four.
    assert_eq!(grid(&room(190, 265), &demand(105, 74, 1)), 4);
    assert_eq!(checked(&room(190, 265), &[demand(105, 74, 5)]), 1);
}

#[test]
fn a_run_of_usual_sizes_comes_close_to_what_linear_programming_allows() {
    // The linear programme over all guillotine patterns is a lower bound (Gilmore and Gomory 1961); rounding it up
    // seldom costs more than one sheet (common practice in cutting).
    for (room, of) in [(room(190, 265), 100), (room(190, 265), 1_000), (room(277, 388), 100), (room(277, 388), 1_000)] {
        let demands = run(of);
        let shop = Shop::new(&room, &demands);
        let bound: f64 = columns::columns(&shop).iter().map(|(_, sheets)| sheets).sum();
        let sheets = checked(&room, &demands);
        assert!((sheets as f64) < bound.ceil() + 1.5, "{sheets} sheets, and {bound} if they could be divided");
    }
}

#[test]
fn more_labels_never_need_fewer_sheets() {
    let sheets: Vec<usize> = (1..8).map(|tens| checked(&room(190, 265), &run(tens * 12))).collect();
    assert!(sheets.is_sorted(), "{sheets:?}");
    assert_eq!(pack(&room(190, 265), &[demand(105, 74, 0)]).unwrap().sheets, []);
    assert_eq!(pack(&room(190, 265), &[]).unwrap().sheets, []);
}

#[test]
fn a_label_that_is_too_large_is_refused_and_one_that_fits_turned_is_not() {
    assert_eq!(pack(&room(190, 265), &[demand(105, 74, 3), demand(191, 266, 1)]), None);
    assert_eq!(checked(&room(190, 265), &[demand(265, 190, 2)]), 2);
    let upright = Demand { may_turn: false, ..demand(265, 190, 2) };
    assert_eq!(pack(&room(190, 265), &[upright]), None);
}

#[test]
fn a_roll_is_cut_off_where_its_labels_end() {
    let roll = Room { is_roll: true, ..room(101, 996) };
    let packed = pack(&roll, &[demand(74, 52, 6), demand(60, 20, 4)]).unwrap();
    let [piece] = packed.sheets.as_slice() else { panic!("one piece") };
    let lowest = piece.spots.iter().map(|spot| spot.room.bottom()).max().unwrap();
    assert_eq!(piece.used.height, lowest);
    // Four labels of A8 in two columns would be 101 + 3 too wide; six standing and lying fill some 300 mm.
    assert!(lowest <= Length::mm(330.0), "{lowest}");
    assert!(packed.share_used(&roll) > 0.75, "{}", packed.share_used(&roll));
}

#[test]
fn measures_without_a_common_grid_are_packed_too() {
    let size = |width: f64, height: f64| Size::new(Length::mm(width), Length::mm(height));
    let odd = [(60.013, 19.997, 40), (101.237, 70.001, 30), (47.771, 33.119, 50), (88.883, 61.117, 20)];
    let demands = odd.map(|(width, height, count)| Demand { size: size(width, height), may_turn: true, count });
    let sheets = checked(&room(190, 265), &demands);
    assert!(sheets <= fewest_by_area(&room(190, 265), &demands) + 2, "{sheets}");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(6))]
    #[test]
    fn every_label_is_packed_once_and_can_be_cut_out(
        labels in prop::collection::vec((8_000..180_000_i32, 8_000..180_000_i32, any::<bool>(), 1..6_usize), 1..14),
        gap in 0..3_000_i32,
        copies in prop::sample::select(vec![1, 1, 7]),
    ) {
        let demands: Vec<Demand> = labels
            .iter()
            .map(|&(width, height, may_turn, count)| {
                Demand { size: Size::new(Length::um(width), Length::um(height)), may_turn, count: count * copies }
            })
            .collect();
        // Halves of a gap are whole micrometres.
        let room = Room { gap: Length::um(gap * 2), ..room(190, 265) };
        let sheets = checked(&room, &demands);
        prop_assert!(sheets <= demands.iter().map(|demand| demand.count).sum());
    }
}
