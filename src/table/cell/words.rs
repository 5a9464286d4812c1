//! Cells that hold one of a few words.

use std::borrow::Cow;

use super::super::column::same_name;
use super::super::value::{Basis, DeviceKind, Earthing, Environment, InterlockKind, Poles, Role, SourceKind, Surface};
use super::number::{self, Decimals};
use super::{Fault, Parsed, closest, is_dash, unknown_word};
use crate::finding::code;

/// `yes` or `no`, also `y`, `true`, `1` and their opposites.
pub(crate) fn yes_no(text: &str) -> Parsed<bool> {
    const YES: [&str; 4] = ["yes", "y", "true", "1"];
    const NO: [&str; 4] = ["no", "n", "false", "0"];
    let is_one_of = |words: [&str; 4]| words.iter().any(|word| text.eq_ignore_ascii_case(word));
    match (is_one_of(YES), is_one_of(NO)) {
        (true, _) => Parsed::good(true),
        (_, true) => Parsed::good(false),
        (false, false) => unknown_word(text, ["yes", "no"].into_iter()).into(),
    }
}

/// Where energy comes from: a kind of source, or a name of the survey's own.
pub(crate) fn source(text: &str) -> Parsed<SourceKind> {
    const KNOWN: [(&str, SourceKind); 6] = [
        ("mains", SourceKind::Mains),
        ("generator", SourceKind::Generator),
        ("solar", SourceKind::Solar),
        ("battery", SourceKind::Battery),
        ("ups", SourceKind::Ups),
        ("vehicle", SourceKind::Vehicle),
    ];
    // The other words by which people call them: as a name of its own, each would be one source more.
    const CALLED: [(&str, &str); 25] = [
        ("grid", "mains"),
        ("the grid", "mains"),
        ("national grid", "mains"),
        ("grid supply", "mains"),
        ("dno", "mains"),
        ("dso", "mains"),
        ("utility", "mains"),
        ("utility supply", "mains"),
        ("public supply", "mains"),
        ("public network", "mains"),
        ("mains supply", "mains"),
        ("mains electricity", "mains"),
        ("normal supply", "mains"),
        ("genset", "generator"),
        ("generating set", "generator"),
        ("standby generator", "generator"),
        ("diesel generator", "generator"),
        ("diesel", "generator"),
        ("pv", "solar"),
        ("photovoltaic", "solar"),
        ("solar pv", "solar"),
        ("batteries", "battery"),
        ("bess", "battery"),
        ("ev", "vehicle"),
        ("ev charger", "vehicle"),
    ];
    if is_dash(text) || text.eq_ignore_ascii_case("none") {
        return Parsed::nothing();
    }
    if let Parsed { value: Some(kind), .. } = one_of(text, &KNOWN) {
        return Parsed::good(kind);
    }
    let named = SourceKind::Named(super::text::tidied(text).into());
    let called = CALLED.iter().find(|(name, _)| same_name(name, text)).map(|(_, kind)| *kind);
    let near = || closest(text, KNOWN.iter().map(|(name, _)| *name)).filter(|near| near.len() > 3);
    // `Generator 1` beside `Generator 2` are two: who wrote `generator` for both would lose one of them.
    let near = || near().filter(|near| !is_numbered(text, near));
    match called.or_else(near) {
        Some(near) => Parsed::remarked(
            named,
            Fault::new(code::SOURCE_LIKE_A_KIND, format!("`{text}` is read as the name of a source of its own"))
                .help(format!("did you mean `{near}`?")),
        ),
        None => Parsed::good(named),
    }
}

/// Whether a text is a word and what tells the thing from others of its kind: `Generator 1`, `Mains A`.
fn is_numbered(text: &str, word: &str) -> bool {
    let rest = text.split_at_checked(word.len()).filter(|(first, _)| first.eq_ignore_ascii_case(word));
    let Some((_, rest)) = rest else { return false };
    let number = rest.trim_start_matches(|c: char| !c.is_alphanumeric());
    number.starts_with(|c: char| c.is_ascii_digit()) || number.len() == 1 && number != rest
}

