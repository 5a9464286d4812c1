//! Pages on which notices are approved before they are printed: each notice beside its reasons, what was decided and on
//! whose word, and room to sign.
//!
//! A [`Document`] knows its parts in order; each becomes one section of [`crate::pages`] by itself, on any thread. The
//! words for decisions are those of `rules` and `network`, so that `why` and these pages say the same.

mod cover;
mod devices;
mod enclosure;
mod evidence;
mod found;
mod notice;
mod rest;
mod sign;
mod texts;

use std::collections::{BTreeMap, HashMap};

use crate::finding::Finding;
use crate::network::Network;
use crate::notice::{Notice, Subject};
use crate::pages::Section;
use crate::rules::{Decision, Decisions, DeviceDecision};
use crate::sheets::Formats;
use crate::survey::{Enclosure, Survey};
use crate::typesetting::SetNotice;

/// What every page says of itself, at its top.
pub const CAUTION: &str = "For approval, not a notice: do not fix this page";

/// The title block.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Identity<'a> {
    /// Title of the job.
    pub title: &'a str,
    /// The site.
    pub site: &'a str,
    /// For whom.
    pub client: &'a str,
    /// Revision of the notices.
    pub revision: &'a str,
    /// Date of issue.
    pub date: &'a str,
    /// By whom.
    pub prepared_by: &'a str,
    /// Edition of the wiring rules.
    pub edition: &'a str,
    /// The survey, as the user named it.
    pub survey: &'a str,
    /// The supplies file, as the user named it; empty without one.
    pub supplies: &'a str,
}

/// What is to be approved.
#[derive(Clone, Copy)]
pub struct Approval<'a> {
    /// The title block.
    pub identity: Identity<'a>,
    /// The survey.
    pub survey: &'a Survey,
    /// What feeds what.
    pub network: &'a Network,
    /// What was decided.
    pub decisions: &'a Decisions,
    /// What the notices say.
    pub notices: &'a [Notice],
    /// The notices as set, in the same order; `None` where one could not be set or is not asked for.
    pub set: &'a [Option<SetNotice>],
    /// The notices to approve, by their place among all, in walking order.
    pub chosen: &'a [usize],
    /// Enclosures asked for that get no notice, by their place among the decisions, in walking order.
    pub silent: &'a [usize],
    /// Designations of what is left out because of errors.
    pub left_out: &'a [String],
    /// Everything that was found.
    pub findings: &'a [Finding],
    /// Which sheet serves which size.
    pub formats: &'a Formats,
}

/// One part of the document, which starts on a page of its own.
#[derive(Clone, Debug, PartialEq, Eq)]
enum Part {
    /// What the job is, how much there is to approve, and what to bear in mind.
    Cover,
    /// Where each part is found.
    Contents,
    /// An enclosure, by its place among the decisions, with its notices.
    Enclosure(usize, Vec<usize>),
    /// The isolators at one place, with their notices.
    Devices(String, Vec<usize>),
    /// Enclosures that get no notice, and those left out.
    Rest,
}

/// The parts of a document in order, with what is needed to find things quickly.
pub struct Document<'a> {
    approval: Approval<'a>,
    parts: Vec<Part>,
    devices: HashMap<(&'a str, &'a str), &'a DeviceDecision>,
    enclosures: HashMap<&'a str, usize>,
    findings: HashMap<&'a str, Vec<&'a Finding>>,
}

impl<'a> Document<'a> {
    /// The document of what is to be approved.
    #[must_use]
    pub fn new(approval: Approval<'a>) -> Self {
        let decisions = approval.decisions;
        let enclosure = |(place, decision): (usize, &Decision)| {
            Some((approval.survey.enclosures.get(decision.enclosure)?.designation.as_str(), place))
        };
        let device = |device: &'a DeviceDecision| ((device.device.as_str(), device.location.as_str()), device);
        let mut findings: HashMap<&str, Vec<&Finding>> = HashMap::new();
        for finding in approval.findings {
            if let Some(enclosure) = finding.enclosure.as_deref() {
                findings.entry(enclosure).or_default().push(finding);
            }
        }
        let mut document = Self {
            approval,
            parts: vec![Part::Cover, Part::Contents],
            devices: decisions.devices.iter().map(device).collect(),
            enclosures: decisions.enclosures.iter().enumerate().filter_map(enclosure).collect(),
            findings,
        };
        document.add_enclosures();
        document.add_devices();
        document.parts.push(Part::Rest);
        document
    }

