//! Cells that hold words: free text, lists of places, declarations, the record link.

use std::borrow::Cow;
use std::sync::Arc;

use super::super::value::{Declaration, RecordLink};
use super::{Fault, Parsed, is_dash, is_not_known, place};
use crate::finding::code;

/// A text with single spaces: line breaks and tabs within a cell are blanks like any other.
pub(crate) fn tidied(text: &str) -> String {
    tidy(text).into_owned()
}

/// The same, borrowed where it is so already.
pub(crate) fn tidy(text: &str) -> Cow<'_, str> {
    let text = text.trim();
    if is_tidy(text) { Cow::Borrowed(text) } else { Cow::Owned(text.split_whitespace().collect::<Vec<_>>().join(" ")) }
}

/// Whether a text is of letters without accents, figures and signs, with single blanks between: nearly every one is.
fn is_tidy(text: &str) -> bool {
    let mut previous = 0;
    for byte in text.bytes() {
        let is_letter = byte > b' ' && byte.is_ascii();
        let is_blank = byte == b' ' && previous != b' ';
        if !is_letter && !is_blank {
            return false;
        }
        previous = byte;
    }
    true
}

/// Free text; a dash and `none` say that there is nothing to say.
pub(crate) fn free<T: for<'a> From<Cow<'a, str>>>(text: &str) -> Parsed<T> {
    const NOTHING: [&str; 3] = ["none", "nil", "nothing"];
    let is_nothing = || text.starts_with(['n', 'N']) && NOTHING.iter().any(|word| text.eq_ignore_ascii_case(word));
    if is_dash(text) || is_nothing() {
        return Parsed::nothing();
    }
    Parsed::good(tidy(text).into())
}

/// What is told in words: `no` says that there is nothing, and `yes` alone does not say what.
pub(crate) fn told(text: &str) -> Parsed<String> {
    let is_one_of = |words: [&str; 3]| text.len() <= 5 && words.iter().any(|word| text.eq_ignore_ascii_case(word));
    if is_one_of(["no", "n", "false"]) {
        return Parsed::nothing();
    }
    if is_one_of(["yes", "y", "true"]) {
        return Fault::new(code::ANSWER_WITHOUT_WORDS, format!("`{text}` says that there is something, and not what"))
            .help("write what it is, or leave the cell empty if there is nothing")
            .into();
    }
    if place::only_refers(text) {
        return Fault::new(code::ANSWER_WITHOUT_WORDS, format!("`{text}` says where to read, and not what"))
            .help("write what it is: the notice prints these words, and nobody reads further there")
            .into();
    }
    // Printed behind what stays live, it would say the opposite.
    const NOTHING_LIVE: [&str; 7] =
        ["dead", "all dead", "everything dead", "nothing live", "none live", "no live parts", "all off"];
    if NOTHING_LIVE.iter().any(|words| text.eq_ignore_ascii_case(words)) {
        return Fault::new(code::ANSWER_WITHOUT_WORDS, format!("`{text}` says that nothing is live, and not what is"))
            .help("write `none` if there is nothing; that something is dead is proved at the point of work")
            .into();
    }
    free(text)
}

/// How a device is secured off: `yes` alone does not say how, and `no` says that it cannot be.
pub(crate) fn locking<T: for<'a> From<Cow<'a, str>>>(text: &str) -> Parsed<T> {
    if ["yes", "y", "true", "1"].iter().any(|word| text.eq_ignore_ascii_case(word)) {
        return Fault::new(code::ANSWER_WITHOUT_WORDS, format!("`{text}` says that it is secured off, and not how"))
            .help("write how, such as `padlock`")
            .into();
    }
    Parsed::good(tidy(text).into())
}

/// Places with `;` between.
pub(crate) fn positions(text: &str, limit: usize) -> Parsed<Vec<String>> {
    let places: Vec<_> = text.split(';').map(tidied).filter(|place| !place.is_empty() && !is_dash(place)).collect();
    if places.len() > limit {
        return Fault::new(
            code::TOO_MANY_POSITIONS,
            format!("{} positions are more than the {limit} accepted", places.len()),
        )
        .help("split the enclosure, or raise `positions` under [limits] in the job file")
        .into();
    }
    Parsed::good(places)
}

