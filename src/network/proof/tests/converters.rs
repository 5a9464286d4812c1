//! Converters between systems: what comes in at several feeds, and what a row tells of the one that it names.

use super::model::{expect, expect_below_main_board};

/// Whether a charger or a drive lets one kind of current out where the other comes in, no description rules out.
#[test]
fn a_converter_may_let_one_kind_of_current_out_where_the_other_comes_in() {
    let drive = "QA isolator < MB poles=3+N\n B1 source system=2\n QD isolator < B1 poles=2\n D1 converter < QA + QD direct=QD\n";
    expect_below_main_board(&format!("{drive} row QD"), "unknown; gap across D1 not said; cut QA + QD");
    expect_below_main_board(&format!("{drive} row QA"), "unknown; gap across D1 not said; cut QA + QD");
    expect_below_main_board(&format!("{drive} row QA at QA.load\n row QD at QD.load"), "no-path-found; cut QA + QD");
    expect_below_main_board(
        &format!("{drive} row none at QA.load\n row QD at QD.load"),
        "live; gap across D1 not said",
    );
}

#[test]
fn feeds_of_one_kind_are_connected_where_a_converter_begins() {
    let drive =
        "QA isolator < MB\n QB isolator < MB\n B1 source\n QD isolator < B1\n D1 converter < QA + QB + QD direct=QD\n";
    expect_below_main_board(
        &format!("{drive} row QA"),
        "live; mains > Q0 > MB > QB > QA; gap across D1 not said; cut Q0 + QD",
    );
    expect_below_main_board(&format!("{drive} row QD"), "unknown; gap across D1 not said; cut Q0 + QD");
    expect_below_main_board(&format!("{drive} row QA + QB at QA.load"), "unknown; gap across D1 not said; cut Q0 + QD");
}

/// The input of a single-phase inverter, with a breaker of one line: the row of the input says that no more lines come
/// through it, and so to its output. Another enclosure, and a row of more lines, say nothing of the kind.
#[test]
fn a_row_tells_of_its_own_isolator_how_many_lines_come_through_it() {
    let hybrid = "M source system=3\n QH isolator < M poles=1+N\n INV converter < QH system=1\n";
    expect(&format!("{hybrid} row QH\n row QH at INV.load"), "no-path-found; cut QH");
    expect(&format!("{hybrid} row QH at INV.load"), "unknown; gap poles of QH not said");
    expect(&format!("{hybrid} row QH at INV.load\n --\n row QH"), "unknown; gap poles of QH not said");
    let of_both = "unknown; gap poles of QH not said; gap poles of QH not said";
    expect(&format!("{hybrid} row QH lines=?\n row QH at INV.load"), of_both);
    let three = "live; M > QH; gap poles of QH not said";
    expect(&format!("{hybrid} row QH lines=3\n row QH at INV.load"), three);
}
