//! The points of isolation of an enclosure, in the order in which they are to be opened.

use std::collections::HashSet;

use super::case::Case;
use super::decision::PointOfIsolation;
use super::met::Met;
use super::sequence;
use crate::finding::{Finding, code};
use crate::network::{DeviceId, Way, spelling};
use crate::survey::{Column, Row};

/// Every device that the rows name as their isolator: by `order`, then by first appearance.
pub(super) fn points(case: &Case<'_>, findings: &mut Vec<Finding>) -> Vec<PointOfIsolation> {
    let named = |way: &Way| way.isolated.devices().len();
    let mut points: Vec<PointOfIsolation> = Vec::with_capacity(case.ways.iter().map(named).sum());
    let mut devices: Vec<DeviceId> = Vec::with_capacity(points.capacity());
    let mut places: Met<DeviceId> = Met::default();
    let mut told: Met<(usize, bool, &str)> = Met::default();
    for (row, way) in case.rows() {
        for device in way.isolated.devices() {
            let place = places.place(*device);
            if place == points.len() {
                points.extend(new_point(case, *device));
                devices.push(*device);
            }
            let Some(point) = points.get_mut(place) else { continue };
            add_row(case, point, row, findings);
            if told.is_new((place, false, &row.circuit)) {
                add(&mut point.circuits, &row.circuit);
            }
            if let Some(serves) = row.serves.as_deref().filter(|serves| told.is_new((place, true, serves))) {
                add(&mut point.serves, serves);
            }
        }
    }
    points.shrink_to_fit();
    if points.iter().any(|point| point.order.is_some()) {
        let each: Vec<_> = devices.into_iter().zip(&points).collect();
        sequence::report(case, &each, findings);
        sequence::sort(&mut points);
    }
    points
}

/// Adds a text to a list that mostly holds one: room for four would be most of what a point takes.
fn add(texts: &mut Vec<String>, text: &str) {
    if texts.len() == texts.capacity() {
        texts.reserve_exact(texts.len().max(1));
    }
    texts.push(text.to_owned());
}

fn new_point(case: &Case<'_>, id: DeviceId) -> Option<PointOfIsolation> {
    let device = case.network.device(id)?;
    Some(PointOfIsolation {
        device: device.designation.as_ref().to_owned(),
        location: device.location.as_ref().to_owned(),
        kind: device.kind.as_ref().map(|told| told.value),
        locking: device.locking.as_ref().map(|told| told.value.as_ref().to_owned()),
        order: None,
        before: None,
        not_under_load: device.on_load.as_ref().is_some_and(|told| !told.value),
        circuits: Vec::new(),
        serves: Vec::new(),
        inside: case.is_inside(id),
    })
}

/// Adds what a row says of the order and of what to do first.
fn add_row(case: &Case<'_>, point: &mut PointOfIsolation, row: &Row, findings: &mut Vec<Finding>) {
    match (point.order, row.order) {
        (Some(known), Some(order)) if known != order => {
            let message = format!("`{}` is number {known} in the sequence, and number {order} here", point.device);
            findings.push(case.finding(code::ORDER_CONTRADICTION, message, row, Column::Order));
        }
        (None, order) => point.order = order,
        (Some(_), Some(_) | None) => {}
    }
    let Some(before) = &row.further().before_isolating else { return };
    match &mut point.before {
        None => point.before = Some(before.clone()),
        Some(known) if known.split("; ").any(|part| part == before) => {}
        Some(known) => {
            known.push_str("; ");
            known.push_str(before);
        }
    }
}

/// Whether the locations may be left out: declared, and no two points bear one designation.
pub(super) fn may_leave_out_locations(case: &Case<'_>, points: &[PointOfIsolation]) -> bool {
    case.enclosure.particulars().no_confusion.is_some() && twins(points).is_none()
}

/// Reports a declaration that two points of one designation belie.
pub(super) fn report_confusion(case: &Case<'_>, points: &[PointOfIsolation], findings: &mut Vec<Finding>) {
    let Some(row) = case.enclosure.rows.first().filter(|_| case.enclosure.particulars().no_confusion.is_some()) else {
        return;
    };
    if let Some(designation) = twins(points) {
        let message = format!("confusion is declared impossible, and two isolators are called `{designation}`");
        findings.push(case.finding(code::CONFUSION_IS_POSSIBLE, message, row, Column::NoConfusion));
    }
}

/// A designation that two points bear.
fn twins(points: &[PointOfIsolation]) -> Option<&str> {
    let mut seen = HashSet::new();
    points.iter().map(|point| point.device.as_str()).find(|device| !seen.insert(spelling::key(device)))
}
