//! Decides about one enclosure at a time, in any order and on any thread; what several come to together is added up
//! apart, so that nobody has to keep every decision.

use rayon::prelude::*;

use super::advice;
use super::because::{Because, Telling};
use super::case::Case;
use super::decision::{Decision, Decisions, Explained, Explanation, Outcome, Reason};
use super::device_identity::{Devices, Settled};
use super::installation::Installation;
use super::{
    FEWEST_TOGETHER, Rule, RuleOptions, alternative_source, back_feed, line_side_live, live_at_any_time, numbers,
    points, proving, securing, several_isolators, several_supplies, starts_by_itself, stored_charge, suitability,
    switching, unexpected_voltage, voltages,
};
use crate::finding::Finding;
use crate::network::{EnclosureId, Network};
use crate::survey::{Column, Survey};

/// What every decision about a survey is held against.
#[derive(Clone, Copy)]
pub struct Assessor<'a> {
    /// The survey.
    pub survey: &'a Survey,
    /// What feeds what in it.
    pub network: &'a Network,
    /// What the survey as a whole tells.
    pub installation: &'a Installation,
    /// What the rules are held against.
    pub options: RuleOptions,
}

/// One enclosure, once decided.
#[derive(Clone, Debug)]
pub struct Assessed {
    /// What was decided.
    pub decision: Decision,
    /// What a person must look at.
    pub findings: Vec<Finding>,
    /// What of it bears on others.
    pub share: Share,
}

/// What of the decision about one enclosure bears on others.
#[derive(Clone, Debug)]
pub struct Share {
    /// What bears on the decisions about its devices.
    settled: Settled,
    /// Columns that it lacks and that no row of the survey fills.
    unfilled: Vec<Column>,
    /// What of its proof bears on others; `None` without a supplies file.
    proved: Option<advice::Proved>,
}

/// What the decisions about all enclosures of a survey come to together.
#[derive(Clone, Debug, Default)]
pub struct Together {
    /// Of each enclosure all that the decisions about its devices hang on.
    settled: Vec<Settled>,
    unfilled: Vec<Column>,
    proved: Vec<advice::Proved>,
}

impl<'a> Assessor<'a> {
    /// What a person must look at in the survey as a whole, before any enclosure of it.
    #[must_use]
    pub fn of_installation(&self) -> Vec<Finding> {
        let mut findings = Vec::new();
        self.installation.report(self.survey, self.network, &mut findings);
        numbers::report(self.survey, self.network, &mut findings);
        findings
    }

    /// The decision about one enclosure by its place in the survey; `None` where there is none.
    #[must_use]
    pub fn enclosure(&self, index: usize) -> Option<Assessed> {
        let case = self.case(index, Telling::Decision)?;
        let (mut findings, mut unfilled) = (Vec::new(), Vec::new());
        switching::report(&case, &mut unfilled, &mut findings);
        proving::report(&case, &mut findings);
        let (decision, _) = decide(&case, &mut findings);
        let proved = advice::Proved::of(self.survey, self.network, &decision);
        let share = Share { settled: Settled::of(&decision), unfilled, proved };
        Some(Assessed { decision, findings, share })
    }

    /// Why an enclosure is decided as it is: it is decided once more, with words. `None` where there is none.
    #[must_use]
    pub fn explain(&self, index: usize) -> Option<Explanation> {
        let case = self.case(index, Telling::Words)?;
        let (decision, because) = decide(&case, &mut Vec::new());
        let reasons = decision.reasons.into_iter().zip(because);
        Some(Explanation {
            reasons: reasons.map(|(reason, because)| Explained { reason, because: because.into_words() }).collect(),
            voltages: voltages::voltages(&case).1,
        })
    }