/// How a system is earthed.
pub(crate) fn earthing(text: &str) -> Parsed<Earthing> {
    one_of(
        text,
        &[
            ("TN-S", Earthing::TnS),
            ("TN-C-S", Earthing::TnCS),
            ("TN-C", Earthing::TnC),
            ("TT", Earthing::Tt),
            ("IT", Earthing::It),
            ("line-earthed", Earthing::LineEarthed),
            ("midpoint", Earthing::Midpoint),
            ("pole-earthed", Earthing::PoleEarthed),
            ("positive-earthed", Earthing::PositiveEarthed),
            ("negative-earthed", Earthing::NegativeEarthed),
            ("unearthed", Earthing::Unearthed),
            ("SELV", Earthing::Selv),
            ("PELV", Earthing::Pelv),
            ("FELV", Earthing::Felv),
        ],
    )
}

/// What kind of device isolates. One that parts nothing to be relied on must not be told to be another kind, or none.
pub(crate) fn device_kind(text: &str) -> Parsed<DeviceKind> {
    const ISOLATES_NOTHING: [&str; 13] = [
        "contactor",
        "relay",
        "push-button",
        "stop-button",
        "emergency-stop",
        "e-stop",
        "starter",
        "soft-starter",
        "semiconductor",
        "solid-state-relay",
        "thermostat",
        "timer",
        "drive",
    ];
    let parsed = one_of(text, &DeviceKind::ALL.map(|kind| (kind.name(), kind)));
    if parsed.value.is_some() || !ISOLATES_NOTHING.iter().any(|known| same_name(known, text)) {
        return parsed;
    }
    Fault::new(code::UNKNOWN_WORD, format!("`{text}` is no device that isolates"))
        .help("name in `isolator` the device that does, and its kind here; with this one alone the circuit is not isolated")
        .into()
}

/// What a device switches; a `P` after the figure is tolerated.
pub(crate) fn poles(text: &str) -> Parsed<Poles> {
    let is_plain = text.bytes().all(|byte| byte.is_ascii_digit() || byte == b'+' || byte == b'N');
    let tolerated = |c: &char| !c.is_whitespace() && !matches!(c, 'P' | 'p');
    let plain = if is_plain { Cow::Borrowed(text) } else { text.chars().filter(tolerated).collect() };
    let (lines, neutral) = match plain.as_ref() {
        "1" => (1, false),
        "2" => (2, false),
        "3" => (3, false),
        "1+N" | "1+n" => (1, true),
        "3+N" | "3+n" => (3, true),
        _ => return other_poles(text).into(),
    };
    Parsed::good(Poles { lines, neutral })
}

/// Poles by other words, of which some say nothing of the neutral: what is meant cannot be told, but what to write can.
fn other_poles(text: &str) -> Fault {
    let plain: String = text.chars().filter(|c| c.is_ascii_alphanumeric()).collect::<String>().to_ascii_uppercase();
    let help = match plain.as_str() {
        "4" | "4P" | "4POLE" | "FP" | "FOURPOLE" => "write `3+N` where four poles switch three lines and the neutral",
        "TPN" | "3PN" | "TPSN" | "TPANDN" => {
            "write `3+N` where the neutral is switched too, and `3` where it stays connected"
        }
        "SPN" | "1PN" | "SPSN" | "SPANDN" => {
            "write `1+N` where the neutral is switched too, and `1` where it stays connected"
        }
        "DP" | "2POLE" => "write `2` for two lines or two poles, and `1+N` for a line and the neutral",
        "SP" | "1POLE" => "write `1`",
        "TP" | "3POLE" => "write `3`",
        _ => return unknown_word(text, ["1", "2", "3", "1+N", "3+N"].into_iter()),
    };
    Fault::new(code::UNKNOWN_WORD, format!("`{text}` is none of the words of this column")).help(help)
}

