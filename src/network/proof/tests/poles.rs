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
    expect_below_main_board(&above.replace("poles=3", "poles=2"), "no-path-found; cut Q3; surplus Q1");
    let narrow = above.replace("poles=3", "poles=1");
    expect_below_main_board(&narrow, "unknown; gap lines behind Q1 together; cut Q0");
    // What one of two lines passes has to part three, with those of the other row.
    let series = "Q3 isolator < MB poles=2\n BB busbar < Q3\n Q4 isolator < BB poles=1\n row Q3 at BB.load named=L1,L2
        row Q4 + Q3 at Q4.load named=L2\n row Q4 + Q3 at Q4.load named=L3";
    expect_below_main_board(series, "unknown; gap lines behind Q4 together; cut Q0");
}

/// Which row names its devices first tells nothing, nor does what other rows hang on.
#[test]
fn rows_share_devices_of_one_pole_as_far_as_each_can() {
    let fuses = "F1 isolator < MB poles=1\n F2 isolator < MB poles=1\n F3 isolator < MB poles=1";
    let told = |rows: &str, told: &str| expect_below_main_board(&format!("{fuses}\n {rows}"), told);
    let both = "row F1 + F2 at F1.load + F2.load";
    // The row behind one of them has no choice.
    told(&format!("{both} named=L1\n row F1 at F1.load named=L2"), "no-path-found; cut Q0");
    // A line that one of them has already takes no other.
    let third = format!("row F2 at F2.load named=L1\n {both} named=L1\n {both} named=L2");
    told(&third, "no-path-found; cut Q0");
    let poles = third.replace("L1", "M").replace("L2", "+");
    told(&poles.replace("named=M", "named=M lines=1"), "no-path-found; cut Q0");
    // A device that had no room for a line does not have it.
    let others = "row F1 + F3 at F1.load + F3.load";
    let full = format!("row F1 at F1.load named=L2\n {both} named=L1\n {others} named=L1\n {others} named=L3");
    told(&full, "unknown; gap lines behind F1 together; gap lines behind F3 together; cut Q0");
}

#[test]
fn every_line_may_come_by_each_of_several_devices_but_those_told_to_have_one_pole() {
    let told = |first: &str, second: &str, rows: &str, told: &str| {
        let devices = format!("F1 isolator < MB{first}\n F2 isolator < MB{second}\n BB busbar < F1 + F2");
        let rows: Vec<String> = rows.split(' ').map(|lines| format!("row F1 + F2 at BB.load {lines}")).collect();
        expect_below_main_board(&format!("{devices}\n {}", rows.join("\n ")), told);
    };
    let two = "named=L1 named=L2";
    let both = "unknown; gap lines behind F1 together; gap lines behind F2 together; cut Q0";
    told("", "", two, both);
    told(" poles=3", " poles=1", two, "unknown; gap lines behind F2 together; cut Q0");
    told(" poles=2", " poles=2", "named=L1 named=L2 named=L3", both);
    told(" poles=2", " poles=2", two, "no-path-found; cut Q0");
    // What feeds them is not the same, so that a line may come by each.
    let apart = "D1 busbar < MB\n D2 busbar < MB\n F1 isolator < D1 poles=1\n F2 isolator < D2 poles=1
        row F1 at F1.load named=L1\n row F1 + F2 at F1.load + F2.load named=L2";
    expect_below_main_board(apart, "unknown; gap lines behind F1 together; cut Q0");
    // Nor is it the same above one of them as between the two.
    let above = "M2 busbar < MB\n X isolator < MB + M2 poles=1\n F1 isolator < X poles=1
        row F1 + X at F1.load named=L2\n row F1 + X at F1.load + X.load named=L1";
    expect_below_main_board(above, "unknown; gap lines behind F1 together; cut Q0");
    // What comes back through each comes from elsewhere.
    let back =
        "F1 isolator < MB poles=1\n B1 busbar < F1 + G1\n G1 source\n F2 isolator < MB poles=1\n B2 busbar < F2 + G2
        G2 source\n row Q0 + F1 + F2 at MB.load named=L1\n row Q0 + F1 + F2 at MB.load named=L2";
    expect_below_main_board(back, "unknown; gap lines behind F1 together; gap lines behind F2 together");
}

