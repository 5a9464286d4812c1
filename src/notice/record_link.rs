//! What a notice's code carries: a link or a record number, never something that a reader would act on unasked.

use super::compose::NoticeOptions;
use crate::finding::{Finding, Place, code};
use crate::survey::column::Column;
use crate::survey::value::RecordLink;
use crate::survey::{Enclosure, Survey, is_hidden};
use crate::wording::one_line;

/// What a code carries, if there is one.
pub(super) type Payload = Result<Option<String>, Refusal>;

/// Why a link or number does not become a code.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Refusal {
    /// It begins like a link of a scheme that is not allowed.
    Scheme(String),
    /// It is a link without the name of a plain host.
    Host,
    /// It holds a character that is not seen.
    Unseen(char),
    /// It is longer than the limit.
    Long(usize),
    /// The notice's own words are longer than the limit.
    LongText(usize),
    /// They hold a character that is not seen.
    UnseenInText(char),
    /// They begin like a link, by the message that stands before the number.
    TextLikeLink(String),
}

impl Refusal {
    /// What can be done about it.
    pub(super) fn reason(&self, options: &NoticeOptions) -> String {
        match self {
            Self::Scheme(_) => {
                format!("allowed are {}; write a record number without a colon", options.link_schemes.join(", "))
            }
            Self::Host => "a link needs a host of plain letters, digits, dots and hyphens".to_owned(),
            Self::Unseen(_) => "type it again by hand".to_owned(),
            Self::Long(_) => format!(
                "at most {} characters are taken: shorten the link, or raise `code_chars` under [limits] in the job file",
                options.code_chars
            ),
            Self::LongText(_) => format!(
                "at most {} are taken: raise `code_chars` under [limits] in the job file if the notice is large enough, give \
                 a record link instead, or `-` for no code",
                options.text_chars
            ),
            Self::UnseenInText(_) => "type it again by hand".to_owned(),
            Self::TextLikeLink(_) => "begin the message `code-text-number` with a plain word".to_owned(),
        }
    }

    /// The finding about an enclosure's link, or about the one that follows from a notice's number.
    pub(super) fn finding(
        &self,
        survey: &Survey,
        enclosure: Option<&Enclosure>,
        number: &str,
        options: &NoticeOptions,
    ) -> Finding {
        let finding = self.said(number, options);
        let Some(enclosure) = enclosure else { return finding };
        Finding { place: place_of_link(survey, enclosure), ..finding.about(&enclosure.designation) }
    }

    /// The same without a place.
    pub(super) fn said(&self, number: &str, options: &NoticeOptions) -> Finding {
        let text_refused = |what: String| {
            let message = format!("the words of `{number}` cannot stand in its code: {what}");
            Finding::new(code::RECORD_LINK_REFUSED, message).help(self.reason(options))
        };
        let (code, what) = match self {
            Self::LongText(long) => {
                let message = format!("the words of `{number}` for its code have {long} characters");
                return Finding::new(code::RECORD_LINK_TOO_LONG, message).help(self.reason(options));
            }
            Self::UnseenInText(unseen) => {
                return text_refused(format!("they hold the invisible character U+{:04X}", u32::from(*unseen)));
            }
            Self::TextLikeLink(scheme) => return text_refused(format!("they would begin with `{scheme}:`")),
            Self::Scheme(scheme) => {
                (code::RECORD_LINK_REFUSED, format!("begins with `{scheme}:`, which is not allowed"))
            }
            Self::Host => (code::RECORD_LINK_REFUSED, "names no plain host".to_owned()),
            Self::Unseen(unseen) => {
                (code::RECORD_LINK_REFUSED, format!("holds the invisible character U+{:04X}", u32::from(*unseen)))
            }
            Self::Long(long) => (code::RECORD_LINK_TOO_LONG, format!("has {long} characters")),
        };
        Finding::new(code, format!("the record link of `{number}` {what}")).help(self.reason(options))
    }
}

/// The cell that gives an enclosure's link, which need not be that of its first row; else the first row's.
pub(super) fn place_of_link(survey: &Survey, enclosure: &Enclosure) -> Option<Place> {
    let mut cells = enclosure.rows.iter().map(|row| survey.place(row.record, Column::RecordLink));
    let first = cells.next()?;
    if !first.cell.trim().is_empty() {
        return Some(first);
    }
    cells.find(|place| !place.cell.trim().is_empty()).or(Some(first))
}

