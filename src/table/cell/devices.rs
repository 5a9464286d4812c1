//! The cells that name devices and say where they are.

use std::collections::HashSet;
use std::sync::Arc;

use super::super::few::Few;
use super::super::value::{DeviceRef, Isolation};
use super::doubt::{self, Doubt, is_answer, is_in_doubt, is_no_name, says_none_isolates};
use super::place;
use super::several::{self, Of};
use super::text::{free, tidied, tidy};
use super::{Fault, Parsed, is_dash, is_not_known, tongues, unforced};
use crate::finding::code;

/// Which of the two cells a fault lies in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Which {
    /// The cell with the designations.
    Devices,
    /// The cell with the locations.
    Locations,
}

/// What the two cells say, with what is wrong with either.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Named {
    pub(crate) isolation: Option<Isolation>,
    pub(crate) faults: Vec<(Which, Fault)>,
}

impl Named {
    fn fault(mut self, which: Which, fault: Fault) -> Self {
        self.faults.push((which, fault));
        self
    }
}

/// What isolates: devices with ` + ` between and their locations in the same order, `none`, or `?`.
///
/// One location holds for all devices. An empty location is left to the caller to judge.
pub(crate) fn isolation(devices: &str, locations: &str, limit: usize) -> Named {
    let said = |isolation| Named { isolation: Some(isolation), ..Named::default() };
    if is_not_known(devices) {
        return said(Isolation::Unknown);
    }
    if devices.eq_ignore_ascii_case("none") {
        return surplus_location(said(Isolation::Impossible), devices, locations);
    }
    if devices.is_empty() || is_dash(devices) {
        return Named::default();
    }
    if is_answer(devices) || is_no_name(devices) || says_none_isolates(devices) {
        return said(Isolation::Unknown).fault(Which::Devices, no_name(devices));
    }
    // A name in a list is marked by itself.
    let is_list_of_names = || devices.contains('+') && doubt::doubt(devices) != Some(Doubt::Plain);
    if is_in_doubt(devices) && !is_list_of_names() {
        return said(Isolation::Unknown).fault(Which::Devices, doubtful(devices, Of::Isolators));
    }
    if let Some(fault) = several::asked(devices, Of::Isolators) {
        return said(Isolation::Unknown).fault(Which::Devices, fault);
    }
    if let Some(named) = only_device(devices, locations).filter(|_| limit > 0) {
        return named;
    }
    let names = parts(devices);
    if names.len() > limit {
        return Named::default().fault(Which::Devices, too_many(names.len(), limit));
    }
    if names.iter().any(|name| name.is_empty() || is_not_known(name) || name.eq_ignore_ascii_case("none")) {
        return said(Isolation::Unknown).fault(Which::Devices, incomplete(devices));
    }
    if let Some(name) = names.iter().find(|name| is_answer(name) || is_in_doubt(name) || is_no_name(name)) {
        return said(Isolation::Unknown).fault(Which::Devices, doubtful(name, Of::Isolators));
    }
    let mut named = located(names, locations);
    if let Some(fault) = unclear(devices, Of::Isolators) {
        named = named.fault(Which::Devices, fault);
    }
    named
}

/// The one device of a cell that plainly names one, at one place: what nearly every cell is.
fn only_device(devices: &str, locations: &str) -> Option<Named> {
    let is_plain = |byte: u8| byte.is_ascii_graphic() && byte != b'+';
    if !devices.bytes().all(is_plain) || locations.contains('+') || unclear(devices, Of::Isolators).is_some() {
        return None;
    }
    let location = if is_left_open(locations) { Arc::default() } else { tidy(locations).into() };
    let device = DeviceRef { designation: devices.into(), location };
    Some(Named { isolation: Some(Isolation::By(Few::one(device))), faults: Vec::new() })
}

fn surplus_location(named: Named, devices: &str, locations: &str) -> Named {
    if locations.is_empty() || is_dash(locations) {
        return named;
    }
    let fault =
        Fault::new(code::LOCATION_WITHOUT_DEVICE, format!("a location is given, and the device is `{devices}`"))
            .help("name the device that is there, or leave the location empty");
    named.fault(Which::Locations, fault)
}

