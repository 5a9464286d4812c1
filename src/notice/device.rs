//! What the notice of an isolator says: what it disconnects. It never says that something is dead.

use super::caution::back_feed;
use super::compose::{NoticeOptions, rules_of};
use super::enclosure::open_first;
use super::fingerprint::Fingerprint;
use super::source::source_point;
use super::{Notice, NoticePoint, Said, Subject, Tag};
use crate::rules::{DeviceDecision, Disconnects, LeastPlate, is_no_means, numbers};
use crate::wording::{Message, Wording, one_line};

/// The notice without what depends on its number.
pub(super) fn device_notice(decision: &DeviceDecision, wording: &Wording, options: &NoticeOptions) -> Notice {
    let (device, location) = (one_line(&decision.device), one_line(&decision.location));
    let own = decision.own();
    let reading_distance = own.reading_distance.or(decision.reading_distance).unwrap_or(options.reading_distance);
    let others_everywhere = decision.disconnects.iter().all(|disconnects| disconnects.others_remain);
    let points = decision.disconnects.iter().map(|disconnects| point(disconnects, !others_everywhere, wording));
    Notice {
        number: numbers::of_isolator(&decision.device, &decision.location),
        subject: Subject::Device,
        designation: device.clone().into_owned(),
        name: String::new(),
        area: location.into_owned(),
        position: String::new(),
        rules: rules_of(&decision.reasons),
        headline: wording.repeat(&device),
        statement: wording.say(Message::Disconnects { count: count_of_circuits(&decision.disconnects) }),
        cautions: cautions(decision, others_everywhere, wording),
        points: points.collect(),
        figures: Vec::new(),
        closing: Said::new(),
        small_line: String::new(),
        code_caption: Said::new(),
        code: None,
        tag: tag(decision, wording, options),
        reading_distance,
        sign_distance: reading_distance,
        size: own.size.map(|size| size.0),
        least: LeastPlate::default(),
        space: None,
        environment: own.environment.unwrap_or(options.environment),
        surface: own.surface,
        revision: options.revision.clone(),
        hashed: Fingerprint::at(&options.site),
    }
}

/// What a tag says instead: the devices that must be opened too are on the enclosures' own notices, so here it is said
/// only that something may remain. There is no tag where a circuit is not isolated by this device alone: which others
/// belong to it must be read beside it.
fn tag(decision: &DeviceDecision, wording: &Wording, options: &NoticeOptions) -> Option<Tag> {
    if decision.disconnects.iter().any(|disconnects| !disconnects.alone) {
        return None;
    }
    let all = decision.disconnects.as_slice();
    let others = |disconnects: &Disconnects| disconnects.others_remain || !disconnects.also.is_empty();
    let everywhere = !all.is_empty() && all.iter().all(others);
    let mut cautions: Vec<Said> =
        first_of_all(decision, wording).into_iter().chain(cautions(decision, everywhere, wording)).collect();
    if !everywhere && all.iter().any(others) {
        cautions.push(wording.say(Message::OtherSuppliesMayRemain {}));
    }
    if all.iter().any(|disconnects| disconnects.parts_remain) {
        cautions.push(wording.say(Message::LivePartsMayRemain {}));
    }
    // Two devices may bear one designation, and a tag on the wrong one lies: the place stands on it.
    cautions.push(wording.repeat(&one_line(&decision.location)));
    let declared = decision.own().reading_distance.or(decision.reading_distance);
    let reading_distance = declared.unwrap_or(options.tag_distance);
    Some(Tag { cautions, small_line: String::new(), reading_distance })
}

fn count_of_circuits(disconnects: &[Disconnects]) -> u32 {
    let mut circuits: Vec<&str> = disconnects.iter().map(|disconnects| disconnects.circuit.as_str()).collect();
    circuits.sort_unstable();
    circuits.dedup();
    u32::try_from(circuits.len()).unwrap_or(u32::MAX)
}

