//! What is tried on site before a notice is fixed: its isolators, with what must be read before each, and the proof.

use super::row::Row;
use super::strong_text;
use crate::notice::{Notice, Subject, Told};
use crate::pages::{Cell, Inside};
use crate::rules::elsewhere::BackFeeding;
use crate::rules::sequence::Sequence;
use crate::rules::{Decision, DeviceDecision, Disconnects, Statement};

/// A box for each isolator that the notice names, and one for proving.
pub(super) fn cell(row: &Row<'_>) -> Cell {
    match (row.notice.subject, &row.told, &row.device) {
        (Subject::Enclosure, Some((decision, told)), _) => enclosure(decision, told),
        (Subject::Device, _, Some((decision, before))) => isolator(row.notice, decision, before),
        _ => vec![tick("what it says is so here")],
    }
}

fn tick(words: impl Into<String>) -> Inside {
    Inside::Tick(words.into())
}

fn enclosure(decision: &Decision, told: &Told) -> Cell {
    let mut cell = Cell::new();
    if told.stops {
        cell.push(strong_text(format!("STOP. {}: fix it on the closed enclosure", told.headline)));
    } else if told.leaves_live {
        cell.push(strong_text("STOP. Parts stay live, or may, with every point open: fix it on the closed enclosure"));
    }
    cell.extend(decision.statements.iter().filter_map(starting).map(strong_text));
    if Sequence::of(&decision.points) == Sequence::Whole {
        cell.push(strong_text("In this order:"));
    }
    for (number, point) in decision.points.iter().enumerate() {
        cell.extend(told.remarks.get(number).into_iter().flatten().map(strong_text));
        cell.push(tick(format!("{} operated", point.in_words())));
    }
    let operated = |(device, place)| tick(format!("{} operated", at(device, place)));
    cell.extend(decision.named_elsewhere().into_iter().map(operated));
    cell.extend(decision.back_feeding().iter().map(fed_back));
    cell.push(tick(if told.stops {
        "what stays live is as the notice says"
    } else if told.leaves_live {
        "what stays live is as the notice says; the rest proved dead"
    } else {
        "proved dead inside as the notice says"
    }));
    cell.extend(waited(decision));
    cell
}

/// What must be done before anything is opened.
fn starting(statement: &Statement) -> Option<String> {
    let Statement::StartsByItself { source } = statement else { return None };
    let source = if source.is_empty() { "a source not known" } else { source };
    Some(format!("Inhibit starting: {source} may start without warning"))
}

/// `Q7 (Switchroom 1)`
fn at(device: &str, place: &str) -> String {
    if place.is_empty() { device.to_owned() } else { format!("{device} ({place})") }
}

fn fed_back(feeding: &BackFeeding<'_>) -> Inside {
    let devices: Vec<String> = feeding.isolated_at.iter().map(|(device, place)| at(device, place)).collect();
    let ups = feeding.ups;
    tick(if devices.is_empty() {
        format!("{ups} isolated: its isolator is not known here, find it first")
    } else {
        format!("{ups} isolated at {}", devices.join(", "))
    })
}

/// Of a stored charge, whether the time is enough; to be measured where nobody knows it.
fn waited(decision: &Decision) -> Option<Inside> {
    let seconds = |statement: &Statement| {
        let Statement::StoredCharge { seconds, .. } = statement else { return None };
        Some(*seconds)
    };
    let times: Option<Vec<u32>> = decision.statements.iter().filter_map(seconds).collect();
    match times {
        Some(times) if times.is_empty() => None,
        Some(_) => Some(tick("waiting time for the stored charge is enough")),
        None => Some(tick("waiting time not known: measure it and write it down")),
    }
}

/// An isolator is tried by what loses its supply. Only where nothing else belongs to any circuit may that be all of it.
fn isolator(notice: &Notice, decision: &DeviceDecision, before: &[String]) -> Cell {
    let is_whole = |one: &Disconnects| one.alone && one.also.is_empty() && !one.others_remain && !one.parts_remain;
    let mut cell: Cell = before.iter().map(strong_text).collect();
    let device = &notice.designation;
    cell.push(tick(if decision.disconnects.iter().all(is_whole) && decision.back_feed.is_empty() {
        format!("{device} operated: what its notice lists, and nothing else, lost its supply")
    } else {
        format!("{device} operated with what its notice says to open too: each circuit it lists is as the notice says")
    }));
    cell
}
