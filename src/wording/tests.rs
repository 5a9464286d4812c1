//! English as it is said, plurals, and message files that are not as they should be.

use std::borrow::Cow;

use super::*;
use crate::finding::Code;

const GERMAN: &str = include_str!("messages/de.ftl");

fn german(text: &str) -> MessageFile<'_> {
    MessageFile { language: "de", file: "de.ftl", text }
}

fn tags(languages: &[&str]) -> Vec<String> {
    languages.iter().map(|tag| (*tag).to_owned()).collect()
}

/// Codes and lines of what is found in a German file.
fn found(text: &str) -> Vec<(Code, u32)> {
    let findings = match Wording::new(&tags(&["en", "de"]), &[german(text)]) {
        Ok((_, findings)) | Err(findings) => findings,
    };
    findings.into_iter().map(|finding| (finding.code, finding.place.map_or(0, |place| place.line))).collect()
}

/// The German file with one line put in place of another; the line must be there.
fn german_with(line: &str, instead: &str) -> (String, u32) {
    let number = GERMAN.lines().position(|known| known == line).expect("the line is there") + 1;
    let text: Vec<&str> = GERMAN.lines().map(|known| if known == line { instead } else { known }).collect();
    (text.join("\n"), u32::try_from(number).unwrap())
}

const UNCHECKED: (Code, u32) = (code::TRANSLATION_UNCHECKED, 1);

#[test]
fn every_language_that_comes_along_says_every_message_and_nothing_else() {
    for shipped in SHIPPED {
        let tag = shipped.file.language;
        let mut findings = Vec::new();
        let language = Language::shipped(tag, &mut findings).unwrap();
        let advice: &[Code] = if shipped.unchecked { &[code::LANGUAGE_UNCHECKED] } else { &[] };
        assert_eq!(findings.iter().map(|finding| finding.code).collect::<Vec<_>>(), advice, "{tag}");
        // Looked through like a file of the job's, as no run does with what comes along.
        let mut faults = Vec::new();
        Language::new(&shipped.file, Origin::Job, &mut faults).unwrap();
        faults.retain(|finding| finding.code != code::TRANSLATION_UNCHECKED);
        assert_eq!(faults, [], "{tag}");
        for entry in message::TABLE {
            assert!(language.bundle.has_message(entry.key), "{tag}: {}", entry.key);
        }
        let named = shipped.file.text.lines().any(|line| line.starts_with("translation-checked-by"));
        assert_eq!(named, !shipped.unchecked, "{tag}: either somebody has read it, or it is marked so");
    }
}

#[test]
fn a_language_that_nobody_has_read_is_named_whenever_it_is_used() {
    for languages in [&["de"][..], &["en", "de"]] {
        let (wording, findings) = Wording::new(&tags(languages), &[]).unwrap();
        assert_eq!(wording.languages().collect::<Vec<_>>(), languages);
        let [finding] = &findings[..] else { panic!("{findings:?}") };
        assert_eq!((finding.code, finding.severity()), (code::LANGUAGE_UNCHECKED, Severity::Advice));
        assert!(finding.message.contains("German messages, `de`"), "{}", finding.message);
    }
    assert_eq!(Wording::new(&tags(&["en"]), &[german(GERMAN)]).unwrap().1, [], "a language that is not used");
}

#[test]
fn a_file_of_the_jobs_own_takes_the_place_of_the_shipped_one() {
    let (text, _) = german_with("to-earth = gegen Erde", "to-earth = nach Erde");
    let text = format!("translation-checked-by = A. Beispiel\n{text}");
    let (wording, findings) = Wording::new(&tags(&["de"]), &[german(&text)]).unwrap();
    assert_eq!((wording.say(Message::ToEarth {}), findings), (vec!["nach Erde".to_owned()].into(), vec![]));
}

/// The messages that are ours: the words of standing notices are those of a standard, capitals and all. The one that names high
/// voltage is said above low voltage only, where it is true.
fn our_own(messages: &str) -> String {
    let ours = |line: &&str| !["#", "standing-", "high-voltage ="].iter().any(|other| line.starts_with(other));
    messages.lines().filter(ours).collect::<Vec<_>>().join("\n")
}

#[test]
fn no_message_reassures_or_shouts() {
    let text = our_own(SHIPPED[0].file.text);
    let words = text.to_lowercase();
    for never in ["high voltage", "danger", "death", "safe", "is dead", "are dead", "warning!"] {
        assert!(!words.contains(never), "`{never}`");
    }
    let shouted =
        |word: &&str| word.chars().filter(|letter| letter.is_alphabetic()).count() > 1 && *word == word.to_uppercase();
    let shouts: Vec<&str> = text.split_whitespace().filter(shouted).collect();
    assert_eq!(shouts, ["UPS"]);
}

