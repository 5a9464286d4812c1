//! Two states of the notices held against each other: each danger, properties over generated surveys, records.

mod dangers;
mod fitness;
mod properties;
mod records;

use super::*;
use crate::network::{Network, NetworkOptions};
use crate::notice::{Notice, NoticeOptions, Subject, compose};
use crate::records::{Kind, Part, Statement};
use crate::rules::{self, RuleOptions};
use crate::survey::{ReadOptions, read};
use crate::wording::Wording;

/// A notice part by part, with a fingerprint that follows what it says.
#[derive(Clone, Debug)]
struct Made {
    number: &'static str,
    subject: Subject,
    designation: &'static str,
    area: &'static str,
    position: &'static str,
    fingerprint: String,
    says: Statement,
}

impl Made {
    fn of(subject: Subject, parts: &[(Kind, &str)]) -> Self {
        let part = |(kind, text): &(Kind, &str)| Part { kind: *kind, text: (*text).to_owned() };
        let says = Statement(parts.iter().map(part).collect());
        let (number, designation) = match subject {
            Subject::Device => ("Q7@Switchroom 1", "Q7"),
            Subject::Enclosure | Subject::Standing => ("CH3-JB1/1", "CH3-JB1"),
        };
        let fingerprint = format!("{subject:?} {}", says.cell());
        Self { number, subject, designation, area: "Chamber 3", position: "", fingerprint, says }
    }

    fn enclosure(parts: &[(Kind, &str)]) -> Self {
        Self::of(Subject::Enclosure, parts)
    }

    fn version(&self) -> Version<'_> {
        Version {
            number: self.number,
            subject: self.subject,
            designation: self.designation,
            area: self.area,
            position: self.position,
            revision: "B",
            fingerprint: &self.fingerprint,
            says: std::borrow::Cow::Borrowed(&self.says),
            needs: None,
            made: None,
        }
    }
}

/// The notices of a survey.
fn notices(survey: &str) -> Vec<Notice> {
    let reading = read(survey.as_bytes(), &ReadOptions::new("survey.csv"));
    let (network, _) = Network::join(&reading.survey, None, &NetworkOptions::default());
    let (decisions, _) = rules::decide(&reading.survey, &network, &RuleOptions::default());
    compose(&reading.survey, &decisions, &Wording::english(), &NoticeOptions::default()).0
}

fn versions(notices: &[Notice]) -> Vec<Version<'_>> {
    notices.iter().map(Version::of).collect()
}