/// What an interlock does.
pub(crate) fn interlock_kind(text: &str) -> Parsed<InterlockKind> {
    one_of(
        text,
        &[
            ("coupled", InterlockKind::Coupled),
            ("trapped-key", InterlockKind::TrappedKey),
            ("auxiliary-contact", InterlockKind::AuxiliaryContact),
            ("no-parallel", InterlockKind::NoParallel),
        ],
    )
}

/// How a row is known.
pub(crate) fn basis(text: &str) -> Parsed<Basis> {
    one_of(
        text,
        &[
            ("proved", Basis::Proved),
            ("traced", Basis::Traced),
            ("drawing", Basis::Drawing),
            ("assumed", Basis::Assumed),
        ],
    )
}

/// What a notice is fixed on.
pub(crate) fn surface(text: &str) -> Parsed<Surface> {
    one_of(
        text,
        &[
            ("painted-metal", Surface::PaintedMetal),
            ("bare-metal", Surface::BareMetal),
            ("plastic", Surface::Plastic),
            ("textured", Surface::Textured),
            ("curved", Surface::Curved),
        ],
    )
}

/// What an enclosure is in the installation: words with `;` between, each kept once, in a fixed order.
pub(crate) fn roles(text: &str) -> Parsed<Vec<Role>> {
    const KNOWN: [(&str, Role); 4] = [
        ("origin", Role::Origin),
        ("meter", Role::Meter),
        ("board", Role::Board),
        ("isolating-point", Role::IsolatingPoint),
    ];
    let mut roles = Vec::new();
    for word in list(text) {
        let parsed = one_of(word, &KNOWN);
        let Some(role) = parsed.value else { return Parsed { value: None, fault: parsed.fault } };
        roles.push(role);
    }
    roles.sort_unstable();
    roles.dedup();
    Parsed::good(roles)
}

/// What a notice must stand up to: words with `;` between, `heat` and `cold` with a temperature.
pub(crate) fn environment(text: &str, decimals: Decimals) -> Parsed<Environment> {
    let mut environment = Environment::default();
    for word in list(text) {
        if let Err(fault) = add_condition(&mut environment, word, decimals) {
            return fault.into();
        }
    }
    Parsed::good(environment)
}

fn add_condition(environment: &mut Environment, word: &str, decimals: Decimals) -> Result<(), Fault> {
    const KNOWN: [&str; 7] = ["indoor", "outdoor", "sun", "washdown", "solvent", "heat 70", "cold -28"];
    let behind = |wanted: &str| {
        let (_, degrees) = word.split_at_checked(4).filter(|(name, _)| name.eq_ignore_ascii_case(wanted))?;
        Some(degrees.trim())
    };
    if let Some(degrees) = behind("heat") {
        environment.heat = Some(number::heat(degrees, decimals)?);
        return Ok(());
    }
    if let Some(degrees) = behind("cold") {
        environment.cold = Some(number::cold(degrees, decimals)?);
        return Ok(());
    }
    let flag = match KNOWN.iter().find(|known| known.eq_ignore_ascii_case(word) || same_name(known, word)) {
        Some(&"indoor") => &mut environment.indoor,
        Some(&"outdoor") => &mut environment.outdoor,
        Some(&"sun") => &mut environment.sun,
        Some(&"washdown") => &mut environment.washdown,
        Some(&"solvent") => &mut environment.solvent,
        _ => return Err(unknown_word(word, KNOWN.into_iter())),
    };
    *flag = true;
    Ok(())
}

/// The parts of a list with `;` between; commas are tolerated where no part of the list may hold one.
fn list(text: &str) -> impl Iterator<Item = &str> {
    text.split([';', ',', '\n']).map(str::trim).filter(|part| !part.is_empty())
}

