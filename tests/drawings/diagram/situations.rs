//! The situations that a practitioner meets, each with what its diagram must show.

use std::path::Path;

use noticewright::network::{Carrier, Gap, LivePath, Proof, ProofResult};
use noticewright::writers::svg::svg;

use super::flawless::faults;
use super::{Site, heavy_strokes, numbers, words};

const INTAKE: [&str; 3] = [
    "Network,source,,Street,230/400,TN-C-S,",
    "F0,network-cutout,Network,Intake room,,,",
    "Q0,switch-disconnector,F0,Intake room,,,",
];

fn with_intake<'a>(rows: &[&'a str]) -> Vec<&'a str> {
    INTAKE.iter().copied().chain(rows.iter().copied()).collect()
}

fn one_isolator() -> Site {
    Site::of(
        &[
            "CH1-JB1,Evaporator junction box,Chamber 1,DB-C/1,fan,DB-C,mains,230/400,230,Q1,\"Switchroom 1, board C\",breaker,3,",
        ],
        &with_intake(&[
            "MSB,busbar,Q0,Switchroom 1,,,",
            "QM3,breaker,MSB,\"Switchroom 1, main board\",,,",
            "DB-C,busbar,QM3,Switchroom 1,,,",
            "Q1,breaker,DB-C,\"Switchroom 1, board C\",,,",
        ]),
    )
}

fn five_isolators() -> Site {
    let rows = [
        "CH5-JB1,Evaporator junction box,Chamber 5,DB-C/5,defrost heater,DB-C,mains,230/400,230,Q5,\"Switchroom 1, board C\",breaker,3,",
        "CH5-JB1,,,DB-D/2,fans,DB-D,mains,230/400,230,Q2,\"Chamber 3 lobby, board D\",breaker,3,",
        "CH5-JB1,,,DB-C/6,probe heater,DB-C,mains,230,230,Q6,\"Switchroom 1, board C\",breaker,1+N,",
        "CH5-JB1,,,DB-F/1,valve,DB-F,mains,230,230,Q1,\"Plant room, board F\",fuse,1+N,",
        "CH5-JB1,,,DB-D/9,door heater,DB-D,mains,230,230,Q9,\"Chamber 3 lobby, board D\",plug-socket,1+N,",
    ];
    Site::of(
        &rows,
        &with_intake(&[
            "MSB,busbar,Q0,Switchroom 1,,,",
            "DB-C,busbar,MSB,Switchroom 1,,,",
            "QM4,isolator,MSB,\"Switchroom 1, main board\",,,",
            "DB-D,busbar,QM4,Chamber 3 lobby,,,",
            "QM6,disconnector,MSB,\"Switchroom 1, main board\",,,",
            "DB-F,busbar,QM6,Plant room,,,",
            "Q5,breaker,DB-C,\"Switchroom 1, board C\",,,",
            "Q6,breaker,DB-C,\"Switchroom 1, board C\",,,",
            "Q2,breaker,DB-D,\"Chamber 3 lobby, board D\",,,",
            "Q9,plug-socket,DB-D,\"Chamber 3 lobby, board D\",,,",
            "Q1,fuse,DB-F,\"Plant room, board F\",,,",
        ]),
    )
}

fn changeover() -> Site {
    Site::of(
        &[
            "ESP-1,Essential panel,Switchroom 2,ESB/1,pumps,ESB,mains,230/400,230,QE1,Switchroom 2,switch-disconnector,3+N,",
        ],
        &with_intake(&[
            "GEN,source,,Generator house,230/400,TN-S,",
            "QG1,breaker,GEN,Generator house,,,",
            "CO1,changeover,Q0 + QG1,Switchroom 2,,,no",
            "ESB,busbar,CO1,Switchroom 2,,,",
            "QE1,switch-disconnector,ESB,Switchroom 2,,,",
        ]),
    )
}

