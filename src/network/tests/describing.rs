//! What the supplies file says of nodes and of the devices of a survey.

use super::super::testing::{described, joined, surveyed};
use super::super::{DescribedBy, DeviceId, EnclosureId, Named, Network, Neutral, NodeId, NodeKind};
use crate::survey::value::{DeviceKind, Poles, RecordLink};

const HEADER: &str = "enclosure,circuit,fed_from,voltage_to_earth,isolator,isolator_location";

fn network(header: &str, lines: &[&str], rows: &[&str]) -> Network {
    joined(&surveyed(HEADER, rows), &described(header, lines)).0
}

fn node_of_first_device(network: &Network) -> String {
    let node = network.device_node(DeviceId::new(0)).unwrap();
    match network.graph().node(node).unwrap().named {
        Named::Described(row) => format!("row {row}"),
        Named::Device(_) => "the survey's own".to_owned(),
        Named::Supply(_) | Named::Source(_) | Named::Mentioned(_) => panic!("no device"),
    }
}

#[test]
fn each_row_is_a_node_of_its_kind() {
    let lines = [
        "A,source,,",
        "B,network-cutout,A,",
        "C,breaker,B,",
        "D,isolator,C,",
        "E,switch,D,",
        "F,changeover,E,yes",
        "G,changeover,E,",
        "H,transformer,F,",
        "I,ups,H,",
        "J,converter,I,",
        "K,busbar,J,",
        "L,,K,",
    ];
    let network = network("device,kind,fed_from,off_position", &lines, &["E1,K,,230,?,"]);
    let kinds: Vec<_> = network.graph().nodes().iter().map(|node| node.kind).collect();
    let (off, on) = (NodeKind::Changeover { off_position: true }, NodeKind::Changeover { off_position: false });
    use NodeKind::{Busbar, Converter, Cutout, Isolator, NotKnown, Source, Switch, Transformer};
    let ups = NodeKind::Ups { own_battery: true };
    assert_eq!(
        kinds,
        [Source, Cutout, Isolator, Isolator, Switch, off, on, Transformer, ups, Converter, Busbar, NotKnown]
    );
    assert!(network.graph().nodes().iter().all(|node| node.described_by() == DescribedBy::SuppliesFile));
}

#[test]
fn where_a_neutral_begins_the_earthing_tells_whether_it_can_be_live() {
    let lines = [
        "Network,source,,TN-C-S",
        "Farm supply,source,,TT",
        "Generator 1,source,,TN-S",
        "Generator 2,source,,",
        "Vehicle,source,,",
        "Starting battery,source,,PELV",
        "TX1,transformer,Network,TN-S",
        "TX2,transformer,Network,IT",
        "TX3,transformer,Network,",
        "UPS-1,ups,TX1,TN-S",
        "UPS-2,ups,TX1,",
        "PSU-1,converter,TX1,PELV",
        "Q1,breaker,TX1,",
        "Barn,busbar,Q1,TT",
        "DB-A,busbar,Q1,TN-S",
    ];
    let network = network("device,kind,fed_from,earthing", &lines, &["E1,Q1,,230,?,"]);
    let neutrals: Vec<_> = network.graph().nodes().iter().map(|node| node.neutral).collect();
    use Neutral::{Earthed, MayBeLive, NotKnown, PassedOn};
    let expected = [
        Earthed, MayBeLive, Earthed, MayBeLive, NotKnown, Earthed, Earthed, MayBeLive, NotKnown, Earthed, MayBeLive,
        Earthed, PassedOn, MayBeLive, PassedOn,
    ];
    assert_eq!(neutrals, expected);
}

#[test]
fn what_is_held_in_step_with_an_earthed_source_has_its_neutral() {
    let lines = [
        "Network,source,,TN-C-S,",
        "Vehicle,source,,TT,Network",
        "INV,converter,PV,,Network",
        "PV,source,,unearthed,",
        "Generator 1,source,,,Network",
        "Island,source,,TT,PV",
    ];
    let network = network("device,kind,fed_from,earthing,in_step_with", &lines, &["E1,Network,,230,?,"]);
    let neutrals: Vec<_> = network.graph().nodes().iter().map(|node| node.neutral).collect();
    use Neutral::{Earthed, MayBeLive};
    assert_eq!(neutrals, [Earthed, Earthed, Earthed, MayBeLive, MayBeLive, MayBeLive]);
}

