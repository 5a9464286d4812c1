//! Back-feed: a UPS downstream can make the enclosure live from its load side.
//!
//! Reason: the isolator before a UPS is open, and the UPS feeds back to its outgoing terminals.
//!
//! Reference: IEC 62040-1 asks a warning at every isolator upstream of a UPS and away from it: isolate the UPS, then
//! check (from memory). Nothing lifts it.
//!
//! In the survey: an enclosure is a UPS by its designation or name, and the isolators of its rows stand upstream of it;
//! or `serves` names the UPS that a circuit feeds. What lies between is not known from a survey alone, and a UPS whose
//! input no row names makes the rule unknown where it meets other circuits. In the supplies file: a device of kind
//! `ups`. Then every isolator between it and its sources carries the notice, unless it stands at the UPS itself, and so
//! does an enclosure that the UPS can reach with every isolator listed open.
//!
//! Example: QE2 on the essential board feeds the rectifier of UPS-1 in another room.

use super::case::{Answer, Case};
use super::phrases::list;
use super::statement::Statement;
use crate::network::{Gap, Nature, Network, Way, WayId, spelling};
use crate::survey::{Enclosure, Row};
use crate::table::WordList;

/// Whether a UPS can feed back to this enclosure.
pub(super) fn check(case: &Case<'_>) -> Answer {
    if is_ups(case.enclosure) {
        return Answer::not_needed("it belongs to the UPS itself; the isolators upstream of it carry the notice");
    }
    let named = named(case);
    let mut upses: Vec<_> = reaching(case).chain(named.iter().cloned()).collect();
    upses.sort_unstable();
    upses.dedup();
    if !upses.is_empty() {
        let because = case.because(|| {
            let listed = list(upses.iter().map(String::as_str));
            if named.is_empty() {
                format!("with every isolator listed open, {listed} can feed back to this enclosure")
            } else {
                format!("circuits here feed {listed}, which can feed back")
            }
        });
        return Answer::required(because).says(upses.into_iter().map(|ups| Statement::BackFeed { ups }));
    }
    let upses = of_unknown_input(case);
    if upses.is_empty() {
        return Answer::not_needed("no circuit here is known to feed a UPS");
    }
    let because = case.because(|| {
        let (reach, them) = if upses.len() == 1 { ("reaches", "it") } else { ("reach", "them") };
        let listed = list(upses.iter().map(String::as_str));
        format!("{listed} {reach} this enclosure, and no row tells what feeds {them}")
    });
    Answer::unknown(because).says(upses.into_iter().map(|ups| Statement::BackFeed { ups }))
}

/// The UPSs that the rows say they feed, each once.
fn named(case: &Case<'_>) -> Vec<String> {
    let mut upses: Vec<_> =
        case.rows().filter_map(|(row, way)| fed_ups(case.enclosure, row, way, case.network)).collect();
    upses.sort_unstable();
    upses.dedup();
    upses
}

/// The UPSs that may feed back to the enclosure with everything open that it lists, by the supplies file.
fn reaching<'a>(case: &'a Case<'_>) -> impl Iterator<Item = String> + use<'a> {
    let ups = |gap: &Gap| gap.back_feed()?.1.first().map(|ups| case.network.node_name(*ups));
    case.proof.gaps.iter().filter_map(ups)
}

/// Whether the rows of an enclosure name a UPS: it is one, feeds one, or has one as a source.
pub(super) fn is_named(case: &Case<'_>) -> bool {
    is_ups(case.enclosure)
        || !named(case).is_empty()
        || case.ways.iter().any(|way| case.nature(way) == Some(Nature::Ups))
}

/// The UPSs that reach an enclosure with other circuits, and whose input is not known: one of these may be it.
fn of_unknown_input(case: &Case<'_>) -> Vec<String> {
    if case.ways.iter().all(|way| case.nature(way) == Some(Nature::Ups)) {
        return Vec::new();
    }
    let of_row = |(id, _, way): (WayId, &Row, &Way)| case.installation.described.upses_of(case.network, id, way);
    let mut upses: Vec<String> = case.numbered_rows().flat_map(of_row).collect();
    upses.retain(|ups| case.installation.ups_input_is_unknown(ups));
    upses.sort_unstable();
    upses.dedup();
    upses
}

/// Words beside `ups` that speak of what a UPS feeds, or of the room around it.
static NOT_ITSELF: WordList =
    WordList::new(&["room", "lighting", "socket", "sockets", "cooling", "ventilation", "heater", "fed"]);

