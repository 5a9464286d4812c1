//! Every rule of the model by itself: who stands where, what is opened, what is expected.

use super::fixture::Site;

/// Says what a proof tells of a network: result, paths, gaps, smallest cut, surplus.
#[track_caller]
pub(super) fn expect(network: &str, told: &str) {
    assert_eq!(Site::of(network).told(), told, "of {network}");
}

/// The same, for a network below a main board `MB` that the mains feed through `Q0`.
#[track_caller]
pub(super) fn expect_below_main_board(rest: &str, told: &str) {
    expect(&format!("mains source\n Q0 isolator < mains poles=3+N\n MB busbar < Q0\n {rest}"), told);
}

mod conduction {
    use super::*;

    #[test]
    fn an_opened_isolator_parts_its_row_from_the_mains() {
        expect_below_main_board("Q1 isolator < MB\n row Q1", "no-path-found; cut Q1");
    }

    #[test]
    fn a_row_that_does_not_hang_on_its_isolator_stays_live() {
        let network = "Q1 isolator < MB\n Q2 isolator < MB\n row Q1 at Q2.load";
        expect_below_main_board(network, "live; mains > Q0 > MB > Q2; cut Q2");
    }

    #[test]
    fn a_solar_inverter_on_a_sub_board_reaches_the_main_board() {
        let network = "QC isolator < MB\n DB-C busbar < QC + QV\n modules source\n inverter converter < modules
            QV isolator < inverter\n row Q0 at MB.load";
        expect_below_main_board(network, "live; modules > inverter > QV > DB-C > QC > MB; cut Q0 + QC");
    }

    #[test]
    fn energy_passes_a_converter_one_way_only() {
        let network = "drive converter < MB\n Q1 isolator < drive\n modules source\n Q2 isolator < modules
            DC busbar < Q1 + Q2\n row Q0 at MB.load";
        expect_below_main_board(network, "no-path-found; cut Q0");
        let network = "drive converter < MB\n Q1 isolator < drive\n row Q1 at Q1.supply";
        expect_below_main_board(network, "live; mains > Q0 > MB > drive > Q1; cut Q0");
    }

    #[test]
    fn a_transformer_conducts_both_ways() {
        let network = "T1 transformer < MB\n LV busbar < T1 + QG\n generator source\n QG isolator < generator
            row Q0 at MB.load";
        let with_poles = network.replace("< generator", "< generator poles=3");
        expect_below_main_board(&with_poles, "live; generator > QG > LV > T1 > MB; cut Q0 + QG");
        // Nobody says that it parts every line of the other system.
        expect_below_main_board(network, "live; generator > QG > LV > T1 > MB");
    }

    #[test]
    fn a_switch_and_a_cutout_never_isolate() {
        let network = "K1 switch < MB\n row K1";
        expect_below_main_board(network, "live; mains > Q0 > MB > K1; cut Q0");
        expect("mains source\n F0 cutout < mains\n row F0", "live; mains > F0");
    }

    #[test]
    fn a_cut_out_alone_leaves_no_cut() {
        let network = "mains source\n F0 cutout < mains\n Q1 isolator < F0\n row Q1 at Q1.supply";
        expect(network, "live; mains > F0 > Q1");
    }

    #[test]
    fn a_loop_of_feeds_ends() {
        let network = "A busbar < MB + B\n B busbar < A\n Q1 isolator < B\n row Q1";
        expect_below_main_board(network, "no-path-found; cut Q1");
    }

    #[test]
    fn of_two_paths_the_shortest_is_shown() {
        let network =
            "LONG busbar < MB\n Q1 isolator < LONG\n Q2 isolator < MB\n DB busbar < Q1 + Q2\n row ? at nowhere
            row Q0 at DB.load
            generator source\n QG isolator < generator\n X busbar < QG\n QX isolator < X\n TIE busbar < QX + DB";
        expect_below_main_board(network, "live; generator > QG > X > QX > TIE > DB; gap nothing said");
    }
}

mod changeovers {
    use super::*;

    const TWO_SUPPLIES: &str = "mains source\n Q1 isolator < mains\n generator source\n Q2 isolator < generator\n";

    fn fed_twice(kind: &str, rest: &str) -> String {
        format!("{TWO_SUPPLIES} X {kind} < Q1 + Q2\n {rest}")
    }