#[test]
fn a_battery_that_is_described_is_no_part_of_its_ups() {
    let own = |lines: &[&str]| {
        let network = network("device,kind,fed_from,nominal", lines, &["E1,C/1,U,230,?,"]);
        let NodeKind::Ups { own_battery } = network.graph().node(NodeId::new(0)).unwrap().kind else { panic!("a UPS") };
        own_battery
    };
    assert!(own(&["U,ups,M,", "M,source,,230/400"]));
    assert!(!own(&["U,ups,M + QB,", "M,source,,230/400", "UPS-BAT,source,,384 dc", "QB,breaker,UPS-BAT,"]));
    assert!(!own(&["U,ups,QB,", "Battery,source,,", "QB,fuse,Battery,"]));
    // A store on the main board, behind its own inverter, is not the battery of the UPS.
    let store = ["U,ups,MSB,", "MSB,busbar,INV,", "INV,converter,Battery,", "Battery,source,,600 dc"];
    assert!(own(&store));
    assert!(own(&["U,ups,MSB,", "MSB,busbar,Battery store,", "Battery store,source,,230/400"]));
    assert!(own(&["U,ups,MSB,", "MSB,busbar,Battery store,", "Battery store,source,,"]));
    assert!(own(&["U,ups,PV,", "PV,source,,600 dc"]));
}

#[test]
fn designation_and_location_find_a_device() {
    let lines = ["Q7,breaker,Board A", "Q7,breaker,Board B", "Q8,breaker,", "Q9,breaker,Board B"];
    let found = |isolator: &str| {
        node_of_first_device(&network("device,kind,location", &lines, &[&format!("E1,C/1,,230,{isolator}")]))
    };
    assert_eq!(found("q7,board  B"), "row 1");
    assert_eq!(found("Q7,Board C"), "the survey's own");
    assert_eq!(found("Q7,"), "the survey's own");
    assert_eq!(found("Q8,Board C"), "row 2");
    assert_eq!(found("Q9,"), "row 3");
    assert_eq!(found("Q9,Board A"), "the survey's own");
}

#[test]
fn inside_means_the_enclosure_of_the_row() {
    let lines = ["Q0,breaker,Switchroom 1 board B", "Q0,breaker,in E1"];
    let network = network("device,kind,location", &lines, &["E1,C/1,,230,Q0,inside", "E2,C/2,,230,Q0,inside"]);
    assert_eq!(network.device_node(DeviceId::new(0)), Some(NodeId::new(1)));
    assert_eq!(network.device(DeviceId::new(1)).unwrap().described_by, DescribedBy::Survey);
}

#[test]
fn the_file_fills_in_what_the_survey_leaves_open() {
    let lines = ["Q7,breaker,3+N,padlock,SCS-D-7", "Q8,isolator,3,key,"];
    let header = "device,kind,poles,locking,record_link";
    let survey_header = format!("{HEADER},device_kind");
    let rows = ["E1,C/1,,230,Q7,Board C,", "E1,C/2,,230,Q8,Board C,fuse"];
    let (network, _) = joined(&surveyed(&survey_header, &rows), &described(header, &lines));
    let [seven, eight] = network.devices() else { panic!("two devices") };
    let kind = seven.kind.as_ref().unwrap();
    assert_eq!((kind.value, kind.said), (DeviceKind::Breaker, None));
    assert_eq!(seven.poles.as_ref().unwrap().value, Poles { lines: 3, neutral: true });
    assert_eq!(*seven.locking.as_ref().unwrap().value, *"padlock");
    assert_eq!(seven.own_notice.as_ref().unwrap().record_link, RecordLink::Given("SCS-D-7".to_owned()));
    let kind = eight.kind.as_ref().unwrap();
    assert_eq!((kind.value, kind.said.map(|said| said.record)), (DeviceKind::Fuse, Some(1)));
}

