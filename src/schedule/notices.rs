//! The notices of a schedule, one a row.

use std::collections::HashMap;

use super::column::{Column, Listed, Value, joined};
use crate::length::{Length, Size};
use crate::notice::{Notice, Subject};
use crate::pages::texts::tenths;
use crate::prepared::{Names, Prepared};
use crate::rules::{Confidence, Reason, StandingDecision};
use crate::standing::{Date, Entry};
use crate::survey::value::Surface;

/// Characters of a fingerprint that tell two revisions of a notice apart; the code and `check` have all of it.
const SHORT: usize = 12;

/// One notice.
#[derive(Clone, Debug)]
pub struct NoticeRow<'a> {
    /// Its place among all notices.
    pub index: usize,
    /// What it says.
    pub notice: &'a Notice,
    /// What was decided for a standing notice, with its entry in the list.
    pub standing: Option<(&'a StandingDecision, &'a Entry)>,
    /// The rules that ask for it.
    pub reasons: Vec<&'a Reason>,
    /// Its size.
    pub size: Size,
    /// Height of its lowest capitals.
    pub letter_height: Length,
    /// Height of the sign; `None` without one.
    pub sign_height: Option<Length>,
    /// What its code carries, where it was set with one.
    pub code: Option<&'a str>,
    /// Sheet format on which it is printed.
    pub format: String,
    /// Class of the material.
    pub material: String,
    /// How it is marked.
    pub process: &'static str,
}

impl<'a> NoticeRow<'a> {
    /// A notice by its place among all; `None` if it was not set.
    pub(super) fn of(
        prepared: &Prepared<'a>,
        names: &Names<'a>,
        listed: &StandingIndex<'a>,
        index: usize,
    ) -> Option<Self> {
        let (notice, set) = (prepared.notice(index)?, prepared.set(index)?);
        let standing = listed.find(notice);
        let reasons = match notice.subject {
            Subject::Enclosure => {
                let decided = names.enclosure(&notice.designation).and_then(|place| prepared.decided(place));
                decided.map(|(decision, _)| decision.reasons.as_slice())
            }
            Subject::Device => names.device(&notice.designation, &notice.area).map(|device| device.reasons.as_slice()),
            Subject::Standing => standing.map(|(decision, _)| std::slice::from_ref(&decision.reason)),
        };
        let format = prepared.formats.for_size(set.size);
        Some(Self {
            index,
            notice,
            standing,
            reasons: reasons.unwrap_or_default().iter().filter(|reason| reason.outcome.prints()).collect(),
            size: set.size,
            letter_height: set.letter_height,
            sign_height: set.sign_height,
            code: notice.code.as_deref().filter(|_| set.code_module.is_some()),
            format: format.as_ref().map(|format| format.name.clone()).unwrap_or_default(),
            material: format.as_ref().map(|format| format.material.to_string()).unwrap_or_default(),
            process: format.map(|format| format.process.name()).unwrap_or_default(),
        })
    }

    /// `enclosure`, `isolator` or `standing notice`.
    #[must_use]
    pub const fn kind(&self) -> &'static str {
        match self.notice.subject {
            Subject::Enclosure => "enclosure",
            Subject::Device => "isolator",
            Subject::Standing => "standing notice",
        }
    }

    /// What it is, in words of survey or list; what it is fixed on where they have none.
    #[must_use]
    pub fn name(&self) -> &'a str {
        match self.standing {
            Some((_, entry)) => entry.kind.name(),
            None => &self.notice.name,
        }
    }

    /// Whose words a standing notice bears; empty for the others, whose words follow from the survey.
    #[must_use]
    pub fn words(&self) -> String {
        self.standing.map(|(decision, _)| decision.words.in_words()).unwrap_or_default()
    }

    /// The dates of the last and the next inspection, where a list gives them.
    #[must_use]
    pub fn inspections(&self) -> (String, String) {
        let written = |date: Option<Date>| date.map(|date| date.to_string()).unwrap_or_default();
        let entry = self.standing.map(|(_, entry)| entry);
        (written(entry.and_then(|one| one.last_inspection)), written(entry.and_then(|one| one.next_inspection)))
    }

    /// Where it is fixed.
    #[must_use]
    pub fn position(&self) -> &'a str {
        match self.notice.subject {
            Subject::Enclosure if self.notice.position.is_empty() => "usual place",
            Subject::Enclosure => &self.notice.position,
            Subject::Device => "at the isolator",
            Subject::Standing if self.notice.position.is_empty() => "position not said by the list",
            Subject::Standing => &self.notice.position,
        }
    }

    /// What it must stand up to.
    #[must_use]
    pub fn environment(&self) -> String {
        let words = self.notice.environment.in_words();
        if words.is_empty() { "not said".to_owned() } else { words }
    }

    /// What it is fixed on.
    #[must_use]
    pub fn surface(&self) -> &'static str {
        self.notice.surface.map_or("not said", Surface::name)
    }

    /// What its code carries.
    #[must_use]
    pub fn carried(&self) -> &'a str {
        match self.code {
            None => "none",
            Some(_) if self.notice.carries_text() => "its own words",
            Some(code) => code,
        }
    }

    /// What its code carries in few words: its number, where it ends in that, whatever stands before.
    #[must_use]
    pub fn carried_in_short(&self) -> &'a str {
        let Some(code) = self.code else { return "none" };
        if ends_in(code, &self.notice.number) { "its number" } else { self.carried() }
    }

    /// The first characters of its fingerprint.
    #[must_use]
    pub fn fingerprint(&self) -> &'a str {
        self.notice.fingerprint().get(..SHORT).unwrap_or(self.notice.fingerprint())
    }

    fn rules(&self) -> Value<'_> {
        joined(self.reasons.iter().map(|one| format!("{}: {}", one.rule.in_words(), one.outcome.name()))).into()
    }

    /// The clauses, those that are known alike together.
    fn clauses(&self) -> Value<'_> {
        let alike = self.alike().map(|(reasons, said)| {
            let references: Vec<&str> = reasons.iter().filter_map(|one| Some(one.clause?.reference)).collect();
            if references.is_empty() { said.to_owned() } else { format!("{} ({said})", references.join(", ")) }
        });
        joined(alike).into()
    }

    /// The rules in groups whose clauses are known alike, with how surely that is.
    fn alike(&self) -> impl Iterator<Item = (&[&'a Reason], &'static str)> {
        let surely = |reason: &Reason| reason.clause.map(|clause| clause.confidence);
        let groups = self.reasons.chunk_by(move |one, other| surely(one) == surely(other));
        groups.map(move |group| {
            let said = group.first().and_then(|reason| surely(reason)).map_or("common practice", Confidence::in_words);
            (group, said)
        })
    }
}