/// Whether a part of a list is empty, or says only that nobody knows or that there is nothing to say.
fn is_left_open(part: &str) -> bool {
    let said = place::unquoted(part);
    said.is_empty() || is_dash(said) || is_not_known(said) || is_answer(said) || place::doubt(part).is_some()
}

/// Whether a cell leaves open where one of its devices is.
pub(crate) fn leaves_open(locations: &str) -> bool {
    // Of nought it was said that it is no word.
    let locations = unforced(locations.trim());
    locations != "0" && parts(locations).iter().any(|part| is_left_open(part))
}

/// What a cell writes for the place of a device, by its number, and the word by which that leaves the place open, where
/// the word may as well belong to a name.
pub(crate) fn doubtful_word(locations: &str, number: usize) -> Option<(String, String)> {
    let mut places = parts(unforced(locations.trim()));
    let number = if places.len() == 1 { 0 } else { number };
    let place = (number < places.len()).then(|| places.swap_remove(number))?;
    match place::doubt(&place)? {
        Doubt::Plain => None,
        Doubt::Word(word) => Some((place.clone(), word.to_owned())),
    }
}

/// The parts of a list with ` + ` between. A `+` without blanks round it belongs to a designation.
fn parts(text: &str) -> Vec<String> {
    if !text.contains('+') {
        return vec![tidied(text)];
    }
    let words: Vec<_> = text.split_whitespace().collect();
    words.split(|word| *word == "+").map(|part| part.join(" ")).collect()
}

fn located(names: Vec<String>, locations: &str) -> Named {
    let mut places = parts(locations);
    let lines = locations.lines().filter(|line| !line.trim().is_empty()).count();
    if places.len() == 1 && names.len() > 1 && lines == names.len() {
        let message = format!("{} devices are named, and the location stands on {lines} lines", names.len());
        let fault = Fault::new(code::LOCATIONS_DO_NOT_MATCH, message).help(
            "give one location for all of them on one line, or one for each in the same order with ` + ` between",
        );
        return Named::default().fault(Which::Locations, fault);
    }
    places.iter_mut().filter(|place| is_left_open(place)).for_each(String::clear);
    let matches = places.len() == 1 || places.len() == names.len();
    let count = names.len();
    let places: Vec<Arc<str>> = places.into_iter().map(Arc::from).collect();
    let place = |number: usize| match places.as_slice() {
        [one] => Arc::clone(one),
        _ if matches => places.get(number).cloned().unwrap_or_default(),
        _ => Arc::default(),
    };
    let devices: Few<_> = names
        .into_iter()
        .enumerate()
        .map(|(number, designation)| DeviceRef { designation: designation.into(), location: place(number) })
        .collect();
    let named = Named { isolation: matches.then_some(Isolation::By(devices)), faults: Vec::new() };
    if matches {
        return named;
    }
    let (device, help) = match count {
        1 => ("device is", "give one location for it; inside one place write `and`, or `+` without blanks round it"),
        _ => (
            "devices are",
            "give one location for all of them, or one for each in the same order with ` + ` between; inside one place \
             write `and`, or `+` without blanks round it",
        ),
    };
    let message = format!("{count} {device} named and {} locations", places.len());
    named.fault(Which::Locations, Fault::new(code::LOCATIONS_DO_NOT_MATCH, message).help(help))
}

/// Designations with ` + ` between, each kept once: what feeds a device, or what it is held in step with. Behind an `@`
/// may stand where the device is, to tell apart those of one designation.
pub(crate) fn designations(text: &str, limit: usize) -> Parsed<Vec<String>> {
    if is_dash(text) || text.eq_ignore_ascii_case("none") {
        return Parsed::nothing();
    }
    let mut names = parts(text);
    if names.len() > limit {
        return too_many(names.len(), limit).into();
    }
    if names.iter().any(|name| name.is_empty() || is_not_known(name) || is_dash(name)) {
        let message = format!("`{text}` names some of them and leaves others open");
        return Fault::new(code::ISOLATOR_LIST_INCOMPLETE, message)
            .help("name every one; if one is not known write `?` alone")
            .into();
    }
    if let Some(name) = names.iter().find(|name| is_answer(name) || is_in_doubt(name)) {
        return doubtful(name, Of::Feeds).into();
    }
    let before_place = |name: &String| name.split_once('@').map_or_else(|| name.clone(), |(name, _)| name.to_owned());
    if let Some(fault) = names.iter().find_map(|name| several::asked(&before_place(name), Of::Feeds)) {
        return fault.into();
    }
    let mut seen = HashSet::new();
    names.retain(|name| seen.insert(name.clone()));
    let fault = names.iter().find_map(|name| unclear(&before_place(name), Of::Feeds));
    Parsed { value: Some(names), fault }
}