fn tells_ups(text: &str) -> bool {
    // Nearly every text is told apart by its letters alone, before its words are looked at.
    let is_ups = |letters: &[u8]| matches!(letters, [b'u' | b'U', b'p' | b'P', b's' | b'S']);
    let has_letters = text.as_bytes().windows(3).any(is_ups);
    has_letters && spelling::has_word(text, &spelling::UPS) && !spelling::has_word(text, &NOT_ITSELF)
}

/// Whether an enclosure is a UPS, or belongs to one.
pub(super) fn is_ups(enclosure: &Enclosure) -> bool {
    let by_name = |name: &str| tells_ups(name) && !spelling::has_word(name, &BESIDE_IT);
    let by_designation = |name: &str| tells_ups(name) && !spelling::has_word(name, &BARS);
    by_designation(&enclosure.designation) || enclosure.name.as_deref().is_some_and(by_name)
}

/// Words of a designation that speak of bars behind a UPS.
static BARS: WordList = WordList::new(&["bus", "busbar", "busbars"]);

/// Words of a name that speak of what stands after a UPS.
static BESIDE_IT: WordList =
    WordList::new(&["board", "distribution", "output", "outlet", "supply", "bus", "busbar", "busbars"]);

/// The UPS that a row feeds, as far as the survey tells.
pub(super) fn fed_ups(enclosure: &Enclosure, row: &Row, way: &Way, network: &Network) -> Option<String> {
    match network.nature(way) {
        Some(Nature::Ups | Nature::Battery) => return None,
        Some(Nature::Mains | Nature::Generator | Nature::Solar | Nature::Vehicle | Nature::NotTold) | None => {}
    }
    if row.fed_from.as_deref().is_some_and(tells_ups) {
        return None;
    }
    if let Some(named) = row.serves.as_deref().filter(|serves| tells_ups(serves)).and_then(designation_in) {
        return Some(named);
    }
    is_ups(enclosure).then(|| name_of(enclosure))
}

/// The word of a text that names a UPS: `UPS-1` of `rectifier of UPS-1`.
fn designation_in(text: &str) -> Option<String> {
    let word = text.split_whitespace().find(|word| spelling::has_word(word, &spelling::UPS))?;
    Some(word.trim_matches(|character: char| !character.is_alphanumeric()).to_owned())
}

/// The UPS to which an enclosure belongs: the one whose output is there too, or itself.
fn name_of(enclosure: &Enclosure) -> String {
    let outputs = enclosure.rows.iter().filter(|row| row.source.as_ref().map(Nature::of) == Some(Nature::Ups));
    let beside = outputs.filter_map(|row| row.fed_from.as_deref()).find(|from| tells_ups(from));
    beside.unwrap_or(&enclosure.designation).to_owned()
}

#[cfg(test)]
mod tests {
    use crate::rules::testing::{PLAIN, decided, outcome};
    use crate::rules::{Outcome, Rule};

    const RULE: Rule = Rule::BackFeed;

    #[test]
    fn a_circuit_that_feeds_a_ups() {
        let serving = |what: &str| outcome(RULE, "serves", &[&format!("{PLAIN},{what}")]);
        assert_eq!(serving("rectifier of UPS-1"), Outcome::Required);
        assert_eq!(serving("UPS room lighting"), Outcome::NotNeeded);
        assert_eq!(serving("upstand heater"), Outcome::NotNeeded);
    }

    #[test]
    fn a_ups_is_known_by_its_name_too() {
        let fed = |name: &str| {
            let row = PLAIN.replace("E1", "C12");
            decided("name", &[&format!("{row},{name}")]).0.devices[0].back_feed.clone()
        };
        assert_eq!(fed("UPS cabinet"), ["C12"]);
        assert_eq!(fed("UPS output board"), [""; 0]);
    }

    #[test]
    fn the_isolators_upstream_of_a_ups_carry_it() {
        let at = |place: &str| {
            let row = PLAIN.replace("E1", "UPS-1").replace("Board C", place);
            decided("", &[&row]).0.devices[0].back_feed.clone()
        };
        assert_eq!(at("Board C"), ["UPS-1"]);
        assert_eq!(at("inside UPS-1"), [""; 0]);
    }

    #[test]
    fn a_ups_whose_input_nobody_names_is_unknown_beside_other_circuits() {
        let ups = "E1,U/1,UPS-1,ups,230,L1 N,TN-S,230,QU1,Comms room,1+N,padlock";
        assert_eq!(outcome(RULE, "", &[ups, PLAIN]), Outcome::Unknown);
        assert_eq!(outcome(RULE, "", &[ups]), Outcome::NotNeeded);
    }
}
