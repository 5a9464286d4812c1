//! Random networks: whatever is joined, the diagram has no fault and says the same as the text tree.

use proptest::prelude::*;

use super::flawless::faults;
use super::{Site, numbers, words};

const KINDS: [&str; 9] =
    ["isolator", "breaker", "fuse", "switch", "changeover", "transformer", "ups", "converter", "busbar"];

/// A kind, and one or two feeds.
type Row = (usize, usize, Option<usize>);

/// Rows of a supplies file: a kind, and one or two feeds among the earlier rows or, as a ring, the later ones.
fn networks() -> impl Strategy<Value = (Vec<Row>, Vec<usize>)> {
    let row = (0..KINDS.len(), any::<usize>(), proptest::option::weighted(0.3, any::<usize>()));
    (proptest::collection::vec(row, 3..24), proptest::collection::vec(any::<usize>(), 1..6))
}

/// Found by the test below: more wires leave `K3` than the bar was long enough for, and one ran through its name.
#[test]
fn a_short_bar_with_many_wires_keeps_them_off_its_name() {
    let rows = [
        "K0,source,,Street,230/400,TN-S,",
        "K1,source,,Generator house,230/400,TN-S,",
        "K2,isolator,K1 + K3,Room 2,,,",
        "K3,busbar,K1,Room 3 by the north stair,,,",
        "K4,breaker,K0 + K7,Room 4,,,",
        "K5,converter,K4,Room 5 by the north stair,,,",
        "K6,ups,K5,Room 6,,,",
        "K7,transformer,K2,Room 7 by the north stair,,,",
        "K8,ups,K1 + K6,Room 8,,,",
        "K9,switch,K6,Room 9 by the north stair,,,",
        "K10,converter,K2 + K0,Room 10,,,",
        "K12,busbar,K9 + K3,Room 12,,,",
        "K19,busbar,K8 + K3,Room 19 by the north stair,,,",
    ];
    let row = "E1,Panel,Room 1,C/0,load 0,K0,,230,230,K3,Room 3 by the north stair,,,";
    let drawing = Site::of(&[row], &rows).drawing(0);
    assert_eq!(faults(&drawing), Vec::<String>::new());
    // `K1` feeds `K3`, which is described, though not drawn.
    let said = words(&drawing);
    assert!(said.iter().any(|word| word == "feed not shown") && !said.iter().any(|word| word == "not described"));
}

fn site(rows: &[Row], isolators: &[usize]) -> Site {
    let mut supplies =
        vec!["K0,source,,Street,230/400,TN-S,".to_owned(), "K1,source,,Generator house,230/400,TN-S,".to_owned()];
    for (place, (kind, feed, other)) in rows.iter().enumerate() {
        let number = place + 2;
        let other = other.map(|other| format!(" + K{}", other % (rows.len() + 2))).unwrap_or_default();
        let name = ["", " by the north stair"][number % 2];
        supplies.push(format!("K{number},{},K{}{other},Room {number}{name},,,", KINDS[*kind], feed % number));
    }
    let supplies: Vec<&str> = supplies.iter().map(String::as_str).collect();
    let survey: Vec<String> = isolators
        .iter()
        .enumerate()
        .map(|(row, isolator)| {
            let number = isolator % rows.len() + 2;
            let name = ["", " by the north stair"][number % 2];
            format!("E1,Panel,Room 1,C/{row},load {row},K0,,230,230,K{number},Room {number}{name},,,")
        })
        .collect();
    let survey: Vec<&str> = survey.iter().map(String::as_str).collect();
    Site::of(&survey, &supplies)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, max_shrink_iters: 60, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn no_random_network_has_a_fault((rows, isolators) in networks()) {
        let site = site(&rows, &isolators);
        let drawing = site.drawing(0);
        prop_assert_eq!(faults(&drawing), Vec::<String>::new());
        // Every point of isolation that stands in the tree stands in the picture, and the other way round.
        let tree = site.tree();
        for number in 1..=site.decision().points.len() {
            let is_written = tree.contains(&format!("[{number}]"));
            prop_assert_eq!(is_written, numbers(&drawing).contains(&number.to_string()), "{}", number);
        }
        prop_assert_eq!(site.drawing(0), drawing);
        prop_assert!(words(&site.drawing(0)).iter().any(|word| word == "E1"));
    }
}
