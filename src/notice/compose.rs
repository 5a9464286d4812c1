//! Decisions into notices: one for each position of an enclosure that needs one, and one for each isolator.

use std::sync::Arc;

use rayon::prelude::*;

use super::device::device_notice;
use super::enclosure::EnclosureNotice;
use super::record_link;
use super::{Carries, Notice, code_text};
use crate::finding::{Finding, code};
use crate::length::Length;
use crate::limits::Limits;
use crate::rules::{Decision, Decisions, DeviceDecision, Outcome, Reason, Rule, numbers};
use crate::survey::value::{Environment, RecordLink};
use crate::survey::{Enclosure, Survey};
use crate::wording::{Wording, one_line};

/// What holds for every notice of a job.
#[derive(Clone, Debug, PartialEq)]
pub struct NoticeOptions {
    /// The site, as the small line names it; empty to leave it out.
    pub site: Arc<str>,
    /// Revision of the notices; empty to leave it out.
    pub revision: String,
    /// Date of the revision as it is printed; empty to leave it out.
    pub date: String,
    /// What stands before a notice's number in its code, `https://records.example/`; empty for no code.
    pub record_link_base: String,
    /// Schemes of the links that a code may carry.
    pub link_schemes: Vec<String>,
    /// What the codes carry where no link of their own is given.
    pub carries: Carries,
    /// Most characters of a code with a link or a record number.
    pub code_chars: usize,
    /// Most characters of a code with the notice's own words.
    pub text_chars: usize,
    /// From how far a notice is read where the survey does not say.
    pub reading_distance: Length,
    /// From how far a tag is read where the supplies file does not say: by the hand that operates the device.
    pub tag_distance: Length,
    /// What a notice must stand up to where the survey does not say.
    pub environment: Environment,
}

/// The most characters that a notice's own words may have in a code: some 120 modules a side at error correction M, 50 mm at the
/// least size that is read. Version 40 would hold 2,331 bytes (ISO/IEC 18004), at 73 mm.
pub const TEXT_CHARS: usize = 1_000;

impl Default for NoticeOptions {
    fn default() -> Self {
        Self {
            site: Arc::default(),
            revision: String::new(),
            date: String::new(),
            record_link_base: String::new(),
            link_schemes: vec!["https".to_owned(), "http".to_owned()],
            carries: Carries::default(),
            code_chars: Limits::default().code_chars,
            text_chars: TEXT_CHARS,
            reading_distance: Length::um(700_000),
            tag_distance: Length::um(400_000),
            environment: Environment::default(),
        }
    }
}

impl NoticeOptions {
    /// What is wrong with the options themselves.
    #[must_use]
    pub fn findings(&self) -> Vec<Finding> {
        if self.record_link_base.is_empty() {
            return Vec::new();
        }
        let refused = record_link::checked(&self.record_link_base, self).err();
        let not_a_link = !self.record_link_base.contains("://");
        let message = format!("the job's record link base `{}` cannot stand in a code", self.record_link_base);
        let finding = Finding::new(code::RECORD_LINK_REFUSED, message);
        match refused {
            Some(refusal) => vec![finding.help(refusal.reason(self))],
            None if not_a_link => vec![finding.help("give a whole link, such as `https://records.example/`")],
            None => self.runs_on().into_iter().collect(),
        }
    }

    /// A base whose last word and the number of a notice become one.
    fn runs_on(&self) -> Option<Finding> {
        let base = &self.record_link_base;
        let runs_on = self.carries == Carries::Link && base.ends_with(char::is_alphanumeric);
        let message =
            format!("the job's record link base is `{base}`, and the number of a notice runs on from its last letter");
        let finding = Finding::new(code::RECORD_LINK_RUNS_ON, message);
        runs_on.then(|| finding.help(format!("end `record_link_base` in `/`: `{base}/`")))
    }
}

/// Every notice of a survey, those of enclosures in its order and then those of isolators, with what is wrong with
/// them.
#[must_use]
pub fn compose(
    survey: &Survey,
    decisions: &Decisions,
    wording: &Wording,
    options: &NoticeOptions,
) -> (Vec<Notice>, Vec<Finding>) {
    let composer = Composer { survey, wording, options };
    let enclosures = decisions.enclosures.par_iter().map(|decision| composer.enclosure(decision));
    let devices = decisions.devices.par_iter().map(|decision| composer.device(decision));
    let (mut notices, mut findings) = (Vec::new(), options.findings());
    let composed = enclosures.chain(devices).collect::<Vec<_>>();
    notices.reserve_exact(composed.iter().map(|(composed, _)| composed.len()).sum());
    for (composed, found) in composed {
        notices.extend(composed);
        findings.extend(found);
    }
    (notices, findings)
}

