//! Decisions in words: the one source of what `why`, `check` and the pages for approval say of them.

use super::{Clause, Confidence, Decision, DeviceDecision, Disconnects, Outcome, PointOfIsolation, Reason, Voltage};
use super::{Missing, Rule, Statement, Voltages, secured};
use crate::network::{Gap, ProofResult};
use crate::survey::Enclosure;
use crate::survey::value::Current;

impl Outcome {
    /// The word for what was decided on the whole: a lifted need is one that is not needed.
    #[must_use]
    pub const fn of_notice(self) -> &'static str {
        match self {
            Self::Required | Self::Advised | Self::Unknown => self.name(),
            Self::Lifted | Self::NotNeeded => Self::NotNeeded.name(),
        }
    }
}

impl Rule {
    /// The name as words: `several isolators`.
    #[must_use]
    pub fn in_words(self) -> String {
        self.name().replace('-', " ")
    }
}

impl Confidence {
    /// How surely a clause is known, and what to do where it is not.
    #[must_use]
    pub const fn in_words(self) -> &'static str {
        match self {
            Self::Primary => "read in the document itself",
            Self::Secondary => "from texts that quote it; check your own copy",
            Self::Memory => "from memory, unverified; check your own copy",
        }
    }
}

impl Confidence {
    /// The same in a word, where a line elsewhere on the page says what the word means.
    #[must_use]
    pub const fn in_short(self) -> &'static str {
        match self {
            Self::Primary => "read",
            Self::Secondary => "quoted",
            Self::Memory => "from memory",
        }
    }
}

impl Reason {
    /// Where the rule stands, with how surely that is known in a word.
    #[must_use]
    pub fn clause_in_short(&self) -> String {
        clause_in_short(self.clause)
    }
}

/// A clause with how surely it is known in a word: `BS 7671 514.11.1 (quoted)`.
#[must_use]
pub fn clause_in_short(clause: Option<&'static Clause>) -> String {
    clause.map_or_else(
        || "common practice".to_owned(),
        |clause| format!("{} ({})", clause.reference, clause.confidence.in_short()),
    )
}

impl Clause {
    /// The clause, never without how surely it is known: `BS 7671 514.11.1 (from texts that quote it; ...)`.
    #[must_use]
    pub fn in_words(self) -> String {
        format!("{} ({})", self.reference, self.confidence.in_words())
    }
}

impl Reason {
    /// Where the rule stands, or that it is common practice.
    #[must_use]
    pub fn clause_in_words(&self) -> String {
        self.clause.map_or_else(|| "common practice".to_owned(), |clause| clause.in_words())
    }
}

impl Voltages {
    /// The highest voltages: `230 V to earth, up to 460 V between conductors`.
    #[must_use]
    pub fn in_words(&self) -> String {
        let mut parts: Vec<String> = self.to_earth.iter().map(|one| format!("{} to earth", one.figure())).collect();
        parts.extend(self.between.iter().map(|one| format!("{} between conductors", one.figure())));
        if parts.is_empty() { "voltage unknown".to_owned() } else { parts.join(", ") }
    }
}

impl Voltage {
    fn figure(self) -> String {
        let bound = if self.bound { "up to " } else { "" };
        let kind = match self.current {
            Current::Ac => "",
            Current::Dc => " d.c.",
        };
        format!("{bound}{} V{kind}", self.value)
    }
}

impl PointOfIsolation {
    /// Device and place: `Q7 (Switchroom 1, board C)`.
    #[must_use]
    pub fn in_words(&self) -> String {
        if self.location.is_empty() { self.device.clone() } else { format!("{} ({})", self.device, self.location) }
    }

    /// How it is secured, opened and what comes first, as far as the survey says.
    #[must_use]
    pub fn handling(&self) -> Vec<String> {
        let mut parts = Vec::new();
        parts.extend(self.locking.as_deref().map(|locking| secured(Some(locking))));
        parts.extend(self.not_under_load.then(|| "not under load".to_owned()));
        parts.extend(self.before.as_ref().map(|before| format!("first: {before}")));
        parts
    }
}

impl Decision {
    /// What the proof came to, and with what opened, and what stays live whatever it came to. It never says that
    /// something is dead.
    #[must_use]
    pub fn proof_in_words(&self) -> String {
        let result = self.result_in_words();
        let lives_on: Vec<String> = self.statements.iter().filter_map(Statement::living_on).collect();
        if lives_on.is_empty() {
            return result;
        }
        let lives_on = lives_on.join("; ");
        match self.proof.result {
            ProofResult::NoPathFound => {
                format!(
                    "{result}. This is said only of what the points isolate; not of what is live all the same: {lives_on}"
                )
            }
            ProofResult::Live | ProofResult::Unknown => format!("{result}. Live whatever is opened here: {lives_on}"),
        }
    }

