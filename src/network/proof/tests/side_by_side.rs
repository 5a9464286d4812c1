//! Devices of one pole beside each other, each in another line.

use proptest::prelude::*;

use super::brute::Brute;
use super::fixture::Site;
use super::model::expect_below_main_board;
use super::random::{cases, open_all};

const FUSES: &str =
    "F1 isolator < MB poles=1\n F2 isolator < MB poles=1\n F3 isolator < MB poles=1\n BB busbar < F1 + F2 + F3\n";

#[test]
fn as_many_as_there_are_lines_part_them() {
    let with = |row: &str, told: &str| expect_below_main_board(&format!("{FUSES} row {row} at BB.load"), told);
    // What stays closed beside them leads on, whatever they part.
    with("F1 + F2 + F3 lines=3", "no-path-found; cut Q0");
    with("F1 + F2 + F3 lines=2", "no-path-found; cut Q0");
    with("F1 + F2 lines=2", "live; mains > Q0 > MB > F3 > BB; cut Q0");
}

#[test]
fn fewer_than_there_are_lines_leave_some() {
    let two = "F1 isolator < MB poles=1\n F2 isolator < MB poles=1\n row F1 + F2 lines=";
    expect_below_main_board(&format!("{two}2"), "no-path-found; cut Q0");
    expect_below_main_board(&format!("{two}3"), "live; mains > Q0 > MB > F1; cut Q0");
    expect_below_main_board(&format!("{two}?"), "unknown; gap poles of F1 not said; gap poles of F2 not said; cut Q0");
    // One row must name both: two rows may mean one and the same line.
    let apart = "F1 isolator < MB poles=1\n F2 isolator < MB poles=1\n row F1 lines=2\n row F2 lines=2";
    expect_below_main_board(apart, "live; mains > Q0 > MB > F1; mains > Q0 > MB > F2; cut Q0");
}

#[test]
fn one_behind_the_other_or_between_other_places_may_be_in_one_line() {
    let with = |nodes: &str, told: &str| {
        expect_below_main_board(&format!("{nodes}\n row F1 + F2 at X.load lines=2"), told);
    };
    with(
        "F1 isolator < MB poles=1\n F2 isolator < F1 poles=1\n X busbar < F2",
        "live; mains > Q0 > MB > F1 > F2 > X; cut Q0",
    );
    let of_two_boards = "A busbar < MB\n F1 isolator < MB poles=1\n F2 isolator < A poles=1\n X busbar < F1 + F2";
    with(of_two_boards, "live; mains > Q0 > MB > F1 > X; cut Q0");
    let fed_twice = "A busbar < MB\n F1 isolator < MB + A poles=1\n F2 isolator < MB + A poles=1\n X busbar < F1 + F2";
    with(fed_twice, "live; mains > Q0 > MB > F1 > X; cut Q0");
    let of_more = "F1 isolator < MB poles=1\n F2 isolator < MB poles=1\n X busbar < F1 + F2\n Y busbar < F2";
    with(of_more, "live; mains > Q0 > MB > F1 > X; cut Q0");
    let one_at_a_time = "F1 isolator < MB poles=1\n F2 isolator < MB poles=1\n X changeover < F1 + F2";
    with(one_at_a_time, "live; mains > Q0 > MB > F1 > X; cut Q0");
}

#[test]
fn one_with_more_poles_may_be_beside_a_line_of_the_same() {
    let two = |poles: &str| format!("F1 isolator < MB poles=1\n F2 isolator < MB{poles}\n row F1 + F2 lines=3");
    expect_below_main_board(&two(" poles=2"), "live; mains > Q0 > MB > F1; cut Q0");
    expect_below_main_board(&two(""), "live; mains > Q0 > MB > F1; cut Q0");
}

#[test]
fn before_a_transformer_they_part_the_lines_of_what_feeds_it() {
    let with = |devices: &str, told: &str| {
        let fuses = "F1 isolator < MB poles=1\n F2 isolator < MB poles=1\n F3 isolator < MB poles=1\n";
        let network = format!(
            "S source system=3\n MB busbar < S\n {fuses} T transformer < {devices} system=1\n row {devices} at T.load"
        );
        super::model::expect(&network, told);
    };
    with("F1 + F2 + F3", "no-path-found; cut F1 + F2 + F3");
    with("F1 + F2", "unknown; gap poles of F1 not said; gap poles of F2 not said");
}

