//! The points of isolation of each enclosure.

use super::column::{Column, Listed, Value, joined};
use crate::notice::{Told, told};
use crate::prepared::Prepared;
use crate::rules::{Decision, PointOfIsolation};
use crate::survey::Enclosure;
use crate::survey::value::DeviceKind;
use crate::wording::Wording;

/// One enclosure with its points of isolation.
#[derive(Clone, Debug)]
pub struct EnclosureRow<'a> {
    /// The enclosure.
    pub enclosure: &'a Enclosure,
    /// What was decided for it.
    pub decision: &'a Decision,
    /// Its notices, by their place among those of the schedule.
    pub notices: Vec<usize>,
    /// What its notice says, or would say, in English.
    pub told: Told,
}

impl<'a> EnclosureRow<'a> {
    /// An enclosure by its place among the decisions.
    pub(super) fn of(prepared: &Prepared<'a>, place: usize, english: &Wording) -> Option<Self> {
        let (decision, enclosure) = prepared.decided(place)?;
        Some(Self { enclosure, decision, notices: Vec::new(), told: told(decision, enclosure, english) })
    }

    /// What else the notice says, or would: what stays live and where that ends, what feeds back, how long to wait. Whoever
    /// reads this must not see less danger than whoever reads the notice.
    #[must_use]
    pub fn also_on_notice(&self) -> String {
        let Told { headline, statement, cautions, closing, .. } = &self.told;
        let lines = [headline, statement].into_iter().chain(cautions).chain([closing]).filter(|line| !line.is_empty());
        lines.map(|line| format!("{}.", line.trim_end_matches('.'))).collect::<Vec<_>>().join(" ")
    }

    /// Its points in the order in which they are opened; one line without a point where none is declared.
    pub fn lines(&self) -> impl Iterator<Item = PointRow<'_>> {
        let numbered = (1..).zip(&self.decision.points);
        let none = self.decision.points.is_empty().then_some(PointRow { enclosure: self, number: 0, point: None });
        numbered.map(|(number, point)| PointRow { enclosure: self, number, point: Some(point) }).chain(none)
    }
}

/// One point of isolation of an enclosure; none where the survey declares none.
#[derive(Clone, Copy, Debug)]
pub struct PointRow<'a> {
    /// The enclosure.
    pub enclosure: &'a EnclosureRow<'a>,
    /// Its number on the notice, from 1.
    pub number: usize,
    /// The point.
    pub point: Option<&'a PointOfIsolation>,
}

impl PointRow<'_> {
    /// The device, or that there is none.
    #[must_use]
    pub fn device(&self) -> &str {
        self.point.map_or("none declared", |point| &point.device)
    }

    /// Where it is.
    #[must_use]
    pub fn location(&self) -> &str {
        match self.point {
            Some(point) if point.location.is_empty() => "location not known",
            Some(point) => &point.location,
            None => "",
        }
    }

    /// What kind of device.
    #[must_use]
    pub fn kind(&self) -> &'static str {
        self.point.map_or("", |point| point.kind.map_or("kind not said", DeviceKind::name))
    }

    /// How it is secured off.
    #[must_use]
    pub fn locking(&self) -> &str {
        self.point.map_or("", |point| point.locking.as_deref().unwrap_or("locking not said"))
    }

    /// Its place in a sequence, whether it may be opened under load, and what comes first.
    #[must_use]
    pub fn remarks(&self) -> Vec<String> {
        let Some(point) = self.point else { return Vec::new() };
        let mut remarks: Vec<String> =
            point.order.map(|order| format!("number {order} in the sequence")).into_iter().collect();
        remarks.extend(point.not_under_load.then(|| "not under load".to_owned()));
        remarks.extend(point.before.as_ref().map(|before| format!("first: {before}")));
        remarks
    }
}

impl Listed for PointRow<'_> {
    const SHEET: &'static str = "Points of isolation";
    const TABLE: &'static str = "points_of_isolation";

    fn columns() -> Vec<Column<Self>> {
        vec![
            Column::new("enclosure", 16, |row| Value::text(&row.enclosure.enclosure.designation)),
            Column::new("name", 26, |row| Value::text(row.enclosure.enclosure.name.as_deref().unwrap_or_default())),
            Column::new("area", 20, |row| Value::text(row.enclosure.enclosure.area.as_deref().unwrap_or_default())),
            Column::new("a notice is", 12, |row| Value::text(row.enclosure.decision.need.of_notice())),
            Column::new("point", 7, |row| row.point.map_or(Value::Nothing, |_| Value::count(row.number))),
            Column::new("device", 16, |row| Value::text(row.device())),
            Column::new("location", 26, |row| Value::text(row.location())),
            Column::new("kind", 18, |row| Value::text(row.kind())),
            Column::new("locking", 18, |row| Value::text(row.locking())),
            Column::new("circuits", 24, |row| {
                joined(row.point.iter().flat_map(|point| point.circuits.iter().cloned())).into()
            }),
            Column::new("what they serve here", 30, |row| {
                joined(row.point.iter().flat_map(|point| point.serves.iter().cloned())).into()
            }),
            Column::new("remarks", 34, |row| joined(row.remarks()).into()),
            Column::new("also on the notice", 50, |row| row.enclosure.also_on_notice().into()),
            Column::new("highest voltages", 34, |row| row.enclosure.decision.voltages.in_words().into()),
            Column::new("proof", 50, |row| row.enclosure.decision.proof_in_words().into()),
        ]
    }
}
