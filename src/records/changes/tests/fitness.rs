//! Copies that say what they should and cannot be read or do not last where they are, words that no print shows, and
//! declarations by which nothing moved on site.

use super::*;
use crate::records::{Entry, Event, Ledger, Print};
use crate::standing::Date;
use crate::typesetting::{LetterFloor, Typesetter};

const SURVEY: &str = "enclosure,area,circuit,fed_from,voltage_to_earth,isolator,isolator_location,size,reading_distance,environment\n\
     CH3-JB1,Chamber 3,DB-C/7,DB-C,230,Q7,Switchroom 1,A7,0.7,indoor\n\
     CH3-JB1,Chamber 3,DB-D/12,DB-D,230,Q12,Lobby,,,\n";

/// A survey with all that is needed to judge its copies.
struct State {
    notices: Vec<Notice>,
    measure: Measure,
}

impl State {
    fn of(survey: &str) -> Self {
        let reading = read(survey.as_bytes(), &ReadOptions::new("survey.csv"));
        let (network, _) = Network::join(&reading.survey, None, &NetworkOptions::default());
        let (decisions, _) = rules::decide(&reading.survey, &network, &RuleOptions::default());
        let notices = compose(&reading.survey, &decisions, &Wording::english(), &NoticeOptions::default()).0;
        let devices = Devices::of(&decisions.devices).into();
        let sizes = Sizes { enclosures: SIZES.into(), devices: SIZES.into(), standing: Vec::new() };
        let measure = Measure { devices, sizes: sizes.into(), ..Measure::default() };
        Self { notices, measure }
    }

    fn versions(&self) -> Vec<Version<'_>> {
        self.notices.iter().map(|notice| Version::needing(notice, &self.measure)).collect()
    }

    /// All of it printed on this material and fixed.
    fn fixed(&self, (material, process): (&str, &str)) -> Vec<Entry> {
        let day = |text: &str| Date::parse(text).unwrap();
        let both = |notice: &Notice| {
            let set = Typesetter::new().fit_on(notice, &SIZES, LetterFloor::default(), |_| None).unwrap();
            let print = Print {
                subject: notice.subject,
                designation: notice.designation.clone(),
                area: notice.area.clone(),
                size: set.size,
                letters: Some(set.letter_height),
                sign: set.sign_height,
                material: material.into(),
                process: process.into(),
                says: Statement::printed(notice, &set.printed(notice)),
                ..crate::records::testing::print()
            };
            let fingerprint = notice.fingerprint().to_owned();
            let printed = Entry::new(day("2026-01-01"), Event::Printed, notice.number.clone());
            let printed = Entry { fingerprint, print: Some(Box::new(print)), ..printed };
            [printed, Entry::new(day("2026-01-02"), Event::Fixed, notice.number.clone())]
        };
        self.notices.iter().flat_map(both).collect()
    }
}

const SIZES: [crate::length::Size; 3] = [
    crate::length::Size::whole_mm(105, 74),
    crate::length::Size::whole_mm(148, 105),
    crate::length::Size::whole_mm(210, 148),
];

const FILM: (&str, &str) = ("vinyl-monomeric", "laser");

/// What a check of these entries comes to: number, fate, danger, differences.
fn told(entries: &[Entry], now: &State) -> Vec<String> {
    let ledger = Ledger::of(entries);
    let changes = check(&ledger, now.versions(), &Doubt::default(), &|_, _, _| true);
    words(&changes, Against::Fixed)
}

fn words(changes: &Changes<'_>, against: Against) -> Vec<String> {
    let one = |change: &Change<'_>| {
        let found: Vec<String> =
            change.differences.iter().map(|one| format!("{}: {}", one.what.name(), one.in_words())).collect();
        format!("{} {} {}: {}", change.number, against.word(change.fate), change.danger.name(), found.join("; "))
    };
    changes.changed.iter().filter(|change| change.number.starts_with("CH3")).map(one).collect()
}

fn compared(old: &State, new: &State) -> Vec<String> {
    words(&compare(old.versions(), new.versions(), &Doubt::default(), &|_, _, _| true), Against::Older)
}

