//! One cell's text into one value: pure functions that know nothing of files and places.

pub(crate) mod conductors;
pub(crate) mod damage;
pub(crate) mod devices;
mod doubt;
pub(crate) mod number;
mod place;
mod several;
pub(crate) mod size;
pub(crate) mod text;
mod tongues;
pub(crate) mod voltage;
pub(crate) mod words;

use crate::finding::{Code, Finding, code};

/// What is wrong with a cell, before it has a place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Fault {
    pub(crate) code: Code,
    pub(crate) message: String,
    pub(crate) help: Option<String>,
}

impl Fault {
    pub(crate) fn new(code: Code, message: impl Into<String>) -> Self {
        Self { code, message: message.into(), help: None }
    }

    pub(crate) fn help(mut self, help: impl Into<String>) -> Self {
        self.help = Some(help.into());
        self
    }

    /// The same as a finding without a place.
    pub(crate) fn finding(self) -> Finding {
        Finding { help: self.help, ..Finding::new(self.code, self.message) }
    }
}

/// What a cell came to: a value, something wrong, or a value that needs a remark.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Parsed<T> {
    pub(crate) value: Option<T>,
    pub(crate) fault: Option<Fault>,
}

impl<T> Parsed<T> {
    pub(crate) fn good(value: T) -> Self {
        Self { value: Some(value), fault: None }
    }

    /// Nothing to say: the cell means that there is nothing.
    pub(crate) fn nothing() -> Self {
        Self { value: None, fault: None }
    }

    pub(crate) fn remarked(value: T, fault: Fault) -> Self {
        Self { value: Some(value), fault: Some(fault) }
    }
}

impl<T> From<Fault> for Parsed<T> {
    fn from(fault: Fault) -> Self {
        Self { value: None, fault: Some(fault) }
    }
}

impl<T> From<Result<T, Fault>> for Parsed<T> {
    fn from(result: Result<T, Fault>) -> Self {
        match result {
            Ok(value) => Self::good(value),
            Err(fault) => fault.into(),
        }
    }
}

/// A cell without what makes a spreadsheet take it for text: `="JB1"` is JB1.
pub(crate) fn unforced(cell: &str) -> &str {
    let inner = cell.strip_prefix("=\"").and_then(|rest| rest.strip_suffix('"'));
    inner.filter(|inner| !inner.contains('"')).map_or(cell, str::trim)
}

/// Whether a cell says that nobody knows.
pub(crate) fn is_not_known(text: &str) -> bool {
    const LONGEST: usize = 20;
    if text.len() > LONGEST {
        return false;
    }
    if !matches!(text.bytes().next(), Some(b'?' | b't' | b'T' | b'u' | b'U' | b'n' | b'N' | b'l' | b'L')) {
        return tongues::is_unknown(text);
    }
    const WORDS: [&str; 21] = [
        "?",
        "??",
        "???",
        "tbc",
        "tba",
        "tbd",
        "unknown",
        "not known",
        "not yet known",
        "n/k",
        "n.k.",
        "n/v",
        "n.v.",
        "not verified",
        "lim",
        "limitation",
        "unsure",
        "not sure",
        "to be confirmed",
        "to be advised",
        "to be determined",
    ];
    WORDS.iter().any(|word| text.eq_ignore_ascii_case(word)) || tongues::is_unknown(text)
}

/// Whether a cell says in so many words that there is nothing to say.
pub(crate) fn is_dash(text: &str) -> bool {
    matches!(text, "-" | "--" | "\u{2013}" | "\u{2014}" | "\u{2212}")
        || text.starts_with(['n', 'N'])
            && ["n/a", "n.a.", "not applicable"].iter().any(|it| text.eq_ignore_ascii_case(it))
}

/// A fault for a word that is none of those that the column knows.
fn unknown_word<'a>(text: &str, known: impl Iterator<Item = &'a str> + Clone) -> Fault {
    let fault = Fault::new(code::UNKNOWN_WORD, format!("`{text}` is none of the words of this column"));
    // Two letters make `earthed` of its opposite.
    let alike = known.clone().filter(|name| denies(name) == denies(text) && is_alike_in_parts(text, name));
    match closest(text, alike) {
        Some(near) => fault.help(format!("did you mean `{near}`?")),
        None => fault.help(format!("write {}", listed(known))),
    }
}

/// Whether a word says that something is not so: `unearthed`, `no-parallel`.
fn denies(word: &str) -> bool {
    let word = super::column::folded(word);
    ["un", "no", "de"].iter().any(|denial| word.starts_with(denial))
}

/// Whether no more is wrong than half a part of a name: `line-earthed` is not what `neg earthed` was meant to be.
fn is_alike_in_parts(text: &str, name: &str) -> bool {
    let shortest = name.split('-').map(|part| part.chars().count()).min().unwrap_or_default();
    strsim::damerau_levenshtein(&super::column::folded(text), &super::column::folded(name)) <= (shortest / 2).max(1)
}

/// The known name that was most likely meant, if one is near enough: at most a third of its letters wrong, or one of
/// several.
pub(crate) fn closest<'a>(text: &str, known: impl Iterator<Item = &'a str>) -> Option<&'a str> {
    let wanted = super::column::folded(text);
    known
        .map(|name| (strsim::damerau_levenshtein(&wanted, &super::column::folded(name)), name))
        .filter(|(distance, name)| {
            let letters = name.chars().count();
            *distance < letters && *distance <= (letters / 3).clamp(1, 3)
        })
        .min_by_key(|(distance, _)| *distance)
        .map(|(_, name)| name)
}

/// Words as a sentence lists them: "`a`, `b` or `c`".
fn listed<'a>(words: impl Iterator<Item = &'a str>) -> String {
    let quoted: Vec<_> = words.map(|word| format!("`{word}`")).collect();
    match quoted.split_last() {
        Some((last, [])) => last.clone(),
        Some((last, rest)) => format!("{} or {last}", rest.join(", ")),
        None => String::new(),
    }
}
