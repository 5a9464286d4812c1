//! Cells that hold a voltage: nominal pairs, voltages to earth, stored and solar voltages.

use std::borrow::Cow;

use super::super::value::{Conductor, Conductors, Current, Earthing, Nominal, Volts};
use super::number::{self, Decimals, Range};
use super::{Fault, Parsed};
use crate::finding::code;

/// Low voltage goes up to 1 000 V a.c. and 1 500 V d.c. between conductors (IEC 60038, BS 7671 part 2: from memory);
/// 52 kV is beyond every distribution voltage of a consumer's installation (common practice).
const VOLTS: Range = Range { sensible: (1.0, 52_000.0), usual: (1.0, 1_500.0), unit: "V" };

/// Units of a voltage, in small letters without spaces and stops.
const UNITS: [&str; 9] = ["v", "vac", "vdc", "volt", "volts", "voltsac", "voltsdc", "ac", "dc"];

/// What else of the row a nominal voltage is read with.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Surroundings {
    pub(crate) conductors: Conductors,
    pub(crate) earthing: Option<Earthing>,
    pub(crate) decimals: Decimals,
}

/// A voltage in volts, with or without its unit.
pub(crate) fn volts(text: &str, decimals: Decimals) -> Parsed<Volts> {
    ranged(text, decimals, &VOLTS)
}

/// A stored voltage; zero says that there is none.
pub(crate) fn stored(text: &str, decimals: Decimals) -> Parsed<Volts> {
    ranged(text, decimals, &Range { sensible: (0.0, VOLTS.sensible.1), usual: (0.0, VOLTS.usual.1), unit: "V" })
}

/// Seconds until a stored voltage is below its limit, of which there are none only where it is below it from the first:
/// 120 V is the higher of the limits (BS 7671 416.2.5: from memory).
pub(crate) fn discharge(text: &str, stored: Option<Volts>, decimals: Decimals) -> Parsed<u32> {
    let parsed = number::seconds(text, decimals);
    match (parsed.value, stored) {
        (Some(0), Some(stored)) if stored > Volts::whole(120) => {
            Fault::new(code::OUT_OF_RANGE, format!("{stored} V are not gone in `{text}` seconds"))
                .help("write the seconds that the maker states, `1` for less than one; until then write `?`")
                .into()
        }
        _ => parsed,
    }
}

/// The open-circuit voltage of one solar module. Modules in use have 10 to 120 V (common practice).
pub(crate) fn module(text: &str, decimals: Decimals) -> Parsed<Volts> {
    ranged(text, decimals, &Range { sensible: (1.0, 500.0), usual: (10.0, 120.0), unit: "V" })
}

fn ranged(text: &str, decimals: Decimals, range: &Range) -> Parsed<Volts> {
    if let Some(fault) = number::perhaps_thousands(text, range) {
        return fault.into();
    }
    match number::with_unit(text, &UNITS, decimals) {
        Ok(value) => {
            let parsed = number::checked(value, range);
            Parsed { value: parsed.value.map(to_volts), fault: parsed.fault }
        }
        Err(fault) => fault.into(),
    }
}

/// Volts from a figure that was checked.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "the range was checked before")]
fn to_volts(value: f64) -> Volts {
    Volts::milli((value * 1_000.0).round() as u32)
}

/// A nominal voltage: `230/400`, `230`, `600 dc`, with the old and the bare figures that are in use.
pub(crate) fn nominal(text: &str, around: Surroundings) -> Parsed<Nominal> {
    // Telephone plants write `-48 dc`: their positive pole is earthed. How high the voltage is has no sign.
    let is_direct =
        |rest: &&str| rest.to_ascii_lowercase().replace('.', "").contains("dc") || around.conductors.has_pole();
    let text = text.strip_prefix(['-', '\u{2212}']).filter(is_direct).unwrap_or(text);
    let parsed = match figures(&without_frequency(text), around) {
        Ok((Current::Dc, first, second)) => direct(text, first, second),
        Ok((Current::Ac, first, None)) => alternating(text, first, around),
        Ok((Current::Ac, first, Some(second))) => pair(text, first, second, around),
        Err(fault) => fault.into(),
    };
    match parsed {
        Parsed { value: Some(nominal), fault: None } if is_beyond_low_voltage(nominal) => {
            let fault = Fault::new(code::UNUSUAL_VALUE, format!("`{text}` is beyond low voltage"));
            Parsed::remarked(nominal, fault.help("check the figure; high voltage needs more than these notices"))
        }
        parsed => parsed,
    }
}