#[test]
fn a_copy_that_is_read_from_further_away_is_not_fit() {
    let then = State::of(SURVEY);
    let entries = then.fixed(FILM);
    assert_eq!(told(&entries, &then), [""; 0]);
    let found = told(&entries, &State::of(&SURVEY.replace("A7,0.7", "A7,3")));
    assert_eq!(found.len(), 1, "{found:?}");
    let (start, rest) = found[0].split_once("capitals of ").unwrap();
    assert_eq!(start, "CH3-JB1/1 not fit not-fit: height of letters: ");
    let (height, rest) = rest.split_once(" mm -> ").unwrap();
    assert!((3.5..4.5).contains(&height.parse::<f64>().unwrap()), "{height}");
    // The sign follows the reading distance where it has none of its own: a fortieth of it.
    assert!(rest.starts_with("at least 15 mm, read from 3 m; height of the sign: "), "{rest}");
    assert!(rest.ends_with("-> at least 75 mm, seen from 3 m"), "{rest}");
    // From nearer it is read all the better.
    assert_eq!(told(&entries, &State::of(&SURVEY.replace("A7,0.7", "A7,0.5"))), [""; 0]);
}

#[test]
fn a_copy_whose_letters_nobody_kept_is_not_fit_where_none_that_could_be_read_fit_on_it() {
    let mut entries = State::of(SURVEY).fixed(FILM);
    for print in entries.iter_mut().filter_map(|entry| entry.print.as_deref_mut()) {
        (print.letters, print.sign) = (None, None);
    }
    let found = told(&entries, &State::of(&SURVEY.replace("A7,0.7", "A7,3")));
    assert_eq!(
        found,
        ["CH3-JB1/1 not fit not-fit: height of letters: less on 105 x 74 mm -> at least 15 mm, read from 3 m"]
    );
}

#[test]
fn a_copy_that_is_not_made_for_its_place_is_not_fit() {
    let entries = State::of(SURVEY).fixed(FILM);
    let at = |environment: &str| told(&entries, &State::of(&SURVEY.replace("indoor", environment)));
    let made = "CH3-JB1/1 not fit not-fit: material at its place: vinyl-monomeric, marked by laser -> ";
    assert_eq!(at("indoor; heat 200"), [format!("{made}indoor, heat 200: not made for 200 °C (at most 70 °C)")]);
    assert_eq!(at("indoor; cold -28"), [format!("{made}indoor, cold -28: not made for -28 °C (at least -20 °C)")]);
    assert_eq!(at("outdoor"), [""; 0], "it is made for that");
    assert_eq!(at(""), [""; 0], "nothing is known of the place");
    // A class that the job no longer knows cannot be judged.
    let entries = State::of(SURVEY).fixed(("house film", "laser"));
    assert_eq!(told(&entries, &State::of(&SURVEY.replace("indoor", "heat 200"))), [""; 0]);
}

#[test]
fn between_two_surveys_what_asks_more_of_a_copy_is_told() {
    let old = State::of(SURVEY);
    let to = |from: &str, to: &str| compared(&old, &State::of(&SURVEY.replace(from, to)));
    let further = "CH3-JB1/1 not fit not-fit: height of letters: at least 3.5 mm, read from 0.7 m -> at least 15 mm, read \
                   from 3 m; height of the sign: seen from 0.7 m -> seen from 3 m";
    assert_eq!(to("A7,0.7", "A7,3"), [further]);
    assert_eq!(to("indoor", "outdoor"), ["CH3-JB1/1 not fit not-fit: material at its place: indoor -> outdoor"]);
    // What every class stands, and what asks less, changes nothing.
    assert_eq!(to("indoor", "indoor; heat 40"), [""; 0]);
    assert_eq!(to("A7,0.7", "A7,0.6"), [""; 0]);
    assert_eq!(to("indoor", ""), [""; 0]);
}

/// Several words that a small plate has no room for.
fn serving(words: &str) -> String {
    let header = SURVEY.lines().next().unwrap();
    let row = |circuit: &str, board: &str, isolator: &str, place: &str, size: &str| {
        format!("CH3-JB1,Chamber 3,{circuit},{board},230,{isolator},{place},{size},{words}\n")
    };
    let first = row("DB-C/7", "DB-C", "Q7", "Switchroom 1", "A7,0.7,indoor");
    let second = row("DB-D/12", "DB-D", "Q12", "Lobby", ",,");
    format!("{header},serves\n{first}{second}")
}

