//! What is to be said of the voltages of a row: declared against computed, the survey against the supplies file.

use super::{
    Agreement, EarthRule, PAIRS, REDUCED_THREE_PHASE, ToldBy, WayVoltage, has_solar_figures_on_alternating,
    highest_by_nominal, is_solar_without_figures,
};
use crate::finding::{Finding, code};
use crate::network::Said;
use crate::network::device::AtRow;
use crate::network::lines::Lines;
use crate::survey::value::{Current, Earthing, Volts};
use crate::survey::{Column, Row, Survey};

/// Everything that is to be said of one row's own voltages; `begins` names the place where the system of the supplies
/// file begins that tells them.
pub(in crate::network) fn report(
    row: &Row,
    voltage: &WayVoltage,
    begins: &str,
    said: Said,
    survey: &Survey,
    findings: &mut Vec<Finding>,
) {
    if is_solar_without_figures(row, voltage) {
        let message = format!("the highest voltage of the solar modules of circuit `{}` is not computed", row.circuit);
        let finding = Finding::new(code::SOLAR_FIGURES_MISSING, message)
            .help("give `pv_series`, `pv_voc`, `pv_beta` and `pv_tmin`; until then the declared voltage stands");
        findings.push(finding.at_row(survey, said, Column::PvSeries));
    }
    if has_solar_figures_on_alternating(row) {
        let message =
            format!("circuit `{}` is said to be alternating current, and has figures of solar modules", row.circuit);
        let finding = Finding::new(code::SOLAR_FIGURES_ON_AC, message).help(
            "say it of two rows: what the modules feed, with their figures and `+ -`, and what the inverter feeds, with \
             its voltage",
        );
        let column = if row.nominal.is_some() { Column::Nominal } else { Column::Conductors };
        findings.push(finding.at_row(survey, said, column));
    }
    findings.extend(above_extra_low(row, voltage).map(|finding| finding.at_row(survey, said, Column::Earthing)));
    let Some(declared) = row.voltage_to_earth else { return };
    if let Some(finding) = of_declared(row, voltage, begins, declared) {
        findings.push(finding.at_row(survey, said, Column::VoltageToEarth));
    }
}

/// A circuit that is said to be of extra-low voltage, and is not: above 50 V a.c. or 120 V d.c. (IEC 60364-4-41 414.1.1 and
/// 411.7.1, from memory).
fn above_extra_low(row: &Row, voltage: &WayVoltage) -> Option<Finding> {
    let (Earthing::Selv | Earthing::Pelv | Earthing::Felv) = row.earthing? else { return None };
    let (limit, current) = match voltage.current {
        Current::Ac => (Volts::whole(50), "a.c."),
        Current::Dc => (Volts::whole(120), "d.c."),
    };
    let volts = voltage.to_earth.max(voltage.computed.between).filter(|volts| *volts > limit)?;
    let message = format!("circuit `{}` has {volts} V, and extra-low voltage ends at {limit} V {current}", row.circuit);
    let help = "say how this system is earthed, or correct the voltage";
    Some(Finding::new(code::EXTRA_LOW_VOLTAGE_EXCEEDED, message).help(help))
}

/// What is to be given of an unearthed system of which one figure is known: the pairs in which that figure may stand.
fn lines_not_told(figure: Option<Volts>) -> String {
    let Some(figure) = figure else { return "give `nominal` as a pair, such as `230/400`".to_owned() };
    let root = |volts: Volts, times: f64| {
        let known = |(neutral, lines): &&(Volts, Volts)| if times > 1.0 { *neutral == volts } else { *lines == volts };
        let pair = PAIRS.iter().chain([&REDUCED_THREE_PHASE]).find(known);
        let pair = pair.map(|(neutral, lines)| if times > 1.0 { *lines } else { *neutral });
        pair.unwrap_or_else(|| rounded(volts.to_volts() * times))
    };
    let (third, half) = (3.0_f64.sqrt(), Volts::milli(figure.to_milli() / 2));
    format!(
        "give `nominal` as a pair: `{figure}/{}`, or `{}/{figure}` for three lines and `{half}/{figure}` for two with \
         {figure} V between them",
        root(figure, third),
        root(figure, third.recip())
    )
}

/// Volts as a nominal voltage is written: whole ones, below 100 V tenths of them.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "no voltage is negative or beyond 52 kV")]
fn rounded(volts: f64) -> Volts {
    let step = if volts < 100.0 { 100.0 } else { 1_000.0 };
    Volts::milli(((volts * 1_000.0 / step).round() * step) as u32)
}

/// What is to be written of a delta whose high leg is another line than the third.
const HIGH_LEG_NOT_TOLD: &str = "if another line is the high leg, call that one `L3` in every row of this system, and the ends of the winding `L1` and `L2`";

/// Whether the voltage between lines, which counts in an unearthed system, follows from the table alone.
fn is_one_figure_unearthed(row: &Row, voltage: &WayVoltage) -> bool {
    let is_first_fault = matches!(voltage.computed.to_earth, Some((_, EarthRule::FirstFault)));
    is_first_fault && row.nominal.is_some_and(|nominal| nominal.between.is_none())
}

