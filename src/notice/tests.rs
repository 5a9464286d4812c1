//! Notices word by word: each case is a decision and the text that an electrician would read.

mod code_text;
mod devices;
mod issues;
mod links;
mod order;
mod properties;
mod reach;
mod situations;
mod sources;
mod standing;

use crate::network::Proof;
use crate::rules::{
    Clause, Confidence, Decision, Decisions, Outcome, PointOfIsolation, Reason, Rule, SourceIsolation, Statement,
    Voltage, Voltages,
};
use crate::survey::value::{Current, DeviceRef, Isolation, RecordLink, Volts};
use crate::survey::{Enclosure, ReadOptions, Row, Survey, read};
use crate::wording::Wording;

use super::*;

fn english_and_german() -> Wording {
    Wording::new(&["en".to_owned(), "de".to_owned()], &[]).unwrap().0
}

/// An enclosure with one row and nothing more than the needed columns.
fn template() -> Enclosure {
    let text = "enclosure,circuit,voltage_to_earth,isolator,isolator_location\nCH3-JB1,DB-C/7,230,Q7,Switchroom 1\n";
    read(text.as_bytes(), &ReadOptions::new("survey.csv")).survey.enclosures.remove(0)
}

fn row(circuit: &str, fed_from: &str, device: &str, location: &str) -> Row {
    let device = DeviceRef { designation: device.into(), location: location.into() };
    Row {
        circuit: circuit.into(),
        fed_from: Some(fed_from.into()),
        isolation: Some(Isolation::By(vec![device].into())),
        ..template().rows.remove(0)
    }
}

fn enclosure(designation: &str, rows: Vec<Row>) -> Enclosure {
    Enclosure { designation: designation.to_owned(), rows, ..template() }
}

fn point(device: &str, location: &str, serves: &[&str]) -> PointOfIsolation {
    PointOfIsolation {
        device: device.to_owned(),
        location: location.to_owned(),
        kind: None,
        locking: None,
        order: None,
        before: None,
        not_under_load: false,
        circuits: Vec::new(),
        serves: serves.iter().map(|&serves| serves.to_owned()).collect(),
        inside: false,
    }
}

fn volts(value: u32, current: Current) -> Voltage {
    Voltage { value: Volts::whole(value), current, bound: false }
}

fn reason(rule: Rule, outcome: Outcome) -> Reason {
    const CLAUSE: Clause = Clause { reference: "BS 7671 514.11.1", confidence: Confidence::Secondary };
    Reason { rule, clause: Some(&CLAUSE), outcome }
}

/// An enclosure with its decision, about to be composed.
#[derive(Clone, Debug)]
struct Situation {
    enclosure: Enclosure,
    decision: Decision,
    options: NoticeOptions,
}

impl Situation {
    /// An enclosure with points of isolation, one row for each, all from different boards, 230 V to earth.
    fn new(designation: &str, points: Vec<PointOfIsolation>) -> Self {
        let row_of = |(number, point): (usize, &PointOfIsolation)| {
            row(&format!("C{number}"), &format!("DB-{number}"), &point.device, &point.location)
        };
        let rows = points.iter().enumerate().map(row_of).collect();
        let to_earth = vec![volts(230, Current::Ac)];
        let decision = Decision {
            enclosure: 0,
            need: Outcome::Required,
            reasons: Vec::new(),
            statements: Vec::new(),
            points,
            locations_left_out: false,
            voltages: Voltages { to_earth, ..Voltages::default() },
            single_device: None,
            proof: Proof::unknown(),
        };
        Self { enclosure: enclosure(designation, rows), decision, options: NoticeOptions::default() }
    }

    fn states(mut self, statements: impl IntoIterator<Item = Statement>) -> Self {
        self.decision.statements.extend(statements);
        self
    }

    fn because(mut self, rule: Rule, outcome: Outcome) -> Self {
        self.decision.reasons.push(reason(rule, outcome));
        self
    }

    fn decided(&self) -> (Survey, Decisions) {
        let mut survey = Survey::default();
        survey.enclosures.push(self.enclosure.clone());
        (survey, Decisions { enclosures: vec![self.decision.clone()], ..Decisions::default() })
    }

    fn composed_in(&self, wording: &Wording) -> (Vec<Notice>, Vec<crate::finding::Finding>) {
        let (survey, decisions) = self.decided();
        compose(&survey, &decisions, wording, &self.options)
    }

    fn composed(&self) -> (Vec<Notice>, Vec<crate::finding::Finding>) {
        self.composed_in(&Wording::english())
    }

    fn notice(&self) -> Notice {
        let (notices, findings) = self.composed();
        assert_eq!(findings, []);
        notices.into_iter().next().unwrap()
    }

    fn lines(&self) -> Vec<String> {
        self.notice().lines()
    }
}

fn isolated(source: &str, devices: &[(&str, &str)]) -> SourceIsolation {
    let devices = devices.iter().map(|(device, place)| ((*device).to_owned(), (*place).to_owned()));
    SourceIsolation { source: source.to_owned(), isolated_at: devices.collect(), missing: None }
}

fn two_supplies() -> Statement {
    Statement::SeveralSupplies { supplies: vec!["DB-C".to_owned(), "DB-D".to_owned()] }
}

fn three_supplies() -> Statement {
    Statement::SeveralSupplies { supplies: ["DB-C", "DB-D", "UPS-1"].map(str::to_owned).to_vec() }
}