/// Composes notices one decision at a time, in any order and on any thread.
#[derive(Clone, Copy)]
pub struct Composer<'a> {
    /// The survey.
    pub survey: &'a Survey,
    /// The languages.
    pub wording: &'a Wording,
    /// What holds for every notice; its own findings are the caller's to report.
    pub options: &'a NoticeOptions,
}

impl Composer<'_> {
    /// The notices of one enclosure, one for each of its positions. None where no notice is needed or the survey has no
    /// such enclosure, and none where a path was found with everything open that the notice would list: it would lie.
    #[must_use]
    pub fn enclosure(&self, decision: &Decision) -> (Vec<Notice>, Vec<Finding>) {
        let Some(enclosure) = self.needed(decision) else { return Default::default() };
        let body = EnclosureNotice { wording: self.wording, decision, enclosure }.body(self.options);
        let last = enclosure.particulars().positions.len().saturating_sub(1);
        let (mut notices, mut findings) = (Vec::with_capacity(last + 1), Vec::new());
        let mut keep = |(notice, finding): (Notice, Option<Finding>)| {
            notices.push(notice);
            findings.extend(finding.filter(|_| findings.is_empty()));
        };
        (0..last).for_each(|position| keep(self.at_position(body.clone(), enclosure, position)));
        keep(self.at_position(body, enclosure, last));
        (notices, findings)
    }

    /// The notice at one position of an enclosure, both counted from 0. `None` where there is none.
    #[must_use]
    pub fn one(&self, decision: &Decision, position: usize) -> Option<(Notice, Option<Finding>)> {
        let enclosure = self.needed(decision)?;
        if position >= enclosure.particulars().positions.len().max(1) {
            return None;
        }
        let body = EnclosureNotice { wording: self.wording, decision, enclosure }.body(self.options);
        Some(self.at_position(body, enclosure, position))
    }

    /// The notice of one isolator, where it needs one.
    #[must_use]
    pub fn device(&self, decision: &DeviceDecision) -> (Vec<Notice>, Vec<Finding>) {
        if !is_needed(decision.need) {
            return Default::default();
        }
        let notice = device_notice(decision, self.wording, self.options);
        let (notice, finding) = self.finished(notice, &decision.own().record_link, None);
        (vec![notice], finding.into_iter().collect())
    }

    /// The enclosure, where a notice of it is needed and would not lie.
    fn needed(&self, decision: &Decision) -> Option<&Enclosure> {
        let may_be_said = is_needed(decision.need) && decision.proof.paths.is_empty();
        self.survey.enclosures.get(decision.enclosure).filter(|_| may_be_said)
    }

    fn at_position(&self, body: Notice, enclosure: &Enclosure, position: usize) -> (Notice, Option<Finding>) {
        let number = numbers::at_position(&body.designation, position);
        let place = enclosure
            .particulars()
            .positions
            .get(position)
            .map(|place| one_line(place).into_owned())
            .unwrap_or_default();
        self.finished(Notice { number, position: place, ..body }, &enclosure.record_link, Some(enclosure))
    }

    /// Adds what depends on the number: code and small line.
    fn finished(
        &self,
        mut notice: Notice,
        link: &RecordLink,
        enclosure: Option<&Enclosure>,
    ) -> (Notice, Option<Finding>) {
        let refused = code_text::give(&mut notice, link, self.wording, self.options).err();
        let finding = refused.map(|refusal| refusal.finding(self.survey, enclosure, &notice.number, self.options));
        let NoticeOptions { revision, date, site, .. } = self.options;
        super::issue(&mut notice, (revision, date), site, self.wording);
        (notice, finding)
    }
}

/// A notice is made for what is required, for what is advised, and where the survey does not say enough to leave it
/// out.
const fn is_needed(need: Outcome) -> bool {
    match need {
        Outcome::Required | Outcome::Advised | Outcome::Unknown => true,
        Outcome::NotNeeded | Outcome::Lifted => false,
    }
}

/// The rules that a notice answers, each once, in the order of the reasons.
pub(super) fn rules_of(reasons: &[Reason]) -> Vec<Rule> {
    let mut rules: Vec<Rule> = Vec::new();
    for reason in reasons.iter().filter(|reason| is_needed(reason.outcome)) {
        if !rules.contains(&reason.rule) {
            rules.push(reason.rule);
        }
    }
    rules
}