#[test]
fn an_opened_way_on_to_what_brings_nothing_needs_no_more_poles() {
    let network = "Q5 isolator < MB poles=1\n DB busbar < Q5\n Q6 isolator < DB\n row Q0 + Q5 + Q6 at MB.load named=L1
        row Q0 + Q5 + Q6 at MB.load named=L2";
    expect_below_main_board(network, "no-path-found; cut Q0; surplus Q5 + Q6");
    // Nor does one to a device that parts everything, past another of which it is not said what it parts.
    let network = "Q4 isolator < MB poles=3\n Q3 isolator < Q4\n Q1 isolator < Q3 poles=1\n BB busbar < Q1
        row Q4 + Q3 + Q1 at BB.load named=L1\n row Q4 + Q3 + Q1 at BB.load named=L2";
    expect_below_main_board(network, "no-path-found; cut Q4; surplus Q3 + Q1");
}

/// A generator of one line feeds a board back, and another feeds it past two sources of one line each.
#[test]
fn the_lines_that_come_to_a_device_are_those_beyond_it() {
    let below = "Q5 isolator < MB poles=1\n DB busbar < Q5 + G\n G source system=1\n row Q0 + Q5 at MB.load named=L1
        row Q0 + Q5 at MB.load named=L2";
    expect_below_main_board(below, "no-path-found; cut Q0 + Q5");
    expect_below_main_board(&below.replace("system=1", "system=2"), "unknown; gap lines behind Q5 together");
    let board = |poles: &str, lines: &str| {
        format!(
            "inverter source system=2\n QC isolator < MB poles=3+N\n QI isolator < inverter poles={poles}\n
            BB busbar < QC + QI\n row QC + QI at BB.load named={lines}\n row QC + QI at BB.load named=L3"
        )
    };
    expect_below_main_board(&board("2", "L1,L2 lines=2"), "no-path-found; cut QC + QI");
    let apart = "L2\n row QC + QI at BB.load named=L1";
    expect_below_main_board(&board("1", apart), "unknown; gap lines behind QI together");
    // A device that parts its own system parts the one behind the transformer.
    let transformer = "S source system=1\n T source system=1\n B busbar < S + T\n Q1 isolator < B poles=1
        X transformer < Q1 system=3\n BB busbar < X\n row Q1 at BB.load named=L1\n row Q1 at BB.load named=L2";
    expect(transformer, "no-path-found; cut Q1");
}

#[test]
fn what_is_said_of_one_row_by_itself_is_not_said_of_all() {
    let network = "Q1 isolator < MB\n row Q1 lines=3 named=L1,L2,L3\n row Q1 named=L1";
    expect_below_main_board(network, "unknown; gap poles of Q1 not said; cut Q0");
    // A device that only parts the neutral's lender has no line of the borrower.
    let borrowed = "F1 isolator < MB poles=3\n F2 isolator < MB poles=1\n row F1 named=L1 lender=F2.load
        row F2 named=L2";
    expect_below_main_board(borrowed, "no-path-found; cut Q0");
}

#[test]
fn lines_poles_and_a_live_midpoint_are_counted() {
    let board = |poles: &str, rows: &[&str]| {
        let rows: Vec<String> = rows.iter().map(|row| format!("row Q1 at BB.load named={row}")).collect();
        format!("Q1 isolator < MB poles={poles}\n BB busbar < Q1\n {}", rows.join("\n "))
    };
    let (enough, few) = ("no-path-found; cut Q1", "unknown; gap lines behind Q1 together; cut Q0");
    let told = |poles: &str, rows: &[&str], told: &str| expect_below_main_board(&board(poles, rows), told);
    told("1", &["L1", "L2", "+"], few);
    told("2", &["L1", "L2", "+"], enough);
    // A live midpoint is one more than the poles beside it, an earthed one is none.
    told("1", &["+", "M lines=1"], few);
    told("2", &["+,- lines=2", "+,M lines=2"], few);
    told("3", &["+,- lines=2", "+,M lines=2"], enough);
    told("1", &["+,M lines=1", "-,M lines=1"], few);
    told("2", &["+,M lines=1", "-,M lines=1"], enough);
    // A neutral is no line, and a pole that may stay connected is none either.
    told("1", &["L1", "N lines=1"], enough);
    told("2", &["+ lines=2", "- lines=1"], enough);
}