fn ups_with_bypass() -> Site {
    Site::of(
        &[
            "RK-1,Network rack 1,Comms room,UPS-1/1,left power strip,UPS-DB,ups,230,230,QU1,\"Comms room, UPS output\",breaker,1+N,",
            "RK-1,,,MSB/7,right power strip,MSB,mains,230,230,Q7,Switchroom 1,breaker,1+N,",
        ],
        &with_intake(&[
            "MSB,busbar,Q0,Switchroom 1,,,",
            "QE2,breaker,MSB,Switchroom 1,,,",
            "UPS-1,ups,QE2,Comms room,230/400,TN-S,",
            "QE4,breaker,MSB,Switchroom 1,,,",
            "SB1,changeover,UPS-1 + QE4,\"Comms room, bypass\",,,yes",
            "UPS-DB,busbar,SB1,Comms room,,,",
            "QU1,breaker,UPS-DB,\"Comms room, UPS output\",,,",
            "Q7,breaker,MSB,Switchroom 1,,,",
        ]),
    )
}

fn solar_back_feed() -> Site {
    Site::of(
        &["CMP-1,Compressor,Plant room,MSB/4,motor,MSB,mains,230/400,230,Q0,Intake room,switch-disconnector,3+N,"],
        &with_intake(&[
            "MSB,busbar,Q0,Switchroom 1,,,",
            "QM9,breaker,MSB,Switchroom 1,,,",
            "DB-R,busbar,QM9,Roof,,,",
            "Solar 1,source,,Roof,600 dc,unearthed,",
            "QD1,disconnector,Solar 1,Roof,,,",
            "INV-1,converter,QD1,Roof,230/400,TN-S,",
            "Q10,breaker,INV-1,Roof,,,",
            "DB-S,busbar,DB-R + Q10,Roof,,,",
        ]),
    )
}

fn borrowed_neutral() -> Site {
    Site::of(
        &["LJB-1,Lighting junction box,Dock,DB-C/7,lights,DB-C,mains,230,230,Q7,Switchroom 1,breaker,1,DB-C/9"],
        &with_intake(&[
            "DB-C,busbar,Q0,Switchroom 1,,,",
            "Q7,breaker,DB-C,Switchroom 1,,,",
            "DB-C/9,breaker,DB-C,Switchroom 1,,,",
        ]),
    )
}

fn twelve_rows() -> Site {
    let rows: Vec<String> = (1..=12)
        .map(|row| {
            let board = ["DB-A", "DB-B", "DB-C"][row % 3];
            let name = if row == 1 { "Marshalling panel,Chamber 6" } else { "," };
            format!("MP-6,{name},{board}/{row},heater {row},{board},mains,230,230,Q{row},Room {},breaker,1+N,", row % 3)
        })
        .collect();
    let rows: Vec<&str> = rows.iter().map(String::as_str).collect();
    let devices: Vec<String> = (1..=12)
        .map(|row| format!("Q{row},breaker,{},Room {},,,", ["DB-A", "DB-B", "DB-C"][row % 3], row % 3))
        .collect();
    let boards = ["DB-A,busbar,Q0,Room 0,,,", "DB-B,busbar,Q0,Room 1,,,", "DB-C,busbar,Q0,Room 2,,,"];
    let supplies: Vec<&str> = boards.into_iter().chain(devices.iter().map(String::as_str)).collect();
    Site::of(&rows, &with_intake(&supplies))
}

fn long_names() -> Site {
    let place = "First floor plant room by the north stair motor control centre 3 compartment 14";
    let supplies = [
        format!("DB-00012-A-MOTOR-CONTROL-CENTRE-OF-THE-NORTH-WING,busbar,Q0,{place},,,"),
        format!("DB-00012-A/Q7.14.2,breaker,DB-00012-A-MOTOR-CONTROL-CENTRE-OF-THE-NORTH-WING,{place},,,"),
    ];
    let supplies: Vec<&str> = supplies.iter().map(String::as_str).collect();
    let row = format!(
        "CH3-JB2-EVAPORATOR-JUNCTION-BOX-OF-CHAMBER-THREE-NORTH,Evaporator junction box of the third chamber beside the north stair,\
         Cold store building 1 ground floor north,DB-00012-A/7.14.2,supply and extract fans with their anti-condensation heaters,\
         DB-00012-A-MOTOR-CONTROL-CENTRE-OF-THE-NORTH-WING,mains,230/400,230,DB-00012-A/Q7.14.2,{place},breaker,3,"
    );
    Site::of(&[&row], &with_intake(&supplies))
}

