//! The rows of an inspection list, in walking order.

use std::collections::HashMap;

use super::ListColumn;
use crate::notice::Subject;
use crate::records::due::Due;
use crate::records::{Condition, Entry, Event, Kind, Known, Ledger, Print, Standing};
use crate::schedule::{Column, Listed, Value};

/// Points of isolation that are named in short.
const POINTS: usize = 4;

/// A notice, with what is known of it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct ListRow<'a> {
    /// Its number.
    pub number: &'a str,
    /// Designation of the enclosure or device.
    pub designation: &'a str,
    /// Building, floor or room.
    pub area: &'a str,
    /// Where it is, by the last entry that says so, else where it belongs.
    pub position: &'a str,
    /// The revision that is fixed: empty where none is, `not known` where nobody knows.
    pub revision: &'a str,
    /// What it says, in short.
    pub says: String,
    /// Day and result of the last inspection.
    pub last_inspection: String,
    /// What is to be done by the record.
    pub due: String,
}

/// The notices that stand on site or lie ready for it, by area and number; with `only_due`, those with something to do.
#[must_use]
pub fn rows<'a>(ledger: &Ledger<'a>, due: &Due<'a>, only_due: bool) -> Vec<ListRow<'a>> {
    let to_do: HashMap<&str, String> = due.rows.iter().map(|row| (row.number, in_short(row))).collect();
    let wanted = |known: &&Known<'a>| {
        let is_there = !matches!(known.standing(), Standing::Withdrawn(_));
        to_do.contains_key(known.number) || (is_there && !only_due)
    };
    let row = |known: &Known<'a>| row(known, to_do.get(known.number).cloned().unwrap_or_default());
    let mut rows: Vec<ListRow<'a>> = ledger.notices.iter().filter(wanted).map(row).collect();
    // The notices of a ledger stand in the order of their numbers already.
    rows.sort_by(|one, other| alphanumeric_sort::compare_str(one.area, other.area));
    rows
}

/// `inspect it (2027-06-01)`
fn in_short(row: &crate::records::due::Row<'_>) -> String {
    row.first().map(|cause| format!("{} ({} {})", row.to_do(), cause.reason.name(), cause.day)).unwrap_or_default()
}

fn row<'a>(known: &Known<'a>, due: String) -> ListRow<'a> {
    let last = known.printed().map(|(_, print)| print);
    let (by, fixed, seen) = match known.standing() {
        Standing::NotFixed => (None, None, None),
        Standing::Missing(entry) | Standing::Withdrawn(entry) => (Some(entry), None, None),
        Standing::Fixed { by, print, inspected } => (Some(by), print, Some(inspected.unwrap_or(by))),
    };
    let revision = match (seen, fixed) {
        (_, Some(fixed)) => fixed.revision.as_str(),
        (None, None) => "",
        (Some(seen), None) if !seen.revision.is_empty() => &seen.revision,
        (Some(_), None) => "not known",
    };
    let place = seen.into_iter().chain(by).map(|entry| entry.place.as_str()).find(|place| !place.is_empty());
    let what = fixed.and_then(|entry| entry.print.as_deref()).or(last);
    ListRow {
        number: known.number,
        designation: what.map_or("", |print| &print.designation),
        area: what.map_or("", |print| &print.area),
        position: place.or_else(|| what.map(position)).unwrap_or_default(),
        revision,
        says: what.map(says).unwrap_or_default(),
        last_inspection: known.entries.iter().rev().find_map(|entry| inspection(entry)).unwrap_or_default(),
        due,
    }
}

fn position(print: &Print) -> &str {
    match print.subject {
        _ if !print.position.is_empty() => &print.position,
        Subject::Enclosure => "usual place",
        Subject::Device => "at the isolator",
        Subject::Standing => "",
    }
}

fn inspection(entry: &Entry) -> Option<String> {
    let condition = entry.condition.filter(|_| entry.event == Event::Inspected).map(Condition::name)?;
    Some(format!("{} {condition}", entry.date))
}

/// Headline and points: `Isolate at both points: Q7 (Switchroom 1), Q9 (Lobby)`.
fn says(print: &Print) -> String {
    let headline = print.says.0.iter().filter(|part| part.kind == Kind::Do).map(|part| part.text.as_str());
    let headline = headline.collect::<Vec<_>>().join(" / ");
    let points = print.says.points();
    let named = points
        .iter()
        .take(POINTS)
        .map(|(point, place)| if place.is_empty() { (*point).to_owned() } else { format!("{point} ({place})") });
    let mut named = named.collect::<Vec<_>>().join(", ");
    if points.len() > POINTS {
        named.push_str(&format!(" and {} more", points.len() - POINTS));
    }
    [headline, named].into_iter().filter(|text| !text.is_empty()).collect::<Vec<_>>().join(": ")
}

impl Listed for ListRow<'_> {
    const SHEET: &'static str = "Inspection list";
    const TABLE: &'static str = "InspectionList";

    fn columns() -> Vec<Column<Self>> {
        ListColumn::ALL.iter().map(|column| listed(*column)).collect()
    }
}

/// A column of the list; those that are filled in by hand are empty.
fn listed<'r>(column: ListColumn) -> Column<ListRow<'r>> {
    use ListColumn as C;
    let (width, value): (u8, for<'c> fn(&'c ListRow<'r>) -> Value<'c>) = match column {
        C::Number => (17, |row| Value::text(row.number)),
        C::Designation => (11, |row| Value::text(row.designation)),
        C::Area => (12, |row| Value::text(row.area)),
        C::Position => (14, |row| Value::text(row.position)),
        C::Revision => (9, |row| Value::text(row.revision)),
        C::Says => (29, |row| Value::text(&row.says)),
        C::LastInspection => (16, |row| Value::text(&row.last_inspection)),
        C::Due => (22, |row| Value::text(&row.due)),
        C::Event | C::Condition | C::Date => (11, |_| Value::Nothing),
        C::By => (7, |_| Value::Nothing),
        C::Place | C::Photo => (12, |_| Value::Nothing),
        C::Note => (24, |_| Value::Nothing),
    };
    Column { name: column.name(), width, value }
}
