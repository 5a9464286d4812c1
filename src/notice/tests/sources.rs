//! What a notice says of the sources of an installation, and of where each is isolated.

use super::*;
use crate::rules::{Missing, SourceScope};

/// A notice of several sources: its line with the designation, and what it says beside.
fn said_of_sources(
    scope: SourceScope,
    sources: Vec<SourceIsolation>,
    others: &[&str],
    more_possible: bool,
) -> (String, Vec<String>) {
    let points = vec![point("IS1", "Intake room", &[]), point("QPV1", "Roof", &[]), point("QPV2", "Roof", &[])];
    let others = others.iter().map(|&other| other.to_owned()).collect();
    let statement = Statement::AlternativeSource { scope, sources, others, more_possible };
    let notice = Situation::new("MSB", points).states([statement]).notice();
    (notice.statement[0].clone(), notice.cautions.into_iter().map(|caution| caution[0].clone()).collect())
}

#[test]
fn sources_that_meet_are_named_with_the_devices_listed_above() {
    let sources = vec![
        isolated("mains", &[("IS1", "Intake room")]),
        isolated("solar", &[("QPV1", "Roof"), ("QPV2", "Roof")]),
        isolated("generator", &[("QG1", "Generator house")]),
    ];
    let (statement, cautions) = said_of_sources(SourceScope::Here, sources, &[], false);
    assert_eq!(statement, "MSB: mains, solar and generator meet here");
    assert_eq!(
        cautions,
        ["Isolate each source: mains at IS1; solar at QPV1 and QPV2; generator at QG1 (Generator house)"]
    );
}

/// The same designation in another place is another device, and its place must be read.
#[test]
fn every_source_of_the_installation_is_named_with_its_place() {
    let sources = vec![
        isolated("mains", &[("IS1", "Gatehouse")]),
        isolated("solar", &[("QD1", "Roof, box 1"), ("QD2", "Roof, box 1"), ("QD3", "Roof, box 2")]),
        isolated("ups", &[]),
    ];
    let (statement, cautions) = said_of_sources(SourceScope::Installation, sources, &[], true);
    assert_eq!(statement, "MSB: mains, solar and UPS supply this installation");
    assert_eq!(
        cautions,
        [
            "Isolate each source of this installation: mains at IS1 (Gatehouse); solar at QD1 and QD2 (Roof, box 1) and \
             QD3 (Roof, box 2); UPS (where is not known)",
            "Further sources may supply this installation",
        ]
    );
}

#[test]
fn what_the_devices_of_a_source_do_not_isolate_is_said() {
    let missing = |devices: &[(&str, &str)], missing| {
        let source = SourceIsolation { missing: Some(missing), ..isolated("battery", devices) };
        let (_, cautions) = said_of_sources(SourceScope::Here, vec![source, isolated("", &[("QX", "")])], &[], false);
        cautions[0]
            .strip_prefix("Isolate each source: ")
            .unwrap()
            .strip_suffix("; a source not known at QX")
            .unwrap()
            .to_owned()
    };
    let at = [("QB", "Yard")];
    assert_eq!(missing(&at, Missing::Elsewhere), "battery at QB (Yard) and elsewhere");
    assert_eq!(missing(&at, Missing::NotKnown), "battery at QB (Yard) and elsewhere");
    assert_eq!(missing(&at, Missing::CannotBeIsolated), "battery at QB (Yard) (not all of it can be isolated)");
    assert_eq!(missing(&[], Missing::Elsewhere), "battery elsewhere too");
    assert_eq!(missing(&[], Missing::NotKnown), "battery (where is not known)");
    assert_eq!(missing(&[], Missing::CannotBeIsolated), "battery (cannot be isolated)");
}

#[test]
fn other_sources_are_named_where_their_places_stand_elsewhere() {
    let solar = vec![isolated("solar", &[("QPV1", "Roof")])];
    let (statement, cautions) = said_of_sources(SourceScope::PointOfIsolation, solar, &["mains", "generator"], false);
    assert_eq!(statement, "MSB: point of isolation of solar");
    assert_eq!(cautions, ["Other sources supply this installation: mains and generator"]);
    let (statement, cautions) = said_of_sources(SourceScope::NotSaid, Vec::new(), &["mains", "W1"], true);
    assert_eq!(statement, "MSB: mains and W1 supply this installation");
    assert_eq!(cautions, ["Further sources may supply this installation"]);
    let (statement, cautions) = said_of_sources(SourceScope::NotSaid, Vec::new(), &["mains"], true);
    assert_eq!(statement, "MSB: more than one source may supply this installation");
    assert_eq!(cautions, [""; 0]);
}

#[test]
fn several_sources_beside_a_stronger_statement() {
    let beside = |others: &[&str]| {
        let others = others.iter().map(|&other| other.to_owned()).collect();
        let scope = SourceScope::NotSaid;
        let statement = Statement::AlternativeSource { scope, sources: Vec::new(), others, more_possible: false };
        Situation::new("JB1", vec![point("Q1", "Lobby", &[])]).states([statement, two_supplies()]).notice().cautions
    };
    assert_eq!(beside(&["mains", "solar"]), [["More than one source supplies this installation: mains and solar"]]);
    assert_eq!(beside(&["mains"]), [["More than one source may supply this installation"]]);
}

/// What feeds a heater may be a third supply; the incoming terminals of an isolator listed are fed by its own.
#[test]
fn two_supplies_and_a_part_that_is_fed_otherwise_are_not_called_two() {
    let statement = |part: &str| {
        let (part, isolated_at) = (part.to_owned(), vec![("Q1".to_owned(), "Board H".to_owned())]);
        let stays_live = Statement::LineSideLive { part, isolated_at, missing: None };
        let supplies = Statement::SeveralSupplies { supplies: vec!["DB-C".to_owned(), "DB-D".to_owned()] };
        let points = vec![point("Q7", "in JB-1", &[]), point("Q8", "in JB-1", &[])];
        Situation::new("JB-1", points).states([supplies, stays_live]).notice().statement
    };
    assert_eq!(statement("incoming terminals of Q7; line side of Q8"), ["Two supplies inside JB-1"]);
    assert_eq!(statement("crankcase heater"), ["More than one supply inside JB-1"]);
    assert_eq!(statement("incoming terminals of Q7; crankcase heater"), ["More than one supply inside JB-1"]);
}

/// Two devices of one name, in different places, are named once.
#[test]
fn isolators_of_one_name_that_leave_parts_live_are_named_once() {
    let points = vec![point("Q7", "in JB-1", &[]), point("Q7", "Board C", &[])];
    let notice = Situation::new("JB-1", points).states([Statement::IsolatorsLeaveParts]).notice();
    assert_eq!(notice.statement, ["Q7 alone does not isolate JB-1"]);
}
