//! What a list of standing notices asks a person to look at: words, dates, numbers and sizes that cannot stand so.

use std::collections::BTreeSet;

use super::{LeastPlate, StandingDecision, WhoseWords, decision, own_words, rcd_test};
use crate::finding::{Code, Finding, code};
use crate::network::Network;
use crate::rules::Confidence;
use crate::standing::{Date, Entry, Kind, Standing, StandingColumn};
use crate::survey::Survey;
use crate::table::cell::is_not_known;
use crate::table::spelling;

/// Decides for every entry of a list. The date of the job, from its first to its last day, is what dates of inspection
/// are held against; without one they are held against each other alone. `survey` and `network` tell which names are
/// taken.
#[must_use]
pub fn decide(
    standing: &Standing,
    survey: &Survey,
    network: &Network,
    date: Option<(Date, Date)>,
) -> (Vec<StandingDecision>, Vec<Finding>) {
    let list = List { standing, taken: taken(survey, network), date };
    let decisions: Vec<_> = standing.entries.iter().enumerate().map(|(index, entry)| decision(index, entry)).collect();
    let mut findings = Vec::new();
    for (entry, decision) in standing.entries.iter().zip(&decisions) {
        list.report(entry, decision, &mut findings);
    }
    findings.extend(list.not_judged());
    findings.extend(Kind::ALL.into_iter().filter_map(|kind| list.unverified(kind, &decisions)));
    (decisions, findings)
}

/// A list with what its entries are held against.
struct List<'a> {
    standing: &'a Standing,
    taken: BTreeSet<String>,
    date: Option<(Date, Date)>,
}

/// Names that a standing notice must not bear, in the form in which names are compared.
fn taken(survey: &Survey, network: &Network) -> BTreeSet<String> {
    let enclosures = survey.enclosures.iter().flat_map(|enclosure| {
        let numbers = (1..=enclosure.particulars().positions.len().max(1))
            .map(|place| format!("{}/{place}", enclosure.designation));
        numbers.chain([enclosure.designation.clone()])
    });
    let devices = network.devices().iter();
    let devices =
        devices.flat_map(|one| [one.designation.as_ref().to_owned(), format!("{}@{}", one.designation, one.location)]);
    enclosures.chain(devices).map(|name| spelling::key(&name)).collect()
}

/// What the files of drawings of whole sheets are called.
const SHEET: &str = "sheet-";

