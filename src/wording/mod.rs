//! What notices say, by language: Fluent message files, some embedded, further ones given by the job.
//!
//! A message is a variant of [`Message`] with its arguments, so that none can be misspelt; a message file is checked
//! against the same table before it says anything.

mod check;
mod message;
mod pattern;
mod said;
mod shipped;

use std::sync::OnceLock;

use fluent_bundle::FluentResource;
use fluent_bundle::concurrent::FluentBundle;

use crate::finding::{Finding, Severity, code};
use crate::network::spelling::is_plain_line;

use pattern::Patterns;
use shipped::{SHIPPED, Shipped};

pub use crate::network::spelling::one_line;
pub use message::Message;
pub use said::Said;

/// A message file that the job gives.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct MessageFile<'a> {
    /// Tag of the language, `cy` or `de-AT`.
    pub language: &'a str,
    /// The file as the user named it.
    pub file: &'a str,
    /// Its text, in Fluent syntax.
    pub text: &'a str,
}

/// Who gives a message file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Origin {
    /// The job: its file names who has checked it.
    Job,
    /// The program, which says itself what nobody has read.
    Program,
}

/// Says messages in every language of a job; may be shared between threads.
pub struct Wording {
    languages: Vec<Language>,
    /// By the number of a message and a count: what says nothing else is always the same.
    kept: Vec<Vec<OnceLock<Said>>>,
}

impl Wording {
    /// The wording of a job: its languages, the main one first, and the message files that it gives for them. Without a
    /// language it is English; a file for an embedded language takes its place.
    ///
    /// # Errors
    /// Every finding, if one of them is an error: a language without messages, or a file that does not give
    /// each message with all of its arguments. Otherwise the findings come beside the wording.
    pub fn new(languages: &[String], files: &[MessageFile<'_>]) -> Result<(Self, Vec<Finding>), Vec<Finding>> {
        let (mut spoken, mut findings) = (Vec::<Language>::new(), Vec::new());
        for tag in languages {
            if spoken.iter().any(|known| known.tag == *tag) {
                continue;
            }
            let own = files.iter().find(|file| file.language == tag);
            let language = match own {
                Some(file) => Language::new(file, Origin::Job, &mut findings),
                None => Language::shipped(tag, &mut findings),
            };
            match language {
                Some(language) => spoken.push(language),
                None => findings.push(unknown_language(tag)),
            }
        }
        if findings.iter().any(|finding| finding.severity() == Severity::Error) {
            return Err(findings);
        }
        Ok((if spoken.is_empty() { Self::english() } else { Self::of(spoken) }, findings))
    }

    /// Room for what says nothing but a count: one text where a message has no arguments, one for each count where it has
    /// only that, none otherwise.
    fn of(languages: Vec<Language>) -> Self {
        let kept = message::TABLE.iter().map(|entry| match entry.arguments {
            [] => 1,
            [(_, message::Argument::Count)] => KEPT_COUNTS,
            [..] => 0,
        });
        let kept = kept.map(|count| std::iter::repeat_with(OnceLock::new).take(count).collect());
        Self { languages, kept: kept.collect() }
    }

    /// English alone.
    #[must_use]
    pub fn english() -> Self {
        Self::of(Language::shipped("en", &mut Vec::new()).into_iter().collect())
    }

    /// The tags of the languages, the main one first.
    pub fn languages(&self) -> impl Iterator<Item = &str> {
        self.languages.iter().map(|language| language.tag.as_str())
    }

    /// A message in every language.
    #[must_use]
    pub fn say(&self, message: Message<'_>) -> Said {
        let kept = self.kept.get(message.number()).zip(message.only_count());
        match kept.and_then(|(kept, count)| kept.get(count)) {
            Some(slot) => slot.get_or_init(|| self.say_each(|_| message)).clone(),
            None => self.say_each(|_| message),
        }
    }

    /// A message whose arguments differ between the languages: `message` gets the number of each language.
    pub fn say_each<'a>(&self, message: impl Fn(usize) -> Message<'a>) -> Said {
        self.languages.iter().enumerate().map(|(number, language)| language.format(&message(number))).collect()
    }

    /// A message in the main language alone.
    #[must_use]
    pub fn say_once(&self, message: Message<'_>) -> String {
        self.languages.first().map(|language| language.format(&message)).unwrap_or_default()
    }

