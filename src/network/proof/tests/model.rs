//! Every rule of the model by itself: who stands where, what is opened, what is expected.

use super::fixture::Site;

/// Says what a proof tells of a network.
#[track_caller]
fn expect(network: &str, told: &str) {
    assert_eq!(Site::of(network).told(), told, "of {network}");
}

const MAIN_BOARD: &str = "
    mains source
    Q0 isolator < mains
    MB busbar < Q0
";

#[test]
fn an_opened_isolator_parts_its_row_from_the_mains() {
    expect(&format!("{MAIN_BOARD} Q1 isolator < MB \n row Q1"), "no-path-found; cut Q1");
}

#[test]
fn a_solar_inverter_on_a_sub_board_reaches_the_main_board() {
    let text = format!(
        "{MAIN_BOARD} QC isolator < MB\n DB-C busbar < QC\n QV isolator < inverter\n inverter converter < modules
         modules source\n DB-C2 busbar < QV + DB-C\n row Q0 at MB.load"
    );
    expect(&text, "live; modules > inverter > QV > DB-C2 > DB-C > QC > MB; cut Q0 + QC");
}