/// The pair of a circuit of two conductors that is declared with what stands between a line and the neutral of three: in a
/// system without a neutral point on earth that may be all that there is between its two lines.
fn of_two_lines(row: &Row, voltage: &WayVoltage, declared: Volts) -> Option<String> {
    let is_between_lines =
        matches!(voltage.computed.to_earth, Some((_, EarthRule::FirstFault | EarthRule::OneLineEarthed)));
    let is_neutral_pair = row.nominal.is_some_and(|nominal| nominal.to_neutral == Some(declared));
    let lines = Lines::of(row.conductors);
    let are_two = lines.count() == 2 || lines.count() == 1 && lines.has_neutral();
    let half = Volts::milli(declared.to_milli() / 2);
    (is_between_lines && is_neutral_pair && are_two).then(|| format!("{half}/{declared}"))
}

/// What a voltage to earth cannot exceed, where the earthing does not tell it.
fn at_most(row: &Row, voltage: &WayVoltage) -> String {
    match highest_by_nominal(row, &voltage.computed) {
        Some(volts) => format!("at most {volts} V, however it is earthed"),
        None => "240 V was the old nominal voltage to earth beside 415 V between lines, now 230 V and 400 V".to_owned(),
    }
}

fn of_declared(row: &Row, voltage: &WayVoltage, begins: &str, declared: Volts) -> Option<Finding> {
    if matches!(voltage.agreement, Agreement::Agrees | Agreement::NotComputed | Agreement::NotDeclared) {
        return None;
    }
    let circuit = &row.circuit;
    let figure = row.nominal.and_then(|nominal| nominal.to_neutral);
    let because = match voltage.computed.to_earth {
        Some((volts, rule)) => format!("{volts} V ({})", rule.words()),
        None if voltage.agreement == Agreement::Overstated => at_most(row, voltage),
        None => voltage.computed.at_least.map_or_else(String::new, |volts| format!("at least {volts} V")),
    };
    let (code, message, help) = match voltage.agreement {
        Agreement::Agrees | Agreement::NotComputed | Agreement::NotDeclared => return None,
        Agreement::Understated => match voltage.told_by {
            ToldBy::Row | ToldBy::Both(_) => (
                code::VOLTAGE_UNDERSTATED,
                format!("`{declared}` is too low for circuit `{circuit}`: nominal voltage and earthing give {because}"),
                if is_one_figure_unearthed(row, voltage) {
                    lines_not_told(figure)
                } else if let Some(pair) = of_two_lines(row, voltage, declared) {
                    format!(
                        "correct the cell; if there are two lines alone, {declared} V apart, write `{pair}` in `nominal`"
                    )
                } else if matches!(voltage.computed.to_earth, Some((_, EarthRule::PerhapsHighLeg))) {
                    HIGH_LEG_NOT_TOLD.to_owned()
                } else {
                    "correct the cell, or the nominal voltage or earthing beside it".to_owned()
                },
            ),
            ToldBy::SuppliesFile(_) => (
                code::VOLTAGE_UNDERSTATED,
                format!(
                    "`{declared}` is too low for circuit `{circuit}`: by the supplies file it can be fed from `{begins}`, which gives {because}"
                ),
                "correct the cell, or what the supplies file says of the way from there".to_owned(),
            ),
        },
        Agreement::LinesNotTold => (
            code::UNEARTHED_VOLTAGE_NOT_TOLD,
            format!("circuit `{circuit}` is unearthed, and one figure does not tell the voltage between its lines"),
            lines_not_told(figure),
        ),
        Agreement::Overstated => (
            code::VOLTAGE_OVERSTATED,
            format!("`{declared}` is higher than what follows for circuit `{circuit}`: {because}"),
            "the voltage to earth is meant, not the one between lines; the higher value is used until this is settled"
                .to_owned(),
        ),
        Agreement::LooksMeasured => (
            code::VOLTAGE_LOOKS_MEASURED,
            format!("`{declared}` looks measured for circuit `{circuit}`: the nominal value is {because}"),
            "give the nominal value; the rules go by it, and so does the notice".to_owned(),
        ),
        Agreement::OldNominal => (
            code::VOLTAGE_LOOKS_MEASURED,
            format!("`{declared}` is the old nominal voltage, and is read as 230 V for circuit `{circuit}`"),
            "give `230`, or the nominal voltage and earthing if another system is meant".to_owned(),
        ),
    };
    Some(Finding::new(code, message).help(help))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::survey::{ReadOptions, read};

    #[test]
    fn what_is_advised_for_one_figure_is_understood_and_fits_it() {
        for (figure, pairs) in [
            ("230", ["230/400", "133/230", "115/230"]),
            ("110", ["110/191", "63.5/110", "55/110"]),
            ("24", ["24/41.6", "13.9/24", "12/24"]),
            ("120", ["120/208", "69.3/120", "60/120"]),
            ("400", ["400/690", "230/400", "200/400"]),
        ] {
            let help = lines_not_told(Some(Volts::whole(figure.parse().unwrap())));
            for pair in pairs {
                assert!(help.contains(&format!("`{pair}`")), "{figure}: {help}");
                let header = "enclosure,circuit,nominal,voltage_to_earth,isolator,isolator_location";
                let survey = format!("{header}\nJB1,C/1,{pair},{figure},Q1,Riser 1\n");
                let reading = read(survey.as_bytes(), &ReadOptions::new("site.csv"));
                assert!(reading.findings.is_empty(), "{pair}: {:?}", reading.findings);
            }
        }
    }
}
