//! Notices to set: an invented cold store.

use noticewright::length::{Length, Size};
use noticewright::notice::{Fingerprint, Notice, NoticeFigure, NoticePoint, Said, Subject};
use noticewright::rules::LeastPlate;
use noticewright::survey::value::Environment;

pub(crate) fn mm(width: f64, height: f64) -> Size {
    Size::new(Length::mm(width), Length::mm(height))
}

pub(crate) const A8: (f64, f64) = (74.0, 52.0);
pub(crate) const A7: (f64, f64) = (105.0, 74.0);
pub(crate) const A6: (f64, f64) = (148.0, 105.0);
pub(crate) const A5: (f64, f64) = (210.0, 148.0);
pub(crate) const A4: (f64, f64) = (297.0, 210.0);
pub(crate) const A3: (f64, f64) = (420.0, 297.0);

pub(crate) fn said(text: &str) -> Said {
    vec![text.to_owned()].into()
}

pub(crate) fn point(designation: &str, place: &str, serves: &str) -> NoticePoint {
    NoticePoint { designation: designation.into(), place: place.into(), serves: serves.into(), remarks: Vec::new() }
}

const POINTS: [(&str, &str, &str); 12] = [
    ("Q7", "Switchroom 1, board C", "fan"),
    ("Q12", "Chamber 3 lobby, board D", "defrost heater"),
    ("QU2", "Comms room, UPS output", "probe heater"),
    ("Q3", "Switchroom 2, board A", "lighting"),
    ("Q21", "Plant room, board M", "drain heater"),
    ("Q22", "Plant room, board M", "door heater"),
    ("QS4", "Roof, inverter 2", "solar feed"),
    ("Q5", "Chamber 4 lobby, board E", "curtain heater"),
    ("Q6", "Chamber 4 lobby, board E", "alarm"),
    ("QG1", "Generator house", "standby feed"),
    ("Q31", "Dock 2, board F", "leveller"),
    ("Q32", "Dock 2, board F", "shelter lamp"),
];

pub(crate) fn long_points() -> Vec<NoticePoint> {
    vec![
        point(
            "DB-00012-A/7",
            "First floor plant room by the north stair, motor control centre 3, compartment 14",
            "supply fan",
        ),
        point("DB-00014-B/11", "Basement switchroom behind the loading dock, distribution board 14-B", "frost heater"),
        point("UPS-2/Q1", "Communications room on the mezzanine, UPS output panel", "controls"),
    ]
}

/// A notice of so many points, read from 0.7 m.
pub(crate) fn notice(points: usize) -> Notice {
    let headline = match points {
        1 => "Isolate at Q7".to_owned(),
        2 => "Isolate at both points".to_owned(),
        count => format!("Isolate at all {count} points"),
    };
    Notice {
        number: "CH3-JB2/1".into(),
        subject: Subject::Enclosure,
        designation: "CH3-JB2".into(),
        name: "Evaporator junction box".into(),
        area: "Chamber 3".into(),
        position: String::new(),
        rules: Vec::new(),
        headline: said(&headline),
        statement: said(if points == 2 {
            "Two supplies inside CH3-JB2"
        } else {
            "More than one supply inside CH3-JB2"
        }),
        cautions: Vec::new(),
        points: POINTS.iter().take(points).map(|(device, place, serves)| point(device, place, serves)).collect(),
        figures: vec![
            NoticeFigure { figure: "230\u{a0}V".into(), meaning: said("to earth") },
            NoticeFigure { figure: "400\u{a0}V".into(), meaning: said("between conductors") },
        ],
        closing: said("Lock off each. Prove dead before work."),
        small_line: "CH3-JB2/1 · rev B · 2026-11 · Saltmere cold store".into(),
        code_caption: said("Record"),
        tag: None,
        code: Some("https://records.example/CH3-JB2/1".into()),
        reading_distance: Length::mm(700.0),
        sign_distance: Length::mm(700.0),
        size: None,
        least: LeastPlate::default(),
        space: None,
        environment: Environment::default(),
        surface: None,
        revision: "B".into(),
        hashed: Fingerprint::default(),
    }
}

pub(crate) fn without_code(notice: Notice) -> Notice {
    Notice { code: None, code_caption: Said::new(), ..notice }
}

pub(crate) fn with_cautions(notice: Notice, count: usize) -> Notice {
    let all = [
        "Stored charge, 565\u{a0}V: wait 5 minutes after isolating",
        "Stays live after isolation: incoming terminals of Q7. Isolate at Q1 (Switchroom 1)",
        "Solar d.c. PV-2/1 may be live at any time, whatever is switched off elsewhere",
        "Back-feed from UPS-2 is possible: isolate UPS-2, then check for voltage",
        "May start without warning: generator G1. Inhibit starting first",
        "Isolate in the order shown",
    ];
    Notice { cautions: all.iter().take(count).map(|text| said(text)).collect(), ..notice }
}

pub(crate) fn with_remarks(mut notice: Notice) -> Notice {
    notice.points[1].remarks = vec![said("Do not open under load")];
    notice.points[2].remarks = vec![said("First: tell the lift users")];
    notice
}

/// In English and an unchecked German.
pub(crate) fn bilingual(notice: Notice) -> Notice {
    let both = |one: &str, two: &str| Said::from(vec![one.to_owned(), two.to_owned()]);
    Notice {
        headline: both("Isolate at all 3 points", "An allen 3 Stellen freischalten"),
        statement: both("More than one supply inside CH3-JB2", "Mehr als eine Einspeisung in CH3-JB2"),
        figures: vec![
            NoticeFigure { figure: "230\u{a0}V".into(), meaning: both("to earth", "gegen Erde") },
            NoticeFigure { figure: "400\u{a0}V".into(), meaning: both("between conductors", "zwischen Leitern") },
        ],
        closing: both("Lock off each. Prove dead before work.", "Jede Stelle sperren. Spannungsfreiheit prüfen."),
        ..notice
    }
}

/// What an isolator disconnects.
pub(crate) fn device(circuits: usize) -> Notice {
    let circuit = |(circuit, enclosure, serves): (&str, &str, &str)| point(circuit, enclosure, serves);
    let all = [
        ("DB-C/7", "CH3-JB2", "fan"),
        ("DB-C/8", "CH3-JB3", "fan"),
        ("DB-C/9", "CH4-JB1", "drain heater"),
        ("DB-C/11", "CP1", ""),
    ];
    Notice {
        number: "Q7@Switchroom 1, board C".into(),
        subject: Subject::Device,
        designation: "Q7".into(),
        name: String::new(),
        area: "Switchroom 1, board C".into(),
        headline: said("Q7"),
        statement: said(if circuits == 1 { "Disconnects this circuit" } else { "Disconnects these circuits" }),
        cautions: vec![said("Other supplies may remain")],
        points: all.into_iter().take(circuits).map(circuit).collect(),
        figures: Vec::new(),
        closing: Said::new(),
        small_line: "Q7 · rev B · 2026-11 · Saltmere cold store".into(),
        ..without_code(notice(0))
    }
}