    #[test]
    fn any_position_is_possible() {
        expect(&fed_twice("changeover", "row Q1 at X.load"), "live; generator > Q2 > X; cut Q1 + Q2");
        expect(&fed_twice("changeover", "row Q1 + Q2 at X.load"), "no-path-found; cut Q1 + Q2");
    }

    #[test]
    fn one_with_an_off_position_isolates() {
        expect(&fed_twice("changeover-off", "row X"), "no-path-found; cut X");
        expect(&fed_twice("changeover", "row X"), "live; mains > Q1 > X; cut Q1 + Q2");
    }

    #[test]
    fn it_never_connects_feed_to_feed() {
        expect(&fed_twice("changeover", "row Q1 at Q1.load"), "no-path-found; cut Q1");
        let network = fed_twice("changeover", "EB busbar < X\n P busbar < EB\n R busbar < P + EB\n row Q1 at Q1.load");
        expect(&network, "no-path-found; cut Q1");
    }

    #[test]
    fn what_it_feeds_can_feed_back_through_it() {
        let network = fed_twice("changeover", "modules source\n QV isolator < modules\n EB busbar < X + QV\n row Q1");
        expect(&network, "live; modules > QV > EB > X > Q1; cut Q1 + QV");
        let network = fed_twice(
            "changeover-off",
            "modules source\n QV isolator < modules\n EB busbar < X + QV\n row Q1 + X at Q1.load",
        );
        expect(&network, "no-path-found; cut Q1 + X");
    }

    #[test]
    fn coming_back_from_below_it_may_stand_in_either_position() {
        let network = fed_twice("changeover", "EB busbar < X\n Q3 isolator < EB\n row Q3 at Q3.supply");
        expect(&network, "live; mains > Q1 > X > EB > Q3; cut Q1 + Q2");
    }
}

mod converters_and_ups {
    use super::*;

    #[test]
    fn the_battery_of_a_ups_keeps_its_output_live() {
        let network = "Q1 isolator < MB\n U1 ups < Q1\n Q2 isolator < U1\n row Q1 at Q2.load";
        expect_below_main_board(network, "live; U1 > Q2; cut Q2");
    }

    #[test]
    fn a_ups_may_feed_back() {
        let network = "Q1 isolator < MB\n QU isolator < Q1\n U1 ups < QU\n row Q1";
        expect_below_main_board(network, "unknown; gap back-feed U1 > QU > Q1; cut Q1 + QU");
    }

    #[test]
    fn nothing_parts_one_that_hangs_on_the_live_parts_themselves() {
        let network = "Q1 isolator < MB\n U1 ups < Q1\n row Q1";
        expect_below_main_board(network, "unknown; gap back-feed U1 > Q1");
    }

    #[test]
    fn a_battery_described_apart_feeds_its_ups() {
        let ups = "Q1 isolator < MB poles=3\n B1 source\n QB isolator < B1 poles=3\n U1 ups-with-battery-apart < Q1 + QB\n Q2 isolator < U1\n";
        expect_below_main_board(&format!("{ups} row Q1 at Q2.load"), "live; B1 > QB > U1 > Q2; cut Q2");
        expect_below_main_board(&format!("{ups} row Q1 + QB at Q2.load"), "no-path-found; cut Q2");
        expect_below_main_board(&format!("{ups} row Q1"), "unknown; gap back-feed U1 > Q1");
    }

    /// MB -> QX -> OUT <- Q2 <- U1 -> Q3.
    #[test]
    fn a_bypass_reaches_what_a_ups_feeds_through_its_output() {
        let ups = "Q1 isolator < MB poles=3\n B1 source\n QB isolator < B1 poles=3\n U1 ups-with-battery-apart < Q1 + QB\n \
                   Q2 isolator < U1\n QX isolator < MB\n OUT busbar < Q2 + QX\n Q3 isolator < U1\n";
        expect_below_main_board(
            &format!("{ups} row Q1 + QB at Q3.load"),
            "live; mains > Q0 > MB > QX > OUT > Q2 > U1 > Q3; cut Q3",
        );
        expect_below_main_board(&format!("{ups} row Q1 + QB + Q2 at Q3.load"), "no-path-found; cut Q3");
    }