    fn result_in_words(&self) -> String {
        let opened = match self.points.len() {
            0 => "with nothing to open declared".to_owned(),
            1 => "with point 1 open".to_owned(),
            2 => "with points 1 and 2 open".to_owned(),
            count => format!("with points 1 to {count} open"),
        };
        match self.proof.result {
            ProofResult::NoPathFound => {
                format!(
                    "no path found {opened}, on the word of survey and supplies file. Prove dead at the point of work"
                )
            }
            ProofResult::Live => format!("live {opened}. Treat as live"),
            ProofResult::Unknown => unknown(&self.proof.gaps, &opened),
        }
    }
}

impl Statement {
    /// What the points of isolation leave live, or what can make it live again; `None` if it speaks of neither.
    fn living_on(&self) -> Option<String> {
        match self {
            Self::CannotBeIsolated { circuit } => Some(format!("circuit {circuit}, which has no isolator")),
            Self::LiveAtAnyTime { circuit, solar: true } => Some(format!("solar d.c. of circuit {circuit}")),
            Self::LiveAtAnyTime { circuit, solar: false } => Some(format!("the battery of circuit {circuit}")),
            Self::LineSideLive { part, isolated_at, missing } => Some(line_side(part, isolated_at, *missing)),
            Self::BackFeed { ups } => Some(format!("what {ups} may feed back")),
            Self::SeveralSupplies { .. }
            | Self::SeveralIsolators
            | Self::IsolatorsLeaveParts
            | Self::UnexpectedVoltage
            | Self::StartsByItself { .. }
            | Self::StoredCharge { .. }
            | Self::AlternativeSource { .. } => None,
        }
    }
}

/// A part that stays live, with where that ends.
fn line_side(part: &str, isolated_at: &[(String, String)], missing: Option<Missing>) -> String {
    let part = if part.is_empty() { "a part that the survey does not name" } else { part };
    let mut words = part.to_owned();
    if !isolated_at.is_empty() {
        let named = isolated_at.iter().map(|(device, location)| match location.as_str() {
            "" => device.clone(),
            location => format!("{device} ({location})"),
        });
        words.push_str(&format!(", isolated at {}", named.collect::<Vec<_>>().join(" and ")));
    }
    let rest = match (missing, isolated_at.is_empty()) {
        (None, _) => "",
        (Some(Missing::Elsewhere), true) => ", isolated elsewhere",
        (Some(Missing::Elsewhere), false) => ", some of it isolated elsewhere",
        (Some(Missing::NotKnown), true) => ", and what isolates it is not known",
        (Some(Missing::NotKnown), false) => ", and what isolates the rest of it is not known",
        (Some(Missing::CannotBeIsolated), true) => ", which cannot be isolated",
        (Some(Missing::CannotBeIsolated), false) | (Some(Missing::RestCannotBeIsolated), _) => {
            ", some of which cannot be isolated"
        }
    };
    words + rest
}

/// Why nothing can be said: what a UPS does is no gap of the description.
fn unknown(gaps: &[Gap], opened: &str) -> String {
    if !gaps.is_empty() && gaps.iter().all(|gap| matches!(gap, Gap::BackFeed(..))) {
        return format!("unknown. Whether a UPS feeds back {opened} is not known. Treat as live");
    }
    if gaps.iter().any(|gap| matches!(gap, Gap::OutputNotProved(_))) {
        return "unknown. Output terminals inside are not proved, so that opening these may leave them live".to_owned();
    }
    "unknown. The supply network is not described in full, so it is not proved that opening these leaves nothing live"
        .to_owned()
}

impl DeviceDecision {
    /// Its place, or that the survey does not say it.
    #[must_use]
    pub fn place_in_words(&self) -> &str {
        if self.location.is_empty() { "location not known" } else { &self.location }
    }

    /// How it is secured, opened and what comes first.
    #[must_use]
    pub fn handling(&self) -> Vec<String> {
        let mut lines = vec![secured(self.locking.as_deref())];
        lines.extend(self.not_under_load.then(|| "not to be opened under load".to_owned()));
        lines.extend(self.before.iter().map(|before| format!("first: {before}")));
        let sources = self.source_point.as_ref().map(|point| point.sources.join(", "));
        lines.extend(sources.map(|sources| format!("point of isolation of: {sources}")));
        lines
    }

