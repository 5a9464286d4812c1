//! Of which notices a survey with errors tells nothing.

use std::collections::BTreeSet;

use super::Version;
use super::points::points;
use crate::finding::Finding;
use crate::notice::Subject;
use crate::rules::DeviceDecision;
use crate::wording::one_line;

/// What errors of a survey keep from being judged.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Doubt {
    /// What is wrong that belongs to no single enclosure, so that it may be about any notice.
    pub everywhere: Option<String>,
    /// The enclosures with errors: among them those with a live path, for which no notice is composed.
    pub enclosures: BTreeSet<String>,
    /// The devices by designation and location that disconnect something in one of them.
    devices: BTreeSet<(String, String)>,
}

impl Doubt {
    /// What the findings that stop a run leave in doubt.
    #[must_use]
    pub fn of<'a>(stopping: impl IntoIterator<Item = &'a Finding>, devices: &[DeviceDecision]) -> Self {
        let mut doubt = Self::default();
        for finding in stopping {
            match &finding.enclosure {
                Some(enclosure) => {
                    doubt.enclosures.insert(one_line(enclosure).into_owned());
                }
                None => {
                    doubt.everywhere.get_or_insert_with(|| format!("it may be about this one: {}", finding.message));
                }
            }
        }
        let touches = |device: &&DeviceDecision| {
            device.disconnects.iter().any(|one| doubt.enclosures.contains(&*one_line(&one.enclosure)))
        };
        let name =
            |device: &DeviceDecision| (one_line(&device.device).into_owned(), one_line(&device.location).into_owned());
        let touched = devices.iter().filter(touches).map(name).collect();
        Self { devices: touched, ..doubt }
    }

    /// What either of two surveys leaves in doubt.
    #[must_use]
    pub fn and(mut self, other: Self) -> Self {
        self.everywhere = self.everywhere.or(other.everywhere);
        self.enclosures.extend(other.enclosures);
        self.devices.extend(other.devices);
        self
    }

    /// Why a version cannot be judged; `None` if it can, as far as errors belong to single enclosures. A device's notice
    /// cannot if it names a circuit in an enclosure with errors, or would.
    #[must_use]
    pub fn of_version(&self, version: &Version<'_>) -> Option<String> {
        let because = |enclosure: &str| format!("the survey has errors at {enclosure}, or a live path was found there");
        match version.subject {
            Subject::Standing => None,
            Subject::Enclosure => self.enclosures.contains(version.designation).then(|| because(version.designation)),
            Subject::Device => {
                let named = points(&version.says).into_iter().map(|point| point.place);
                let named = named.filter(|place| self.enclosures.contains(*place)).map(because).next();
                named.or_else(|| {
                    let device = (version.designation.to_owned(), version.area.to_owned());
                    let message = "the survey has errors at an enclosure in which it disconnects something";
                    self.devices.contains(&device).then(|| message.to_owned())
                })
            }
        }
    }
}
