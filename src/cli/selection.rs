//! Which notices are printed, and in which order: the ones asked for, in the order in which a person walks.

use std::cmp::Ordering;
use std::collections::BTreeSet;

use glob::{MatchOptions, Pattern};
use rayon::prelude::*;

use super::failure::Failure;
use super::pipeline::{self, Loaded};
use super::setting::AllSet;
use crate::finding::Finding;
use crate::notice::{Brief, Packed, Subject};
use crate::records::Print;
use crate::records::changes::Version;
use crate::survey::Enclosure;

/// The notices of one run.
#[derive(Debug, Default)]
pub(super) struct Selection {
    /// Their places in the list of all notices, in walking order: area, then designation, then position.
    pub chosen: Vec<usize>,
    /// Designations of the enclosures, and of the isolators that name one of them, left out because of errors.
    pub left_out: Vec<String>,
}

/// The enclosures of one run.
pub(super) struct Enclosures {
    /// Their places among the decisions, in walking order.
    pub chosen: Vec<usize>,
    /// Whether one of those asked for is left out because of errors.
    pub any_faulty: bool,
    /// Designations of all enclosures with errors, asked for or not.
    pub left_out: Vec<String>,
}

/// Which notices are asked for.
pub(super) struct Wanted {
    only: Vec<Pattern>,
    subject: Option<Subject>,
    numbers: Option<BTreeSet<String>>,
}

impl Wanted {
    /// Those of one kind, or of any, that match one of the patterns; without patterns, all.
    pub(super) fn new(only: &[String], subject: Option<Subject>) -> Result<Self, Failure> {
        Ok(Self {
            only: only.iter().map(|text| pattern("--only", text)).collect::<Result<_, _>>()?,
            subject,
            numbers: None,
        })
    }

    /// Of those, only the notices of these numbers, if any are named.
    pub(super) fn among(self, numbers: Option<&BTreeSet<String>>) -> Self {
        Self { numbers: numbers.cloned(), ..self }
    }

    /// What narrows the notices, for title blocks: `only CH3-*; isolators only`; empty where nothing does.
    pub(super) fn in_words(&self) -> String {
        let patterns = self.only.iter().map(Pattern::as_str).collect::<Vec<_>>().join(", ");
        let only = (!patterns.is_empty()).then(|| format!("only {patterns}"));
        let subject = self.subject.map(|subject| match subject {
            Subject::Enclosure => "enclosures only",
            Subject::Device => "isolators only",
            Subject::Standing => "standing notices only",
        });
        only.into_iter().chain(subject.map(str::to_owned)).collect::<Vec<_>>().join("; ")
    }

    /// Whether a notice is asked for.
    pub(super) fn asks_for(&self, notice: Brief<'_>) -> bool {
        self.subject.is_none_or(|subject| notice.subject == subject)
            && self.numbers.as_ref().is_none_or(|numbers| numbers.contains(notice.number))
            && matches([notice.designation, notice.area, notice.number], &self.only)
    }

    /// Whether a notice of a record is asked for. Where its printing is not recorded, nothing but its number is known, and it
    /// may be of any kind.
    pub(super) fn asks_for_recorded(&self, number: &str, print: Option<&Print>) -> bool {
        let [designation, area] = print.map_or(["", ""], |print| [&print.designation, &print.area]);
        self.subject.is_none_or(|subject| print.is_none_or(|print| print.subject == subject))
            && self.numbers.as_ref().is_none_or(|numbers| numbers.contains(number))
            && matches([designation, area, number], &self.only)
    }

    /// Whether something of these names is asked for.
    pub(super) fn asks_for_names<const N: usize>(&self, names: [&str; N]) -> bool {
        matches(names, &self.only)
    }

    /// Whether a version of a notice is asked for.
    pub(super) fn asks_for_version(&self, version: &Version<'_>) -> bool {
        self.subject.is_none_or(|subject| version.subject == subject)
            && self.asks_for_names([version.designation, version.area, version.number])
    }

    /// Whether a notice of two states is asked for: by either version, or by its number where neither is known.
    pub(super) fn of_both_sides(&self) -> impl Fn(Option<&Version<'_>>, Option<&Version<'_>>, &str) -> bool {
        |old, new, number| match (old, new) {
            (None, None) => self.asks_for_names([number]),
            _ => [old, new].into_iter().flatten().any(|version| self.asks_for_version(version)),
        }
    }

    /// The enclosures asked for of which the rules ask for no notice, by their place among the decisions, in walking
    /// order.
    pub(super) fn without_notice(&self, loaded: &Loaded) -> Vec<usize> {
        if matches!(self.subject, Some(Subject::Device | Subject::Standing)) {
            return Vec::new();
        }
        let named = |place: usize| {
            let enclosure = loaded.survey.enclosures.get(place)?;
            Some((enclosure.area.as_deref().unwrap_or_default(), enclosure.designation.as_str(), place))
        };
        let silent = loaded.verdicts.iter().enumerate().filter(|(_, verdict)| !verdict.need.prints());
        let mut silent: Vec<_> = silent.filter_map(|(place, _)| named(place)).collect();
        silent.retain(|(area, designation, _)| matches([designation, area], &self.only));
        silent.sort_by(|one, other| {
            let (area, designation) = (alphanumeric_sort::compare_str(one.0, other.0), (one.1, other.1));
            area.then_with(|| alphanumeric_sort::compare_str(designation.0, designation.1))
        });
        silent.into_iter().map(|(.., place)| place).collect()
    }
}