    #[test]
    fn a_ups_behind_an_opened_isolator_does_not() {
        let network = "Q1 isolator < MB\n QU isolator < Q1\n U1 ups < QU\n row Q1 + QU at Q1.load";
        expect_below_main_board(network, "no-path-found; cut Q1 + QU");
    }
}

mod interlocks {
    use super::*;

    #[test]
    fn a_coupled_interlock_opens_together() {
        let network = "generator source\n Q1 isolator < MB il=IL1\n Q2 isolator < generator il=IL1\n row Q1 at Q1.load
            row Q1 at Q2.load";
        expect_below_main_board(network, "no-path-found; cut Q1 + Q2 coupled");
    }

    #[test]
    fn what_is_not_suitable_is_not_named_with_its_handle() {
        let network = "S1 switch < MB il=IL1\n Q1 isolator < S1 il=IL1\n row Q1";
        expect_below_main_board(network, "no-path-found; cut Q1");
    }

    #[test]
    fn as_one_operation_it_is_a_smaller_cut() {
        let network = "generator source\n Q1 isolator < MB\n Q2 isolator < generator\n
            C1 isolator < Q1 il=IL1\n C2 isolator < Q2 il=IL1\n row Q1 + Q2 at C1.load + C2.load";
        expect_below_main_board(network, "no-path-found; cut C1 + C2 coupled");
    }

    #[test]
    fn it_is_named_before_a_device_further_away() {
        let network = "Q1 isolator < MB il=IL1\n Q2 isolator < MB il=IL1\n row Q1\n row Q2";
        expect_below_main_board(network, "no-path-found; cut Q1 + Q2 coupled");
    }

    #[test]
    fn many_of_them_are_not_proved_smallest() {
        let mut network = String::from("mains source\n");
        let mut parts = Vec::new();
        for number in 0..13 {
            network += &format!("S{number} source\n A{number} isolator < mains il=IL{number}\n");
            network += &format!("B{number} isolator < S{number} il=IL{number}\n");
            parts.push(format!("A{number}.load + B{number}.load"));
        }
        network += &format!("row A0 at {}", parts.join(" + "));
        let cut = Site::of(&network).proof().cut.unwrap();
        assert!(!cut.proved_smallest);
        assert_eq!((cut.operations, cut.devices.len()), (13, 26));
    }
}

mod neutrals {
    use super::*;

    /// The transformer is dead, so its neutral is, whatever is known of that.
    #[test]
    fn one_that_is_not_known_is_dead_with_what_it_begins_at() {
        let below = |poles: &str| {
            format!(
                "Q1 isolator < MB poles=3+N\n T transformer < Q1 neutral=unknown system=3\n Q2 isolator < T{poles}
                row Q1 + Q2 at Q2.load lines=3 neutral=yes"
            )
        };
        expect_below_main_board(&below(" poles=3"), "no-path-found; cut Q1; surplus Q2");
    }

    /// Lines are parted, and the neutral of a transformer of which nobody knows whether it is live is not.
    #[test]
    fn one_that_begins_behind_what_is_not_described_may_be_live() {
        let network = "U unknown\n T transformer < U neutral=live system=3\n Q1 isolator < T poles=3
            row Q1 lines=3 neutral=yes";
        expect(network, "unknown; gap U not described");
    }

    /// One device parts too few lines, another leaves the neutral, and neither is a cut.
    #[test]
    fn lines_and_neutral_are_unfit_each_for_itself() {
        let network = "N source neutral=live system=3\n B isolator < N poles=3\n A isolator < B poles=1+N
            row A + B at A.load lines=3 neutral=yes";
        expect(network, "no-path-found");
    }

    fn supply_with(neutral: &str, rest: &str) -> String {
        format!("mains source neutral={neutral}\n Q0 isolator < mains poles=3+N\n MB busbar < Q0\n {rest}")
    }

    #[test]
    fn an_earthed_neutral_may_stay_connected() {
        expect(&supply_with("earthed", "Q1 isolator < MB poles=3\n row Q1 neutral=yes"), "no-path-found; cut Q1");
        expect(
            &supply_with("live", "Q1 isolator < MB poles=3\n row Q1 neutral=?"),
            "unknown; gap neutral of the row not said; cut Q0",
        );
        expect(&supply_with("earthed", "Q1 isolator < MB\n row Q1 neutral=?"), "no-path-found; cut Q1");
    }