#[test]
fn poles_of_a_node_are_the_files_or_else_the_surveys() {
    let survey_header = format!("{HEADER},poles");
    let rows = ["E1,C/1,,230,Q7,Board C,1", "E1,C/2,,230,Q8,Board C,2", "E1,C/3,,230,Q9,Board C,1+N"];
    let survey = surveyed(&survey_header, &rows);
    let (network, _) = joined(&survey, &described("device,kind,poles", &["Q7,breaker,3", "Q8,breaker,"]));
    let poles = |device| {
        let node = network.device_node(DeviceId::new(device)).unwrap();
        network.graph().node(node).unwrap().poles.unwrap()
    };
    let of = |lines, neutral| Poles { lines, neutral };
    assert_eq!([poles(0), poles(1), poles(2)], [of(3, false), of(2, false), of(1, true)]);
}

#[test]
fn one_handle_is_one_interlock_in_both_files() {
    let survey_header = format!("{HEADER},interlock,interlock_kind");
    let survey = surveyed(&survey_header, &["E1,C/1,,230,Q7,Board C,IL-1,coupled", "E1,C/2,,230,Q9,Board C,,"]);
    let lines = ["Q7,breaker,,", "Q8,breaker,il-1,coupled", "Q9,breaker,IL-1,no-parallel"];
    let (network, _) = joined(&survey, &described("device,kind,interlock,interlock_kind", &lines));
    let coupled: Vec<_> = network.graph().nodes().iter().map(|node| node.coupled).collect();
    assert!(coupled[0].is_some());
    assert_eq!(coupled[0], coupled[1]);
    assert_eq!(coupled[2], None);
    assert_eq!(network.interlocks().len(), 2);
    assert_eq!(network.interlock(coupled[0].unwrap()).unwrap().name, "IL-1");
}

#[test]
fn what_only_a_cell_names_is_a_node_of_its_own_and_one_thing_in_both_files() {
    let lines = ["Q1,breaker,Intake", "Q2,breaker,intake", "Q3,breaker,Yard"];
    let network = network("device,kind,fed_from", &lines, &["E1,C/1,Yard,230,Q1,Board C"]);
    let feeding = |row| network.graph().into_node(NodeId::new(row))[0].from;
    assert_eq!(feeding(0), feeding(1));
    let node = network.graph().node(feeding(0)).unwrap();
    assert_eq!((node.kind, node.described_by()), (NodeKind::NotKnown, DescribedBy::Survey));
    assert_eq!(network.node_name(feeding(0)), "Intake");
    assert!(matches!(network.graph().node(feeding(2)).unwrap().named, Named::Supply(_)));
    assert_eq!(network.ways(EnclosureId::new(0)).len(), 1);
}

#[test]
fn a_feed_is_found_by_designation_and_location() {
    let lines = ["Q1,breaker,,Board A", "Q1,breaker,,Board B", "X,busbar,Q1@board b,"];
    let network = network("device,kind,fed_from,location", &lines, &["E1,C/1,X,230,?,"]);
    assert_eq!(network.graph().into_node(NodeId::new(2))[0].from, NodeId::new(1));
    assert_eq!(network.node_name(NodeId::new(1)), "Q1 (Board B)");
    assert_eq!(network.node_name(NodeId::new(2)), "X");
}

#[test]
fn what_may_mean_several_is_never_taken_for_one_thing() {
    let lines = ["Q1,breaker,,Board A", "Q1,breaker,,Board B", "X,busbar,Q1,", "Y,busbar,Q1,"];
    let network = network("device,kind,fed_from,location", &lines, &["E1,C/1,X,230,?,"]);
    let feeding = |row| network.graph().into_node(NodeId::new(row))[0].from;
    assert_ne!(feeding(2), feeding(3));
    assert_eq!(network.graph().node(feeding(2)).unwrap().kind, NodeKind::NotKnown);
    assert_eq!(network.graph().out_of_node(NodeId::new(0)), []);
}