fn survey_only() -> Site {
    Site::of(
        &[
            "CH3-JB1,Evaporator junction box,Chamber 3,DB-C/7,fan,DB-C,mains,230/400,230,Q7,\"Switchroom 1, board C\",breaker,3,",
            "CH3-JB1,,,DB-D/12,defrost heater,,,230/400,230,Q12,\"Chamber 3 lobby, board D\",breaker,3,",
            "CH3-JB1,,,X/1,alarm,,,230,230,?,,,,",
            "CH3-JB1,,,X/2,door heater,DB-D,,230,230,none,,,,",
        ],
        &[],
    )
}

fn every_symbol() -> Site {
    let kinds = ["isolator", "disconnector", "link", "fuse", "plug-socket", "switch", "transformer", "converter"];
    let chain = kinds.iter().enumerate().map(|(place, kind)| {
        let from = if place == 0 { "Wind".to_owned() } else { format!("K{}", place - 1) };
        format!("K{place},{kind},{from},Room {place},,,")
    });
    let supplies: Vec<String> = [
        "Wind,source,,Mast,230/400,TT,".to_owned(),
        "Battery 1,source,,Battery room,48 dc,pole-earthed,".to_owned(),
        "Vehicle 1,source,,Car park,230,TT,".to_owned(),
        "UPS feed,source,,Comms room,230,TN-S,".to_owned(),
    ]
    .into_iter()
    .chain(chain)
    .chain([
        "CO9,changeover,K7 + Battery 1 + Vehicle 1 + UPS feed,Room 9,,,yes".to_owned(),
        "Q1,switch-disconnector,CO9,Room 9,,,".to_owned(),
    ])
    .collect();
    let supplies: Vec<&str> = supplies.iter().map(String::as_str).collect();
    let kept: Vec<String> = (0..6)
        .map(|place| format!("E1,Test panel,Room 9,C/{place},load {place},CO9,,230,230,K{place},Room {place},,,"))
        .chain(["E1,,,C/9,all,CO9,,230,230,Q1,Room 9,switch-disconnector,3,".to_owned()])
        .collect();
    let kept: Vec<&str> = kept.iter().map(String::as_str).collect();
    Site::of(&kept, &supplies)
}

fn all() -> Vec<(&'static str, Site)> {
    vec![
        ("diagram-one-isolator", one_isolator()),
        ("diagram-five-isolators", five_isolators()),
        ("diagram-changeover", changeover()),
        ("diagram-ups", ups_with_bypass()),
        ("diagram-solar", solar_back_feed()),
        ("diagram-neutral", borrowed_neutral()),
        ("diagram-inverter", back_to_the_inverter()),
        ("diagram-twelve-rows", twelve_rows()),
        ("diagram-long-names", long_names()),
        ("diagram-survey-only", survey_only()),
        ("diagram-symbols", every_symbol()),
    ]
}