    #[test]
    fn one_that_can_be_live_must_be_parted() {
        let network = supply_with("live", "Q1 isolator < MB poles=3\n row Q1 neutral=yes");
        expect(&network, "live; neutral mains > Q0 > MB > Q1; cut Q0");
        let network = supply_with("live", "Q1 isolator < MB poles=1+N\n row Q1 neutral=yes");
        expect(&network, "no-path-found; cut Q1");
        let network = supply_with("live", "Q1 isolator < MB poles=3\n row Q1 neutral=no");
        expect(&network, "no-path-found; cut Q1");
    }

    #[test]
    fn a_neutral_or_poles_that_are_not_said_are_gaps() {
        let network = supply_with("unknown", "Q1 isolator < MB poles=3\n row Q1 neutral=yes");
        expect(&network, "unknown; gap neutral of mains not said; cut Q0");
        let network = supply_with("live", "Q1 isolator < MB\n row Q1 neutral=yes");
        expect(&network, "unknown; gap poles of Q1 not said; cut Q0");
    }

    #[test]
    fn it_ends_where_another_one_begins() {
        let network =
            supply_with("live", "T1 transformer < MB neutral=earthed\n Q1 isolator < T1 poles=3\n row Q1 neutral=yes");
        expect(&network, "no-path-found; cut Q1");
        let network =
            supply_with("earthed", "T1 transformer < MB neutral=live\n Q1 isolator < T1 poles=3\n row Q1 neutral=yes");
        expect(&network, "live; neutral mains > Q0 > MB > T1 > Q1; cut Q0");
    }

    #[test]
    fn an_installation_with_its_own_electrode_begins_one() {
        let outbuilding = "QO isolator < MB poles=3+N\n DB busbar < QO neutral=live\n Q1 isolator < DB poles=3\n";
        let network = supply_with("earthed", &format!("{outbuilding} row Q1 neutral=yes"));
        expect(&network, "live; neutral mains > Q0 > MB > QO > DB > Q1; cut QO");
        let network = supply_with("earthed", &format!("{outbuilding} Q2 isolator < MB poles=3\n row Q2 neutral=yes"));
        expect(&network, "no-path-found; cut Q2");
    }

    #[test]
    fn without_energy_where_it_begins_it_is_dead() {
        let network = supply_with(
            "earthed",
            "QT isolator < MB poles=3\n T1 transformer < QT neutral=live\n Q1 isolator < T1 poles=3\n row QT + Q1 at Q1.load neutral=yes",
        );
        expect(&network, "no-path-found; cut QT; surplus Q1");
    }

    #[test]
    fn a_shared_neutral_stays_live_with_its_lender() {
        let network = "Q1 isolator < MB\n Q9 isolator < MB\n row Q1 lender=Q9.load";
        expect_below_main_board(network, "live; shared neutral mains > Q0 > MB > Q9; cut Q0");
        let network = "Q1 isolator < MB\n Q9 isolator < MB\n row Q1 lender=Q9.load\n row Q9";
        expect_below_main_board(network, "no-path-found; cut Q0");
        let network = "Q1 isolator < MB\n row Q1 lender=?";
        expect_below_main_board(network, "unknown; gap lender not found");
    }
}

mod gaps {
    use super::*;

    #[test]
    fn a_device_that_only_the_survey_names_ends_the_description() {
        let network = "Q1 isolator < MB by=survey\n row Q1";
        expect_below_main_board(network, "unknown; gap Q1 not described");
    }

    #[test]
    fn one_that_hangs_below_what_is_searched_does_not() {
        let network = "Q1 isolator < MB\n DB busbar < Q1\n Q2 isolator < DB by=survey\n row Q1 at DB.load";
        expect_below_main_board(network, "no-path-found; cut Q1");
    }

    #[test]
    fn a_name_that_feeds_a_board_does() {
        let network = "TX9 unknown by=survey\n DB busbar < TX9 + MB\n row Q0 at DB.load";
        expect_below_main_board(network, "unknown; gap TX9 not described");
    }

    #[test]
    fn a_thing_of_unknown_kind_may_bring_energy_from_below() {
        let network = "DB busbar < MB\n THING unknown < DB\n row Q0 at DB.load";
        expect_below_main_board(network, "unknown; gap THING not described");
    }

