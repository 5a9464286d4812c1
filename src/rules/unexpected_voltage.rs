//! Unexpected voltage: a nominal voltage to earth above 230 V stands where a person would not expect it.
//!
//! Reason: who works on ordinary 230 V circuits judges the danger, the tools and the clearances by it.
//!
//! Reference: BS 7671:2018+A4:2026, 514.10.1 (from two threads of the IET EngX forum). The voltage is nominal and to
//! earth: 230 V is not above 230 V, so an ordinary 230/400 V board needs no such notice, whatever is measured there and
//! however often people fix one. It is lifted where the voltage is declared as expected. An explicit "not expected" at
//! or below 230 V makes a notice good practice.
//!
//! In the survey: `voltage_to_earth`, held against what `nominal`, `earthing`, `conductors` and the figures of solar
//! modules give; `expected`. Where the supplies file brings another kind of current to a circuit, and more than 230 V of it,
//! no cell says whether that is expected, and the rule is unknown. Solar modules without figures, or a d.c. circuit whose earthing is not said, may stand
//! higher than declared, and then the rule is unknown.
//!
//! Example: a pump on an unearthed 230/400 V system, where a first fault may leave 400 V to earth.

use super::case::{Answer, Case};
use super::decision::Outcome;
use super::statement::Statement;
use crate::network::Way;
use crate::network::voltage::{Other, is_direct_of_unknown_earthing, is_solar_without_figures};
use crate::survey::value::{Current, Volts};
use crate::survey::{Column, Row};

/// A voltage to earth that is always expected.
const EXPECTED: Volts = Volts::whole(230);

/// Whether a voltage to earth needs saying.
pub(super) fn check(case: &Case<'_>) -> Answer {
    let strongest = case.rows().map(|(row, way)| (of_row(row, way), row, way)).fold(None, stronger);
    let Some((outcome, row, way)) = strongest else { return Answer::unknown("the enclosure has no rows") };
    let because = case.because(|| because(outcome, row, way));
    match outcome {
        Outcome::NotNeeded | Outcome::Lifted => Answer::new(outcome, because),
        Outcome::Advised | Outcome::Unknown | Outcome::Required => {
            Answer::new(outcome, because).says([Statement::UnexpectedVoltage])
        }
    }
}

type Judged<'a> = (Outcome, &'a Row, &'a Way);

/// The stronger outcome; of two alike the higher voltage.
fn stronger<'a>(known: Option<Judged<'a>>, next: Judged<'a>) -> Option<Judged<'a>> {
    let rank = |(outcome, _, way): &Judged<'_>| (*outcome, way.voltage.to_earth);
    match known {
        Some(known) if rank(&known) >= rank(&next) => Some(known),
        Some(_) | None => Some(next),
    }
}

fn of_row(row: &Row, way: &Way) -> Outcome {
    let own = by_own_cells(row, way);
    if brought(way).is_some() { own.max(Outcome::Unknown) } else { own }
}

/// A voltage above the expected one that stands on a circuit of the other kind of current.
fn brought(way: &Way) -> Option<Other> {
    way.voltage.other.filter(|other| other.to_earth > EXPECTED)
}

fn by_own_cells(row: &Row, way: &Way) -> Outcome {
    let Some(volts) = way.voltage.to_earth else { return Outcome::Unknown };
    match (volts > EXPECTED, row.expected) {
        (true, Some(true)) => Outcome::Lifted,
        (true, Some(false) | None) if is_in_doubt(way) => Outcome::Unknown,
        (true, Some(false) | None) => Outcome::Required,
        (false, Some(false)) => Outcome::Advised,
        (false, None) if row.not_known.contains(Column::Expected) => Outcome::Unknown,
        (false, None) if is_solar_without_figures(row, &way.voltage) => Outcome::Unknown,
        (false, None) if may_stand_higher(way) => Outcome::Unknown,
        (false, Some(true) | None) => Outcome::NotNeeded,
    }
}

/// Declared above 230 V where nominal voltage and earthing say otherwise.
fn is_in_doubt(way: &Way) -> bool {
    way.voltage.computed.to_earth.is_some_and(|(volts, _)| volts <= EXPECTED)
}

/// A d.c. circuit of unknown earthing with more than the expected voltage between its poles.
fn may_stand_higher(way: &Way) -> bool {
    is_direct_of_unknown_earthing(&way.voltage) && way.voltage.computed.between > Some(EXPECTED)
}

fn because(outcome: Outcome, row: &Row, way: &Way) -> String {
    let circuit = &row.circuit;
    let Some(volts) = way.voltage.to_earth else {
        return format!("the voltage to earth of circuit {circuit} is not known");
    };
    let unit = |current| match current {
        Current::Ac => "V",
        Current::Dc => "V d.c.",
    };
    if let Some(other) = brought(way).filter(|_| outcome == Outcome::Unknown) {
        let (volts, current) = (other.to_earth, unit(other.current));
        let by = if other.system.is_some() { "the supplies file" } else { "its figures of solar modules" };
        return format!(
            "by {by} {volts} {current} to earth can stand on circuit {circuit} too, and nothing declares it expected"
        );
    }
    let current = unit(way.voltage.current);
    match outcome {
        Outcome::NotNeeded => {
            format!("the highest nominal voltage to earth is {volts} {current}, which is not above 230 V")
        }
        Outcome::Lifted => format!("{volts} {current} to earth on circuit {circuit} is declared as expected here"),
        Outcome::Advised => format!("{volts} {current} to earth on circuit {circuit} is declared as not expected here"),
        Outcome::Unknown if volts <= EXPECTED && row.not_known.contains(Column::Expected) => {
            format!("whether {volts} {current} to earth is expected on circuit {circuit} is not known")
        }
        Outcome::Unknown if volts <= EXPECTED && may_stand_higher(way) => {
            format!("how circuit {circuit} is earthed is not said, and more than {volts} {current} may stand to earth")
        }
        Outcome::Unknown if volts <= EXPECTED => format!(
            "circuit {circuit} comes from solar modules, and without their figures its highest voltage is not computed"
        ),
        Outcome::Unknown => format!(
            "circuit {circuit} is declared at {volts} {current} to earth, and its nominal voltage and earthing give less"
        ),
        Outcome::Required => {
            format!(
                "circuit {circuit} stands at {volts} {current} to earth, above 230 V, and nothing declares it expected"
            )
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::rules::testing::{PLAIN, outcome};
    use crate::rules::{Outcome, Rule};

    const RULE: Rule = Rule::UnexpectedVoltage;

    fn declared(volts: &str, expected: &str) -> Outcome {
        let row = PLAIN.replace("230,L1 N,TN-S,230", &format!(",L1 N,TN-S,{volts}"));
        outcome(RULE, "expected", &[&format!("{row},{expected}")])
    }

    #[test]
    fn above_230_is_unexpected_unless_declared() {
        assert_eq!(declared("230", ""), Outcome::NotNeeded);
        assert_eq!(declared("231", ""), Outcome::Required);
        assert_eq!(declared("231", "no"), Outcome::Required);
        assert_eq!(declared("231", "yes"), Outcome::Lifted);
    }

    #[test]
    fn an_explicit_no_advises_at_or_below_230() {
        assert_eq!(declared("230", "no"), Outcome::Advised);
        assert_eq!(declared("24", "no"), Outcome::Advised);
        assert_eq!(declared("230", "yes"), Outcome::NotNeeded);
    }

    #[test]
    fn a_doubtful_declaration_is_unknown() {
        assert_eq!(outcome(RULE, "", &[&PLAIN.replace("TN-S,230", "TN-S,400")]), Outcome::Unknown);
    }
}