#[test]
#[expect(clippy::disallowed_methods, reason = "pictures to look at, in the build folder")]
fn no_situation_has_a_fault() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("target/gallery");
    std::fs::create_dir_all(&folder).unwrap();
    let mut wrong = Vec::new();
    for (name, site) in all() {
        let drawing = site.drawing(0);
        std::fs::write(folder.join(format!("{name}.svg")), svg(&drawing, name)).unwrap();
        wrong.extend(faults(&drawing).iter().map(|fault| format!("{name}: {fault}")));
        assert_eq!(numbers(&drawing).len(), site.decision().points.len(), "{name}: every point once");
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn points_bear_the_numbers_of_the_notice() {
    let site = five_isolators();
    let mut shown = numbers(&site.drawing(0));
    shown.sort();
    assert_eq!(shown, ["1", "2", "3", "4", "5"]);
    let tree = site.tree();
    for (place, point) in site.decision().points.iter().enumerate() {
        assert!(tree.contains(&format!("[{}] {} ({})", place + 1, point.device, point.location)), "{tree}");
    }
}

#[test]
fn every_drawing_warns_that_it_proves_nothing() {
    for (name, site) in all() {
        let words = words(&site.drawing(0)).join(" ");
        assert!(words.contains("does not make anything dead") && words.contains("prove dead"), "{name}");
        for reassuring in ["safe", "is dead", "isolated and dead"] {
            assert!(!words.contains(reassuring), "{name} says `{reassuring}`");
        }
    }
}

#[test]
fn a_branch_that_feeds_back_is_drawn_and_written() {
    let site = solar_back_feed();
    let words = words(&site.drawing(0));
    for name in ["Solar 1", "INV-1", "Q10", "DB-S", "QM9"] {
        assert!(words.iter().any(|word| word == name), "{name} is missing in {words:?}");
    }
    assert!(site.tree().contains("can feed back: QM9"), "{}", site.tree());
}

/// An inverter's box: its string, and the way by which the main board comes back to it.
fn back_to_the_inverter() -> Site {
    Site::of(
        &[
            "INV-1,Solar inverter 1,Roof,PV/1,string 1,Solar 1,solar,600 dc,600,QD1,Roof,disconnector,2,",
            "INV-1,,,MSB/10,a.c. side,MSB,mains,230/400,230,QPV1,Roof,switch-disconnector,3+N,",
        ],
        &with_intake(&[
            "MSB,busbar,Q0 + QPV1,Switchroom 1,,,",
            "Solar 1,source,,Roof,600 dc,unearthed,",
            "QD1,disconnector,Solar 1,Roof,,,",
            "INV-1,converter,QD1,Roof,230/400,TN-S,",
            "QPV1,switch-disconnector,INV-1,Roof,,,",
        ]),
    )
}

#[test]
fn energy_that_comes_back_through_an_isolator_is_drawn_from_above() {
    let site = back_to_the_inverter();
    let tree = site.tree();
    let row = tree.split("circuit MSB/10").nth(1).unwrap();
    let place = |name: &str| row.find(name).unwrap_or_else(|| panic!("{name} is missing in {tree}"));
    assert!(place("[2] QPV1") < place("MSB") && place("MSB") < place("Network"), "{tree}");
    // The inverter is on the enclosure's side of that isolator, not behind it.
    assert!(place("INV-1") < place("[2] QPV1"), "{tree}");
    assert_eq!(row.matches("INV-1").count(), 1, "{tree}");
    let drawing = site.drawing(0);
    assert_eq!(numbers(&drawing).len(), 2);
    assert!(faults(&drawing).is_empty(), "{:?}", faults(&drawing));
}

#[test]
fn a_live_path_is_heavy_and_said() {
    let site = one_isolator();
    let quiet = Proof { result: ProofResult::NoPathFound, ..Proof::unknown() };
    let drawing = site.drawing_with(quiet);
    assert_eq!(heavy_strokes(&drawing), 0);
    assert!(!words(&drawing).iter().any(|word| word == "still live"));
    let nodes = ["Network", "F0", "Q0", "MSB", "QM3", "DB-C", "Q1"].map(|name| site.node(name)).to_vec();
    let path = LivePath { way: site.way(0), carrier: Carrier::Lines, nodes };
    let live = Proof { result: ProofResult::Live, paths: vec![path], ..Proof::unknown() };
    let drawing = site.drawing_with(live);
    // At least one heavy stroke for each of the six feeds and for the row itself.
    assert!(heavy_strokes(&drawing) >= 7, "{}", heavy_strokes(&drawing));
    let said = words(&drawing).join("\n");
    assert!(said.contains("still live") && said.contains("Live path found with 1 open"), "{said}");
    assert!(faults(&drawing).is_empty(), "{:?}", faults(&drawing));
}

#[test]
fn unknown_ends_are_called_so() {
    let drawing = survey_only().drawing(0);
    let words = words(&drawing);
    assert!(words.iter().filter(|word| *word == "not described").count() >= 2, "{words:?}");
    for part in ["isolator not known", "cannot be isolated", "still live", "by the survey alone"] {
        assert!(words.iter().any(|word| word == part), "{part} is missing in {words:?}");
    }
    assert!(words.join(" ").contains("Without a supplies file"));
    let site = one_isolator();
    let gap = Gap::PolesNotSaid(site.node("Q1"), site.way(0));
    let said = super::words(&site.drawing_with(Proof { gaps: vec![gap], ..Proof::unknown() })).join(" ");
    assert!(
        said.contains("Unknown whether live parts remain with 1 open")
            && said.contains("Q1 parts 3 lines, and more may come"),
        "{said}"
    );
    assert!(said.contains("not known"), "{said}");
}

#[test]
fn a_shared_neutral_has_its_own_line() {
    let site = borrowed_neutral();
    assert!(words(&site.drawing(0)).join(" ").contains("shares the neutral of DB-C/9"));
    assert!(site.tree().contains("its neutral is shared with DB-C/9"), "{}", site.tree());
}

#[test]
fn shared_parts_are_written_once() {
    let tree = five_isolators().tree();
    assert_eq!(tree.matches("Network (Street)").count(), 1, "{tree}");
    assert!(tree.contains("DB-D (Chamber 3 lobby), board, see above"), "{tree}");
    assert!(tree.contains("network operator's cut-out, not yours to open"), "{tree}");
}

/// So many devices in a row, then the isolator.
fn chain(length: usize) -> Site {
    let supplies: Vec<String> = std::iter::once("K0,source,,,230/400,TN-S,".to_owned())
        .chain((1..=length).map(|place| format!("K{place},isolator,K{},,,,", place - 1)))
        .collect();
    let supplies: Vec<&str> = supplies.iter().map(String::as_str).collect();
    Site::of(&[&format!("E1,,,C/1,,K{length},,230/400,230,K{length},,,,")], &supplies)
}

#[test]
fn a_long_chain_is_shortened_and_the_count_is_said() {
    let site = chain(20);
    assert!(site.tree().contains("15 devices more, one feeding the next"), "{}", site.tree());
    let drawing = site.drawing(0);
    assert!(words(&drawing).iter().any(|word| word == "15 devices more"));
    assert!(faults(&drawing).is_empty());
    // The source, four devices, the isolator; and what was counted.
    assert_eq!(site.tree().lines().count(), 8, "{}", site.tree());
}

#[test]
fn a_chain_of_a_hundred_thousand_devices_stays_small() {
    let site = chain(99_000);
    assert!(site.tree().lines().count() < 12);
    assert!(site.drawing(0).size.height.to_mm() < 300.0);
}

#[test]
fn a_very_large_network_stays_readable_and_says_what_is_left_out() {
    let boards = (0..60).map(|board| format!("DB-{board},busbar,{},Room {board},,,", feeds(board)));
    let isolators = (0..300).map(|place| format!("Q{place},breaker,DB-{},Room {},,,", place / 5, place / 5));
    let solar = (0..40).flat_map(|place| {
        [format!("Solar {place},source,,Roof,230/400,TN-S,"), format!("QPV{place},breaker,Solar {place},Roof,,,")]
    });
    let backs = (0..40).map(|place| format!("RB{place},busbar,Q{} + QPV{place},Roof,,,", place * 5 + 1));
    let supplies: Vec<String> = std::iter::once("N,source,,Street,230/400,TN-S,".to_owned())
        .chain(boards)
        .chain(isolators)
        .chain(solar)
        .chain(backs)
        .collect();
    let supplies: Vec<&str> = supplies.iter().map(String::as_str).collect();
    let rows: Vec<String> =
        (0..12).map(|row| format!("E1,,,C/{row},,DB-59,,230,230,Q{},Room 59,,,", 295 + row % 5)).collect();
    let rows: Vec<&str> = rows.iter().map(String::as_str).collect();
    let site = Site::of(&rows, &supplies);
    let drawing = site.drawing(0);
    let said = words(&drawing).join(" ");
    assert!(said.contains("sources more could feed back and are not drawn"), "{said}");
    assert!(said.contains("devices and boards more"), "{said}");
    assert!(faults(&drawing).is_empty(), "{:?}", faults(&drawing));
    assert!(drawing.size.width.to_mm() < 1_500.0 && drawing.size.height.to_mm() < 1_500.0, "{}", drawing.size);
}

/// Each board is fed from two earlier ones, so that nothing is a chain.
fn feeds(board: usize) -> String {
    match board {
        0 => "N".to_owned(),
        1 => "DB-0".to_owned(),
        _ => format!("DB-{} + DB-{}", board - 1, board - 2),
    }
}