/// A nominal voltage with `ac` in the place of the frequency behind it: `230/400 50 Hz`, `115/200 V, 400 Hz`.
fn without_frequency(text: &str) -> Cow<'_, str> {
    const USUAL: [&str; 4] = ["50", "60", "16.7", "400"];
    let is_apart = |c: char| c.is_whitespace() || matches!(c, ',' | ';' | '(');
    let bare = text.trim_end_matches([')', ' ']);
    let Some(hertz) =
        bare.split_at_checked(bare.len().saturating_sub(2)).filter(|(_, unit)| unit.eq_ignore_ascii_case("hz"))
    else {
        return Cow::Borrowed(text);
    };
    let figures = hertz.0.trim_end();
    let voltage = figures.trim_end_matches(|c: char| c.is_ascii_digit() || c == '.');
    let is_usual = figures.strip_prefix(voltage).is_some_and(|figures| USUAL.contains(&figures));
    // `230/400 Hz` may be a pair with the wrong unit.
    let is_frequency = is_usual && voltage.ends_with(is_apart) && voltage.contains(|c: char| c.is_ascii_digit());
    if !is_frequency {
        return Cow::Borrowed(text);
    }
    Cow::Owned(format!("{} ac", voltage.trim_end_matches(is_apart)))
}

/// Above 1 000 V a.c. or 1 500 V d.c. between conductors (IEC 60038, BS 7671 part 2: from memory).
fn is_beyond_low_voltage(nominal: Nominal) -> bool {
    let limit = match nominal.current {
        Current::Ac => Volts::whole(1_000),
        Current::Dc => Volts::whole(1_500),
    };
    nominal.between.max(nominal.to_neutral).is_some_and(|volts| volts > limit)
}

/// The kind of current, and one or two figures of a nominal voltage.
fn figures(text: &str, around: Surroundings) -> Result<(Current, Volts, Option<Volts>), Fault> {
    let mut unit = String::new();
    let (mut first, mut second, mut count) = (Volts::default(), Volts::default(), 0);
    for part in text.split('/') {
        if let Some(fault) = number::perhaps_thousands(part.trim(), &VOLTS) {
            return Err(fault);
        }
        let (figures, part_unit) = number::split_unit(part);
        let checked =
            number::checked(number::plain(figures, around.decimals).map_err(|_| not_understood(text))?, &VOLTS);
        let volts = to_volts(checked.value.ok_or_else(|| checked.fault.unwrap_or_else(|| not_understood(text)))?);
        (first, second, count) = if count == 0 { (volts, second, 1) } else { (first, volts, count + 1) };
        unit.push_str(&part_unit);
    }
    let current = current(&unit, around.conductors).ok_or_else(|| contradicted(text, &unit, around.conductors))?;
    match count {
        1 => Ok((current, first, None)),
        2 => Ok((current, first.min(second), Some(first.max(second)))),
        _ => Err(not_understood(text)),
    }
}

fn not_understood(text: &str) -> Fault {
    let help = if text.to_ascii_lowercase().contains("kv") {
        "write it in volts, such as `1500 dc` or `6350/11000`"
    } else {
        "write `230/400` (line to neutral / between lines), `230`, `63.5/110` or `600 dc`"
    };
    Fault::new(code::NOMINAL_NOT_UNDERSTOOD, format!("`{text}` is not a nominal voltage")).help(help)
}

