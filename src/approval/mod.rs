//! Pages on which notices are approved before they are printed: each notice beside its reasons, what was decided and on
//! whose word, and room to sign.
//!
//! A [`Document`] knows its parts in order; each becomes one section of [`crate::pages`] by itself, on any thread. The
//! words for decisions are those of `rules` and `network`, so that `why` and these pages say the same.

mod anchors;
mod cover;
mod devices;
mod enclosure;
mod evidence;
mod found;
mod notice;
mod rest;
mod sign;
mod standing;

use std::collections::{BTreeMap, HashMap};

use crate::notice::{Notice, Subject};
use crate::pages::{self, Section};
use crate::prepared::{Names, Prepared};
use crate::rules::{Decision, DeviceDecision};
use crate::survey::Enclosure;

/// What every page says of itself, at its top.
pub const CAUTION: &str = "For approval, not a notice: do not fix this page";

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
    /// The standing notices.
    Standing(Vec<usize>),
    /// Enclosures that get no notice, and those left out.
    Rest,
}

/// The parts of a document in order, with what is needed to find things quickly.
pub struct Document<'a> {
    prepared: Prepared<'a>,
    names: Names<'a>,
    parts: Vec<Part>,
}

impl pages::Document for Document<'_> {
    fn parts(&self) -> usize {
        self.parts.len()
    }

    fn section(&self, part: usize, pages: &dyn Fn(usize) -> usize) -> Section {
        let mut section = match self.parts.get(part) {
            Some(Part::Cover) => cover::cover(self),
            Some(Part::Contents) => cover::contents(self, pages),
            Some(Part::Enclosure(place, notices)) => enclosure::section(self, *place, notices),
            Some(Part::Devices(location, notices)) => devices::section(self, location, notices),
            Some(Part::Standing(notices)) => standing::section(self, notices),
            Some(Part::Rest) => rest::section(self),
            None => Section::default(),
        };
        section.blocks.splice(0..0, self.anchors(part));
        section
    }
}

impl<'a> Document<'a> {
    /// The document of what is to be approved.
    #[must_use]
    pub fn new(prepared: Prepared<'a>) -> Self {
        let names = Names::of(&prepared);
        let mut document = Self { prepared, names, parts: vec![Part::Cover, Part::Contents] };
        document.add_enclosures();
        document.add_devices();
        document.add_standing();
        document.parts.push(Part::Rest);
        document
    }

    /// The enclosures one after the other, each once with all its notices.
    fn add_enclosures(&mut self) {
        let mut place_of: HashMap<usize, usize> = HashMap::new();
        for &index in self.prepared.chosen {
            let Some(notice) = self.prepared.notice(index).filter(|notice| notice.subject == Subject::Enclosure) else {
                continue;
            };
            let Some(decision) = self.names.enclosure(&notice.designation) else { continue };
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
        for &index in self.prepared.chosen {
            let Some(notice) = self.prepared.notice(index).filter(|notice| notice.subject == Subject::Device) else {
                continue;
            };
            let part = *at.entry(notice.area.as_str()).or_insert_with(|| {
                self.parts.push(Part::Devices(notice.area.clone(), Vec::new()));
                self.parts.len() - 1
            });
            if let Some(Part::Devices(_, notices)) = self.parts.get_mut(part) {
                notices.push(index);
            }
        }
    }

    /// The standing notices, in walking order.
    fn add_standing(&mut self) {
        let is_standing =
            |index: &usize| self.prepared.notice(*index).is_some_and(|notice| notice.subject == Subject::Standing);
        let notices: Vec<usize> = self.prepared.chosen.iter().copied().filter(is_standing).collect();
        if !notices.is_empty() {
            self.parts.push(Part::Standing(notices));
        }
    }

    /// The decision for an enclosure by its designation.
    fn decision(&self, designation: &str) -> Option<(&'a Decision, &'a Enclosure)> {
        self.prepared.decided(self.names.enclosure(designation)?)
    }

    /// What was decided for the device of a notice.
    fn device(&self, notice: &Notice) -> Option<&'a DeviceDecision> {
        self.names.device(&notice.designation, &notice.area)
    }
}