    /// The user's own text, the same in every language.
    #[must_use]
    pub fn repeat(&self, text: &str) -> Said {
        let text = one_line(text);
        self.languages.iter().map(|_| text.clone().into_owned()).collect()
    }

    /// Several things as one list: `mains, generator and solar`.
    #[must_use]
    pub fn list(&self, members: &[Said]) -> Said {
        let in_language = |number: usize| members.iter().filter_map(move |said| said.get(number).map(String::as_str));
        let listed = self.languages.iter().enumerate().map(|(number, language)| {
            let texts: Vec<&str> = in_language(number).collect();
            match texts.split_last() {
                Some((last, [])) => (*last).to_owned(),
                Some((last, others)) => language.format(&Message::ListLast { others: &others.join(", "), last }),
                None => String::new(),
            }
        });
        listed.collect()
    }
}

fn unknown_language(tag: &str) -> Finding {
    Finding::new(code::LANGUAGE_UNKNOWN, format!("no messages are known for the language `{tag}`"))
        .help(format!("give a message file for it in the job file, under `messages`; {}", come_with_the_program()))
}

/// Which languages need no message file.
fn come_with_the_program() -> String {
    let named = SHIPPED.iter().map(|shipped| format!("`{}`", shipped.file.language)).collect::<Vec<_>>();
    format!("{} come with the program", named.join(" and "))
}

fn unread_language(shipped: &Shipped) -> Finding {
    let Shipped { name, file, .. } = shipped;
    let message = format!("no competent translator has read the {name} messages, `{}`", file.language);
    Finding::new(code::LANGUAGE_UNCHECKED, message).help(
        "let an electrician who speaks it read every notice before it is fixed; a message file of your own takes their place",
    )
}

/// Counts from 0 that are formatted once and kept, for messages that say nothing but a count.
const KEPT_COUNTS: usize = 64;

/// The messages of one language, once checked.
struct Language {
    tag: String,
    bundle: FluentBundle<FluentResource>,
    patterns: Patterns,
}

impl Language {
    /// A language that comes with the program, with the advice that nobody has read it if that is so.
    fn shipped(tag: &str, findings: &mut Vec<Finding>) -> Option<Self> {
        let shipped = SHIPPED.iter().find(|shipped| shipped.file.language == tag)?;
        findings.extend(shipped.unchecked.then(|| unread_language(shipped)));
        Self::new(&shipped.file, Origin::Program, findings)
    }

    /// Reads and checks a message file; `None` if its language is not a well-formed tag.
    fn new(file: &MessageFile<'_>, origin: Origin, findings: &mut Vec<Finding>) -> Option<Self> {
        let mut bundle = FluentBundle::new_concurrent(vec![file.language.parse().ok()?]);
        // The marks that set arguments apart are characters that no face has.
        bundle.set_use_isolating(false);
        // What comes with the program is looked through by its tests, not again in every run.
        let is_checked = origin == Origin::Job;
        let deep = is_checked.then(|| check::nested_too_deeply(file)).flatten();
        let text = if deep.is_some() { "" } else { file.text };
        findings.extend(deep);
        let (resource, errors) = match FluentResource::try_new(text.to_owned()) {
            Ok(resource) => (resource, Vec::new()),
            Err((resource, errors)) => (resource, errors),
        };
        if is_checked {
            check::check(file, &resource, &errors, findings);
            findings.extend(check::unchecked(file, &resource));
        }
        let patterns = Patterns::of(&resource);
        bundle.add_resource_overriding(resource);
        if is_checked {
            check::try_out(file, &bundle, findings);
        }
        Some(Self { tag: file.language.to_owned(), bundle, patterns })
    }

    fn format(&self, message: &Message<'_>) -> String {
        match self.patterns.say(message) {
            Some(said) if is_plain_line(&said) => said,
            Some(said) => one_line(&said).into_owned(),
            None => self.formatted(message),
        }
    }

    /// The same by Fluent.
    fn formatted(&self, message: &Message<'_>) -> String {
        let pattern = self.bundle.get_message(message.key()).and_then(|found| found.value());
        let said = pattern.map(|pattern| {
            one_line(&self.bundle.format_pattern(pattern, Some(&message.arguments()), &mut Vec::new())).into_owned()
        });
        said.unwrap_or_default()
    }
}

#[cfg(test)]
mod tests;