/// A unit that is understood, and is not that of the row's conductors; else a voltage that is not understood.
fn contradicted(text: &str, unit: &str, conductors: Conductors) -> Fault {
    let message = match current(unit, Conductors::default()) {
        Some(Current::Dc) if !conductors.is_empty() => {
            format!("`{text}` is a direct voltage, and the conductors of this row are not `+ -`")
        }
        Some(Current::Ac) if conductors.has_pole() => {
            format!("`{text}` is an alternating voltage, and the conductors of this row are `+` or `-`")
        }
        Some(Current::Ac | Current::Dc) | None => return not_understood(text),
    };
    Fault::new(code::NOMINAL_NOT_UNDERSTOOD, message).help("correct `nominal` or `conductors`")
}

/// The kind of current that units and conductors speak of; `None` where they contradict each other.
fn current(unit: &str, conductors: Conductors) -> Option<Current> {
    let poles = conductors.has_pole();
    if unit.is_empty() {
        return Some(if poles { Current::Dc } else { Current::Ac });
    }
    let unit = unit.replace("50hz", "").replace("60hz", "").replace('~', "ac");
    let alternating = unit.contains("ac") || unit.contains("hz");
    let rest = unit.replace("volts", "").replace("volt", "").replace(['v', 'a', 'd', 'c'], "");
    if !rest.is_empty() {
        return None;
    }
    match (unit.contains("dc"), alternating) {
        (true, true) => None,
        (true, false) if conductors.is_empty() || poles => Some(Current::Dc),
        (false, true) if !poles => Some(Current::Ac),
        (true, false) | (false, true) => None,
        (false, false) => Some(if poles { Current::Dc } else { Current::Ac }),
    }
}

fn direct(text: &str, first: Volts, second: Option<Volts>) -> Parsed<Nominal> {
    let Some(between) = second else {
        return Parsed::good(Nominal { current: Current::Dc, to_neutral: None, between: Some(first) });
    };
    if first.to_milli().saturating_mul(2) != between.to_milli() {
        return unlikely_pair(text).into();
    }
    Parsed::good(Nominal { current: Current::Dc, to_neutral: Some(first), between: Some(between) })
}

fn ac(to_neutral: Volts, between: Option<Volts>) -> Nominal {
    Nominal { current: Current::Ac, to_neutral: Some(to_neutral), between }
}

/// Two figures: the square root of three between them, or two for a centre tap, to what rounding makes of it.
fn pair(text: &str, to_neutral: Volts, between: Volts, around: Surroundings) -> Parsed<Nominal> {
    let ratio = between.to_volts() / to_neutral.to_volts();
    let is_double = (1.98..=2.02).contains(&ratio);
    if let Some(fault) = third_line(text, to_neutral, between, around).filter(|_| is_double) {
        return fault.into();
    }
    if (to_neutral, between) == (Volts::whole(240), Volts::whole(415)) {
        return read_as(text, ac(Volts::whole(230), Some(Volts::whole(400))));
    }
    if (1.70..=1.77).contains(&ratio) || is_double {
        return Parsed::good(ac(to_neutral, Some(between)));
    }
    unlikely_pair(text).into()
}

/// A midpoint lies between two lines. A third one is the high leg of a delta, farther from earth than both, or none of
/// that system: reduced low voltage of three lines has its star point at 63.5 V.
fn third_line(text: &str, to_neutral: Volts, between: Volts, around: Surroundings) -> Option<Fault> {
    let reduced = (to_neutral, between) == (Volts::whole(55), Volts::whole(110));
    if lines_of(around.conductors) < 3 || around.earthing == Some(Earthing::Midpoint) && !reduced {
        return None;
    }
    let message = format!(
        "`{text}` is {between} V between two lines and half of it to their midpoint, and `conductors` names three"
    );
    let help = if reduced {
        "write `63.5/110` for three lines, or name in `conductors` the two that are there"
    } else {
        "if one of them is the high leg of a delta write `midpoint` in `earthing`, so that its higher voltage to earth is \
         counted; if not, correct the pair or `conductors`"
    };
    Some(Fault::new(code::NOMINAL_PAIR_OF_TWO_LINES, message).help(help))
}

