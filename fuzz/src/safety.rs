//! What must hold of every survey that is decided: nothing reassures without proof, and no isolator is lost on the way to
//! a notice.

use std::collections::BTreeSet;

use noticewright::finding::{Finding, Severity, code};
use noticewright::network::{Network, NetworkOptions, ProofResult, spelling};
use noticewright::notice::{self, Notice, NoticeOptions, Subject};
use noticewright::rules::{self, Decision, Decisions, Explanation, RuleOptions};
use noticewright::supplies::{self, Supplies};
use noticewright::survey::value::{DeviceRef, Isolation};
use noticewright::survey::{self, Enclosure, ReadOptions, Survey, is_hidden};
use noticewright::wording::Wording;

/// Enclosures of one input whose decision is explained as well, which looks through the whole installation each time.
const MOST_EXPLAINED: usize = 3;

/// A survey with what was decided and worded.
pub struct Decided {
    /// The survey.
    pub survey: Survey,
    /// What feeds what.
    pub network: Network,
    /// What was decided.
    pub decisions: Decisions,
    /// What is said.
    pub notices: Vec<Notice>,
    /// What a person must look at.
    pub findings: Vec<Finding>,
}

impl Decided {
    /// Whether anything is printed: with an error, nothing is.
    #[must_use]
    pub fn prints(&self) -> bool {
        !self.findings.iter().any(|finding| finding.severity() == Severity::Error)
    }
}

/// Reads, joins, decides and words, as `labels` does.
#[must_use]
pub fn decide(survey: &[u8], supplies: Option<&[u8]>) -> Decided {
    let survey::Reading { survey, mut findings } = survey::read(survey, &ReadOptions::new("site.csv"));
    let supplies: Option<Supplies> = supplies.map(|bytes| {
        let reading = supplies::read(bytes, &supplies::ReadOptions::new("supplies.csv"));
        findings.extend(reading.findings);
        reading.supplies
    });
    let (network, joined) = Network::join(&survey, supplies.as_ref(), &NetworkOptions::default());
    let (decisions, decided) = rules::decide(&survey, &network, &RuleOptions::default());
    findings.extend(joined.into_iter().chain(decided));
    let (notices, _) = notice::compose(&survey, &decisions, &Wording::english(), &NoticeOptions::default());
    Decided { survey, network, decisions, notices, findings }
}

/// Holds the rows of a survey against each other.
///
/// # Panics
/// If a row is there twice, an enclosure has none, or a word is not one.
pub fn rows(survey: &Survey, most: usize) {
    let (mut designations, mut records) = (BTreeSet::new(), BTreeSet::new());
    for enclosure in &survey.enclosures {
        assert!(!enclosure.designation.trim().is_empty() && !enclosure.rows.is_empty(), "{enclosure:?}");
        assert!(designations.insert(&enclosure.designation), "two enclosures are called {:?}", enclosure.designation);
        for row in &enclosure.rows {
            assert!(records.insert(row.record), "row {} is there twice", row.record);
            for device in devices(row.isolation.as_ref()).iter().chain(devices(row.further().upstream.as_ref())) {
                assert!(!device.designation.trim().is_empty(), "{row:?}");
                assert!(!device.designation.contains(is_hidden) && !device.location.contains(is_hidden), "{row:?}");
            }
            assert!(!row.circuit.contains(is_hidden), "{row:?}");
        }
        let words = [Some(enclosure.designation.as_str()), enclosure.name.as_deref(), enclosure.area.as_deref()];
        assert!(!words.into_iter().flatten().any(|word| word.contains(is_hidden)), "{enclosure:?}");
    }
    assert!(records.len() < most.max(1), "{} rows of at most {most}", records.len());
}

fn devices(isolation: Option<&Isolation>) -> &[DeviceRef] {
    match isolation {
        Some(Isolation::By(devices)) => devices,
        Some(Isolation::Impossible | Isolation::Unknown) | None => &[],
    }
}

