//! What devices part by their poles: too few, not said, and of all rows together.

use super::model::{expect, expect_below_main_board};

/// Of two sources on one board the one with more lines counts.
#[test]
fn of_systems_that_meet_the_most_lines_must_be_parted() {
    let network = "A source system=1\n B source system=3\n BB busbar < A + B\n Q1 isolator < BB poles=1
        T transformer < Q1 system=1\n row Q1 at T.load";
    expect(network, "unknown; gap poles of Q1 not said");
}

#[test]
fn each_device_whose_poles_are_not_said_is_a_gap() {
    let network = "Q1 isolator < MB\n Q2 isolator < MB\n BB busbar < Q1 + Q2\n row Q1 + Q2 at BB.load lines=3";
    expect_below_main_board(network, "unknown; gap poles of Q1 not said; gap poles of Q2 not said; cut Q0");
}

#[test]
fn too_few_poles_leave_a_line_live() {
    let network = "Q1 isolator < MB poles=1\n row Q1 lines=3";
    expect_below_main_board(network, "live; mains > Q0 > MB > Q1; cut Q0");
}

#[test]
fn poles_that_are_not_said_are_a_gap_where_more_than_one_line_must_be_parted() {
    expect_below_main_board("Q1 isolator < MB\n row Q1 lines=3", "unknown; gap poles of Q1 not said; cut Q0");
    expect_below_main_board("Q1 isolator < MB\n row Q1 lines=?", "unknown; gap poles of Q1 not said; cut Q0");
    expect_below_main_board("Q1 isolator < MB\n row Q1 lines=1", "no-path-found; cut Q1");
}

/// Two circuits of one line each, of different lines, hang on two.
#[test]
fn the_lines_of_all_rows_behind_a_device_count_together() {
    let board = |device: &str, rows: &str| {
        format!("Q1 isolator < MB{device}\n BB busbar < Q1\n Q2 isolator < BB poles=1+N\n {rows}")
    };
    let both =
        |first: &str, second: &str| format!("row Q1 at BB.load named={first}\n row Q1 at BB.load named={second}");
    let told = [("", "L2", 2), (" poles=1+N", "L2", 2), (" poles=2", "L2", 1), (" poles=1+N", "L1", 1), ("", "L1", 1)];
    for (device, other, needed) in told {
        let told = match needed {
            1 => "no-path-found; cut Q1",
            _ => "unknown; gap lines behind Q1 together; cut Q0",
        };
        expect_below_main_board(&board(device, &both("L1", other)), told);
    }
    // Poles and lines belong to different circuits.
    expect_below_main_board(&board(" poles=1+N", &both("L1", "+")), "no-path-found; cut Q1");
    // The second is parted by a device of its own, so that the first device has one line.
    let apart = "row Q1 at BB.load named=L1\n row Q2 named=L2";
    expect_below_main_board(&board(" poles=1+N", apart), "no-path-found; cut Q0");
    expect_below_main_board(&board(" poles=3+N", apart), "no-path-found; cut Q1; surplus Q2");
}

/// A single-phase inverter brings one line to a board of three.
#[test]
fn no_more_lines_count_together_than_come_to_a_device() {
    let board = |lines: &str| {
        format!(
            "inverter source system={lines}\n QC isolator < MB poles=3+N\n QI isolator < inverter poles=1+N\n
            BB busbar < QC + QI\n row QC + QI at BB.load named=L1\n row QC + QI at BB.load named=L2"
        )
    };
    expect_below_main_board(&board("1"), "no-path-found; cut QC + QI");
    expect_below_main_board(&board("3"), "unknown; gap lines behind QI together");
    // Above a transformer stands another system.
    let apart = "Q1 isolator < MB poles=3\n T transformer < Q1 system=3\n BB busbar < T\n row Q1 at BB.load named=L1
        row Q1 at BB.load named=L2,L3";
    expect_below_main_board(apart, "no-path-found; cut Q1");
}

/// Three fuses of one pole part three lines, whichever comes by each.
#[test]
fn devices_of_one_pole_side_by_side_have_a_line_each() {
    let fuses = "F1 isolator < MB poles=1\n F2 isolator < MB poles=1\n F3 isolator < MB poles=1
        BB busbar < F1 + F2 + F3\n row F1 + F2 + F3 at BB.load named=L1\n row F1 + F2 + F3 at BB.load named=L2
        row F1 + F2 + F3 at BB.load named=L3";
    expect_below_main_board(fuses, "no-path-found; cut Q0");
    let two = fuses.replace("F3 isolator < MB", "F3 busbar").replace(" + F3", "");
    expect_below_main_board(&two, "unknown; gap lines behind F1 together; gap lines behind F2 together; cut Q0");
    // A borrower hangs on both, and the other rows on one each; of three lines at one of them two are left.
    let borrowed = "F1 isolator < MB poles=1+N\n F2 isolator < MB poles=1+N\n row F1 at F1.load named=L1
        row F2 at F2.load named=L2\n row F1 + F2 at F1.load + F2.load named=L1";
    expect_below_main_board(borrowed, "no-path-found; cut Q0");
    let beside = "F1 isolator < MB poles=3\n F2 isolator < MB poles=1\n row F1 at F1.load named=L1,L2
        row F1 + F2 at F2.load named=L2\n row F1 + F2 at F2.load named=L3";
    expect_below_main_board(beside, "unknown; gap lines behind F2 together; cut Q0");
    // Of two feeders side by side each may bring every line.
    let feeders = "F1 isolator < MB poles=3\n F2 isolator < MB\n BB busbar < F1 + F2
        row F1 + F2 at BB.load named=L1\n row F1 + F2 at BB.load named=L2";
    expect_below_main_board(feeders, "unknown; gap lines behind F2 together; cut Q0");
}

