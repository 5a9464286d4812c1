//! The numbers of notices, and those that two would share: by its number a notice is found on site, recorded, and printed
//! again.

use std::collections::HashMap;

use crate::finding::{Finding, code};
use crate::network::device::AtRow;
use crate::network::{Device, Network, spelling};
use crate::survey::{Column, Survey};

/// The number of an enclosure's notice at one of its positions, which are counted from 0: `CH3-JB2/1`.
#[must_use]
pub fn at_position(designation: &str, position: usize) -> String {
    [&*spelling::one_line(designation), &*(position + 1).to_string()].join("/")
}

/// The number of an isolator's notice: designation and location identify a device whatever else changes in the survey,
/// `Q7@Switchroom 1, board C`.
#[must_use]
pub fn of_isolator(designation: &str, location: &str) -> String {
    [&*spelling::one_line(designation), &*spelling::one_line(location)].join("@")
}

/// Reports each isolator whose notice would bear the number of another notice. Numbers are made of designation and place, so
/// only a place that says no more than `inside`, and an `@` in a name, can make two alike.
pub(super) fn report(survey: &Survey, network: &Network, findings: &mut Vec<Finding>) {
    let mut owners: HashMap<String, String> = HashMap::new();
    let enclosures = survey.enclosures.iter().filter(|enclosure| enclosure.designation.contains('@'));
    for enclosure in enclosures {
        let owner = format!("the enclosure `{}`", enclosure.designation);
        let numbers =
            (0..enclosure.particulars().positions.len().max(1)).map(|at| at_position(&enclosure.designation, at));
        owners.extend(numbers.map(|number| (number, owner.clone())));
    }
    let may_be_any = !owners.is_empty();
    for device in network.devices().iter().filter(|device| may_be_any || is_doubtful(device)) {
        let number = of_isolator(&device.designation, &device.location);
        match owners.get(&number) {
            Some(other) => findings.push(shared(survey, device, &number, other)),
            None => _ = owners.insert(number, owner(survey, device)),
        }
    }
}

/// Whether designation and place do not tell where one ends and the other begins, or not which place it is.
fn is_doubtful(device: &Device) -> bool {
    let is_plain = |text: &str| text.bytes().all(|byte| byte != b'@' && !byte.is_ascii_control());
    spelling::is_own(&device.location) || !is_plain(&device.designation) || !is_plain(&device.location)
}

fn owner(survey: &Survey, device: &Device) -> String {
    let enclosure = survey.enclosures.get(device.first.enclosure.index());
    let first_of = enclosure.map(|enclosure| format!(" for `{}`", enclosure.designation)).unwrap_or_default();
    format!("`{}`{first_of}", device.phrase())
}

fn shared(survey: &Survey, device: &Device, number: &str, other: &str) -> Finding {
    let message =
        format!("`{number}` would be the number of two notices: of {other}, and of {}", owner(survey, device));
    let enclosure = survey.enclosures.get(device.first.enclosure.index());
    let help = match enclosure.filter(|_| spelling::is_here(&device.location)) {
        Some(enclosure) => format!("write in which enclosure it is, `inside {}`", enclosure.designation),
        None if spelling::is_own(&device.location) => {
            "write where it is, so that no two notices have one number: `Plant room, beside the pump`".to_owned()
        }
        None => "write designation and place otherwise, so that no two notices have one number".to_owned(),
    };
    let column = if device.isolates { Column::IsolatorLocation } else { Column::UpstreamLocation };
    Finding::new(code::NOTICE_NUMBER_SHARED, message).help(help).at_row(survey, device.first, column)
}

#[cfg(test)]
mod tests {
    use crate::finding::code;
    use crate::rules::testing::{PLAIN, decided};

    fn shared(rows: &[&str]) -> Vec<String> {
        let findings = decided("", rows).1;
        let found = findings.into_iter().filter(|finding| finding.code == code::NOTICE_NUMBER_SHARED);
        found.map(|finding| finding.message).collect()
    }

    /// A row of an enclosure with its isolator and where that is.
    fn row(enclosure: &str, isolator: &str, location: &str) -> String {
        PLAIN.replace("E1", enclosure).replace("Q1", isolator).replace("Board C", location)
    }

    #[test]
    fn an_isolator_and_an_enclosure_never_share_a_number() {
        let rows = [row("E1", "X", "L/1"), row("X@L", "Q1", "Board C")];
        let found = shared(&[&rows[0], &rows[1]]);
        assert_eq!(
            found,
            ["`X@L/1` would be the number of two notices: of the enclosure `X@L`, and of `X (L/1)` for `E1`"]
        );
        let elsewhere = [row("E1", "X", "L/2"), row("X@L", "Q1", "Board C")];
        assert_eq!(shared(&[&elsewhere[0], &elsewhere[1]]), [""; 0]);
    }

    #[test]
    fn two_isolators_never_share_a_number() {
        let rows = [row("E1", "Q1@A", "B"), row("E2", "Q1", "A@B"), row("E3", "Q1", "A@C")];
        let found = shared(&[&rows[0], &rows[1], &rows[2]]);
        let expected =
            "`Q1@A@B` would be the number of two notices: of `Q1@A (B)` for `E1`, and of `Q1 (A@B)` for `E2`";
        assert_eq!(found, [expected]);
    }

    #[test]
    fn inside_is_another_place_in_every_enclosure_and_no_number_tells_which() {
        let rows = [row("E1", "Q1", "inside"), row("E2", "Q1", "inside"), row("E3", "Q2", "inside")];
        let found = shared(&[&rows[0], &rows[1], &rows[2]]);
        let expected =
            "`Q1@inside` would be the number of two notices: of `Q1 (inside)` for `E1`, and of `Q1 (inside)` for `E2`";
        assert_eq!(found, [expected]);
        let named = [row("E1", "Q1", "inside E1"), row("E2", "Q1", "inside E2")];
        assert_eq!(shared(&[&named[0], &named[1]]), [""; 0]);
    }
}