    /// How many parts there are.
    #[must_use]
    pub fn parts(&self) -> usize {
        self.parts.len()
    }

    /// One part as a section; empty for a part that there is not. `pages` gives the first page of a part, from 1, as far
    /// as that is known: only what is written changes with it, never how many pages a part has.
    #[must_use]
    pub fn section(&self, part: usize, pages: impl Fn(usize) -> usize) -> Section {
        match self.parts.get(part) {
            Some(Part::Cover) => cover::cover(self),
            Some(Part::Contents) => cover::contents(self, pages),
            Some(Part::Enclosure(place, notices)) => enclosure::section(self, *place, notices),
            Some(Part::Devices(location, notices)) => devices::section(self, location, notices),
            Some(Part::Rest) => rest::section(self),
            None => Section::default(),
        }
    }

    /// What stands at the foot of every page.
    #[must_use]
    pub fn foot(&self) -> String {
        let Identity { title, site, client, revision, date, edition, .. } = self.approval.identity;
        let revision = if revision.is_empty() { String::new() } else { format!("rev {revision}") };
        texts::parts([title, site, client, &revision, date, edition])
    }

    /// The enclosures one after the other, each once with all its notices.
    fn add_enclosures(&mut self) {
        let mut place_of: HashMap<usize, usize> = HashMap::new();
        for &index in self.approval.chosen {
            let Some(notice) = self.notice(index).filter(|notice| notice.subject == Subject::Enclosure) else {
                continue;
            };
            let Some(&decision) = self.enclosures.get(notice.designation.as_str()) else { continue };
            let part = *place_of.entry(decision).or_insert_with(|| {
                self.parts.push(Part::Enclosure(decision, Vec::new()));
                self.parts.len() - 1
            });
            if let Some(Part::Enclosure(_, notices)) = self.parts.get_mut(part) {
                notices.push(index);
            }
        }
    }

    /// The isolators by their places, which stand in walking order already.
    fn add_devices(&mut self) {
        let mut at: BTreeMap<&str, usize> = BTreeMap::new();
        for &index in self.approval.chosen {
            let Some(notice) = self.notice(index).filter(|notice| notice.subject == Subject::Device) else { continue };
            let part = *at.entry(notice.area.as_str()).or_insert_with(|| {
                self.parts.push(Part::Devices(notice.area.clone(), Vec::new()));
                self.parts.len() - 1
            });
            if let Some(Part::Devices(_, notices)) = self.parts.get_mut(part) {
                notices.push(index);
            }
        }
    }

    fn notice(&self, index: usize) -> Option<&'a Notice> {
        self.approval.notices.get(index)
    }

    fn set(&self, index: usize) -> Option<&'a SetNotice> {
        self.approval.set.get(index)?.as_ref()
    }

    /// A decision by its place, with its enclosure.
    fn decided(&self, place: usize) -> Option<(&'a Decision, &'a Enclosure)> {
        let decision = self.approval.decisions.enclosures.get(place)?;
        Some((decision, self.approval.survey.enclosures.get(decision.enclosure)?))
    }

    /// The decision for an enclosure by its designation.
    fn decision(&self, designation: &str) -> Option<(&'a Decision, &'a Enclosure)> {
        self.decided(*self.enclosures.get(designation)?)
    }

    fn device(&self, notice: &Notice) -> Option<&'a DeviceDecision> {
        self.devices.get(&(notice.designation.as_str(), notice.area.as_str())).copied()
    }

    /// What was found about an enclosure.
    fn findings_of(&self, designation: &str) -> &[&'a Finding] {
        self.findings.get(designation).map_or(&[], Vec::as_slice)
    }
}