/// What the code of a notice carries: the link or number of its file, none if that says so, else the job's base
/// and the notice's number.
pub(super) fn payload(link: &RecordLink, number: &str, options: &NoticeOptions) -> Payload {
    match link {
        RecordLink::None => Ok(None),
        RecordLink::Given(text) => checked(text, options).map(Some),
        RecordLink::Unset => from_base(number, options),
    }
}

/// The link to a notice's record that follows from the job's base, as a code carries it; `None` without a base, or where
/// no code may carry it.
#[must_use]
pub fn link_to(number: &str, options: &NoticeOptions) -> Option<String> {
    from_base(number, options).ok().flatten()
}

/// The job's base with a notice's number, percent-encoded but for its slashes; nothing without a base.
fn from_base(number: &str, options: &NoticeOptions) -> Payload {
    if options.record_link_base.is_empty() {
        return Ok(None);
    }
    let unreserved = |byte: u8| byte.is_ascii_alphanumeric() || matches!(byte, b'-' | b'.' | b'_' | b'~' | b'/');
    let number = percent_encoded(number, unreserved);
    checked(&format!("{}{number}", options.record_link_base), options).map(Some)
}

/// A link of an allowed scheme, percent-encoded where it must be, or plain text that no reader takes for a link.
pub(super) fn checked(text: &str, options: &NoticeOptions) -> Result<String, Refusal> {
    let text = one_line(text);
    if let Some(unseen) = text.chars().find(|character| is_unseen(*character)) {
        return Err(Refusal::Unseen(unseen));
    }
    let payload = match scheme(&text) {
        None => text.into_owned(),
        Some((scheme, rest)) => {
            let allowed = options.link_schemes.iter().any(|allowed| allowed.eq_ignore_ascii_case(scheme));
            let after = allowed.then(|| rest.strip_prefix("//")).ok_or_else(|| Refusal::Scheme(scheme.to_owned()))?;
            let after = after.ok_or(Refusal::Host)?;
            let (host, path) = after.split_at(after.find(['/', '?', '#']).unwrap_or(after.len()));
            if !is_plain_host(host) {
                return Err(Refusal::Host);
            }
            let plain = |byte: u8| {
                byte.is_ascii_graphic()
                    && !matches!(byte, b'"' | b'<' | b'>' | b'\\' | b'^' | b'`' | b'{' | b'|' | b'}')
            };
            [scheme, "://", host, &percent_encoded(path, plain)].concat()
        }
    };
    let long = payload.chars().count();
    if long > options.code_chars { Err(Refusal::Long(long)) } else { Ok(payload) }
}

/// The scheme with which a text begins (RFC 3986, 3.1), without its colon, and what follows.
pub(super) fn scheme(text: &str) -> Option<(&str, &str)> {
    let (scheme, rest) = text.split_once(':')?;
    let is_scheme = scheme.starts_with(|first: char| first.is_ascii_alphabetic())
        && scheme.chars().all(|character| character.is_ascii_alphanumeric() || "+-.".contains(character));
    is_scheme.then_some((scheme, rest))
}

/// A host and perhaps a port; no user name, which could dress a link up as another's.
fn is_plain_host(host: &str) -> bool {
    host.starts_with(|first: char| first.is_ascii_alphanumeric() || first == '[')
        && host.chars().all(|character| character.is_ascii_alphanumeric() || "-.:[]".contains(character))
}

/// Control characters, and all that the reading of a file takes for hidden.
pub(super) fn is_unseen(character: char) -> bool {
    character.is_control() || is_hidden(character)
}

/// A text with every byte that is not kept written as `%` and two digits (RFC 3986, 2.1).
fn percent_encoded(text: &str, keep: impl Fn(u8) -> bool) -> String {
    if text.bytes().all(&keep) {
        return text.to_owned();
    }
    let mut encoded = String::with_capacity(text.len() + 8);
    for byte in text.bytes() {
        if keep(byte) {
            encoded.push(char::from(byte));
        } else {
            encoded.push_str(&format!("%{byte:02X}"));
        }
    }
    encoded
}