#[test]
fn each_of_them_has_one_line_of_all_rows() {
    let with = |other: &str, told: &str| {
        let two =
            "F1 isolator < MB poles=1\n F2 isolator < MB poles=1\n row F1 + F2 lines=2 named=L1,L2\n row F1 named=";
        expect_below_main_board(&format!("{two}{other}"), told);
    };
    with("L2", "no-path-found; cut Q0");
    with("L3", "unknown; gap lines behind F1 together; gap lines behind F2 together; cut Q0");
}

/// Fuses between a few places, and rows that name some of them.
fn fused() -> impl Strategy<Value = String> {
    let poles = prop_oneof![5 => Just(" poles=1"), 1 => Just(" poles=1+N"), 1 => Just(" poles=2"), 1 => Just("")];
    let above = prop_oneof![4 => Just("A"), 1 => Just("B"), 1 => Just("A + B")];
    let fuse = (poles, above, prop_oneof![4 => Just("X"), 1 => Just("Y"), 1 => Just("")]);
    let kind =
        prop_oneof![4 => Just("busbar"), 1 => Just("changeover"), 1 => Just("transformer"), 1 => Just("converter")];
    let lines = prop_oneof![3 => Just("2"), 2 => Just("3"), 1 => Just("1"), 1 => Just("?")];
    let row = (prop::collection::vec(0..4_usize, 1..4), lines, prop_oneof![Just("X.load"), Just("Y.load"), Just("")]);
    let rows = prop::collection::vec(row, 1..3);
    (prop::collection::vec(fuse, 4), kind, rows, prop_oneof![Just(""), Just(" system=2"), Just(" system=3")]).prop_map(
        |(fuses, kind, rows, system)| {
            let fed = |by: &str| {
                let numbers = fuses.iter().enumerate().filter(|(_, (.., below))| *below == by);
                let names: Vec<String> = numbers.map(|(number, _)| format!("F{number}")).collect();
                if names.is_empty() { String::new() } else { format!(" < {}", names.join(" + ")) }
            };
            let mut told =
                vec![format!("S source{system}"), "A busbar < S".to_owned(), "B isolator < S poles=3".to_owned()];
            told.extend(
                fuses
                    .iter()
                    .enumerate()
                    .map(|(number, (poles, above, _))| format!("F{number} isolator < {above}{poles}")),
            );
            told.push(format!("X {kind}{}{}", fed("X"), if kind == "transformer" { " system=2" } else { "" }));
            told.push(format!("Y busbar{}", fed("Y")));
            told.extend(rows.iter().map(|(opens, lines, at)| {
                let mut opens = opens.clone();
                opens.sort_unstable();
                opens.dedup();
                let opens: Vec<String> = opens.iter().map(|open| format!("F{open}")).collect();
                let at = if at.is_empty() { String::new() } else { format!(" at {at}") };
                format!("row {}{at} lines={lines} named=?", opens.join(" + "))
            }));
            told.join("\n")
        },
    )
}

proptest! {
    #![proptest_config(cases(500))]

    #[test]
    fn a_search_of_everything_agrees(text in fused()) {
        let site = Site::of(&text);
        let brute = Brute::of(&site.network);
        let proof = site.proof();
        let is_together = proof.gaps.iter().any(|gap| matches!(gap, crate::network::Gap::LinesTogetherNotSaid(_)));
        prop_assume!(!is_together);
        prop_assert_eq!(proof.result, brute.result(&open_all(&brute)), "{}: {}", text, site.told());
        let surplus: Vec<_> = proof.surplus.iter().map(|device| site.network.device_node(*device).unwrap()).collect();
        prop_assert_eq!(surplus, brute.surplus(), "{}: {}", text, site.told());
        if let Some(cut) = proof.cut {
            prop_assert!(brute.does(&cut.devices), "{}: {}", text, site.told());
        }
    }
}