/// What does not do for a row of three lines might for the others, beside its own device.
#[test]
fn no_set_is_proved_smallest_where_a_device_may_do_for_some_rows() {
    let network = "mains source\n MB busbar < mains\n QM isolator < MB\n BB busbar < QM\n Q1 isolator < BB poles=1
        Q2 isolator < BB poles=3\n Q3 isolator < BB poles=1\n row Q1\n row Q2 lines=3\n row Q3";
    expect(network, "no-path-found; cut Q1 + Q2 + Q3 not proved");
    expect(&network.replace("\n row Q3", ""), "no-path-found; cut Q1 + Q2 not proved");
    expect(&network.replace(" lines=3", ""), "no-path-found; cut QM");
    // What is no use to one of several rows alike is no use to any.
    let board = |rows: &str| {
        format!(
            "mains source neutral=live\n QM isolator < mains poles=1\n BB busbar < QM\n Q1 isolator < BB poles=3+N
            Q2 isolator < BB poles=3+N\n Q3 isolator < BB poles=3+N\n B3 busbar < Q3\n {rows}"
        )
    };
    let alike = |rows: &str, doubt: &str| expect(&board(rows), &format!("no-path-found; cut Q1 + Q2{doubt}"));
    alike("row Q1 lines=3\n row Q2 lines=3", "");
    alike("row Q1 lines=3\n row Q2", " not proved");
    alike("row Q1 neutral=yes\n row Q2 neutral=yes", "");
    alike("row Q1 neutral=yes\n row Q2", " not proved");
    alike("row Q1 + Q2 at Q1.load + Q2.load lines=3", "");
    // What is connected with a row by a shared neutral has needs of its own.
    alike("row Q1 + Q2 at Q1.load lines=3 lender=Q2.load", "");
    alike(
        "row Q1 + Q2 at Q1.load lines=3 lender=Q2.load\n row Q1 + Q2 at Q1.load lines=3 lender=Q2.load",
        " not proved",
    );
}

#[test]
fn what_rows_that_differ_leave_open_does_not_matter_where_no_device_is_unfit_or_one_does() {
    let coupled = "mains source\n MB busbar < mains\n Q1 isolator < MB poles=3 il=IL1\n Q2 isolator < MB poles=3
        row Q1\n row Q2 lines=3";
    expect(coupled, "no-path-found; cut Q1 + Q2");
    let one = "mains source\n Q0 isolator < mains poles=3 il=IL1\n QM isolator < Q0 poles=1\n BB busbar < QM
        Q1 isolator < BB poles=3\n Q2 isolator < BB poles=3\n row Q1 lines=3\n row Q2";
    expect(one, "no-path-found; cut Q0");
    // Behind a transformer stands another system.
    let apart = "mains source system=3\n QM isolator < mains poles=1\n BB busbar < QM\n T transformer < BB system=3
        Q1 isolator < BB poles=3\n Q2 isolator < T poles=3\n row Q1 lines=3\n row Q2 lines=3";
    expect(apart, "no-path-found; cut Q1 + Q2 not proved");
}

/// Too many devices stand in the way to look at each.
#[test]
fn no_set_is_proved_smallest_where_not_every_device_was_looked_at() {
    let mut network = vec!["q0 source".to_owned()];
    network.extend((1..600).map(|number| format!("q{number} isolator < q{} poles=1", number - 1)));
    network.push("Q1 isolator < q599 poles=3\nQ2 isolator < q599 poles=3\nrow Q1 lines=3\nrow Q2 lines=3".to_owned());
    expect(&network.join("\n"), "no-path-found; cut Q1 + Q2 not proved");
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
    // Where the supplies file says so, too, the neutral is searched: behind a transformer that is dead it is.
    let apart = "mains source\n Q1 isolator < mains poles=3\n T transformer < Q1 neutral=live
        row Q1 at T.load neutral=yes neutral-live";
    expect(apart, "no-path-found; cut Q1");
}