#[test]
fn no_german_message_reassures_or_shouts() {
    let text = our_own(GERMAN);
    let words = text.to_lowercase();
    for never in ["hochspannung", "gefahr", "lebens", "sicher ", "spannungsfrei ", "ungefährlich", "achtung", "!"] {
        assert!(!words.contains(never), "`{never}`");
    }
    let is_shouted = |word: &&str| {
        let letters: String = word.chars().filter(|letter| letter.is_alphabetic()).collect();
        letters.len() > 1 && letters == letters.to_uppercase()
    };
    let mut shouts: Vec<&str> = text.split_whitespace().filter(is_shouted).collect();
    shouts.sort_unstable();
    shouts.dedup();
    assert_eq!(shouts, ["DC", "USV"], "abbreviations alone");
}

#[test]
fn german_plurals_are_right() {
    let (german, _) = Wording::new(&tags(&["de"]), &[]).unwrap();
    let headline = |count| german.say_once(Message::IsolateAtAll { count });
    assert_eq!(headline(2), "An beiden Trennstellen freischalten");
    assert_eq!(headline(21), "An allen 21 Trennstellen freischalten");
    let live = |count, circuits| german.say_once(Message::CircuitsStayLive { count, circuits, enclosure: "MCP-1" });
    assert_eq!(live(1, "CP/3"), "CP/3 bleibt in MCP-1 unter Spannung");
    assert_eq!(live(2, "CP/3 und CP/4"), "CP/3 und CP/4 bleiben in MCP-1 unter Spannung");
    let time = |count| [Message::Minutes { count }, Message::Seconds { count }].map(|time| german.say_once(time));
    assert_eq!(time(1), ["1 Minute", "1 Sekunde"]);
    assert_eq!(time(5), ["5 Minuten", "5 Sekunden"]);
    let [disconnects] = &german.say(Message::Disconnects { count: 1 })[..] else { panic!() };
    assert_eq!(disconnects, "Trennt diesen Stromkreis");
}

#[test]
fn plurals_are_right() {
    let english = Wording::english();
    let headline = |count| english.say_once(Message::IsolateAtAll { count });
    assert_eq!(headline(2), "Isolate at both points");
    assert_eq!(headline(3), "Isolate at all 3 points");
    assert_eq!(headline(21), "Isolate at all 21 points");
    assert_eq!(headline(1_000), "Isolate at all 1000 points");
    let minutes = |count| english.say_once(Message::Minutes { count });
    assert_eq!([minutes(1), minutes(2), minutes(90)], ["1 minute", "2 minutes", "90 minutes"]);
    assert_eq!(english.say_once(Message::Seconds { count: 1 }), "1 second");
}

#[test]
fn arguments_stand_without_marks_around_them() {
    let said = Wording::english().say_once(Message::TwoSupplies { enclosure: "CH3-JB1" });
    assert_eq!(said, "Two supplies inside CH3-JB1");
}

#[test]
fn lists_have_their_last_member_joined_by_a_word() {
    let (wording, _) = Wording::new(&tags(&["en", "de"]), &[german(GERMAN)]).unwrap();
    let members = [Message::SourceMains {}, Message::SourceGenerator {}, Message::SourceSolar {}]
        .map(|source| wording.say(source));
    assert_eq!(wording.list(&members), ["mains, generator and solar", "Netz, Generator und PV-Anlage"]);
    assert_eq!(wording.list(&members[..2]), ["mains and generator", "Netz und Generator"]);
    assert_eq!(wording.list(&members[..1]), ["mains", "Netz"]);
    assert_eq!(wording.list(&[]), ["", ""]);
}

#[test]
fn a_file_of_the_jobs_own_that_names_nobody_is_marked_unchecked() {
    let (wording, findings) = Wording::new(&tags(&["en", "de"]), &[german(GERMAN)]).unwrap();
    assert_eq!(wording.languages().collect::<Vec<_>>(), ["en", "de"]);
    assert_eq!(
        wording.say(Message::IsolateAtAll { count: 3 }),
        ["Isolate at all 3 points", "An allen 3 Trennstellen freischalten"]
    );
    assert_eq!(findings.iter().map(|finding| finding.code).collect::<Vec<_>>(), [code::TRANSLATION_UNCHECKED]);
}

#[test]
fn a_translation_that_names_who_checked_it_is_not_advised_about() {
    let text = format!("translation-checked-by = A. Beispiel\n{GERMAN}");
    assert_eq!(found(&text), []);
}

#[test]
fn the_order_of_languages_is_the_jobs() {
    let (wording, _) = Wording::new(&tags(&["de", "en", "de"]), &[german(GERMAN)]).unwrap();
    assert_eq!(wording.say(Message::ToEarth {}), ["gegen Erde", "to earth"]);
}

#[test]
fn without_a_language_it_is_english() {
    let (wording, findings) = Wording::new(&[], &[]).unwrap();
    assert_eq!((wording.say(Message::ToEarth {}), findings), (vec!["to earth".to_owned()].into(), vec![]));
}