impl List<'_> {
    fn finding(&self, code: Code, message: String, help: &str, entry: &Entry, column: StandingColumn) -> Finding {
        Finding::new(code, message).help(help).at(self.standing.place(entry.record, column))
    }

    fn report(&self, entry: &Entry, decision: &StandingDecision, findings: &mut Vec<Finding>) {
        findings.extend(self.number(entry));
        findings.extend(self.outdated(entry));
        findings.extend(self.doubtful(entry));
        findings.extend(self.too_small(entry, decision.least));
        if entry.kind == Kind::PeriodicInspection {
            findings.extend(self.dates(entry));
        }
        if entry.kind == Kind::FirefightersSwitch {
            let message = format!("the plate `{}` is to be red, and no sheet format prints red", entry.number);
            let help =
                "it is printed black on the sheet's own stock; have it made on red, or see that the switch is red";
            findings.push(self.finding(code::STANDING_NOT_RED, message, help, entry, StandingColumn::Kind));
        }
    }

    /// A number that something else bears.
    fn number(&self, entry: &Entry) -> Option<Finding> {
        let key = spelling::key(&entry.number);
        let message = if self.taken.contains(&key) {
            format!("`{}` is an enclosure, an isolator or a notice of the survey already", entry.number)
        } else if entry.number.to_lowercase().starts_with(SHEET) {
            format!("`{}` is kept for drawings of whole sheets", entry.number)
        } else {
            return None;
        };
        let help = "give each notice a number of its own";
        Some(self.finding(code::STANDING_NUMBER_TAKEN, message, help, entry, StandingColumn::Number))
    }

    /// Words of the reader's own with the interval of an earlier edition, or with a longer one.
    fn outdated(&self, entry: &Entry) -> Option<Finding> {
        let words = entry.words.as_ref().filter(|_| entry.kind == Kind::RcdTest)?;
        let old = rcd_test::other_interval(words)?;
        let message = format!("the words of `{}` say `{old}`, and BS 7671 asks for six months now", entry.number);
        let help = "write the words of the edition in force, or empty the cell";
        Some(self.finding(code::STANDING_WORDS_OUTDATED, message, help, entry, StandingColumn::Words))
    }

    /// Words of the reader's own that reassure, or lack what the notice is for.
    fn doubtful(&self, entry: &Entry) -> Vec<Finding> {
        let Some(words) = &entry.words else { return Vec::new() };
        let number = &entry.number;
        let help = "write the words of the standard, or empty the cell";
        let found = |message| self.finding(code::STANDING_WORDS_DOUBTFUL, message, help, entry, StandingColumn::Words);
        let reassures = own_words::reassuring(words)
            .map(|word| format!("the words of `{number}` say `{word}`, and no notice proves that"));
        let lacks = own_words::lacks(entry.kind, words)
            .map(|key| format!("the words of `{number}` do not say `{key}`, which its clause prescribes"));
        let is_silent =
            entry.kind == Kind::RcdTest && rcd_test::other_interval(words).is_none() && !rcd_test::says_interval(words);
        let interval =
            is_silent.then(|| format!("neither six months nor half-yearly is found in the words of `{number}`"));
        reassures.into_iter().chain(lacks).chain(interval).map(found).collect()
    }

    fn too_small(&self, entry: &Entry, least: LeastPlate) -> Option<Finding> {
        let (wished, published) = (entry.size?.0, least.size?);
        if least.allows(wished) {
            return None;
        }
        let message = format!("the plate `{}` is to be {wished}, and at least {published} is published", entry.number);
        let help = "give a larger size, or empty the cell";
        Some(self.finding(code::STANDING_PLATE_TOO_SMALL, message, help, entry, StandingColumn::Size))
    }

    /// Whether a date is not given; of one that could not be understood something has been said already.
    fn is_left_to_write(&self, entry: &Entry, column: StandingColumn) -> bool {
        let cell = self.standing.place(entry.record, column).cell;
        cell.trim().is_empty() || is_not_known(cell.trim())
    }

    /// Dates that are not there, and those that the date of the job contradicts.
    fn dates(&self, entry: &Entry) -> Vec<Finding> {
        use StandingColumn as C;
        let mut found = Vec::new();
        let is_reversed = entry.last_inspection.zip(entry.next_inspection).is_some_and(|(last, next)| next <= last);
        if is_reversed {
            return found;
        }
        let is_blank = |column| self.is_left_to_write(entry, column);
        let blank = match (is_blank(C::LastInspection), is_blank(C::NextInspection)) {
            (false, false) => None,
            (false, true) => Some(("the next inspection", C::NextInspection)),
            (true, false) => Some(("the last inspection", C::LastInspection)),
            (true, true) => Some(("the last and of the next inspection", C::LastInspection)),
        };
        if let Some((which, column)) = blank {
            let message = format!("the date of {which} is not given, so `{}` has a line to write on", entry.number);
            let help = "write it with a permanent pen before the notice is fixed, or give the date";
            found.push(self.finding(code::STANDING_DATE_LEFT_TO_WRITE, message, help, entry, column));
        }
        let Some((from, to)) = self.date else { return found };
        if let Some(last) = entry.last_inspection.filter(|last| *last > to) {
            let message = format!("`{}` says inspected on {last}, and the job's date is {to}", entry.number);
            let help = "correct the date, or `date` under [job] in the job file";
            found.push(self.finding(code::STANDING_INSPECTION_AHEAD, message, help, entry, C::LastInspection));
        }
        if let Some(next) = entry.next_inspection.filter(|next| *next < from) {
            let message =
                format!("`{}` says that the next inspection was due on {next}, before the job's date", entry.number);
            let help = "have the installation inspected, or correct the date";
            found.push(self.finding(code::STANDING_INSPECTION_OVERDUE, message, help, entry, C::NextInspection));
        }
        found
    }

    /// That nobody knows whether an inspection is still ahead: without a date of the job there is no day to hold it against.
    fn not_judged(&self) -> Option<Finding> {
        let is_dated = |entry: &&Entry| entry.kind == Kind::PeriodicInspection && entry.next_inspection.is_some();
        let mut dated = self.standing.entries.iter().filter(is_dated).take_while(|_| self.date.is_none());
        let first = dated.next()?;
        let more = match dated.count() {
            0 => String::new(),
            more => format!(" and {more} more"),
        };
        let message = format!(
            "the job has no date, so whether the next inspection on `{}`{more} is still ahead is not known",
            first.number
        );
        let help = "look at the dates, or write `date` under [job] in the job file";
        Some(self.finding(code::STANDING_DATE_NOT_JUDGED, message, help, first, StandingColumn::NextInspection))
    }

    /// One finding for all notices of a kind whose prescribed words nobody has compared with the standard.
    fn unverified(&self, kind: Kind, decisions: &[StandingDecision]) -> Option<Finding> {
        let entries = self.standing.entries.iter().zip(decisions);
        let ours = entries.filter_map(|(entry, decision)| match decision.words {
            WhoseWords::OursPrescribed(confidence) if entry.kind == kind => Some((entry, decision, confidence)),
            WhoseWords::ReadersDoubtful(confidence) if entry.kind == kind => Some((entry, decision, confidence)),
            WhoseWords::OursPrescribed(_)
            | WhoseWords::ReadersDoubtful(_)
            | WhoseWords::OursFree
            | WhoseWords::Readers => None,
        });
        let ours: Vec<_> = ours.collect();
        let (first, decision, confidence) = *ours.first()?;
        let source = match (decision.words, confidence) {
            (WhoseWords::ReadersDoubtful(_), _) => "those given lack key words",
            (_, Confidence::Primary) => return None,
            (_, Confidence::Secondary) => "ours are from texts that quote them",
            (_, Confidence::Memory) => "ours are from memory",
        };
        let clause = decision.reason.clause_in_words();
        let whose = match ours.len().saturating_sub(1) {
            0 => format!("`{}`", first.number),
            1 => format!("`{}` and 1 more notice", first.number),
            more => format!("`{}` and {more} more notices", first.number),
        };
        let message = format!("{source}: the words of {whose}, which are prescribed by {clause}");
        let help = "compare them with your own copy, and write in `words` what it says: that lifts this advice";
        Some(self.finding(code::STANDING_WORDS_UNVERIFIED, message, help, first, StandingColumn::Words))
    }
}