    /// The decisions about devices, to be made one at a time once every enclosure is decided.
    #[must_use]
    pub fn devices<'b>(self, together: &'b Together) -> Devices<'b>
    where
        'a: 'b,
    {
        Devices::new(self, &together.settled)
    }

    /// Decides about every enclosure and every isolator.
    #[must_use]
    pub fn all(self) -> (Decisions, Vec<Finding>) {
        let mut findings = self.of_installation();
        let all = (0..self.survey.enclosures.len()).into_par_iter().with_min_len(FEWEST_TOGETHER);
        let assessed: Vec<_> = all.filter_map(|index| self.enclosure(index)).collect();
        let mut enclosures = Vec::with_capacity(assessed.len());
        let mut together = Together::default();
        for Assessed { decision, findings: of_one, share } in assessed {
            together.add(share);
            findings.extend(of_one);
            enclosures.push(decision);
        }
        together.report(&self, &mut findings);
        let devices = self.devices(&together).all();
        (Decisions { enclosures, devices, standing: Vec::new() }, findings)
    }

    fn case(&self, index: usize, telling: Telling) -> Option<Case<'a>> {
        let Self { survey, network, installation, options } = *self;
        let enclosure = survey.enclosures.get(index)?;
        Some(Case::new(survey, network, EnclosureId::new(index), enclosure, installation, options, telling))
    }
}

impl Together {
    /// Adds the next enclosure of the survey; they come in its order.
    pub fn add(&mut self, share: Share) {
        self.settled.push(share.settled);
        self.unfilled.extend(share.unfilled);
        self.proved.extend(share.proved);
        self.unfilled.sort_unstable();
        self.unfilled.dedup();
    }

    /// Adds what a person must look at beside single enclosures, after the findings about all of those.
    pub fn report(&self, assessor: &Assessor<'_>, findings: &mut Vec<Finding>) {
        switching::report_unfilled(assessor.survey, &self.unfilled, findings);
        securing::report(assessor.survey, assessor.network, findings);
        suitability::report(assessor.survey, assessor.network, findings);
        advice::report(assessor.survey, assessor.network, &assessor.installation.described, &self.proved, findings);
    }
}

/// Every rule's answer for one enclosure, joined into one decision, and why each answers so.
fn decide(case: &Case<'_>, findings: &mut Vec<Finding>) -> (Decision, Vec<Because>) {
    case.report(findings);
    let points = points::points(case, findings);
    points::report_confusion(case, &points, findings);
    let answers = [
        (Rule::SeveralIsolators, several_isolators::check(case, findings)),
        (Rule::SeveralSupplies, several_supplies::check(case)),
        (Rule::UnexpectedVoltage, unexpected_voltage::check(case)),
        (Rule::AlternativeSource, alternative_source::check(case, findings)),
        (Rule::StoredCharge, stored_charge::check(case, findings)),
        (Rule::LineSideLive, line_side_live::check(case, findings)),
        (Rule::LiveAtAnyTime, live_at_any_time::check(case, findings)),
        (Rule::BackFeed, back_feed::check(case)),
        (Rule::StartsByItself, starts_by_itself::check(case, findings)),
    ];
    let mut statements = case.impossible_statements();
    statements.reserve_exact(answers.iter().map(|(_, answer)| answer.statements.len()).sum());
    let mut reasons = Vec::with_capacity(answers.len());
    let mut because = Vec::new();
    for (rule, answer) in answers {
        let answer = case.unless_live(rule, case.unless_assumed(rule, answer));
        statements.extend(answer.statements);
        let clause = answer.clause.unwrap_or(rule.clause());
        reasons.push(Reason { rule, clause, outcome: answer.outcome });
        because.extend((case.telling == Telling::Words).then_some(answer.because));
    }
    let need = reasons.iter().map(|reason| reason.outcome).max().unwrap_or(Outcome::Unknown);
    several_isolators::complete(case, &reasons, &mut statements);
    statements.sort();
    statements.dedup();
    statements.shrink_to_fit();
    let mut proof = case.proof.clone();
    proof.cut = proof.cut.filter(|cut| line_side_live::is_dead_with(case, cut));
    let decision = Decision {
        enclosure: case.id.index(),
        need,
        single_device: several_isolators::single_device(case, &reasons),
        reasons,
        statements,
        locations_left_out: points::may_leave_out_locations(case, &points),
        points,
        voltages: voltages::voltages(case).0,
        proof,
    };
    (decision, because)
}
