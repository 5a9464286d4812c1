//! Test of residual current devices: that the test button wants pressing every six months.
//!
//! Reason: a device that has not moved for years may stick; pressing the button moves it.
//!
//! Reference: BS 7671:2018+A4:2026, 514.12.2 (from texts that quote it): words prescribed, at or near each residual
//! current device. A4 has new words that are known here only in part; the words used are those of A2, from memory, and
//! ask for the same six months. A4 waives the notice in domestic premises if the certificate with its guidance was
//! issued (from the same texts).
//!
//! In the list: `kind` is `rcd-test`. Words of one's own that still ask for a test every three months are refused: that
//! was the interval of earlier editions (from memory), and so are those that ask for one once a year or less often. Words in
//! which no interval is found are warned of.
//!
//! Example: DB-D, which holds six residual current breakers, has one notice beside them.

use super::own_words::{has, plain};
use super::{Asked, Words};
use crate::rules::clause::Confidence;

pub(super) const ASKED: Asked = Asked {
    words: Words::Prescribed(Confidence::Memory),
    plate: None,
    capitals: None,
    is_advised: false,
    because: "to be fixed at or near each residual current device; waived in domestic premises only if the certificate \
              with its guidance was issued",
};

/// How the interval of earlier editions is said, in small letters with single blanks for hyphens and line ends.
const OLD_INTERVALS: [&str; 18] = [
    "quarterly",
    "each quarter",
    "every quarter",
    "once a quarter",
    "per quarter",
    "three monthly",
    "3 monthly",
    "three months",
    "3 months",
    "three month",
    "3 month",
    "thirteen weeks",
    "13 weeks",
    "ninety days",
    "90 days",
    "four times a year",
    "4 times a year",
    "four times per year",
];

/// How an interval is said that is longer than the one in force.
const LONGER_INTERVALS: [&str; 18] = [
    "once a year",
    "once per year",
    "once yearly",
    "every year",
    "each year",
    "annually",
    "annual",
    "yearly",
    "twelve monthly",
    "12 monthly",
    "twelve months",
    "12 months",
    "eighteen months",
    "18 months",
    "two years",
    "2 years",
    "five years",
    "5 years",
];

/// How the interval in force is said.
const INTERVALS: [&str; 11] = [
    "six monthly",
    "6 monthly",
    "six months",
    "6 months",
    "half yearly",
    "every half year",
    "twice a year",
    "twice yearly",
    "two times a year",
    "2 times a year",
    "semi annually",
];

/// The part of a text that asks for the interval of an earlier edition, or for one that is longer than that in force.
pub(super) fn other_interval(words: &str) -> Option<&'static str> {
    let is_in_force = says_interval(words);
    let words = plain(words);
    let is_said = |interval: &&'static str| has(&words, interval);
    // `half yearly` holds the word of a longer one.
    let longer = || LONGER_INTERVALS.into_iter().filter(|_| !is_in_force).find(is_said);
    OLD_INTERVALS.into_iter().find(is_said).or_else(longer)
}

/// Whether a text says the interval in force.
pub(super) fn says_interval(words: &str) -> bool {
    let words = plain(words);
    INTERVALS.into_iter().any(|interval| has(&words, interval))
}
