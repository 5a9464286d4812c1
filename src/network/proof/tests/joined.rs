//! What comes past the switches of a changeover to one of its feeds.

use super::model::expect;

/// Mains with a board `A` below `QA`, a generator with a board `B` below `QB`, and what stands between the boards.
fn between(neutrals: [&str; 2], systems: [u8; 2], rest: &str) -> String {
    let ([mains, generator], [lines, of_generator]) = (neutrals, systems);
    format!(
        "M source neutral={mains} system={lines}\n G source neutral={generator} system={of_generator}\n\
         QA isolator < M poles=3+N\n QB isolator < G poles=3+N\n A busbar < QA\n B busbar < QB\n {rest}"
    )
}

#[track_caller]
fn expect_neutral(neutrals: [&str; 2], rest: &str, told: &str) {
    expect(&between(neutrals, [3, 3], rest), told);
}

#[track_caller]
fn expect_lines(systems: [u8; 2], rest: &str, told: &str) {
    expect(&between(["earthed"; 2], systems, rest), told);
}

const NONE_LEFT: &str = "no-path-found; cut QA";

#[test]
fn a_neutral_that_is_not_switched_comes_from_one_feed_to_the_other() {
    let at_a = |changeover: &str| format!("X {changeover}\n row QA at A.load lines=3 neutral=yes");
    let live = "live; neutral G > QB > B > X > A";
    expect_neutral(["earthed", "live"], &at_a("changeover < A + B poles=3"), live);
    expect_neutral(["earthed", "live"], &at_a("changeover-off < A + B poles=3"), live);
    expect_neutral(["earthed", "live"], &at_a("changeover < A + B poles=3+N"), NONE_LEFT);
    expect_neutral(["earthed", "live"], &at_a("changeover < A + B"), "unknown; gap what X switches not said");
    expect_neutral(["earthed", "unknown"], &at_a("changeover < A + B poles=3"), "unknown; gap neutral of G not said");
    expect_neutral(["earthed", "unknown"], &at_a("changeover < A + B"), "unknown; gap what X switches not said");
    // The row's own neutral begins where it is parted.
    for poles in ["", " poles=3"] {
        expect_neutral(["live", "earthed"], &at_a(&format!("changeover < A + B{poles}")), NONE_LEFT);
    }
    let without_neutral = "X changeover < A + B poles=3\n row QA at A.load lines=3";
    expect_neutral(["earthed", "live"], without_neutral, NONE_LEFT);
    let not_said = "X changeover < A + B poles=3\n row QA at A.load lines=3 neutral=?";
    expect_neutral(["earthed", "live"], not_said, "unknown; gap neutral of the row not said");
}

#[test]
fn opening_a_changeover_opens_what_it_switches_alone() {
    let both = |poles: &str| format!("X changeover-off < A + B{poles}\n row QA + X at A.load lines=3 neutral=yes");
    expect_neutral(["earthed", "live"], &both(" poles=3"), "live; neutral G > QB > B > X > A");
    expect_neutral(["earthed", "live"], &both(" poles=3+N"), "no-path-found; cut QA; surplus X");
    expect_neutral(["earthed", "live"], &both(""), "unknown; gap what X switches not said");
}

#[test]
fn no_position_of_another_changeover_and_no_electrode_stops_a_neutral() {
    let in_a_row = "X changeover < A + B poles=3\n C source\n QC isolator < C poles=3+N\n Y changeover < X + QC poles=3
        row QC at QC.load lines=3 neutral=yes";
    expect_neutral(["earthed", "live"], in_a_row, "live; neutral G > QB > B > X > Y > QC");
    let of_its_own = "X changeover < A + B poles=3 neutral=live\n row QA at A.load lines=3 neutral=yes";
    expect_neutral(["earthed", "live"], of_its_own, "live; neutral G > QB > B > X > A");
    // What is below is fed by A, and lies itself on a way to which lines of B come past the switches.
    let in_a_ring =
        "X changeover < A + B + Q2 poles=1\n L busbar < X\n Q2 isolator < L poles=3\n row QA at A.load lines=1";
    expect_lines([1, 3], in_a_ring, "unknown; gap what X switches not said");
    expect_lines([1, 3], &in_a_ring.replace("poles=1", "poles=3"), NONE_LEFT);
}