/// The standing notices of a list by their numbers.
pub(super) struct StandingIndex<'a>(HashMap<&'a str, (&'a StandingDecision, &'a Entry)>);

impl<'a> StandingIndex<'a> {
    /// The list of what is prepared.
    pub(super) fn of(prepared: &Prepared<'a>) -> Self {
        let entries = prepared.standing.map_or(&[][..], |standing| &standing.entries);
        let decisions = prepared.decisions.standing.iter();
        let named = decisions.filter_map(|decision| Some((decision, entries.get(decision.entry)?)));
        Self(named.map(|(decision, entry)| (entry.number.as_str(), (decision, entry))).collect())
    }

    fn find(&self, notice: &Notice) -> Option<(&'a StandingDecision, &'a Entry)> {
        let is_standing = notice.subject == Subject::Standing;
        is_standing.then(|| self.0.get(notice.number.as_str())).flatten().copied()
    }
}

/// Whether a link ends in a text, written in it as RFC 3986 writes what is not plain: `%` and two figures for a byte.
fn ends_in(link: &str, text: &str) -> bool {
    let (mut link, mut text) = (link.as_bytes(), text.as_bytes());
    while let Some((&last, rest)) = text.split_last() {
        link = match link {
            [before @ .., b'%', high, low] if Some(last) == byte(*high, *low) => before,
            [before @ .., one] if *one == last => before,
            _ => return false,
        };
        text = rest;
    }
    true
}

/// The byte of two hexadecimal figures.
fn byte(high: u8, low: u8) -> Option<u8> {
    let figure = |figure: u8| char::from(figure).to_digit(16).and_then(|value| u8::try_from(value).ok());
    Some(figure(high)? * 16 + figure(low)?)
}

impl Listed for NoticeRow<'_> {
    const SHEET: &'static str = "Notices";
    const TABLE: &'static str = "notices";

    fn columns() -> Vec<Column<Self>> {
        vec![
            Column::new("number", 20, |row| Value::text(&row.notice.number)),
            Column::new("on", 10, |row| Value::text(row.kind())),
            Column::new("designation", 12, |row| Value::text(&row.notice.designation)),
            Column::new("name", 17, |row| Value::text(row.name())),
            Column::new("area or location", 15, |row| Value::text(&row.notice.area)),
            Column::new("position", 14, |row| Value::text(row.position())),
            Column::new("rules", 21, Self::rules),
            Column::new("clauses, and how surely they are known", 28, Self::clauses),
            Column::new("whose words", 16, |row| row.words().into()),
            Column::new("last inspection", 11, |row| row.inspections().0.into()),
            Column::new("next inspection", 11, |row| row.inspections().1.into()),
            Column::new("width, mm", 7, |row| Value::Number(row.size.width.to_mm())),
            Column::new("height, mm", 7, |row| Value::Number(row.size.height.to_mm())),
            Column::new("least letter height, mm", 8, |row| Value::Number(tenths(row.letter_height))),
            Column::new("read from, m", 7, |row| Value::Number(row.notice.reading_distance.to_mm() / 1_000.0)),
            Column::new("sign height, mm", 7, |row| row.sign_height.map(tenths).into()),
            Column::new("sign seen from, m", 7, |row| {
                row.sign_height.map(|_| row.notice.sign_distance.to_mm() / 1_000.0).into()
            }),
            Column::new("sheet format", 10, |row| Value::text(&row.format)),
            Column::new("material", 13, |row| Value::text(&row.material)),
            Column::new("process", 10, |row| Value::text(row.process)),
            Column::new("environment", 11, |row| row.environment().into()),
            Column::new("surface", 10, |row| Value::text(row.surface())),
            Column::new("code carries", 22, |row| Value::text(row.carried())),
            Column::new("revision", 8, |row| Value::text(&row.notice.revision)),
            Column::new("fingerprint", 14, |row| Value::text(row.fingerprint())),
        ]
    }
}

#[cfg(test)]
mod tests {
    use super::ends_in;

    #[test]
    fn a_code_that_ends_in_the_number_is_told_from_a_link_of_its_own() {
        // RFC 3986, 2.1: percent-encoding.
        assert!(ends_in("HTTPS://SALTMERE.EXAMPLE/CH1-JB1/1", "CH1-JB1/1"));
        assert!(ends_in("https://e.example/QEV%40Car%20park%2c%20post", "QEV@Car park, post"));
        assert!(ends_in("https://e.example/%C3%A9/1", "\u{e9}/1"));
        for other in ["SCS-N-001", "https://e.example/CH1-JB1/2", "", "B1/1", "%4Car"] {
            assert!(!ends_in(other, "CH1-JB1/1"), "{other}");
        }
    }
}