impl Wanted {
    /// The enclosures asked for by designation, area or the number of one of their notices, without those that a finding
    /// stops.
    pub(super) fn enclosures<'l>(&self, loaded: &'l Loaded, stopping: &[&Finding]) -> Enclosures {
        let faulty: BTreeSet<&str> = stopping.iter().filter_map(|finding| finding.enclosure.as_deref()).collect();
        let by_number = loaded.briefs().filter(|notice| !self.only.is_empty() && self.asks_for(*notice));
        let by_number: BTreeSet<&str> = by_number.map(|notice| notice.designation).collect();
        let named = |(place, enclosure): (usize, &'l Enclosure)| {
            (enclosure.area.as_deref().unwrap_or_default(), enclosure.designation.as_str(), place)
        };
        let mut asked: Vec<_> = loaded.survey.enclosures.iter().enumerate().map(named).collect();
        asked.retain(|(area, name, _)| by_number.contains(name) || matches([name, area], &self.only));
        asked.sort_by(|one, other| {
            let by_area = alphanumeric_sort::compare_str(one.0, other.0);
            by_area.then_with(|| alphanumeric_sort::compare_str(one.1, other.1))
        });
        let any_faulty = asked.iter().any(|(_, name, _)| faulty.contains(name));
        asked.retain(|(_, name, _)| !faulty.contains(name));
        let mut left_out: Vec<String> = faulty.into_iter().map(str::to_owned).collect();
        left_out.sort_by(|one, other| alphanumeric_sort::compare_str(one, other));
        Enclosures { chosen: asked.into_iter().map(|(.., place)| place).collect(), any_faulty, left_out }
    }
}

/// Chooses the notices that are asked for, could be set, and are not touched by a finding that stops.
pub(super) fn select(loaded: &Loaded, set: &AllSet, wanted: &Wanted, stopping: &[&Finding]) -> Selection {
    let faulty: BTreeSet<&str> = stopping.iter().filter_map(|finding| finding.enclosure.as_deref()).collect();
    let mut selection = Selection::default();
    for (index, notice) in loaded.briefs().enumerate() {
        if !wanted.asks_for(notice) {
            continue;
        }
        let unset = set.notices.get(index).is_none_or(Option::is_none);
        if unset || touches(loaded, notice, &faulty) {
            selection.left_out.push(notice.designation.to_owned());
        } else {
            selection.chosen.push(index);
        }
    }
    selection.left_out.extend(faulty.iter().map(|&name| name.to_owned()));
    selection.left_out.sort_by(|one, other| alphanumeric_sort::compare_str(one, other));
    selection.left_out.dedup();
    let in_order = |&one: &usize, &other: &usize| walking_order(loaded.packed.get(one), loaded.packed.get(other));
    selection.chosen.par_sort_by(in_order);
    selection
}

/// A pattern of an option.
pub(super) fn pattern(option: &str, text: &str) -> Result<Pattern, Failure> {
    Pattern::new(text).map_err(|error| {
        let message = format!("{option} `{text}`: {} at character {}", error.msg, error.pos + 1);
        Failure::with_hint(message, "`[1-3]` is one of several characters; write `[[]` for a bracket itself")
    })
}

/// Whether one of the names matches one of the patterns; without patterns, any does.
pub(super) fn matches<const N: usize>(names: [&str; N], patterns: &[Pattern]) -> bool {
    let options = MatchOptions { case_sensitive: false, ..MatchOptions::new() };
    // Names may hold what a pattern reads otherwise: `Ward [3]` is taken as it stands, too.
    let meets =
        |pattern: &Pattern, name: &str| pattern.matches_with(name, options) || is_as_it_stands(pattern.as_str(), name);
    patterns.is_empty() || patterns.iter().any(|pattern| names.iter().any(|name| meets(pattern, name)))
}

fn is_as_it_stands(pattern: &str, name: &str) -> bool {
    pattern.contains('[') && pattern.to_lowercase() == name.to_lowercase()
}

/// Whether a notice says anything of a faulty enclosure: its own, or one that its isolator serves.
fn touches(loaded: &Loaded, notice: Brief<'_>, faulty: &BTreeSet<&str>) -> bool {
    match notice.subject {
        _ if faulty.is_empty() => false,
        Subject::Enclosure => faulty.contains(notice.designation),
        Subject::Standing => false,
        Subject::Device => loaded
            .decisions()
            .devices
            .iter()
            .filter(|device| device.device == notice.designation && device.location == notice.area)
            .flat_map(|device| &device.disconnects)
            .any(|disconnects| faulty.contains(disconnects.enclosure.as_str())),
    }
}