/// The value of the word that is meant, without regard to case, blanks and hyphens.
pub(crate) fn one_of<T: Clone>(text: &str, known: &[(&str, T)]) -> Parsed<T> {
    let exact = known.iter().find(|(name, _)| name.eq_ignore_ascii_case(text));
    match exact.or_else(|| known.iter().find(|(name, _)| same_name(name, text))) {
        Some((_, value)) => Parsed::good(value.clone()),
        None => unknown_word(text, known.iter().map(|(name, _)| *name)).into(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_opposite_of_a_word_is_not_what_was_meant() {
        let known = [
            ("TN-S", ()),
            ("line-earthed", ()),
            ("pole-earthed", ()),
            ("negative-earthed", ()),
            ("unearthed", ()),
            ("coupled", ()),
            ("no-parallel", ()),
            ("proved", ()),
            ("painted-metal", ()),
        ];
        let help = |text| one_of(text, &known).fault.and_then(|fault| fault.help).unwrap();
        for (text, meant) in [
            ("unearthd", "unearthed"),
            ("not earthed", "unearthed"),
            ("line-erthed", "line-earthed"),
            ("negativ earthed", "negative-earthed"),
            ("copled", "coupled"),
            ("no paralel", "no-parallel"),
            ("paintd metal", "painted-metal"),
        ] {
            assert_eq!(help(text), format!("did you mean `{meant}`?"), "{text}");
        }
        for text in [
            "earthed",
            "-ve earthed",
            "neg earthed",
            "uncoupled",
            "decoupled",
            "parallel",
            "unproved",
            "unpainted metal",
        ] {
            assert!(help(text).starts_with("write `TN-S`, "), "{text}: {}", help(text));
        }
    }

    #[test]
    fn poles_by_another_word_are_told_how_to_write() {
        let help = |text| poles(text).fault.and_then(|fault| fault.help).unwrap();
        for (text, written) in [
            ("4P", "`3+N`"),
            ("4", "`3+N`"),
            ("TP&N", "`3` where"),
            ("TPN", "`3` where"),
            ("SP", "`1`"),
            ("DP", "`1+N`"),
        ] {
            assert!(help(text).contains(written), "{text}: {}", help(text));
            assert_eq!(poles(text).fault.map(|fault| fault.code), Some(code::UNKNOWN_WORD), "{text}");
        }
        assert_eq!(poles("3P+N").value, Some(Poles { lines: 3, neutral: true }));
    }

    #[test]
    fn a_source_by_another_word_is_asked_about_and_a_dash_is_none() {
        for (text, kind) in
            [("grid", "mains"), ("DNO", "mains"), ("Utility", "mains"), ("genset", "generator"), ("PV", "solar")]
        {
            let fault = source(text).fault.unwrap();
            assert_eq!(fault.code, code::SOURCE_LIKE_A_KIND, "{text}");
            assert_eq!(fault.help.unwrap(), format!("did you mean `{kind}`?"), "{text}");
        }
        for nothing in ["-", "N/A", "\u{2013}", "none"] {
            assert_eq!(source(nothing), Parsed::nothing(), "{nothing}");
        }
        for own in ["Generator 1", "generator 2A", "Mains A", "Solar 1", "Battery-B", "Vehicle 12"] {
            assert_eq!(source(own), Parsed::good(SourceKind::Named(own.into())), "{own}");
        }
        for slip in ["generater", "mainss", "vehicles"] {
            assert_eq!(source(slip).fault.map(|fault| fault.code), Some(code::SOURCE_LIKE_A_KIND), "{slip}");
        }
        assert_eq!(source("estate network"), Parsed::good(SourceKind::Named("estate network".into())));
    }

    #[test]
    fn what_isolates_nothing_is_told_so() {
        for kind in ["contactor", "Relay", "push button", "E-stop", "soft starter"] {
            let fault = device_kind(kind).fault.unwrap();
            assert_eq!(fault.code, code::UNKNOWN_WORD, "{kind}");
            assert!(fault.message.contains("no device that isolates"), "{kind}: {}", fault.message);
        }
        let help = device_kind("MCB").fault.and_then(|fault| fault.help).unwrap();
        assert!(help.contains("`breaker`"), "{help}");
        assert_eq!(device_kind("Breaker").value, Some(DeviceKind::Breaker));
    }
}