    #[test]
    fn a_board_without_feeds_does() {
        expect("DB busbar\n Q1 isolator < DB\n row Q1 at Q1.supply", "unknown; gap feed of DB not said");
        expect("DB busbar\n Q1 isolator < DB\n row Q1", "no-path-found");
    }

    /// The notice says already that this copper stays live; what lies behind a device of its own is searched.
    #[test]
    fn rows_of_the_same_copper_as_one_that_cannot_be_isolated() {
        let tails = "N source\n F0 cutout < N\n IS1 isolator < F0\n Q1 isolator < IS1\n row none at N.load";
        expect(&format!("{tails}\n row IS1 at IS1.supply"), "live");
        expect(&format!("{tails}\n row Q1 at Q1.supply"), "live; N > F0 > IS1 > Q1");
    }

    #[test]
    fn rows_that_cannot_be_isolated_or_of_which_nothing_is_said() {
        expect_below_main_board("Q1 isolator < MB\n row Q1\n row none", "live");
        expect_below_main_board("Q1 isolator < MB\n row Q1\n row ? at MB.load", "unknown; gap nothing said; cut Q0");
        expect_below_main_board("Q1 isolator < MB\n row Q1 at nowhere", "unknown; gap nothing said");
        expect_below_main_board("", "unknown");
    }
}

mod advice {
    use super::*;

    #[test]
    fn the_nearest_of_several_single_devices_is_named() {
        let network = "QC isolator < MB\n DB-C busbar < QC\n Q1 isolator < DB-C\n Q2 isolator < DB-C\n row Q1\n row Q2";
        expect_below_main_board(network, "no-path-found; cut QC");
        let site = Site::of(&format!("mains source\n MB busbar < mains\n {network}"));
        assert_eq!(site.proof().single_device(), Some(site.node("QC")));
        let site = Site::of("A source\n B source\n Q1 isolator < A\n Q2 isolator < B\n row Q1\n row Q2");
        assert_eq!(site.proof().single_device(), None, "two are not one");
    }

    #[test]
    fn a_declared_device_that_changes_nothing_is_surplus() {
        let network =
            "QC isolator < MB\n DB-C busbar < QC\n Q1 isolator < DB-C\n Q9 isolator < MB\n row Q1 + Q9 at Q1.load";
        expect_below_main_board(network, "no-path-found; cut Q1; surplus Q9");
    }

    /// The nearest way to the output of a UPS may lead through it, and that is not what comes from outside.
    #[test]
    fn what_changes_nothing_at_the_output_of_a_ups_is_surplus_whatever_the_order() {
        let nodes = "n0 source neutral=earthed
n1 changeover-off < n0 poles=3+N il=IL1
n2 isolator < n0 poles=3+N
n3 isolator < n1 poles=3+N
n4 cutout < n1
n5 ups < n2 neutral=earthed system=3
n6 busbar < n3
n7 isolator < n0 poles=3+N
n8 unknown
n9 ups-with-battery-apart < n2 + n3 neutral=earthed system=3
n10 source neutral=earthed system=3
n11 changeover-off < n0 poles=3+N il=IL1
n12 isolator < n4 + n9 poles=3+N
n13 isolator < n0 poles=3+N";
        let rows = "row n3 at n12.supply ups=n9 own=n12\nrow n11";
        let backwards = nodes.lines().rev().collect::<Vec<_>>().join("\n");
        for nodes in [nodes, &backwards] {
            let told = Site::of(&format!("{nodes}\n{rows}")).told();
            assert!(told.starts_with("no-path-found") && told.ends_with("surplus n3"), "{told}");
        }
    }

    #[test]
    fn each_of_two_in_series_is_surplus_by_itself() {
        let network = "QC isolator < MB\n DB-C busbar < QC\n Q1 isolator < DB-C\n row Q1 + QC at Q1.load";
        expect_below_main_board(network, "no-path-found; cut Q1; surplus QC + Q1");
    }

    #[test]
    fn nothing_is_surplus_where_a_path_was_found() {
        let network = "Q1 isolator < MB\n Q2 isolator < MB\n Q9 isolator < MB\n row Q1 + Q9 at Q2.load";
        expect_below_main_board(network, "live; mains > Q0 > MB > Q2; cut Q2");
    }

    #[test]
    fn there_is_none_where_nothing_reaches_the_enclosure() {
        expect_below_main_board("Q1 isolator\n row Q1 at Q1.load", "no-path-found");
    }
}