#[test]
fn a_language_without_messages_is_refused() {
    let refused = |tag: &str| Wording::new(&tags(&[tag]), &[]).map(|_| ()).unwrap_err();
    assert_eq!(refused("cy")[0].code, code::LANGUAGE_UNKNOWN);
    assert!(refused("cy")[0].message.contains("`cy`"));
    let nonsense = MessageFile { language: "not a tag", file: "x.ftl", text: GERMAN };
    let refused = Wording::new(&tags(&["not a tag"]), &[nonsense]).map(|_| ()).unwrap_err();
    assert_eq!(refused[0].code, code::LANGUAGE_UNKNOWN);
}

#[test]
fn a_missing_message_is_refused() {
    let (text, _) = german_with("to-earth = gegen Erde", "");
    assert_eq!(found(&text), [(code::MESSAGE_MISSING, 1), UNCHECKED]);
}

#[test]
fn a_misspelt_message_is_found_with_the_one_that_was_meant() {
    let (text, line) = german_with("to-earth = gegen Erde", "to-erth = gegen Erde");
    let findings = Wording::new(&tags(&["de"]), &[german(&text)]).map(|_| ()).unwrap_err();
    assert_eq!(findings[0].code, code::MESSAGE_UNKNOWN);
    assert_eq!(findings[0].place.as_ref().unwrap().line, line);
    assert_eq!(findings[0].place.as_ref().unwrap().line_text, "to-erth = gegen Erde");
    assert_eq!(findings[0].help.as_deref(), Some("did you mean `to-earth`"));
    assert_eq!(findings[1].code, code::MESSAGE_MISSING);
}

#[test]
fn a_message_that_stands_twice_is_refused() {
    let (text, line) = german_with("code-caption = Eintrag", "to-earth = zur Erde\ncode-caption = Eintrag");
    assert_eq!(found(&text), [(code::MESSAGE_REPEATED, line), UNCHECKED]);
}

#[test]
fn a_lost_argument_is_refused() {
    let (text, line) =
        german_with("two-supplies = Zwei Einspeisungen in { $enclosure }", "two-supplies = Zwei Einspeisungen");
    assert_eq!(found(&text), [(code::MESSAGE_ARGUMENT_MISSING, line), UNCHECKED]);
}

#[test]
fn an_argument_lost_in_one_variant_is_refused() {
    let whole = "        [one] { $circuits } bleibt in { $enclosure } unter Spannung";
    let (text, line) = german_with(whole, "        [one] { $circuits } bleibt unter Spannung");
    assert_eq!(found(&text), [(code::MESSAGE_ARGUMENT_MISSING, line - 2), UNCHECKED]);
}

#[test]
fn an_argument_of_no_such_name_is_refused() {
    let (text, line) =
        german_with("no-locking = In Aus-Stellung nicht abschließbar", "no-locking = { $device } nicht abschließbar");
    assert_eq!(found(&text), [(code::MESSAGE_ARGUMENT_UNKNOWN, line), UNCHECKED]);
}

#[test]
fn what_cannot_be_resolved_is_refused() {
    for instead in ["no-locking = { -no-term }", "no-locking = { UPPER(\"x\") }", "no-locking = { no-locking }"] {
        let (text, line) = german_with("no-locking = In Aus-Stellung nicht abschließbar", instead);
        assert_eq!(found(&text), [UNCHECKED, (code::MESSAGE_UNRESOLVED, line)], "{instead}");
    }
}

#[test]
fn terms_may_be_used() {
    let (text, _) = german_with(
        "no-locking = In Aus-Stellung nicht abschließbar",
        "no-locking = Nicht { -closable }\n-closable = abschließbar",
    );
    assert_eq!(found(&text), [UNCHECKED]);
}

#[test]
fn a_syntax_error_is_found_at_its_line_and_only_once() {
    let (text, line) = german_with("to-earth = gegen Erde", "to-earth gegen Erde");
    assert_eq!(found(&text), [(code::MESSAGE_FILE_SYNTAX, line), UNCHECKED]);
    assert!(!found("").is_empty());
}

#[test]
fn lines_are_made_one_and_lose_nothing() {
    assert_eq!(one_line("  Board\tC,\r\n  Switchroom\u{2028}1 "), "Board C, Switchroom 1");
    assert_eq!(one_line("230\u{A0}V"), "230\u{A0}V");
    assert!(matches!(one_line("Switchroom 1"), Cow::Borrowed(_)));
    assert_eq!(one_line(" \n "), "");
}

proptest::proptest! {
    #[test]
    fn one_line_keeps_every_mark_that_is_seen(text in "\\PC*[ \t\n]*\\PC*") {
        let seen = |text: &str| text.chars().filter(|mark| !mark.is_whitespace()).collect::<String>();
        proptest::prop_assert_eq!(seen(&one_line(&text)), seen(&text));
    }
}

#[test]
fn wording_may_be_shared_between_threads() {
    fn shared<T: Send + Sync>(_: &T) {}
    shared(&Wording::english());
}
