//! Where each rule stands, and how well that clause is known.

use super::Rule;
use crate::survey::value::Volts;

/// How well a clause is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Confidence {
    /// The document itself was read.
    Primary,
    /// A text that quotes or paraphrases it was read.
    Secondary,
    /// From memory, unverified: never printed on a customer's document as if it were certain.
    Memory,
}

impl Confidence {
    /// The name in reports.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Primary => "primary",
            Self::Secondary => "secondary",
            Self::Memory => "memory",
        }
    }
}

/// Where a rule stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Clause {
    /// Document and clause, `BS 7671 514.11.1`.
    pub reference: &'static str,
    /// How well it is known.
    pub confidence: Confidence,
}

impl Clause {
    const fn secondary(reference: &'static str) -> Self {
        Self { reference, confidence: Confidence::Secondary }
    }

    const fn memory(reference: &'static str) -> Self {
        Self { reference, confidence: Confidence::Memory }
    }
}

/// Below this limit of stored charge IEC 60204-1 is the source, from it on BS 7671.
const BS_7671_CHARGE_LIMIT: Volts = Volts::whole(120);

impl Rule {
    /// The clause of this rule in BS 7671:2018+A4:2026 or beside it; `None` for common practice.
    #[must_use]
    pub const fn clause(self) -> Option<&'static Clause> {
        match self {
            // Training texts that quote the A4 edition.
            Self::SeveralIsolators => Some(const { &Clause::secondary("BS 7671 514.11.1") }),
            // The same; IEC 60364-4-46 462 asks the same (from memory).
            Self::SeveralSupplies => Some(const { &Clause::secondary("BS 7671 537.1.2") }),
            // IET EngX forum, two threads on voltage warning labels; that the test is nominal and to earth.
            Self::UnexpectedVoltage => Some(const { &Clause::secondary("BS 7671 514.10.1") }),
            // Training texts that give the four positions.
            Self::AlternativeSource => Some(const { &Clause::secondary("BS 7671 514.15.1") }),
            // A guide that paraphrases the clause: 60 V or less within 5 s.
            Self::StoredCharge => Some(const { &Clause::secondary("IEC 60204-1 6.2.4") }),
            // Excepted circuits, which stay live with the supply disconnector open.
            Self::LineSideLive => Some(const { &Clause::memory("IEC 60204-1 5.3.5") }),
            // A mark at each access point to live d.c. parts.
            Self::LiveAtAnyTime => Some(const { &Clause::memory("IEC 60364-7-712 514.102") }),
            Self::BackFeed => Some(const { &Clause::memory("IEC 62040-1") }),
            Self::StartsByItself => None,
            // Training texts that quote both.
            Self::DeviceIdentity => Some(const { &Clause::secondary("BS 7671 537.2.7, 514.1.1") }),
            // Texts on A4 that quote the first, name the changes of the second and the new third.
            Self::StandingPeriodicInspection => Some(const { &Clause::secondary("BS 7671 514.12.1") }),
            Self::StandingRcdTest => Some(const { &Clause::secondary("BS 7671 514.12.2") }),
            Self::StandingSurgeProtection => Some(const { &Clause::secondary("BS 7671 514.16.1") }),
            // Two texts on earthing that quote the words.
            Self::StandingEarthingConnection => Some(const { &Clause::secondary("BS 7671 514.13.1") }),
            Self::StandingEarthFreeLocation => Some(const { &Clause::memory("BS 7671 514.13.2") }),
            // A text that gives plate, letters and words.
            Self::StandingFirefightersSwitch => Some(const { &Clause::secondary("BS 7671 537.4") }),
            // Was 514.14.1, deleted.
            Self::StandingMixedColours => None,
        }
    }

    /// The clause that sets a limit of stored charge: at 120 V d.c. in 5 s BS 7671, below that IEC 60204-1.
    #[must_use]
    pub const fn stored_charge_clause(limit: Volts) -> Option<&'static Clause> {
        if limit.to_milli() >= BS_7671_CHARGE_LIMIT.to_milli() {
            Some(const { &Clause::memory("BS 7671 416.2.5") })
        } else {
            Self::StoredCharge.clause()
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_from_memory_says_so() {
        let confidence = |rule: Rule| rule.clause().map(|clause| clause.confidence);
        assert_eq!(confidence(Rule::SeveralIsolators), Some(Confidence::Secondary));
        assert_eq!(confidence(Rule::LineSideLive), Some(Confidence::Memory));
        assert_eq!(confidence(Rule::StartsByItself), None);
    }

    #[test]
    fn the_two_limits_of_stored_charge_have_their_own_clauses() {
        let reference = |volts| Rule::stored_charge_clause(Volts::whole(volts)).map(|clause| clause.reference);
        assert_eq!(reference(60), Some("IEC 60204-1 6.2.4"));
        assert_eq!(reference(120), Some("BS 7671 416.2.5"));
    }
}