/// A circuit and the enclosure that it feeds, with what else must be opened for it.
fn point(disconnects: &Disconnects, says_others: bool, wording: &Wording) -> NoticePoint {
    let circuit = one_line(&disconnects.circuit);
    let (name, rest) = if disconnects.is_part { part_in_two(&circuit) } else { (circuit.into_owned(), None) };
    let mut remarks: Vec<Said> = rest.iter().map(|rest| wording.repeat(rest)).collect();
    remarks.extend(first(disconnects, wording));
    // What is opened first is open when this device is.
    let also = disconnects.also.iter().filter(|device| !disconnects.first.contains(device));
    let devices: Vec<Said> = also.map(|device| wording.repeat(device)).collect();
    if !devices.is_empty() {
        let devices = wording.list(&devices);
        remarks.push(wording.say_each(|language| Message::AlsoOpen { devices: devices.in_language(language) }));
    }
    if disconnects.others_remain && says_others {
        remarks.push(wording.say(Message::OtherSuppliesMayRemain {}));
    }
    // What this device leaves live no other supply's isolator makes dead, so the one caution does not tell the other.
    if disconnects.parts_remain {
        remarks.push(wording.say(Message::LivePartsMayRemain {}));
    }
    NoticePoint {
        designation: name,
        place: one_line(&disconnects.enclosure).into_owned(),
        serves: one_line(disconnects.serves.as_deref().unwrap_or_default()).into_owned(),
        remarks,
    }
}

/// A name is never split between lines; longer words for a part begin in its place and go on below it, where there is room
/// for as many again. All of them stand on the notice of the enclosure.
const LONGEST_PART: usize = 24;

/// How words for a part stand in the place of a name, and how they go on below it.
#[must_use]
pub fn part_in_two(part: &str) -> (String, Option<String>) {
    let Some((begin, rest)) = cut(part.trim()) else { return (part.trim().to_owned(), None) };
    let rest = cut(rest).map_or_else(|| format!("… {rest}"), |(begin, _)| format!("… {begin} …"));
    (format!("{begin} …"), Some(rest))
}

/// As many whole words as there is room for, at least one, and the others.
fn cut(words: &str) -> Option<(&str, &str)> {
    words.char_indices().nth(LONGEST_PART)?;
    let fits = |at: &usize| words.get(..*at).is_some_and(|begin| begin.chars().count() <= LONGEST_PART);
    let spaces = || words.match_indices(' ').map(|(at, _)| at);
    let at = spaces().take_while(fits).last().or_else(|| spaces().next())?;
    words.split_at_checked(at).map(|(begin, rest)| (begin, rest.trim_start()))
}

/// What is opened before a device for one circuit.
fn first(disconnects: &Disconnects, wording: &Wording) -> Option<Said> {
    let devices: Vec<Said> = disconnects.first.iter().map(|device| wording.repeat(device)).collect();
    open_first(wording, &devices)
}

/// What is opened before a device, in one sentence for all of its circuits.
fn first_of_all(decision: &DeviceDecision, wording: &Wording) -> Option<Said> {
    let mut firsts = decision.disconnects.iter().map(|disconnects| first(disconnects, wording));
    let one = firsts.next().flatten();
    let is_alike = firsts.all(|other| other == one);
    let is_none = decision.disconnects.iter().all(|disconnects| disconnects.first.is_empty());
    match (is_none, is_alike) {
        (true, _) => None,
        (false, true) => one,
        (false, false) => Some(wording.say(Message::OthersPerhapsFirst {})),
    }
}

/// What must be read before an isolator is opened, as its notice says it in the main language of a wording.
#[must_use]
pub fn before_opening(decision: &DeviceDecision, wording: &Wording) -> Vec<String> {
    let back_feed = decision.back_feed.iter().map(|ups| back_feed(wording, ups));
    let said = opening(decision, wording).into_iter().chain(first_of_all(decision, wording)).chain(back_feed);
    said.filter_map(|said| said.first().cloned()).collect()
}

fn opening(decision: &DeviceDecision, wording: &Wording) -> Vec<Said> {
    let mut cautions: Vec<Said> =
        decision.before.iter().map(|text| wording.say(Message::BeforeIsolating { text: &one_line(text) })).collect();
    if decision.locking.as_deref().is_some_and(is_no_means) {
        cautions.push(wording.say(Message::NoLocking {}));
    }
    if decision.not_under_load {
        cautions.push(wording.say(Message::NotUnderLoad {}));
    }
    cautions
}

fn cautions(decision: &DeviceDecision, others_everywhere: bool, wording: &Wording) -> Vec<Said> {
    let mut cautions = opening(decision, wording);
    if others_everywhere {
        cautions.push(wording.say(match decision.disconnects.as_slice() {
            [_] => Message::OtherSuppliesMayRemain {},
            [..] => Message::OtherSuppliesMayRemainInEach {},
        }));
    }
    cautions.extend(decision.back_feed.iter().map(|ups| back_feed(wording, ups)));
    let device = one_line(&decision.device);
    cautions.extend(decision.source_point.iter().flat_map(|point| source_point(wording, &device, point)));
    cautions
}
