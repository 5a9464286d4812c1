//! Earthing connection: that a connection to earth or of bonding must stay where it is.
//!
//! Reason: somebody who moves a clamp for other work leaves a whole installation without protection.
//!
//! Reference: BS 7671:2018+A4:2026, 514.13.1 (from two texts that quote it): words prescribed, at the connection of each
//! earthing conductor to an electrode, of each bonding conductor to what it bonds, and at the main earth terminal apart
//! from the switchgear. Since A2 the label itself need not follow BS 951 any more (from one text, weakly known). Its
//! letters of at least 4.75 mm (from memory) are kept all the same.
//!
//! In the list: `kind` is `earthing-connection`; the words fit A8, 60 x 40 mm, or a strip of 100 x 26 mm.
//!
//! Example: the clamp of the main bonding conductor at the water intake.

use super::{Asked, Words};
use crate::length::Length;
use crate::rules::clause::Confidence;

pub(super) const ASKED: Asked = Asked {
    words: Words::Prescribed(Confidence::Secondary),
    plate: None,
    capitals: Some(Length::um(4_750)),
    is_advised: false,
    because: "to be fixed at each connection of an earthing or bonding conductor that somebody might undo",
};