fn lines_of(conductors: Conductors) -> usize {
    conductors.iter().filter(|it| matches!(it, Conductor::L1 | Conductor::L2 | Conductor::L3)).count()
}

fn unlikely_pair(text: &str) -> Fault {
    Fault::new(code::NOMINAL_PAIR_UNLIKELY, format!("the two voltages of `{text}` do not belong to one system"))
        .help("write line to neutral / between lines, such as `230/400` or `63.5/110`")
}

/// One figure: what is usually a voltage between lines is read as its pair of IEC 60038, with advice.
fn alternating(text: &str, figure: Volts, around: Surroundings) -> Parsed<Nominal> {
    const PAIRS: [(u32, (u32, u32)); 8] = [
        (240, (230, 400)),
        (400, (230, 400)),
        (415, (230, 400)),
        (208, (120, 208)),
        (380, (220, 380)),
        (480, (277, 480)),
        (600, (347, 600)),
        (690, (400, 690)),
    ];
    if figure == Volts::whole(110) {
        return bare_110(around);
    }
    // The North American supply of two lines from one winding, whose centre is earthed.
    if figure == Volts::whole(240) && around.earthing == Some(Earthing::Midpoint) {
        return Parsed::good(ac(Volts::whole(120), Some(figure)));
    }
    match PAIRS.iter().find(|(bare, _)| Volts::whole(*bare) == figure) {
        Some((_, (to_neutral, between))) => read_as(text, ac(Volts::whole(*to_neutral), Some(Volts::whole(*between)))),
        None => Parsed::good(ac(figure, None)),
    }
}

fn read_as(text: &str, nominal: Nominal) -> Parsed<Nominal> {
    let figure = |volts: Option<Volts>| volts.unwrap_or_default().to_string();
    let pair = format!("{}/{}", figure(nominal.to_neutral), figure(nominal.between));
    let fault = Fault::new(code::NOMINAL_READ_AS_PAIR, format!("`{text}` is read as `{pair}`"))
        .help(format!("write `{pair}` (line to neutral / between lines), or what it is"));
    Parsed::remarked(nominal, fault)
}

