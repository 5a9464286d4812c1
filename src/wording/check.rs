//! Whether a message file says every message, with every argument in each of its variants, and nothing else.

use std::collections::BTreeSet;
use std::sync::Arc;

use fluent_bundle::concurrent::FluentBundle;
use fluent_bundle::{FluentArgs, FluentResource};
use fluent_syntax::ast::{Entry, Expression, InlineExpression, Message, Pattern, PatternElement};
use fluent_syntax::parser::ParserError;

use super::MessageFile;
use super::message::{Argument, TABLE};
use crate::finding::{Code, Finding, Place, code};

/// The message in which a file names who checked its translation.
const CHECKED_BY: &str = "translation-checked-by";

/// Braces and brackets within each other; a plural within a plural needs four.
const DEEPEST: usize = 100;

/// Reports what a file lacks, has too much, or says in a way that cannot be understood.
pub(super) fn check(
    file: &MessageFile<'_>,
    resource: &FluentResource,
    errors: &[ParserError],
    findings: &mut Vec<Finding>,
) {
    findings.extend(errors.iter().map(|error| syntax_error(file, error)));
    let mut seen = BTreeSet::new();
    for message in resource.entries().filter_map(as_message) {
        let key = message.id.name;
        if !seen.insert(key) {
            findings.push(at(
                file,
                code::MESSAGE_REPEATED,
                key,
                format!("the message `{key}` stands twice in the file"),
            ));
        }
        check_message(file, message, findings);
    }
    let torn = |key: &str| errors.iter().any(|error| torn_text(file, error).starts_with(key));
    for entry in TABLE.iter().filter(|entry| !seen.contains(entry.key) && !torn(entry.key)) {
        let missing = format!("the messages for `{}` lack `{}`", file.language, entry.key);
        findings.push(Finding::new(code::MESSAGE_MISSING, missing).at(place(file, 1)));
    }
}

/// An entry whose parts lie within each other deeper than any message needs: the parser would go down with them until its
/// stack is used up.
pub(super) fn nested_too_deeply(file: &MessageFile<'_>) -> Option<Finding> {
    let mut depth = 0_usize;
    for (number, line) in file.text.lines().enumerate() {
        // An entry begins at the margin; what belongs to it is indented.
        if line.starts_with(|first: char| first.is_ascii_alphabetic() || first == '-') {
            depth = 0;
        }
        for character in line.chars() {
            match character {
                '{' | '(' => depth += 1,
                '}' | ')' => depth = depth.saturating_sub(1),
                _ => {}
            }
            if depth > DEEPEST {
                let message = "the message file cannot be read here: its braces lie within each other too deeply";
                return Some(Finding::new(code::MESSAGE_FILE_SYNTAX, message).at(place(file, number + 1)));
            }
        }
    }
    None
}

/// Advice if a file does not name who has checked it.
pub(super) fn unchecked(file: &MessageFile<'_>, resource: &FluentResource) -> Option<Finding> {
    if resource.entries().filter_map(as_message).any(|message| message.id.name == CHECKED_BY) {
        return None;
    }
    let message = format!("nobody is named who has checked the messages for `{}`", file.language);
    let help = format!("once an electrician who speaks it has read them, add `{CHECKED_BY} = NAME`");
    Some(Finding::new(code::TRANSLATION_UNCHECKED, message).help(help).at(place(file, 1)))
}

fn as_message<'a, 'b>(entry: &'a Entry<&'b str>) -> Option<&'a Message<&'b str>> {
    if let Entry::Message(message) = entry { Some(message) } else { None }
}

fn syntax_error(file: &MessageFile<'_>, error: &ParserError) -> Finding {
    let before = file.text.get(..error.pos.start).unwrap_or(file.text);
    let line = before.matches('\n').count() + 1;
    let message = format!("the message file cannot be read here: {}", error.kind.to_string().to_lowercase());
    Finding::new(code::MESSAGE_FILE_SYNTAX, message).at(place(file, line))
}

/// The part of the file that an error made unreadable.
fn torn_text<'a>(file: &MessageFile<'a>, error: &ParserError) -> &'a str {
    error.slice.clone().and_then(|range| file.text.get(range)).unwrap_or_default()
}

fn check_message(file: &MessageFile<'_>, message: &Message<&str>, findings: &mut Vec<Finding>) {
    let key = message.id.name;
    let Some(entry) = TABLE.iter().find(|entry| entry.key == key) else {
        if key != CHECKED_BY {
            findings.push(unknown_message(file, key));
        }
        return;
    };
    let (mut certain, mut mentioned) = (BTreeSet::new(), BTreeSet::new());
    if let Some(pattern) = &message.value {
        certain = certainly_said(pattern);
        mention(pattern, &mut mentioned);
    }
    for (argument, _) in entry.arguments.iter().filter(|(argument, _)| !certain.contains(argument)) {
        let said = format!("the message `{key}` does not say `${argument}` in every variant");
        findings.push(at(file, code::MESSAGE_ARGUMENT_MISSING, key, said));
    }
    for argument in mentioned.iter().filter(|name| !entry.arguments.iter().any(|(argument, _)| argument == *name)) {
        let said = format!("the message `{key}` has no argument `${argument}`");
        findings.push(at(file, code::MESSAGE_ARGUMENT_UNKNOWN, key, said));
    }
}

