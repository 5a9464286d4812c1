//! A survey with everything that follows from it, once its notices are set and have their sheets: what the documents show
//! that are read beside the notices.

use std::collections::{BTreeMap, HashMap};
use std::sync::Arc;

use crate::finding::Finding;
use crate::network::Network;
use crate::notice::{Notice, Subject};
use crate::pages::Identity;
use crate::rules::{Assessor, Decision, Decisions, DeviceDecision, Explanation, StandingDecision};
use crate::sheets::{Formats, Place, Quantity, SheetFormat};
use crate::standing::{Entry, Standing};
use crate::supplies::Supplies;
use crate::survey::{Enclosure, Survey};
use crate::typesetting::Setting;

/// What documents are made from.
#[derive(Clone, Copy)]
pub struct Prepared<'a> {
    /// The title block.
    pub identity: Identity<'a>,
    /// The survey.
    pub survey: &'a Survey,
    /// The supplies file, if there is one.
    pub supplies: Option<&'a Supplies>,
    /// The list of standing notices, if there is one.
    pub standing: Option<&'a Standing>,
    /// What feeds what.
    pub network: &'a Network,
    /// What explains a decision.
    pub assessor: Assessor<'a>,
    /// What was decided.
    pub decisions: &'a Decisions,
    /// What the notices say.
    pub notices: &'a [Notice],
    /// The notices as set, in the same order; `None` where one could not be set or is not asked for.
    pub set: &'a [Option<Arc<Setting>>],
    /// The notices asked for, by their place among all, in walking order.
    pub chosen: &'a [usize],
    /// Enclosures asked for that get no notice, by their place among the decisions, in walking order.
    pub silent: &'a [usize],
    /// Designations of what is left out because of errors.
    pub left_out: &'a [String],
    /// Everything that was found.
    pub findings: &'a [Finding],
    /// Which sheet serves which size.
    pub formats: &'a Formats,
    /// Where the first copy of each chosen notice lies, by its place among all notices.
    pub places: &'a BTreeMap<usize, Place>,
    /// How much of which material the notices take.
    pub quantities: &'a [Quantity],
}

impl<'a> Prepared<'a> {
    /// A notice by its place among all.
    #[must_use]
    pub fn notice(&self, index: usize) -> Option<&'a Notice> {
        self.notices.get(index)
    }

    /// A notice as set, if it could be.
    #[must_use]
    pub fn set(&self, index: usize) -> Option<&'a Setting> {
        self.set.get(index)?.as_deref()
    }

    /// The sheet format on which a notice is printed.
    #[must_use]
    pub fn format(&self, index: usize) -> Option<Arc<SheetFormat>> {
        self.formats.for_size(self.set(index)?.size)
    }

    /// What was decided for a standing notice, with its entry in the list.
    #[must_use]
    pub fn standing_of(&self, notice: &Notice) -> Option<(&'a StandingDecision, &'a Entry)> {
        let list = self.standing.filter(|_| notice.subject == Subject::Standing)?;
        let place = list.entries.iter().position(|entry| entry.number == notice.number)?;
        let decision = self.decisions.standing.iter().find(|decision| decision.entry == place)?;
        Some((decision, list.entries.get(place)?))
    }

    /// Why an enclosure is decided as it is.
    #[must_use]
    pub fn explanation(&self, decision: &Decision) -> Explanation {
        self.assessor.explain(decision.enclosure).unwrap_or_default()
    }

    /// A decision by its place, with its enclosure.
    #[must_use]
    pub fn decided(&self, place: usize) -> Option<(&'a Decision, &'a Enclosure)> {
        let decision = self.decisions.enclosures.get(place)?;
        Some((decision, self.survey.enclosures.get(decision.enclosure)?))
    }
}

/// What is looked for by name, found quickly.
pub struct Names<'a> {
    devices: HashMap<(&'a str, &'a str), &'a DeviceDecision>,
    enclosures: HashMap<&'a str, usize>,
    findings: HashMap<&'a str, Vec<&'a Finding>>,
}

impl<'a> Names<'a> {
    /// The names of a prepared survey.
    #[must_use]
    pub fn of(prepared: &Prepared<'a>) -> Self {
        let (survey, decisions) = (prepared.survey, prepared.decisions);
        let enclosure = |(place, decision): (usize, &Decision)| {
            Some((survey.enclosures.get(decision.enclosure)?.designation.as_str(), place))
        };
        let device = |device: &'a DeviceDecision| ((device.device.as_str(), device.location.as_str()), device);
        let mut findings: HashMap<&str, Vec<&Finding>> = HashMap::new();
        for finding in prepared.findings {
            if let Some(enclosure) = finding.enclosure.as_deref() {
                findings.entry(enclosure).or_default().push(finding);
            }
        }
        Self {
            devices: decisions.devices.iter().map(device).collect(),
            enclosures: decisions.enclosures.iter().enumerate().filter_map(enclosure).collect(),
            findings,
        }
    }

    /// What was decided for a device, by designation and location.
    #[must_use]
    pub fn device(&self, designation: &str, location: &str) -> Option<&'a DeviceDecision> {
        self.devices.get(&(designation, location)).copied()
    }

    /// The place among the decisions of an enclosure.
    #[must_use]
    pub fn enclosure(&self, designation: &str) -> Option<usize> {
        self.enclosures.get(designation).copied()
    }

    /// What was found about an enclosure.
    #[must_use]
    pub fn findings(&self, enclosure: &str) -> &[&'a Finding] {
        self.findings.get(enclosure).map_or(&[], Vec::as_slice)
    }
}