/// What feeds a row, as it is written; nothing where it is in doubt what is meant.
pub(crate) fn fed_from(text: &str) -> Parsed<Arc<str>> {
    // `none` alone says that nothing is named, as in every other cell.
    if text.eq_ignore_ascii_case("none") {
        return free(text);
    }
    if let Some(part) = text.split(" + ").map(str::trim).find(|part| is_answer(part) || is_in_doubt(part)) {
        let fault = Fault::new(code::ISOLATOR_LIST_INCOMPLETE, format!("`{part}` leaves in doubt what is meant"));
        return fault.help(as_a_name(part, Of::Feeds)).into();
    }
    match several::asked(text, Of::Feeds) {
        Some(fault) => fault.into(),
        None => free(text),
    }
}

fn too_many(count: usize, limit: usize) -> Fault {
    Fault::new(code::TOO_MANY_DEVICES, format!("{count} devices are more than the {limit} accepted in one row"))
        .help("raise `devices_per_row` under [limits] in the job file if there really are so many")
}

fn no_name(devices: &str) -> Fault {
    Fault::new(code::ISOLATOR_LIST_INCOMPLETE, format!("`{devices}` names no device"))
        .help("name every device; if one is not known write `?` alone, and if it cannot be isolated `none` alone")
}

fn doubtful(name: &str, of: Of) -> Fault {
    Fault::new(code::ISOLATOR_LIST_INCOMPLETE, format!("`{name}` leaves in doubt which device it is"))
        .help(as_a_name(name, of))
}

/// What to write instead; where the doubtful word may belong to a name, also how that is marked.
fn as_a_name(name: &str, of: Of) -> String {
    let mut help = "make sure on site and write its name alone; until then write `?` alone".to_owned();
    if matches!(doubt::doubt(name), Some(Doubt::Word(_))) && !is_answer(name) {
        help.push_str(&format!("; if it bears this name, write `{name} {}`", of.one()));
    }
    help
}

fn incomplete(devices: &str) -> Fault {
    Fault::new(code::ISOLATOR_LIST_INCOMPLETE, format!("`{devices}` names some of the devices and leaves others open"))
        .help("name every device; if one is not known write `?` alone, and if it cannot be isolated `none` alone")
}

/// A list that may mean several devices and is read as one.
fn unclear(devices: &str, of: Of) -> Option<Fault> {
    if devices.bytes().all(|byte| byte.is_ascii_alphanumeric() || matches!(byte, b'-' | b'/' | b'.' | b'_')) {
        return None;
    }
    parts(devices).iter().find_map(|part| unclear_part(part, of))
}

