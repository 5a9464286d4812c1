//! Figures of published tables and of worked examples; the rest of the cases stand in `tests/decisions`.

use super::*;
use crate::network::testing::surveyed;
use crate::survey::Further;

fn nominal(to_neutral: u32, between: u32) -> Nominal {
    let some = |volts| (volts > 0).then_some(Volts::whole(volts));
    Nominal { current: Current::Ac, to_neutral: some(to_neutral), between: some(between) }
}

fn to_earth(nominal: Nominal, earthing: Earthing) -> Option<Volts> {
    alternating(nominal, Some(earthing), Lines::default()).to_earth.map(|(volts, _)| volts)
}

#[test]
fn earthing_decides() {
    let volts = |earthing| to_earth(nominal(230, 400), earthing);
    assert_eq!(volts(Earthing::TnS), Some(Volts::whole(230)));
    assert_eq!(volts(Earthing::Tt), Some(Volts::whole(230)));
    assert_eq!(volts(Earthing::It), Some(Volts::whole(400)));
    assert_eq!(volts(Earthing::LineEarthed), Some(Volts::whole(400)));
}

#[test]
fn a_figure_between_lines_alone_needs_the_table() {
    // IEC 60038: 480 V belongs to 277 V; 500 V is in no pair, and is not divided.
    assert_eq!(to_earth(nominal(0, 480), Earthing::TnS), Some(Volts::whole(277)));
    assert_eq!(to_earth(nominal(0, 500), Earthing::TnS), None);
    assert_eq!(alternating(nominal(0, 400), None, Lines::default()).to_earth, None);
}

#[test]
fn a_single_figure_does_not_tell_an_unearthed_system() {
    assert_eq!(to_earth(nominal(230, 0), Earthing::It), None);
    assert_eq!(to_earth(nominal(230, 0), Earthing::TnCS), Some(Volts::whole(230)));
}

/// Ships and some old networks have 230 V between the lines of an IT system, others 230/400 V: the one leaves 230 V to earth
/// at a first fault, the other 400 V (IEC 60364-1 312.2.3; which figure is meant, common practice).
#[test]
fn a_single_figure_of_an_unearthed_system_is_no_answer_where_less_is_declared_than_may_stand() {
    let row = |nominal: &str, volts: &str| {
        let cells = format!("E1,C/1,{nominal},IT,{volts},Q1,Board C");
        let survey =
            surveyed("enclosure,circuit,nominal,earthing,voltage_to_earth,isolator,isolator_location", &[&cells]);
        of_row(&survey.enclosures[0].rows[0], None, 10).agreement
    };
    assert_eq!(row("230", "230"), Agreement::LinesNotTold);
    assert_eq!(row("220", "220"), Agreement::LinesNotTold);
    assert_eq!(row("230", "400"), Agreement::NotComputed, "no more can stand");
    assert_eq!(row("230/400", "230"), Agreement::Understated);
    assert_eq!(row("133/230", "230"), Agreement::Agrees);
    assert_eq!(row("115/230", "230"), Agreement::Agrees);
    assert_eq!(row("600 dc", "600"), Agreement::Agrees);
}

#[test]
fn separated_extra_low_voltage_is_nominal() {
    assert_eq!(to_earth(nominal(24, 0), Earthing::Selv), Some(Volts::whole(24)));
    assert_eq!(to_earth(nominal(24, 42), Earthing::Pelv), Some(Volts::whole(42)));
}

#[test]
fn warm_modules_lower_nothing() {
    assert_eq!(solar_maximum(10, Volts::whole(40), -0.3, 40.0), Volts::whole(400));
    assert_eq!(solar_maximum(10, Volts::whole(40), 0.3, 15.0), Volts::whole(412));
    assert_eq!(solar_maximum(10, Volts::whole(40), f64::NAN, 15.0), Volts::whole(0));
}

#[test]
fn a_string_without_its_coefficient_is_at_least_its_warm_voltage() {
    let further = Further { pv_series: Some(12), pv_voc: Some(Volts::milli(49_500)), ..Further::default() };
    let row = Row { further: Some(Box::new(further)), ..Row::default() };
    let computed = solar(&row, row.earthing);
    assert_eq!(computed.to_earth, None);
    assert_eq!(computed.at_least, Some(Volts::whole(594)));
    assert_eq!(compare(Some(Volts::whole(590)), &computed, Current::Dc, 10), Agreement::Understated);
}
