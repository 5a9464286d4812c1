//! What a decision comes to, in few bytes: enough for an overview of all enclosures without keeping every decision.

use super::Rule;
use super::decision::{Decision, Outcome, Voltage, Voltages};
use crate::network::ProofResult;

/// What was decided for one enclosure, without names.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Verdict {
    /// The strongest outcome of its reasons.
    pub need: Outcome,
    /// How many points of isolation the survey declares.
    pub points: usize,
    /// What its proof came to.
    pub proof: ProofResult,
    /// By the number of a rule; `None` where it gave no answer.
    outcomes: [Option<Outcome>; Rule::ALL.len()],
    to_earth: [Option<Voltage>; 2],
    between: [Option<Voltage>; 2],
}

impl Verdict {
    /// That of a decision.
    #[must_use]
    pub fn of(decision: &Decision) -> Self {
        let mut outcomes = [None; Rule::ALL.len()];
        for reason in &decision.reasons {
            if let Some(outcome) = outcomes.get_mut(reason.rule as usize) {
                *outcome = Some(reason.outcome);
            }
        }
        let two = |voltages: &[Voltage]| [0, 1].map(|at: usize| voltages.get(at).copied());
        Self {
            need: decision.need,
            points: decision.points.len(),
            proof: decision.proof.result,
            outcomes,
            to_earth: two(&decision.voltages.to_earth),
            between: two(&decision.voltages.between),
        }
    }

    /// Every rule's answer, in the order of the rules.
    pub fn outcomes(&self) -> impl Iterator<Item = (Rule, Outcome)> {
        Rule::ALL.into_iter().zip(self.outcomes).filter_map(|(rule, outcome)| Some((rule, outcome?)))
    }

    /// The highest voltages inside.
    #[must_use]
    pub fn voltages(&self) -> Voltages {
        let listed = |two: [Option<Voltage>; 2]| two.into_iter().flatten().collect();
        Voltages { to_earth: listed(self.to_earth), between: listed(self.between) }
    }
}