#[test]
fn what_is_dead_beyond_needs_no_second_device_that_parts_it() {
    let above = "Q3 isolator < MB poles=3\n Q1 isolator < Q3\n BB busbar < Q1\n row Q3 + Q1 at BB.load named=L1
        row Q3 + Q1 at BB.load named=L2";
    expect_below_main_board(above, "no-path-found; cut Q3; surplus Q1");
    let narrow = above.replace("poles=3", "poles=1");
    expect_below_main_board(&narrow, "unknown; gap lines behind Q1 together; cut Q0");
    // What one of two lines passes has to part three, with those of the other row.
    let series = "Q3 isolator < MB poles=2\n BB busbar < Q3\n Q4 isolator < BB poles=1\n row Q3 at BB.load named=L1,L2
        row Q4 + Q3 at Q4.load named=L2\n row Q4 + Q3 at Q4.load named=L3";
    expect_below_main_board(series, "unknown; gap lines behind Q4 together; cut Q0");
}

/// What does not do for a row of three lines might for the others, beside its own device.
#[test]
fn no_set_is_proved_smallest_where_a_device_may_do_for_some_rows() {
    let network = "mains source\n MB busbar < mains\n QM isolator < MB\n BB busbar < QM\n Q1 isolator < BB poles=1
        Q2 isolator < BB poles=3\n Q3 isolator < BB poles=1\n row Q1\n row Q2 lines=3\n row Q3";
    expect(network, "no-path-found; cut Q1 + Q2 + Q3 not proved");
    expect(&network.replace("\n row Q3", ""), "no-path-found; cut Q1 + Q2 not proved");
    expect(&network.replace(" lines=3", ""), "no-path-found; cut QM");
}

/// The proof goes by the supplies file, and nothing is advised that the row's own word speaks against.
#[test]
fn what_leaves_a_neutral_that_can_be_live_by_the_rows_own_word_is_not_advised() {
    let row = |poles: &str, own: &str| {
        format!("Q1 isolator < MB{poles}\n Q2 isolator < Q1 poles=1+N\n row Q2 at Q2.load neutral=yes{own}")
    };
    let below = |poles: &str, own: &str, cut: &str| {
        let network = row(poles, own).replace("row Q2 at Q2.load", "row Q2 at Q1.load");
        expect_below_main_board(&network, &format!("live; mains > Q0 > MB > Q1; cut {cut}"));
    };
    expect_below_main_board(&row(" poles=1", " neutral-live"), "no-path-found; cut Q2");
    below(" poles=1", "", "Q1");
    below("", "", "Q1");
    below(" poles=1+N", " neutral-live", "Q1");
    below(" poles=1", " neutral-live", "Q0");
    below("", " neutral-live", "Q0");
}

#[test]
fn they_do_not_matter_where_nothing_stands_beyond() {
    let network = "Q1 isolator < MB poles=3\n Q2 isolator < Q1\n row Q1 + Q2 at Q2.load lines=3";
    expect_below_main_board(network, "no-path-found; cut Q1; surplus Q2");
}

/// A direct-current isolator of two poles parts what feeds an inverter, however many lines the inverter's output has.
#[test]
fn what_a_row_needs_holds_within_its_own_system() {
    let inverter = |poles: &str, system: &str| {
        format!(
            "modules source{system}\n QD isolator < modules{poles}\n INV converter < QD system=3\n
            QA isolator < INV poles=3\n row QD at INV.load lines=3"
        )
    };
    expect_below_main_board(&inverter(" poles=2", " system=2"), "no-path-found; cut QD");
    expect_below_main_board(&inverter(" poles=1", " system=2"), "unknown; gap poles of QD not said");
    expect_below_main_board(&inverter(" poles=2", ""), "unknown; gap poles of QD not said");
    expect_below_main_board(&inverter("", " system=2"), "unknown; gap poles of QD not said");
    expect_below_main_board(&inverter("", " system=1"), "no-path-found; cut QD");
}

#[test]
fn an_isolator_parts_what_comes_on_no_more_lines_than_it_has_poles() {
    let board = |beyond: &str| {
        format!(
            "QC isolator < MB poles=3+N\n {beyond}\n QI isolator < B poles=1+N\n DB busbar < QC + QI
            row QC + QI at DB.load lines=3"
        )
    };
    let one = "S source system=1\n B busbar < S";
    expect_below_main_board(&board(one), "no-path-found; cut QC + QI");
    let two = "S source system=1\n T source system=1\n B busbar < S + T";
    expect_below_main_board(&board(two), "live; S > B > QI > DB");
    let three = "S source system=3\n B busbar < S";
    expect_below_main_board(&board(three), "live; S > B > QI > DB");
    let not_said = "S source\n B busbar < S";
    expect_below_main_board(&board(not_said), "live; S > B > QI > DB");
    let not_described = "S source system=1\n X unknown\n B busbar < S + X";
    expect_below_main_board(&board(not_described), "live; S > B > QI > DB; gap X not described");
    let another_way = "S source system=1\n B busbar < S + MB";
    expect_below_main_board(&board(another_way), "live; S > B > QI > DB");
    let transformer = "T transformer < MB system=1\n B busbar < T";
    expect_below_main_board(&board(transformer), "no-path-found; cut Q0");
}

#[test]
fn one_pole_is_enough_for_the_row_that_has_one_line() {
    let network = "Q1 isolator < MB poles=1\n Q3 isolator < MB poles=3\n row Q1\n row Q3 lines=3";
    expect_below_main_board(network, "no-path-found; cut Q0");
}
