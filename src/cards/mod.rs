//! Isolation cards: one for each enclosure, to be taken to it by whoever isolates it. The points of isolation in their order
//! with room to tick, initial and tag; the steps that prove dead; boxes to sign; and on the back what stays live, the proof
//! and the diagram.
//!
//! A card says what the notice says, in the same words, and says it too of an enclosure that needs no notice. It never
//! says that something is dead: that is proved and signed by a person.

mod back;
mod front;
mod points;
mod record;
mod steps;

use std::collections::HashMap;

use crate::network::Network;
use crate::notice::{Notice, Subject, Told, told};
use crate::pages::{self, Section};
use crate::rules::{Decision, Decisions};
use crate::supplies::Supplies;
use crate::survey::{Enclosure, Survey};
use crate::typesetting::Typesetter;
use crate::wording::Wording;

/// What every card says at its top.
pub const HEAD: &str = "Isolation card: makes nothing dead by itself";

/// What cards are made from. No notice needs to be set for them: a card is there where no sheet holds the notice.
#[derive(Clone, Copy)]
pub struct Surveyed<'a> {
    /// The survey.
    pub survey: &'a Survey,
    /// The supplies file, if there is one.
    pub supplies: Option<&'a Supplies>,
    /// What feeds what.
    pub network: &'a Network,
    /// What was decided.
    pub decisions: &'a Decisions,
    /// What the notices say.
    pub notices: &'a [Notice],
}

/// The cards of a survey, one a part.
pub struct Document<'a> {
    surveyed: Surveyed<'a>,
    typesetter: &'a Typesetter,
    wording: Wording,
    /// Decisions by their place, in the order of the cards.
    cards: Vec<usize>,
    /// The first notice of each enclosure by its designation.
    notices: HashMap<&'a str, &'a Notice>,
}

/// One card in the making.
struct Card<'a> {
    surveyed: Surveyed<'a>,
    typesetter: &'a Typesetter,
    decision: &'a Decision,
    enclosure: &'a Enclosure,
    /// What its notice says, or would say.
    told: Told,
    /// Its first notice, where there is one.
    notice: Option<&'a Notice>,
}

impl pages::Document for Document<'_> {
    fn parts(&self) -> usize {
        self.cards.len()
    }

    fn section(&self, part: usize, _: &dyn Fn(usize) -> usize) -> Section {
        self.cards.get(part).and_then(|&place| self.card(place)).map(|card| card.section()).unwrap_or_default()
    }

    fn counts_each_part(&self) -> bool {
        true
    }
}

impl<'a> Document<'a> {
    /// A card for each of these decisions, by their place.
    #[must_use]
    pub fn new(surveyed: Surveyed<'a>, cards: Vec<usize>, typesetter: &'a Typesetter) -> Self {
        let mut notices = HashMap::new();
        for notice in surveyed.notices.iter().filter(|notice| notice.subject == Subject::Enclosure) {
            notices.entry(notice.designation.as_str()).or_insert(notice);
        }
        Self { surveyed, typesetter, wording: Wording::english(), cards, notices }
    }

    fn card(&self, place: usize) -> Option<Card<'_>> {
        let decision = self.surveyed.decisions.enclosures.get(place)?;
        let enclosure = self.surveyed.survey.enclosures.get(decision.enclosure)?;
        Some(Card {
            surveyed: self.surveyed,
            typesetter: self.typesetter,
            decision,
            enclosure,
            told: told(decision, enclosure, &self.wording),
            notice: self.notices.get(enclosure.designation.as_str()).copied(),
        })
    }
}

impl Card<'_> {
    fn section(&self) -> Section {
        let mut blocks = front::blocks(self);
        blocks.extend(points::blocks(self));
        blocks.extend(steps::blocks(self));
        blocks.extend(back::blocks(self));
        Section { head: self.enclosure.designation.clone(), blocks }
    }
}