fn unknown_message(file: &MessageFile<'_>, key: &str) -> Finding {
    let finding = at(file, code::MESSAGE_UNKNOWN, key, format!("no notice says a message `{key}`"));
    let likeness = |entry: &super::message::Entry| strsim::jaro_winkler(entry.key, key);
    let nearest = TABLE.iter().max_by(|one, other| likeness(one).total_cmp(&likeness(other)));
    match nearest.filter(|entry| likeness(entry) > 0.85) {
        Some(entry) => finding.help(format!("did you mean `{}`", entry.key)),
        None => finding,
    }
}

/// The arguments that a pattern names whichever of its variants is chosen; what chooses counts as named.
fn certainly_said<'a>(pattern: &Pattern<&'a str>) -> BTreeSet<&'a str> {
    let mut said = BTreeSet::new();
    for element in &pattern.elements {
        match element {
            PatternElement::TextElement { .. } => {}
            PatternElement::Placeable { expression } => said.extend(certain_of(expression)),
        }
    }
    said
}

fn certain_of<'a>(expression: &Expression<&'a str>) -> BTreeSet<&'a str> {
    match expression {
        Expression::Inline(inline) => named(inline).into_iter().collect(),
        Expression::Select { selector, variants } => {
            let in_variants = variants.iter().map(|variant| certainly_said(&variant.value));
            let in_all = in_variants.reduce(|all, one| all.intersection(&one).copied().collect());
            named(selector).into_iter().chain(in_all.unwrap_or_default()).collect()
        }
    }
}

/// Collects every argument that a pattern names anywhere.
fn mention<'a>(pattern: &Pattern<&'a str>, mentioned: &mut BTreeSet<&'a str>) {
    for element in &pattern.elements {
        match element {
            PatternElement::Placeable { expression: Expression::Inline(inline) } => mentioned.extend(named(inline)),
            PatternElement::Placeable { expression: Expression::Select { selector, variants } } => {
                mentioned.extend(named(selector));
                variants.iter().for_each(|variant| mention(&variant.value, mentioned));
            }
            PatternElement::TextElement { .. } => {}
        }
    }
}

/// The argument that a placeable prints as it is.
fn named<'a>(inline: &InlineExpression<&'a str>) -> Option<&'a str> {
    match inline {
        InlineExpression::VariableReference { id } => Some(id.name),
        InlineExpression::Placeable { expression } => match &**expression {
            Expression::Inline(inner) => named(inner),
            Expression::Select { .. } => None,
        },
        InlineExpression::StringLiteral { .. }
        | InlineExpression::NumberLiteral { .. }
        | InlineExpression::FunctionReference { .. }
        | InlineExpression::MessageReference { .. }
        | InlineExpression::TermReference { .. } => None,
    }
}

/// Counts that between them meet every plural form of every language of the Unicode plural rules.
const SAMPLES: [u32; 12] = [0, 1, 2, 3, 5, 6, 7, 8, 11, 21, 100, 1_000_000];

/// Says every message once for each sample count, and reports what Fluent itself could not resolve: a reference to a
/// message or term that is not there, a function, a circle.
pub(super) fn try_out(file: &MessageFile<'_>, bundle: &FluentBundle<FluentResource>, findings: &mut Vec<Finding>) {
    for entry in TABLE {
        let Some(pattern) = bundle.get_message(entry.key).and_then(|message| message.value()) else { continue };
        let mut errors = Vec::new();
        for sample in SAMPLES {
            let mut arguments = FluentArgs::new();
            for (name, kind) in entry.arguments {
                match kind {
                    Argument::Count => arguments.set(*name, sample),
                    Argument::Text => arguments.set(*name, "x"),
                }
            }
            bundle.format_pattern(pattern, Some(&arguments), &mut errors);
        }
        let known = findings.iter().any(|finding| finding.code == code::MESSAGE_ARGUMENT_UNKNOWN);
        if let (Some(error), false) = (errors.first(), known) {
            let said = format!("the message `{}` cannot be said: {error}", entry.key);
            findings.push(at(file, code::MESSAGE_UNRESOLVED, entry.key, said));
        }
    }
}

/// A finding at the line where a message begins; at its last beginning, if it stands there twice.
fn at(file: &MessageFile<'_>, code: Code, key: &str, message: String) -> Finding {
    let begins = |line: &str| line.strip_prefix(key).is_some_and(|rest| rest.trim_start().starts_with('='));
    let line = file.text.lines().enumerate().filter(|(_, line)| begins(line)).last();
    Finding::new(code, message).at(place(file, line.map_or(1, |(number, _)| number + 1)))
}

fn place(file: &MessageFile<'_>, line: usize) -> Place {
    Place {
        file: Arc::from(file.file),
        line: u32::try_from(line).unwrap_or(u32::MAX),
        column: 1,
        column_name: String::new(),
        address: String::new(),
        cell: String::new(),
        line_text: file.text.lines().nth(line - 1).unwrap_or_default().to_owned(),
    }
}
