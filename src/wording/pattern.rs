//! Messages that only put texts between texts, taken apart once, so that to say one is to join its parts.

use fluent_bundle::FluentResource;
use fluent_syntax::ast::{Entry, Expression, InlineExpression, Pattern, PatternElement};

use super::message::{self, Argument, Message};

/// A part of a message.
#[derive(Clone, Debug, PartialEq, Eq)]
enum Part {
    /// Words of the message file.
    Words(String),
    /// The argument at this place.
    Argument(usize),
}

/// The messages of a file that hold nothing but words and texts, by the number of the message. What chooses a plural,
/// or refers to another message, is left to Fluent.
pub(super) struct Patterns(Vec<Option<Vec<Part>>>);

impl Patterns {
    /// Those of a checked file; of a message that it gives twice, the last.
    pub(super) fn of(resource: &FluentResource) -> Self {
        let mut patterns: Vec<Option<Vec<Part>>> = message::TABLE.iter().map(|_| None).collect();
        for entry in resource.entries() {
            let Entry::Message(given) = entry else { continue };
            let known = message::TABLE.iter().position(|entry| entry.key == given.id.name);
            if let Some((number, slot)) = known.and_then(|number| Some((number, patterns.get_mut(number)?))) {
                *slot = given.value.as_ref().and_then(|pattern| parts(pattern, number));
            }
        }
        Self(patterns)
    }

    /// The message said; `None` where it must be left to Fluent.
    pub(super) fn say(&self, message: &Message<'_>) -> Option<String> {
        let parts = self.0.get(message.number())?.as_ref()?;
        let texts = || parts.iter().map(|part| part.said(message));
        let mut said = String::with_capacity(texts().map(|text| text.map_or(0, str::len)).sum());
        for text in texts() {
            said.push_str(text?);
        }
        Some(said)
    }
}

impl Part {
    fn said<'a>(&'a self, message: &'a Message<'_>) -> Option<&'a str> {
        match self {
            Self::Words(words) => Some(words),
            Self::Argument(place) => message.text(*place),
        }
    }
}

/// The parts of a pattern; `None` where it holds more than words and texts.
fn parts(pattern: &Pattern<&str>, number: usize) -> Option<Vec<Part>> {
    let arguments = message::TABLE.get(number)?.arguments;
    let part = |element: &PatternElement<&str>| match element {
        PatternElement::TextElement { value } => Some(Part::Words((*value).to_owned())),
        PatternElement::Placeable { expression: Expression::Inline(InlineExpression::VariableReference { id }) } => {
            let is_text = |(name, kind): &(&str, Argument)| *name == id.name && *kind == Argument::Text;
            arguments.iter().position(is_text).map(Part::Argument)
        }
        PatternElement::Placeable { .. } => None,
    };
    pattern.elements.iter().map(part).collect()
}

#[cfg(test)]
mod tests {
    use super::super::Wording;
    use super::*;

    #[test]
    fn the_same_is_said_as_by_fluent() {
        let (wording, _) = Wording::new(&["en".to_owned(), "de".to_owned()], &[]).unwrap();
        let hostile = "a { $b } \u{2068}\\ \"c\"";
        for language in &wording.languages {
            let mut taken_apart = 0;
            for message in [
                Message::IsolateAtOne { device: hostile },
                Message::TwoSupplies { enclosure: "CH3-JB2" },
                Message::CircuitsStayLive { count: 2, circuits: hostile, enclosure: "" },
                Message::DeviceAtPlace { device: "Q7", place: hostile },
                Message::ListLast { others: "Q1, Q2", last: "Q3" },
                Message::FigureUpTo { figure: "460 V" },
            ] {
                let quick = language.patterns.say(&message);
                taken_apart += usize::from(quick.is_some());
                let quick = quick.map(|said| super::super::one_line(&said).into_owned());
                assert!(quick.is_none_or(|said| said == language.formatted(&message)), "{message:?}");
            }
            assert!(taken_apart > 3, "{}: {taken_apart}", language.tag);
        }
    }
}
