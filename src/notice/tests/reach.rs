//! How far a notice says that its points isolate, where parts stay live with all of them open.

use super::*;
use crate::rules::Missing;

fn stays_live(missing: Option<Missing>, isolated_at: &[(&str, &str)]) -> Statement {
    let isolated_at = isolated_at.iter().map(|(device, place)| ((*device).to_owned(), (*place).to_owned())).collect();
    Statement::LineSideLive { part: "incoming terminals of Q1".to_owned(), isolated_at, missing }
}

fn situation(devices: &[&str], statements: impl IntoIterator<Item = Statement>) -> Situation {
    let points = devices.iter().map(|device| point(device, "in PP-1", &[])).collect();
    Situation::new("PP-1", points).states(statements)
}

/// The largest letters of a panel with its isolator inside.
#[test]
fn the_largest_letters_do_not_send_to_points_that_leave_something_live() {
    let headline =
        |devices: &[&str], missing| situation(devices, [stays_live(missing, &[])]).notice().headline.main().to_owned();
    assert_eq!(headline(&["Q1"], Some(Missing::NotKnown)), "Isolation not fully known");
    assert_eq!(headline(&["Q1"], Some(Missing::CannotBeIsolated)), "Cannot be fully isolated");
    assert_eq!(headline(&["Q1", "Q2"], Some(Missing::NotKnown)), "Isolation not fully known");
    assert_eq!(headline(&["Q1", "Q2"], Some(Missing::CannotBeIsolated)), "Cannot be fully isolated");
}

#[test]
fn what_cannot_be_isolated_weighs_more_than_what_is_not_known() {
    let both = [stays_live(Some(Missing::NotKnown), &[]), stays_live(Some(Missing::CannotBeIsolated), &[])];
    assert_eq!(situation(&["Q1"], both.clone()).notice().headline, ["Cannot be fully isolated"]);
    let mut of_unknown_row = situation(&["Q1"], both);
    of_unknown_row.enclosure.rows[0].isolation = None;
    assert_eq!(of_unknown_row.notice().headline, ["Cannot be fully isolated"]);
}

/// Of an enclosure without a point nothing is known but what its rows tell.
#[test]
fn without_a_point_parts_add_nothing_to_the_largest_letters() {
    let lone = situation(&[], [stays_live(Some(Missing::CannotBeIsolated), &[])]);
    assert_eq!(lone.notice().headline, ["Isolation not known"]);
}

/// The one point and the device upstream are two to lock off.
#[test]
fn a_device_that_isolates_what_stays_live_is_locked_off_too() {
    let closing = |isolated_at| situation(&["Q1"], [stays_live(None, isolated_at)]).notice().closing;
    assert_eq!(closing(&[("Q0", "Intake")]), ["Lock off each. Prove dead before work."]);
    assert_eq!(closing(&[("Q1", "in PP-1")]), ["Lock off. Prove dead before work."]);
    let mut without_means = situation(&["Q1"], [stays_live(None, &[("Q0", "Intake")])]);
    without_means.decision.points[0].locking = Some("none".to_owned());
    assert_eq!(without_means.notice().closing, ["Secure each off. Prove dead before work."]);
}

/// `Isolate at Q1` above the words that no one device isolates would say that one does.
#[test]
fn the_largest_letters_count_what_isolates_the_parts_that_stay_live() {
    let headline = |devices: &[&str], isolated_at: &[(&str, &str)]| {
        situation(devices, [Statement::SeveralIsolators, stays_live(None, isolated_at)]).notice().headline
    };
    assert_eq!(headline(&["Q1"], &[("Q0", "Intake")]), ["Isolate at both points"]);
    assert_eq!(headline(&["Q1", "Q2"], &[("Q0", "Intake")]), ["Isolate at all 3 points"]);
    assert_eq!(headline(&["Q1"], &[("Q1", "in PP-1")]), ["Isolate at Q1"], "the point itself");
    assert_eq!(headline(&[], &[("Q0", "Intake")]), ["Isolation not known"]);
}
