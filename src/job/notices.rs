//! How notices are worded and sized.

use std::collections::BTreeMap;

use serde::Deserialize;

use super::{JobFault, fault};
use crate::records::due::{INTERVALS, USUAL_INTERVAL};

/// The highest charge that any of the rules leaves unnamed, volts d.c. (BS 7671 416.2.5).
const HIGHEST_CHARGE: u32 = 120;

/// No notice is wanted for longer, in years.
const LONGEST_LIFE: u16 = 100;

/// How notices are worded and sized.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Notices {
    /// The languages of every notice, the main one first: `["en"]`.
    pub languages: Vec<String>,
    /// Message files of further languages, by language: a path beside the job file.
    pub messages: BTreeMap<String, String>,
    /// What stands before a notice's number in its code, `https://records.example/`; empty for no code.
    pub record_link_base: String,
    /// What the codes carry where no link of their own is given.
    pub qr: Qr,
    /// From how far notices are read, in metres, where the survey does not say.
    pub reading_distance_m: f64,
    /// From how far tags on isolators are read, in metres, where the supplies file does not say.
    pub tag_reading_distance_m: f64,
    /// How small capitals may be.
    pub letter_floor: Floor,
    /// Above how many volts d.c., five seconds after isolation, a stored charge is dangerous.
    pub stored_charge_limit_v: u32,
    /// For how many years notices are to last, where somebody wants to know.
    pub wanted_years: Option<u16>,
    /// Months from one inspection of a notice to the next.
    pub inspection_months: u16,
}

impl Default for Notices {
    fn default() -> Self {
        Self {
            languages: vec!["en".to_owned()],
            messages: BTreeMap::new(),
            record_link_base: String::new(),
            qr: Qr::default(),
            reading_distance_m: 0.7,
            tag_reading_distance_m: 0.4,
            letter_floor: Floor::default(),
            stored_charge_limit_v: 60,
            wanted_years: None,
            inspection_months: USUAL_INTERVAL,
        }
    }
}

/// How small capitals may be, as the job file spells it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize)]
pub enum Floor {
    /// One two-hundredth of the reading distance.
    #[default]
    #[serde(rename = "1/200")]
    TwoHundredth,
    /// Sixteen minutes of arc, about distance / 215.
    #[serde(rename = "16-minutes")]
    SixteenMinutes,
}

/// What codes carry, as the job file spells it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Qr {
    /// A link: the base with the notice's number.
    #[default]
    Link,
    /// The notice's own words.
    Text,
}

impl Notices {
    pub(super) fn check(&self) -> Result<(), JobFault> {
        let limit = self.stored_charge_limit_v;
        let distances =
            [("reading_distance_m", self.reading_distance_m), ("tag_reading_distance_m", self.tag_reading_distance_m)];
        for (key, distance) in distances {
            if !(0.1..=20.0).contains(&distance) {
                return Err(fault(format!("`{key}` is {distance:?}; it lies between 0.1 and 20 metres")));
            }
        }
        if !(1..=HIGHEST_CHARGE).contains(&limit) {
            return Err(fault(format!(
                "`stored_charge_limit_v` is {limit}; it lies between 1 and {HIGHEST_CHARGE} volts"
            )));
        }
        if let Some(years) = self.wanted_years.filter(|years| !(1..=LONGEST_LIFE).contains(years)) {
            return Err(fault(format!("`wanted_years` is {years}; it lies between 1 and {LONGEST_LIFE} years")));
        }
        let (months, [least, most]) = (self.inspection_months, [INTERVALS.start(), INTERVALS.end()]);
        if !INTERVALS.contains(&months) {
            return Err(fault(format!("`inspection_months` is {months}; it lies between {least} and {most} months")));
        }
        if self.languages.is_empty() {
            return Err(fault("`languages` is empty; a notice needs at least one".to_owned()));
        }
        Ok(())
    }
}