/// 110 V is 55 V to earth with a centre tap, 63.5 V from a star point, and 110 V with one line earthed.
fn bare_110(around: Surroundings) -> Parsed<Nominal> {
    let lines = lines_of(around.conductors);
    let between = Some(Volts::whole(110));
    match around.earthing {
        Some(Earthing::Midpoint) if lines == 3 => Parsed::good(ac(Volts::milli(63_500), between)),
        Some(Earthing::Midpoint) => Parsed::good(ac(Volts::whole(55), between)),
        Some(_) => Parsed::good(ac(Volts::whole(110), None)),
        None => Fault::new(code::VOLTAGE_NEEDS_EARTHING, "a bare `110` does not say how high the voltage to earth is")
            .help("write `55/110` or `63.5/110`, or say in `earthing` how the system is earthed")
            .into(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str) -> Parsed<Nominal> {
        nominal(
            text,
            Surroundings { conductors: Conductors::default(), earthing: None, decimals: Decimals::PointOrComma },
        )
    }

    fn volts_of(text: &str) -> (Option<f64>, Option<f64>) {
        let value = read(text).value.unwrap();
        (value.to_neutral.map(Volts::to_volts), value.between.map(Volts::to_volts))
    }

    #[test]
    fn two_hundred_and_forty_with_its_centre_earthed_is_no_old_star() {
        let around = |earthing| Surroundings { conductors: Conductors::default(), earthing, decimals: Decimals::Point };
        let split = nominal("240", around(Some(Earthing::Midpoint)));
        assert_eq!(split, Parsed::good(ac(Volts::whole(120), Some(Volts::whole(240)))));
        let star = nominal("240", around(Some(Earthing::TnS)));
        assert_eq!(star.value, Some(ac(Volts::whole(230), Some(Volts::whole(400)))));
        assert_eq!(star.fault.map(|fault| fault.code), Some(code::NOMINAL_READ_AS_PAIR));
    }

    #[test]
    fn pairs_of_iec_60038_are_read() {
        // IEC 60038: declared nominal pairs of three-phase systems; 55/110 and 63.5/110 are reduced low voltage.
        for (text, pair) in [
            ("230/400", (230.0, 400.0)),
            ("400/690 V", (400.0, 690.0)),
            ("277/480", (277.0, 480.0)),
            ("120/208", (120.0, 208.0)),
            ("347/600 V a.c.", (347.0, 600.0)),
            ("63,5/110", (63.5, 110.0)),
            ("55/110", (55.0, 110.0)),
            ("120/240", (120.0, 240.0)),
            ("400 V/230 V", (230.0, 400.0)),
        ] {
            assert_eq!(volts_of(text), (Some(pair.0), Some(pair.1)), "{text}");
            assert_eq!(read(text).fault, None, "{text}");
        }
        assert_eq!(volts_of("230 Vac"), (Some(230.0), None));
        assert_eq!(volts_of("230 V 50 Hz"), (Some(230.0), None));
        for text in ["230/400 50 Hz", "230/400 V 50Hz", "230/400 V a.c., 50 Hz", "230/400 V (50 hz)", "230/400V~ 50 Hz"]
        {
            assert_eq!((volts_of(text), read(text).fault), ((Some(230.0), Some(400.0)), None), "{text}");
        }
        assert_eq!(volts_of("115/200 V 400 Hz"), (Some(115.0), Some(200.0)));
        assert_eq!(volts_of("115 400 Hz"), (Some(115.0), None));
        assert_eq!(volts_of("600 V d.c."), (None, Some(600.0)));
        assert_eq!(volts_of("110/220 dc"), (Some(110.0), Some(220.0)));
        assert_eq!(volts_of("-48 V d.c."), (None, Some(48.0)));
    }

    #[test]
    fn old_and_bare_figures_are_read_as_pairs_with_advice() {
        for text in ["240", "415", "240/415", "400", "400 V"] {
            assert_eq!(volts_of(text), (Some(230.0), Some(400.0)), "{text}");
            assert_eq!(read(text).fault.map(|f| f.code), Some(code::NOMINAL_READ_AS_PAIR), "{text}");
        }
    }

    #[test]
    fn a_bare_110_must_state_its_earthing() {
        let with = |earthing, conductors: Conductors| {
            let around = Surroundings { conductors, earthing, decimals: Decimals::Point };
            nominal("110", around)
        };
        assert_eq!(with(None, [].into()).fault.map(|f| f.code), Some(code::VOLTAGE_NEEDS_EARTHING));
        assert_eq!(with(Some(Earthing::Midpoint), [].into()).value, read("55/110").value);
        let three = [Conductor::L1, Conductor::L2, Conductor::L3];
        assert_eq!(with(Some(Earthing::Midpoint), three.into()).value, read("63.5/110").value);
        assert_eq!(with(Some(Earthing::LineEarthed), [].into()).value, Some(ac(Volts::whole(110), None)));
        assert_eq!(volts_of("110 dc"), (None, Some(110.0)));
    }

    #[test]
    fn what_is_no_nominal_voltage_is_refused() {
        for (text, expected) in [
            ("230/500", code::NOMINAL_PAIR_UNLIKELY),
            ("110/200 dc", code::NOMINAL_PAIR_UNLIKELY),
            ("LV", code::NOMINAL_NOT_UNDERSTOOD),
            ("50 Hz", code::NOMINAL_NOT_UNDERSTOOD),
            ("230/400 Hz", code::NOMINAL_NOT_UNDERSTOOD),
            ("230/400 55 Hz", code::NOMINAL_NOT_UNDERSTOOD),
            ("600 V dc 50 Hz", code::NOMINAL_NOT_UNDERSTOOD),
            ("230/500 50 Hz", code::NOMINAL_PAIR_UNLIKELY),
            ("230 kV", code::NOMINAL_NOT_UNDERSTOOD),
            ("230 ac dc", code::NOMINAL_NOT_UNDERSTOOD),
            ("1/2/3", code::NOMINAL_NOT_UNDERSTOOD),
            ("2300000", code::OUT_OF_RANGE),
            ("0", code::OUT_OF_RANGE),
            ("-230", code::OUT_OF_RANGE),
            ("6351/11000", code::UNUSUAL_VALUE),
            ("1501 dc", code::UNUSUAL_VALUE),
            ("1.500 dc", code::PERHAPS_THOUSANDS),
            ("6.350/11.000", code::PERHAPS_THOUSANDS),
        ] {
            assert_eq!(read(text).fault.map(|f| f.code), Some(expected), "{text}");
        }
        assert!(read("11 kV").fault.and_then(|fault| fault.help).unwrap().contains("in volts"));
    }

    #[test]
    fn a_pair_with_a_midpoint_has_two_lines() {
        let three = Conductors::from([Conductor::L1, Conductor::L2, Conductor::L3]);
        let with = |text, earthing, conductors| {
            nominal(text, Surroundings { conductors, earthing, decimals: Decimals::Point })
        };
        for (text, earthing) in [
            ("120/240", None),
            ("120/240", Some(Earthing::TnS)),
            ("55/110", Some(Earthing::Midpoint)),
            ("55/110", None),
        ] {
            let fault = with(text, earthing, three).fault.map(|f| f.code);
            assert_eq!(fault, Some(code::NOMINAL_PAIR_OF_TWO_LINES), "{text} {earthing:?}");
        }
        assert_eq!(with("120/240", Some(Earthing::Midpoint), three).fault, None);
        assert_eq!(with("120/240", None, [Conductor::L1, Conductor::L2, Conductor::N].into()).fault, None);
        assert_eq!(with("63.5/110", None, three).fault, None);
        assert_eq!(with("230/400", None, three).fault, None);
    }

    #[test]
    fn a_figure_that_may_be_thousands_is_no_voltage() {
        for text in ["1.500", "1.100 V", "24.000"] {
            assert_eq!(volts(text, Decimals::Point).fault.map(|f| f.code), Some(code::PERHAPS_THOUSANDS), "{text}");
            assert_eq!(stored(text, Decimals::PointOrComma).value, None, "{text}");
        }
        let gone = |text, volts| discharge(text, Some(Volts::whole(volts)), Decimals::Point);
        assert_eq!(gone("0", 800).fault.map(|f| f.code), Some(code::OUT_OF_RANGE));
        assert_eq!((gone("0", 120).value, gone("0.4", 800).value), (Some(0), Some(1)));
        assert_eq!(discharge("0", None, Decimals::Point).value, Some(0));
        assert_eq!(volts("230.000", Decimals::Point).value, Some(Volts::whole(230)), "230 kV is none of these");
        assert_eq!(module("49.500", Decimals::Point).value, Some(Volts::milli(49_500)));
    }

    #[test]
    fn a_voltage_that_is_not_that_of_the_conductors_says_so() {
        let with = |text, conductors: Conductors| {
            let around = Surroundings { conductors, earthing: None, decimals: Decimals::Point };
            nominal(text, around).fault.unwrap()
        };
        let direct = with("750 dc", [Conductor::L1, Conductor::N].into());
        assert_eq!(direct.code, code::NOMINAL_NOT_UNDERSTOOD);
        assert!(direct.message.contains("direct voltage") && direct.help.unwrap().contains("conductors"));
        let alternating = with("230 V a.c.", [Conductor::Positive, Conductor::Negative].into());
        assert!(alternating.message.contains("alternating voltage"), "{alternating:?}");
        assert!(with("750 dcx", [Conductor::L1].into()).message.contains("is not a nominal voltage"));
    }
}
