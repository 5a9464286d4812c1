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
//! was the interval of earlier editions (from memory).
//!
//! Example: DB-D, which holds six residual current breakers, has one notice beside them.

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

/// How the interval of earlier editions was said.
const OLD_INTERVALS: [&str; 6] =
    ["quarterly", "three-monthly", "three monthly", "3-monthly", "3 monthly", "every three months"];

/// The part of a text that asks for the interval of an earlier edition.
pub(super) fn old_interval(words: &str) -> Option<&'static str> {
    let words = words.to_lowercase();
    OLD_INTERVALS.into_iter().find(|old| words.contains(old))
}