#[test]
fn words_that_neither_print_has_room_for_make_no_notice_false() {
    let long = "compressor and fans of the left chamber with all of its lamps";
    let then = State::of(&serving(long));
    let entries = then.fixed(FILM);
    let says = &entries[0].print.as_ref().unwrap().says;
    assert_eq!(says.of_kind(Kind::Serves).count(), 0, "{}", says.cell());
    assert_eq!(says.of_kind(Kind::LeftOff).collect::<Vec<_>>(), [long, long]);
    let other = State::of(&serving(&long.replace("left", "right")));
    assert_eq!(told(&entries, &other), [""; 0]);
    // Between two surveys the sheets at hand tell what is printed.
    assert_eq!(compared(&then, &other), [""; 0]);
    assert!(compared(&then, &State::of(&serving("fan")))[0].contains("altered other-words: what a point serves"));
    // A word that is short enough to be printed is one that the copy lacks.
    let found = told(&entries, &State::of(&serving("fan")));
    assert_eq!(found.len(), 1, "{found:?}");
    assert!(found[0].contains("no longer true other-words: what a point serves: Q7: fan;"), "{found:?}");
    // So is one that stood on the copy.
    let entries = State::of(&serving("fan")).fixed(FILM);
    assert_eq!(entries[0].print.as_ref().unwrap().says.of_kind(Kind::LeftOff).count(), 0);
    assert_eq!(told(&entries, &State::of(&serving("pump"))).len(), 1);
    // Whatever else changed beside it counts.
    let entries = then.fixed(FILM);
    let moved = serving(&long.replace("left", "right")).replace("Lobby", "Loft");
    assert!(told(&entries, &State::of(&moved))[0].contains("point-lacking"));
}

const DECLARED: &str = "enclosure,circuit,fed_from,voltage_to_earth,isolator,isolator_location,no_confusion,purpose_obvious\n\
                        CH3-JB1,DB-C/7,DB-C,230,Q7,Switchroom 1,,\n\
                        CH3-JB1,DB-D/12,DB-D,230,Q12,Lobby,,\n";

#[test]
fn a_place_that_is_left_out_by_declaration_moved_nowhere() {
    let old = State::of(DECLARED);
    let declared = State::of(&DECLARED.replacen(",,\n", ",\"one beside the other, JD\",\n", 1));
    let places = "place no longer said: Q7: Switchroom 1; place no longer said: Q12: Lobby";
    let found = compared(&old, &declared);
    assert_eq!(found.len(), 1, "{found:?}");
    assert!(found[0].starts_with("CH3-JB1/1 altered other-words: ") && found[0].contains(places), "{found:?}");
    let back = compared(&declared, &old);
    assert!(back[0].starts_with("CH3-JB1/1 altered caution-lacking: place said now: Q7: "), "{back:?}");
    let changes = compare(old.versions(), declared.versions(), &Doubt::default(), &|_, _, _| true);
    assert_eq!(on_site(&changes.changed), []);
    // One that is elsewhere by now did move, whatever is declared beside it.
    let moved = DECLARED.replacen(",,\n", ",\"one beside the other, JD\",\n", 1).replace("Q7,Switchroom 1", "Q7,Lobby");
    assert!(compared(&old, &State::of(&moved))[0].contains("point-lacking: point moved: Q7: Switchroom 1"));
}

#[test]
fn an_isolator_whose_purpose_is_declared_obvious_is_still_there() {
    let old = State::of(DECLARED);
    let declared = |text: &str| State::of(&text.replacen(",,\n", ",,\"labelled on its door, JD\"\n", 1));
    let of = |new: &State| {
        let changes = compare(old.versions(), new.versions(), &Doubt::default(), &|_, _, _| true);
        let devices = changes.changed.iter().filter(|change| change.subject() == Some(Subject::Device));
        devices
            .map(|change| format!("{} {} {}", change.number, change.fate.name(), change.danger.name()))
            .collect::<Vec<_>>()
    };
    assert_eq!(of(&declared(DECLARED)), ["Q12@Lobby withdrawn not-needed", "Q7@Switchroom 1 withdrawn not-needed"]);
    // One that no longer isolates what its notice says, or is gone, is as false as ever.
    let gone = DECLARED.replace("Q7,Switchroom 1", "Q7,Loft");
    assert!(of(&declared(&gone)).contains(&"Q7@Switchroom 1 withdrawn disconnects-less".to_owned()));
    let other = DECLARED.replace("DB-C/7", "DB-C/8");
    assert!(of(&declared(&other)).contains(&"Q7@Switchroom 1 withdrawn disconnects-less".to_owned()));
}