/// Holds every decision against the rows and the proof, and every notice against its decision.
///
/// # Panics
/// If something reassures without proof, or something declared is not said.
pub fn holds(decided: &Decided) {
    let Decided { survey, network, decisions, notices, findings } = decided;
    let indices: Vec<usize> = decisions.enclosures.iter().map(|decision| decision.enclosure).collect();
    assert_eq!(indices, (0..survey.enclosures.len()).collect::<Vec<_>>(), "every enclosure is decided");
    for (decision, enclosure) in decisions.enclosures.iter().zip(&survey.enclosures) {
        reasons(decision, enclosure);
        if decision.enclosure < MOST_EXPLAINED {
            explained(&rules::explain(survey, network, &RuleOptions::default(), decision.enclosure), decision);
        }
        points(decision, enclosure);
        let about =
            |notice: &&Notice| notice.subject == Subject::Enclosure && notice.designation == enclosure.designation;
        let own: Vec<&Notice> = notices.iter().filter(about).collect();
        // Where a path was found with everything open that the notice would list, it would lie.
        let is_made = decision.need.prints() && decision.proof.paths.is_empty();
        let expected = if is_made { enclosure.particulars().positions.len().max(1) } else { 0 };
        assert_eq!(own.len(), expected, "notices of {}", enclosure.designation);
        own.into_iter().for_each(|notice| says(notice, decision, enclosure));
    }
    let numbers: BTreeSet<&str> = notices.iter().map(|notice| notice.number.as_str()).collect();
    // An error that belongs to no enclosure, such as a column that is missing, is in the way of all of them; a cell that
    // cannot be read leaves an isolator without its location.
    let is_said = |finding: &Finding| {
        let is_error = finding.severity() == Severity::Error;
        let is_for_all = is_error && finding.enclosure.is_none();
        let of_location = finding.code == code::ISOLATOR_WITHOUT_LOCATION
            || finding.place.as_ref().is_some_and(|place| place.column_name.contains("location"));
        is_for_all || is_error && of_location || finding.code == code::NOTICE_NUMBER_SHARED
    };
    assert!(numbers.len() == notices.len() || findings.iter().any(is_said), "two notices have one number");
}

/// Nothing reassures without proof.
fn reasons(decision: &Decision, enclosure: &Enclosure) {
    let strongest = decision.reasons.iter().map(|reason| reason.outcome).max();
    assert_eq!(strongest, Some(decision.need), "{}", enclosure.designation);
    let not_isolated = |row: &survey::Row| !matches!(row.isolation, Some(Isolation::By(_)));
    if !decision.need.prints() {
        assert_ne!(decision.proof.result, ProofResult::Live, "live, and no notice: {decision:?}");
        assert!(!enclosure.rows.iter().any(not_isolated), "not isolated, and no notice: {decision:?}");
    }
}

/// What is told about a decision is that decision, and every reason has its reason.
fn explained(explanation: &Explanation, decision: &Decision) {
    let told: Vec<_> = explanation.reasons.iter().map(|told| told.reason).collect();
    assert_eq!(told, decision.reasons, "explained it is decided otherwise");
    assert!(explanation.reasons.iter().all(|told| !told.because.is_empty()), "{explanation:?}");
}

/// Every device that a row names is a point of isolation.
fn points(decision: &Decision, enclosure: &Enclosure) {
    let key = |name: &str, place: &str| (spelling::key(name), spelling::key(place));
    let listed: BTreeSet<_> = decision.points.iter().map(|point| key(&point.device, &point.location)).collect();
    for device in enclosure.rows.iter().flat_map(|row| devices(row.isolation.as_ref())) {
        let named = key(&device.designation, &device.location);
        // What is said nowhere in the survey may be said in the supplies file.
        let is_listed =
            listed.contains(&named) || (named.1.is_empty() && listed.iter().any(|(name, _)| *name == named.0));
        assert!(is_listed, "{device:?} of {} is no point of {listed:?}", enclosure.designation);
    }
}

/// Every point of isolation stands on the notice, in full and in order.
fn says(notice: &Notice, decision: &Decision, enclosure: &Enclosure) {
    let bare = |text: &str| text.chars().filter(|character| !character.is_whitespace()).collect::<String>();
    assert_eq!(notice.points.len(), decision.points.len(), "{notice:?}");
    for (said, point) in notice.points.iter().zip(&decision.points) {
        assert_eq!(bare(&said.designation), bare(&point.device));
        let place = if decision.locations_left_out { "" } else { point.location.as_str() };
        assert_eq!(bare(&said.place), bare(place), "{point:?}");
        assert!(!point.not_under_load || !said.remarks.is_empty(), "{said:?}");
    }
    assert!(bare(&notice.statement.concat()).contains(&bare(&enclosure.designation)), "{notice:?}");
    assert!(!notice.headline.concat().is_empty() && !notice.closing.concat().is_empty(), "{notice:?}");
    let is_one_line = |line: &String| !line.contains(['\n', '\r']) && !line.contains(is_hidden);
    assert!(notice.lines().iter().all(is_one_line), "{notice:?}");
}