#[test]
fn too_few_poles_leave_a_line_connected() {
    let at_a = |poles: &str, lines: &str| format!("X changeover < A + B{poles}\n row QA at A.load lines={lines}");
    let live = "live; G > QB > B > X > A";
    expect_lines([3, 3], &at_a(" poles=2", "3"), live);
    expect_lines([3, 3], &at_a(" poles=1", "2"), live);
    expect_lines([3, 3], &at_a(" poles=3", "3"), NONE_LEFT);
    expect_lines([3, 3], &at_a("", "3"), NONE_LEFT);
    let in_doubt = "unknown; gap what X switches not said";
    expect_lines([3, 3], &at_a(" poles=2", "?"), in_doubt);
    // The row may have the line that is not switched.
    expect_lines([3, 3], &at_a(" poles=2", "1"), in_doubt);
    expect_lines([2, 2], &at_a(" poles=2", "1"), NONE_LEFT);
}

#[test]
fn what_a_feed_has_is_switched_where_it_has_no_more_lines() {
    let at_a = "X changeover < A + B poles=1\n row QA at A.load lines=3";
    expect_lines([3, 1], at_a, NONE_LEFT);
    let at_b = "X changeover < A + B poles=1\n row QB at B.load lines=3";
    expect_lines([1, 3], at_b, "no-path-found; cut QB");
    // What joins two feeds is looked at as one place for all: that a third brings one line only is no way around the others.
    let three = "C source system=1\n X changeover < C + A + B poles=1\n row QA at A.load lines=3";
    expect_lines([3, 3], three, "live; C > X > A");
    expect_lines([3, 1], three, NONE_LEFT);
}

#[test]
fn the_device_through_which_a_feed_comes_alone_tells_how_many_lines_it_has() {
    let ways = |one: &str, other: &str, lines: u8| {
        format!(
            "Q1 isolator < A{one}\n Q2 isolator < B{other}\n X changeover < Q1 + Q2 poles=1\n row QA at A.load lines={lines}"
        )
    };
    expect_lines([3, 3], &ways(" poles=1", " poles=3", 3), NONE_LEFT);
    expect_lines([3, 3], &ways("", " poles=1", 3), NONE_LEFT);
    expect_lines([3, 3], &ways(" poles=3", " poles=3", 3), "live; G > QB > B > Q2 > X > Q1 > A");
    expect_lines([3, 3], &ways("", " poles=3", 3), "unknown; gap what X switches not said");
    // Nobody tells that there are more lines than the row has.
    expect_lines([3, 3], &ways("", "", 1), NONE_LEFT);
    expect_lines([3, 3], &ways(" poles=3", " poles=3", 1), "unknown; gap what X switches not said");
    let behind = |more: &str| {
        format!(
            "Q1 isolator < A poles=1\n C busbar < Q1\n {more} Q2 isolator < B poles=3\n X changeover < C + Q2 poles=1
            row QA at A.load lines=3"
        )
    };
    expect_lines([3, 3], &behind(""), NONE_LEFT);
    // What else hangs there may bring more.
    expect_lines([3, 3], &behind("Q3 isolator < C poles=3\n"), "live; G > QB > B > Q2 > X > C > Q1 > A");
}

#[test]
fn before_a_transformer_so_many_lines_as_the_system_has_are_switched() {
    let behind = |poles: u8| {
        format!(
            "X changeover < A + B poles={poles}\n QT isolator < A poles=3\n T transformer < QT system=1\n row QA at T.load"
        )
    };
    expect_lines([3, 3], &behind(3), "no-path-found; cut QT");
    expect_lines([3, 3], &behind(2), "unknown; gap what X switches not said; cut QT");
    expect_lines([2, 2], &behind(2), "no-path-found; cut QT");
}

#[test]
fn advice_that_would_fail_past_a_changeover_is_not_given() {
    // With QL open nothing but the line that is not switched comes.
    let network = "QL isolator < A poles=3\n X changeover < QL + B poles=2\n row QB at QL.load lines=3";
    expect_lines([3, 3], network, "live; M > QA > A > QL");
    let switched = network.replace("poles=2", "poles=3");
    expect_lines([3, 3], &switched, "live; M > QA > A > QL; cut QL");
}