    /// What stays live in an enclosure with this device alone open, and what the proof came to with all of them open.
    #[must_use]
    pub fn remains_in(&self, decision: &Decision, mine: &[&Disconnects]) -> Vec<String> {
        let is_other = |point: &&PointOfIsolation| point.device != self.device || point.location != self.location;
        let others: Vec<String> = decision.points.iter().filter(is_other).map(PointOfIsolation::in_words).collect();
        let mut lines = Vec::new();
        if mine.iter().any(|one| one.others_remain) {
            lines.push(match others.as_slice() {
                [] => "other supplies stay live".to_owned(),
                others => format!("other supplies stay live until these are open too: {}", others.join(", ")),
            });
        }
        if mine.iter().any(|one| one.parts_remain) {
            lines.push("parts of this circuit may stay live inside".to_owned());
        }
        if others.is_empty() && lines.is_empty() {
            lines.push("the only isolator that the survey declares there".to_owned());
        }
        lines.push(format!("proof with everything declared open: {}", decision.proof.result.in_words()));
        lines
    }
}

impl Disconnects {
    /// The circuit, what it serves, and what else must be open before it is isolated.
    #[must_use]
    pub fn in_words(&self) -> String {
        let mut words = format!("circuit {}", self.circuit);
        if let Some(serves) = &self.serves {
            words.push_str(&format!(", {serves}"));
        }
        if !self.also.is_empty() {
            words.push_str(&format!("; open as well: {}", self.also.join(", ")));
        }
        if !self.first.is_empty() {
            words.push_str(&format!("; opened before it: {}", self.first.join(", ")));
        }
        words
    }
}

/// An enclosure with its name and area: `CH3-JB1, evaporator junction box (Chamber 3)`.
#[must_use]
pub fn enclosure_in_words(designation: &str, enclosure: Option<&Enclosure>) -> String {
    let name = enclosure.and_then(|one| one.name.as_ref()).map(|name| format!(", {name}")).unwrap_or_default();
    let area = enclosure.and_then(|one| one.area.as_ref()).map(|area| format!(" ({area})")).unwrap_or_default();
    format!("{designation}{name}{area}")
}

#[cfg(test)]
mod tests {
    use crate::network::{Network, NetworkOptions};
    use crate::rules::{RuleOptions, decide};
    use crate::supplies;
    use crate::survey::{ReadOptions, read};

    fn proofs(survey: &str) -> Vec<String> {
        proofs_with(survey, None)
    }

    fn proofs_with(survey: &str, file: Option<&str>) -> Vec<String> {
        let survey = read(survey.as_bytes(), &ReadOptions::new("survey.csv")).survey;
        let file =
            file.map(|file| supplies::read(file.as_bytes(), &supplies::ReadOptions::new("supplies.csv")).supplies);
        let network = Network::join(&survey, file.as_ref(), &NetworkOptions::default()).0;
        let decided = decide(&survey, &network, &RuleOptions::default()).0;
        decided.enclosures.iter().map(super::Decision::proof_in_words).collect()
    }

    #[test]
    fn a_proof_names_what_stays_live_all_the_same() {
        let rows = "enclosure,circuit,voltage_to_earth,isolator,isolator_location,live_after,upstream_isolator\n\
                    DB-B,B/1,230,Q7,Room 1,incoming terminals,Q1\nDB-C,C/1,230,Q8,Room 1,,\n";
        let said = proofs(rows);
        assert!(said.first().is_some_and(|said| said.contains("incoming terminals, isolated at Q1")), "{said:?}");
        assert!(said.get(1).is_some_and(|said| !said.contains("whatever is opened")), "{said:?}");
    }

    /// Of each why it is unknown: what a UPS does, output terminals inside, or that the network is not described.
    #[test]
    fn a_proof_that_is_unknown_says_what_is_not_known() {
        let rows = "enclosure,circuit,voltage_to_earth,isolator,isolator_location\n\
                    UPS-1,U/3,230,QU0,Room 1\nCC-1,M/6,230,QC,Room 1\nDB-C,C/1,230,Q9,Room 9\n";
        let file = "device,kind,fed_from,location,poles,nominal,earthing\nNetwork,source,,,,230/400,TN-S\n\
                    QU0,breaker,Network,Room 1,3+N,,\nUPS-1,ups,QU0,UPS room,,230/400,TN-S\n\
                    QC,breaker,Network,Room 1,3+N,,\nCHG,converter,QC,inside CC-1,,110 dc,unearthed\n\
                    BAT,source,,,,110 dc,unearthed\nDCB,busbar,CHG + BAT,Room 2,,,\n";
        let said = proofs_with(rows, Some(file));
        let expected = [
            ["unknown", "Whether a UPS feeds back", "Treat as live"],
            ["unknown", "Output terminals inside are not proved", "may leave them live"],
            ["unknown", "The supply network is not described in full", "not proved that opening these"],
        ];
        assert_eq!(said.len(), expected.len());
        for (said, parts) in said.iter().zip(expected) {
            assert!(parts.iter().all(|part| said.contains(part)), "{said} without {parts:?}");
        }
    }
}