#[test]
fn they_do_not_matter_where_nothing_stands_beyond() {
    let network = "Q1 isolator < MB poles=3\n Q2 isolator < Q1\n row Q1 + Q2 at Q2.load lines=3";
    expect_below_main_board(network, "no-path-found; cut Q1; surplus Q2");
}

/// Lines that nobody names may be different ones, and only a device that is said to have as many poles as a row has lines
/// is taken at its word for each of them.
#[test]
fn lines_that_nobody_names_may_be_different_ones() {
    let of_poles = |poles: &str, rows: &str| format!("QC isolator < MB{poles}\n BB busbar < QC\n {rows}");
    let both = "row QC at BB.load named=?\n row QC at BB.load named=?";
    let gap = "unknown; gap lines behind QC together; cut Q0";
    expect_below_main_board(&of_poles("", both), gap);
    expect_below_main_board(&of_poles(" poles=1+N", both), "no-path-found; cut QC");
    expect_below_main_board(&of_poles("", "row QC at BB.load named=?"), "no-path-found; cut QC");
    expect_below_main_board(&of_poles("", "row QC at BB.load named=L1\n row QC at BB.load named=?"), gap);
    expect_below_main_board(
        &of_poles("", "row QC at BB.load named=L1\n row QC at BB.load named=L1"),
        "no-path-found; cut QC",
    );
    let apart = "Q1 isolator < MB\n Q2 isolator < MB\n row Q1 named=?\n row Q2 named=?";
    expect_below_main_board(apart, "no-path-found; cut Q0");
    let through_both = "Q1 isolator < MB\n Q2 isolator < MB\n BB busbar < Q1 + Q2\n row Q1 + Q2 at BB.load named=?
        row Q1 + Q2 at BB.load named=?";
    let gaps = "unknown; gap lines behind Q1 together; gap lines behind Q2 together; cut Q0";
    expect_below_main_board(through_both, gaps);
    let not_named = "Q3 isolator < MB poles=1+N\n BB busbar < Q3\n Q1 isolator < BB poles=1\n Q2 isolator < BB poles=1
        row Q1 named=?\n row Q2 named=L1";
    expect_below_main_board(not_named, "no-path-found; cut Q0");
    expect_below_main_board(&not_named.replace("1+N", "2"), "no-path-found; cut Q3");
    let of_one_line = "S source system=1\n QS isolator < S\n row QS named=?\n row QS named=?";
    expect_below_main_board(of_one_line, "no-path-found; cut QS");
    let of_two = "S source system=1\n T source system=1\n B busbar < S + T\n QS isolator < B\n row QS named=?
        row QS named=?";
    expect_below_main_board(of_two, "unknown; gap lines behind QS together");
}

/// A file that says `240 dc` tells two poles and no midpoint; where rows name one that is live, it comes from there too.
#[test]
fn a_live_midpoint_comes_beside_the_poles_of_a_source() {
    let of_poles = |poles: u8, rows: &str| format!("D source system=2\n QD isolator < D poles={poles}\n {rows}");
    let whole = "row QD lines=3 named=+,M,-";
    expect_below_main_board(&of_poles(2, whole), "live; D > QD");
    expect_below_main_board(&of_poles(3, whole), "no-path-found; cut QD");
    let halves = "row QD lines=2 named=+,M\n row QD lines=2 named=M,-";
    expect_below_main_board(&of_poles(2, halves), "unknown; gap lines behind QD together");
    expect_below_main_board(&of_poles(3, halves), "no-path-found; cut QD");
    let poles = "row QD lines=1 named=+\n row QD lines=1 named=-";
    expect_below_main_board(&of_poles(2, poles), "no-path-found; cut QD");
    let above = "D source system=2\n QU isolator < D poles=3\n QM isolator < QU poles=2\n Q1 isolator < QM poles=3
        Q2 isolator < QM poles=3\n row Q1 lines=3 named=+,M,-\n row Q2 lines=3 named=+,M,-";
    expect_below_main_board(above, "no-path-found; cut QU");
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