/// Refuses patterns that meet nothing of a survey.
///
/// # Errors
/// A pattern that matches neither a notice nor an enclosure of which none is asked for.
pub(super) fn all_met(wanted: &Wanted, loaded: &Loaded) -> Result<(), Failure> {
    let notices = loaded.briefs().map(|notice| [notice.designation, notice.area, notice.number]);
    let enclosures = loaded.survey.enclosures.iter();
    let enclosures = enclosures.map(|it| [it.designation.as_str(), it.area.as_deref().unwrap_or_default(), ""]);
    refuse(&unmet(&wanted.only, notices.chain(enclosures)))
}

/// The patterns that match none of these names: beside others they would be passed over unseen, and a notice be lacking.
pub(super) fn unmet<'p, 'n, const N: usize>(
    patterns: &'p [Pattern],
    names: impl Iterator<Item = [&'n str; N]>,
) -> Vec<&'p Pattern> {
    let mut unmet: Vec<&Pattern> = patterns.iter().collect();
    if !unmet.is_empty() {
        names.for_each(|names| unmet.retain(|pattern| !matches(names, std::slice::from_ref(*pattern))));
    }
    unmet
}

/// Refuses patterns that nothing matches, if there are any.
pub(super) fn refuse(unmet: &[&Pattern]) -> Result<(), Failure> {
    if unmet.is_empty() { Ok(()) } else { Err(unmatched(unmet.iter().copied())) }
}

/// Why nothing at all is to be printed.
pub(super) fn nothing(wanted: &Wanted, loaded: &Loaded) -> Failure {
    if wanted.only.is_empty() || loaded.packed.is_empty() {
        let what = match wanted.subject {
            Some(Subject::Device) => "isolator",
            Some(Subject::Standing) => {
                return Failure::could_not_run("no standing notice is listed; nothing was written");
            }
            Some(Subject::Enclosure) | None => "enclosure",
        };
        let message = format!("no {what} of this survey needs a notice, on the survey's word; nothing was written");
        return Failure::could_not_run(message);
    }
    let silent = wanted.without_notice(loaded);
    let silent: Vec<&str> = silent.iter().filter_map(|place| loaded.survey.enclosures.get(*place)).map(named).collect();
    if silent.is_empty() { unmatched(wanted.only.iter()) } else { none_needed(&silent) }
}

fn named(enclosure: &Enclosure) -> &str {
    &enclosure.designation
}

/// Enclosures that a message names; the others are counted.
const NAMED: usize = 6;

/// What to say where all that matches needs no notice.
fn none_needed(enclosures: &[&str]) -> Failure {
    let named = enclosures.iter().take(NAMED).map(|name| format!("`{name}`")).collect::<Vec<_>>().join(", ");
    let more = enclosures.len().saturating_sub(NAMED);
    let more = if more > 0 { format!(" and {more} more") } else { String::new() };
    let need = if enclosures.len() == 1 { "needs" } else { "need" };
    let message = format!("{named}{more} {need} no notice, on the survey's word; nothing was written");
    Failure::with_hint(message, "`noticewright why SURVEY ENCLOSURE` tells why")
}

/// How patterns are read.
pub(super) const PATTERNS: &str = "patterns are matched against designations, areas and numbers; `*` stands for anything, \
                                   `?` for one character, `[13]` for a 1 or a 3, and a name that holds such characters is \
                                   taken as it stands too";

/// What to say of patterns that nothing matches.
fn unmatched<'p>(patterns: impl Iterator<Item = &'p Pattern>) -> Failure {
    let hint = PATTERNS;
    let patterns: Vec<&str> = patterns.map(Pattern::as_str).collect();
    Failure::with_hint(format!("no notice matches `{}`", patterns.join("`, `")), hint)
}

/// Refuses a number that no notice of a survey has.
pub(super) fn known(number: &str, loaded: &Loaded) -> Result<(), Failure> {
    if loaded.briefs().any(|notice| notice.number == number) {
        return Ok(());
    }
    let known: Vec<&str> = loaded.briefs().map(|notice| notice.number).collect();
    Err(no_such_number(number, &known))
}

/// What to do about a number that nothing has.
pub(super) fn no_such_number(number: &str, known: &[&str]) -> Failure {
    let hint = pipeline::nearest(number, known).map_or_else(
        || "`noticewright schedule` lists the number of every notice".to_owned(),
        |near| format!("is it `{near}`?"),
    );
    Failure::with_hint(format!("--number: there is no notice `{number}`"), hint)
}

/// Numbers within names count as numbers, so that CH2 comes before CH10.
fn walking_order(one: Option<&Packed>, other: Option<&Packed>) -> Ordering {
    let (Some(one), Some(other)) = (one.map(Packed::brief), other.map(Packed::brief)) else { return Ordering::Equal };
    alphanumeric_sort::compare_str(one.area, other.area)
        .then_with(|| one.subject.cmp(&other.subject))
        .then_with(|| alphanumeric_sort::compare_str(one.designation, other.designation))
        .then_with(|| alphanumeric_sort::compare_str(one.number, other.number))
}