/// A reason and, after the last comma, the name of who says so. Anything less is no declaration.
pub(crate) fn declaration(text: &str) -> Parsed<Arc<Declaration>> {
    if is_dash(text) || ["no", "n", "none", "false", "0"].iter().any(|word| text.eq_ignore_ascii_case(word)) {
        return Parsed::nothing();
    }
    const ANSWERS: [&str; 9] = ["yes", "y", "ok", "true", "no", "none", "nil", "agreed", "confirmed"];
    let says_something = |part: &str| {
        let is_answer = ANSWERS.iter().any(|word| part.eq_ignore_ascii_case(word));
        part.chars().any(char::is_alphabetic) && !is_answer && !is_dash(part) && !is_not_known(part)
    };
    match text.rsplit_once(',').map(|(reason, by)| (tidied(reason.trim()), tidied(by.trim()))) {
        Some((reason, by)) if says_something(&reason) && says_something(&by) => {
            Parsed::good(Arc::new(Declaration { reason, by }))
        }
        Some(_) | None => Fault::new(code::DECLARATION_INCOMPLETE, format!("`{text}` gives no reason with a name"))
            .help("write why and, after a comma, who says so; until then it counts as no")
            .into(),
    }
}

/// A record number or link; a dash asks for no code.
pub(crate) fn record_link(text: &str) -> Parsed<RecordLink> {
    Parsed::good(if is_dash(text) || text.eq_ignore_ascii_case("none") {
        RecordLink::None
    } else {
        RecordLink::Given(text.to_owned())
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_declaration_needs_reason_and_name() {
        let good = declaration("one isolator beside the other, in one room, JD").value.unwrap();
        assert_eq!((good.reason.as_str(), good.by.as_str()), ("one isolator beside the other, in one room", "JD"));
        for bad in ["yes", "JD", "obvious,", ", JD", "obvious, 7", "yes, JD", "N/A, N/A", "one handle, ?", "OK, tbc"] {
            assert_eq!(declaration(bad).fault.map(|f| f.code), Some(code::DECLARATION_INCOMPLETE), "{bad}");
            assert_eq!(declaration(bad).value, None, "{bad}");
        }
        assert_eq!(declaration("no"), Parsed::nothing());
    }

    #[test]
    fn an_answer_is_not_what_was_asked_for() {
        for answer in ["yes", "Y", "TRUE"] {
            assert_eq!(told(answer).fault.map(|fault| fault.code), Some(code::ANSWER_WITHOUT_WORDS), "{answer}");
            assert_eq!(told(answer).value, None, "{answer}");
        }
        for answer in
            ["see note", "See note 3", "refer to RAMS", "as per drawing E-101", "all dead", "Dead", "no live parts"]
        {
            assert_eq!(told(answer).fault.map(|fault| fault.code), Some(code::ANSWER_WITHOUT_WORDS), "{answer}");
        }
        for said in
            ["see the shift manager", "prove dead at the motor", "check that the lift plan is empty of people", "note"]
        {
            assert_eq!(told(said).value.as_deref(), Some(said));
        }
        for answer in ["no", "N", "False", "none", "-"] {
            assert_eq!(told(answer), Parsed::nothing(), "{answer}");
        }
        assert_eq!(locking::<String>("Yes").fault.map(|fault| fault.code), Some(code::ANSWER_WITHOUT_WORDS));
        assert_eq!(locking::<String>("no").value.as_deref(), Some("no"), "that it cannot be locked is said");
        assert_eq!(told("no one near the fan").value.as_deref(), Some("no one near the fan"));
    }

    #[test]
    fn lists_of_places_are_split_and_limited() {
        assert_eq!(positions("left of the door; rear  panel;", 2).value.unwrap(), ["left of the door", "rear panel"]);
        assert_eq!(positions("a; b; c", 2).fault.map(|f| f.code), Some(code::TOO_MANY_POSITIONS));
        assert_eq!(positions("a; b", 2).fault, None);
    }

    #[test]
    fn a_dash_asks_for_no_code() {
        assert_eq!(record_link("-").value, Some(RecordLink::None));
        assert_eq!(record_link("R-100").value, Some(RecordLink::Given("R-100".to_owned())));
    }
}
