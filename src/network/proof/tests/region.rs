//! One device that parts everything, held against a search of everything.

use proptest::prelude::*;

use super::super::cut::{of_lines, one_device, smallest, smallest_in};
use super::super::declared::Declared;
use super::super::fitness::{starts_of, unfit};
use super::super::region::Region;
use super::fixture::Site;
use super::random::{cases, random_site};
use crate::network::Cut;
use crate::network::id::{EnclosureId, WayId};

/// The smallest cut of as much as matters, and that of everything.
fn both(text: &str) -> (Option<Cut>, Option<Cut>) {
    let site = Site::of(text);
    let declared = site.declared();
    let (unfit, starts) = (unfit(&declared), starts_of(&declared, |_| true));
    let whole = Region::of(&declared.groundwork.lines, &starts);
    (of_lines(&declared, &starts, &unfit), smallest_in(&declared, &whole, &unfit))
}

/// A tree of feeders and boards below one source, with what makes a device no point of isolation here and there.
fn tree() -> impl Strategy<Value = String> {
    let feeder = prop_oneof![
        8 => Just("isolator"),
        3 => Just("isolator il=IL1"),
        1 => Just("isolator poles=1"),
        1 => Just("switch"),
        1 => Just("cutout"),
        1 => Just("busbar"),
        1 => Just("transformer"),
        1 => prop_oneof![Just("changeover"), Just("changeover-off"), Just("ups-with-battery-apart"), Just("converter")],
    ];
    let board = (any::<prop::sample::Index>(), feeder, prop::option::weighted(0.2, any::<prop::sample::Index>()));
    let rows = prop::collection::vec((any::<prop::sample::Index>(), prop_oneof![Just(""), Just(" lines=3")]), 1..4);
    (prop::collection::vec(board, 1..14), rows).prop_map(|(boards, rows)| {
        let mut lines = vec!["n0 source neutral=earthed".to_owned()];
        for (number, (above, feeder, other)) in (1..).zip(&boards) {
            // A second feed now and then makes a board one that everything does not come to by one way.
            let also = other.map(|other| format!(" + n{}", other.index(number))).unwrap_or_default();
            let (kind, rest) = feeder.split_once(' ').unwrap_or((feeder, ""));
            lines.push(format!("n{number} {kind} < n{}{also} {rest}", above.index(number)).trim_end().to_owned());
        }
        let count = boards.len() + 1;
        lines.extend(rows.iter().map(|(at, needs)| format!("row n{0} at n{0}.load{needs}", at.index(count))));
        lines.join("\n")
    })
}

proptest! {
    #![proptest_config(cases(4_000))]

    #[test]
    fn what_lies_beyond_one_device_that_parts_everything_changes_nothing((nodes, rows) in random_site(12)) {
        let text = format!("{nodes}\n{rows}");
        let (found, of_all) = both(&text);
        prop_assert_eq!(found, of_all, "{}", text);
    }

    #[test]
    fn nor_does_it_in_a_tree(text in tree()) {
        let (found, of_all) = both(&text);
        prop_assert_eq!(found, of_all, "{}", text);
    }
}

/// Three rows below one feeder, and fifty boards above it.
#[test]
fn a_search_ends_where_one_device_parts_everything() {
    let boards: Vec<String> = (1..50).map(|number| format!("b{number} isolator < b{}", number - 1)).collect();
    let rows: Vec<String> = (0..3).map(|number| format!("row q{number} at q{number}.load")).collect();
    let below: Vec<String> = (0..3).map(|number| format!("q{number} isolator < bar")).collect();
    let bar = "bar busbar < b49";
    let text = format!("b0 source\n{}\n{bar}\n{}\n{}", boards.join("\n"), below.join("\n"), rows.join("\n"));
    let site = Site::of(&text);
    let declared = site.declared();
    let cut = smallest(&declared).unwrap();
    assert_eq!(cut.devices.iter().map(|node| &*site.names[node.index()]).collect::<Vec<_>>(), ["b49"]);
    let starts = starts_of(&declared, |_| true);
    let whole = Region::of(&declared.groundwork.lines, &starts);
    assert!(whole.depths.len() > 100, "{}", whole.depths.len());
    assert_eq!(one_device(&declared, &starts, &unfit(&declared)), Some(cut.devices[0]));
}

/// A changeover both of whose feeds come from one board parts that board by itself: it is nearer than the feeder above.
#[test]
fn a_changeover_between_two_ways_from_one_board_is_one_device() {
    let (found, of_all) =
        both("n0 source\nn1 isolator < n0\nn2 isolator < n1 poles=1\nn3 changeover-off < n2 + n1\nrow n3 at n3.load");
    assert_eq!(found, of_all);
    assert_eq!(found.unwrap().devices.len(), 1);
}

/// With `n1` open no line comes to its load side, but the neutral of `n5` does, by the changeover.
#[test]
fn what_leaves_a_neutral_live_is_no_cut() {
    let of = |neutral: &str, of_row: &str| {
        let text = format!(
            "n0 source neutral=earthed\nn1 isolator < n0 poles=3+N\nn2 changeover < n0 + n1 poles=3+N\n\
             n5 busbar < n2 neutral={neutral}\nn6 isolator < n2 + n5 poles=3+N\nrow n1 neutral={of_row}"
        );
        let site = Site::of(&text);
        let ways: Vec<WayId> = site.network.way_ids(EnclosureId::new(0)).collect();
        smallest(&Declared::of(&site.network, &ways)).is_some()
    };
    assert!(of("earthed", "yes") && !of("live", "yes") && !of("live", "?") && of("live", "no"));
}