fn unclear_part(part: &str, of: Of) -> Option<Fault> {
    let joined = |c: char| c.is_alphanumeric();
    // A reference designation joins its aspects by signs: `=A1+B2-Q0` is one device.
    let is_reference = part.starts_with(['=', '+', '-']);
    let inner_plus = !is_reference
        && part.match_indices('+').any(|(at, _)| {
            part.get(..at).is_some_and(|s| s.ends_with(joined))
                && part.get(at + 1..).is_some_and(|s| s.starts_with(joined))
        });
    let may_be_several = inner_plus
        || part.contains([',', ';', '&'])
        || part.to_lowercase().contains(" and ")
        || tongues::joins_names(part);
    (may_be_several && !several::ends_as_one(part)).then(|| {
        let help = format!(
            "write ` + ` with a blank on either side between the names of several devices; if one bears this name, \
             write `{part} {}`",
            of.one()
        );
        Fault::new(code::ISOLATOR_LIST_UNCLEAR, format!("`{part}` may mean several devices and is read otherwise"))
            .help(help)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn by(devices: &str, locations: &str) -> Vec<(String, String)> {
        match isolation(devices, locations, 24).isolation {
            Some(Isolation::By(devices)) => {
                devices.iter().map(|d| (d.designation.to_string(), d.location.to_string())).collect()
            }
            other => panic!("{other:?}"),
        }
    }

    fn codes(devices: &str, locations: &str) -> Vec<&'static str> {
        isolation(devices, locations, 3).faults.iter().map(|(_, fault)| fault.code.name).collect()
    }

    #[test]
    fn devices_and_locations_are_paired() {
        let pair = |d: &str, l: &str| (d.to_owned(), l.to_owned());
        assert_eq!(by("Q7", "Switchroom 1"), [pair("Q7", "Switchroom 1")]);
        assert_eq!(by("Q7 + Q8", "Room 1 +  Room 2"), [pair("Q7", "Room 1"), pair("Q8", "Room 2")]);
        assert_eq!(by("Q7\n+ Q8", "Room 1"), [pair("Q7", "Room 1"), pair("Q8", "Room 1")]);
        assert_eq!(by("+A1-Q7", ""), [pair("+A1-Q7", "")]);
        assert_eq!(isolation("NONE", "", 3).isolation, Some(Isolation::Impossible));
        assert_eq!(isolation("?", "", 3).isolation, Some(Isolation::Unknown));
        assert_eq!(isolation("", "", 3).isolation, None);
        assert!(codes("+A1-Q7", "").is_empty());
        assert_eq!(by("=A1+B2-Q0", "R1"), [pair("=A1+B2-Q0", "R1")]);
        assert!(codes("=A1+B2-Q0", "R1").is_empty() && codes("=A1+B2-Q0 + =A1+B2-Q1", "R1").is_empty());
        assert_eq!(codes("A1+B2-Q0", "R1"), ["isolator-list-unclear"]);
    }

    #[test]
    fn a_place_that_nobody_knows_is_no_place() {
        for place in ["tbc", "TBD", "unknown", "n/a", "Not applicable", "?", "-", ""] {
            assert_eq!(by("Q7", place), [("Q7".to_owned(), String::new())], "{place}");
            assert_eq!(by("Q7 lower", place), [("Q7 lower".to_owned(), String::new())], "{place}");
            let half = format!("Room 1 + {place}");
            assert_eq!(by("Q7 + Q8", &half).last(), Some(&("Q8".to_owned(), String::new())), "{half}");
            assert!(leaves_open(place) && leaves_open(&half), "{place}");
        }
        assert!(!leaves_open("Room 1 + Room 2") && !leaves_open("Tbcville"));
        assert!(leaves_open("=\"\"") && !leaves_open("=\"Room 1\""));
    }

    #[test]
    fn the_word_that_leaves_a_place_open_is_told_for_each_device() {
        let told = |locations: &str, number| doubtful_word(locations, number);
        let word = |place: &str, word: &str| Some((place.to_owned(), word.to_owned()));
        assert_eq!(told("see drawing", 1), word("see drawing", "see"));
        assert_eq!(told("Room 1 + riser 1 or 2", 1), word("riser 1 or 2", "or"));
        assert_eq!((told("Room 1 + riser 1 or 2", 0), told("", 0), told("Room 1 + ", 5)), (None, None, None));
        assert_eq!(told("not traced", 0), None);
        let quoted = "\"Multiple goods stores\"";
        assert_eq!(by("Q7", quoted), [("Q7".to_owned(), quoted.to_owned())]);
        assert!(!leaves_open(quoted) && leaves_open("Multiple goods stores"));
        assert!(["\"tbc\"", "\"?\"", "\"various\"", "\"\""].iter().all(|place| leaves_open(place)));
    }

    #[test]
    fn an_answer_is_no_name_of_a_device() {
        for answer in ["no", "Yes", "nil", "0", "various", "ALL", "all MCBs", "unlabelled", "cannot be isolated"] {
            assert_eq!(codes(answer, "Room 1"), ["isolator-list-incomplete"], "{answer}");
            assert_eq!(isolation(answer, "Room 1", 3).isolation, Some(Isolation::Unknown), "{answer}");
        }
        assert!(codes("No. 7", "Room 1").is_empty() && codes("All-pole switch", "Room 1").is_empty());
    }

    #[test]
    fn a_name_that_reads_as_several_is_no_device_until_it_is_told_which() {
        for several in ["Q1\nQ2", "Q1-Q4", "Q1 to Q4", "Q1/Q2", "Q1 Q2", "Q1 (x3)", "Q9 + Q1/Q2"] {
            assert_eq!(codes(several, "Room 1"), ["perhaps-several-devices"], "{several}");
            assert_eq!(isolation(several, "Room 1", 3).isolation, Some(Isolation::Unknown), "{several}");
        }
        assert_eq!(by("Q1/Q2 (one device)", "R1"), [("Q1/Q2 (one device)".to_owned(), "R1".to_owned())]);
        assert_eq!(codes("Q1 + Q2", "R1\nR2"), ["locations-do-not-match"]);
        assert!(codes("Q1", "Switchroom 1\nboard C").is_empty());
    }

    #[test]
    fn a_name_with_a_comma_is_one_once_it_says_so() {
        for one in ["Q1, Q2 (one device)", "F1, F2 & F3 (one set)", "Heater and fan (One handle)", "A+B (one device)"] {
            assert_eq!(codes(one, "Room 1"), [""; 0], "{one}");
            assert_eq!(by(one, "R1"), [(one.to_owned(), "R1".to_owned())]);
        }
        let others =
            ["Heater, fan", "Q1 (one device) + Heater, fan", "Fuse set and heater", "Heater, fan (one of them)x"];
        for several in others {
            assert_eq!(codes(several, "Room 1"), ["isolator-list-unclear"], "{several}");
        }
        let help = |of| unclear("Heater, fan", of).and_then(|fault| fault.help).unwrap_or_default();
        assert!(help(Of::Isolators).contains("if one bears this name, write `Heater, fan (one device)`"));
        assert!(help(Of::Feeds).contains("`Heater, fan (one board)`"));
        assert_eq!(designations("A, B (one board)", 3).fault, None);
    }

    #[test]
    fn a_name_that_nobody_has_made_sure_of_is_none() {
        for doubtful in [
            "Q1?",
            "Q1 (?)",
            "Q1 (TBC)",
            "Q1(tbc)",
            "see drawing",
            "Q1 to be confirmed",
            "as per drawing",
            "Q2 + Q1?",
            "Q1 etc.",
            "Q1 + others",
            "no access",
            "unknown (locked room)",
            "Q1 or Q2",
        ] {
            assert_eq!(codes(doubtful, "Room 1"), ["isolator-list-incomplete"], "{doubtful}");
            assert_eq!(isolation(doubtful, "Room 1", 3).isolation, Some(Isolation::Unknown), "{doubtful}");
        }
        for place in [
            "Room 1?",
            "not traced",
            "varies",
            "somewhere in plant room",
            "Room 1 (TBC)",
            "see drawing E-101",
            "refer to schedule",
        ] {
            assert!(leaves_open(place), "{place}");
            assert_eq!(by("Q7", place), [("Q7".to_owned(), String::new())], "{place}");
        }
        for sure in ["TBC-1", "Q1 (checked)", "Q1?#2", "AS 1", "Seeds dryer Q1", "Askern feeder", "Q-TBC/4"] {
            assert!(codes(sure, "Room 1").is_empty(), "{sure}");
        }
        assert!(!leaves_open("Seed room") && !leaves_open("Assembly hall") && !leaves_open("Unknown Street 3"));
    }

    #[test]
    fn designations_are_split_and_kept_once() {
        let named = |text: &str| designations(text, 3).value.unwrap_or_default();
        assert_eq!(named("QM0 + QPV1 +  QM0"), ["QM0", "QPV1"]);
        assert_eq!(named("Q15@Switchroom 1, board A + QEV"), ["Q15@Switchroom 1, board A", "QEV"]);
        assert_eq!((named("-"), named("none")), (Vec::<String>::new(), Vec::new()));
        let fault = |text: &str| designations(text, 3).fault.map(|fault| fault.code.name);
        assert_eq!(fault("Q15@Switchroom 1, board A"), None);
        assert_eq!(fault("A + ?"), Some("isolator-list-incomplete"));
        assert_eq!(named("A + ?"), [""; 0], "half of what feeds a device is not what feeds it");
        assert_eq!(fault("A + "), Some("isolator-list-incomplete"));
        assert_eq!(fed_from("DB-A + DB (TBC)").fault.map(|fault| fault.code.name), Some("isolator-list-incomplete"));
        assert_eq!(fed_from("see drawing").value, None);
        for unclear in ["various", "DB-A or DB-B", "0"] {
            assert_eq!(fed_from(unclear).fault.map(|it| it.code.name), Some("isolator-list-incomplete"), "{unclear}");
        }
        for several in ["DB-A / DB-B", "DB-A/DB-B", "DB-A and DB-B", "DB-A, DB-B", "DB-A+DB-B", "DB-A\nDB-B"] {
            assert_eq!(fed_from(several).fault.map(|it| it.code.name), Some("perhaps-several-devices"), "{several}");
            assert_eq!(fed_from(several).value, None, "{several}");
        }
        for one in ["DB-A/7", "Board A, riser 1", "DB-A + DB-B", "Heat and light board", "none", "UPS-1/2"] {
            assert_eq!(fed_from(one).fault, None, "{one}");
        }
        assert_eq!(fault("DB-A/DB-B"), Some("perhaps-several-devices"));
        assert_eq!(
            (fault("see drawing"), fault("DB (TBC)")),
            (Some("isolator-list-incomplete"), Some("isolator-list-incomplete"))
        );
        assert_eq!(fault("A, B"), Some("isolator-list-unclear"));
        assert_eq!(fault("A + B + C + D"), Some("too-many-devices"));
    }

    #[test]
    fn what_does_not_match_is_found() {
        assert_eq!(codes("Q7 + Q8 + Q9", "A + B"), ["locations-do-not-match"]);
        let said = |devices: &str, locations: &str| {
            isolation(devices, locations, 3)
                .faults
                .into_iter()
                .next()
                .map(|(_, it)| (it.message, it.help.unwrap_or_default()))
        };
        let (message, help) = said("Q7", "Stair A + B").unwrap_or_default();
        assert_eq!(message, "1 device is named and 2 locations");
        assert!(help.contains("`and`, or `+` without blanks"), "{help}");
        for one in ["Stair A and B", "Stair A+B"] {
            assert_eq!(by("Q7", one), [("Q7".to_owned(), one.to_owned())]);
        }
        let (message, help) = said("Q7 + Q8 + Q9", "A + B").unwrap_or_default();
        assert_eq!(message, "3 devices are named and 2 locations");
        assert!(help.contains("in the same order") && help.contains("`and`"), "{help}");
        assert_eq!(codes("Q7", "A + B"), ["locations-do-not-match"]);
        assert_eq!(codes("Q7 + ?", "A"), ["isolator-list-incomplete"]);
        assert_eq!(codes("Q7 +", "A"), ["isolator-list-incomplete"]);
        assert_eq!(codes("Q7 + + Q8", "A"), ["isolator-list-incomplete"]);
        assert_eq!(codes("Q7, Q8", "A"), ["perhaps-several-devices"]);
        assert_eq!(codes("Q7+Q8", "A"), ["perhaps-several-devices"]);
        assert_eq!(codes("Heater, fan", "A"), ["isolator-list-unclear"]);
        assert_eq!(codes("Q7 und F3", "A"), ["isolator-list-unclear"]);
        assert_eq!(codes("Q7 und Q8", "A"), ["perhaps-several-devices"]);
        for open in ["siehe Plan", "keine", "Q7 oder Q8"] {
            assert_eq!(codes(open, "A"), ["isolator-list-incomplete"], "{open}");
        }
        assert_eq!(isolation("unbekannt", "A", 3).isolation, Some(Isolation::Unknown));
        assert!(codes("Halle und Hof", "A").is_empty() && codes("E", "Halle und Hof").is_empty());
        assert_eq!(codes("none", "A"), ["location-without-device"]);
        assert_eq!(codes("1 + 2 + 3 + 4", "A"), ["too-many-devices"]);
        assert!(codes("1 + 2 + 3", "A").is_empty());
    }
}
