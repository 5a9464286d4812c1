//! Hostile words in a code, a page, a drawing, a document, a table and a file's name: what is carried is what was given, and
//! nothing becomes markup.
#![no_main]

use libfuzzer_sys::fuzz_target;
use noticewright::drawing::Drawing;
use noticewright::files::safe_name;
use noticewright::length::{Length, Size};
use noticewright::network::{Network, NetworkOptions};
use noticewright::notice::{self, Carries, NoticeOptions, link_to};
use noticewright::rules::{self, RuleOptions};
use noticewright::survey::value::{DeviceRef, Isolation, RecordLink};
use noticewright::survey::{Enclosure, Row, Survey, is_hidden};
use noticewright::typesetting::code::{Code, Level};
use noticewright::wording::{Wording, one_line};
use noticewright::writers::pdf::{DocumentInfo, PdfWriter, Setup};
use noticewright::writers::{html, svg};
use noticewright_fuzz::code::decoded;

fuzz_target!(|text: &str| {
    // The readers of files give no blank words to what follows.
    if text.trim().is_empty() {
        return;
    }
    given(text);
    from_number(text);
    own_words(text);
    page(text);
    picture(text);
    info(text);
    file_name(text);
});

/// A survey with one enclosure that gets a notice, called and linked so.
fn notice(designation: &str, link: RecordLink, options: &NoticeOptions) -> Option<notice::Notice> {
    let device = |name: &str| DeviceRef { designation: name.into(), location: "Room 1".into() };
    let row = |record, name: &str| Row {
        record,
        circuit: name.into(),
        isolation: Some(Isolation::By(vec![device(name)].into())),
        ..Row::default()
    };
    let rows = vec![row(0, "Q1"), row(1, designation)];
    let mut survey = Survey::default();
    survey.enclosures =
        vec![Enclosure { designation: "JB1".to_owned(), record_link: link, rows, ..Enclosure::default() }];
    let (network, _) = Network::join(&survey, None, &NetworkOptions::default());
    let (decisions, _) = rules::decide(&survey, &network, &RuleOptions::default());
    notice::compose(&survey, &decisions, &Wording::english(), options).0.into_iter().next()
}

/// A link of the survey is refused, or carried as it is.
fn given(text: &str) {
    let options = NoticeOptions::default();
    let notice = notice("Q2", RecordLink::Given(text.to_owned()), &options).unwrap();
    let Some(carried) = notice.code else { return };
    acted_on(&carried);
    let same = unescaped(&carried) == unescaped(&one_line(text));
    assert!(same, "{text:?} is carried as {carried:?}");
    decodes(&carried);
}

/// So is what follows from a number.
fn from_number(text: &str) {
    let base = "https://records.example/".to_owned();
    let options = NoticeOptions { record_link_base: base.clone(), ..NoticeOptions::default() };
    let Some(link) = link_to(text, &options) else { return };
    let number = link.strip_prefix(&base).unwrap();
    assert_eq!(unescaped(number), text.as_bytes());
    acted_on(&link);
    decodes(&link);
}

/// The words of a notice in its code.
fn own_words(text: &str) {
    let options = NoticeOptions { carries: Carries::Text, ..NoticeOptions::default() };
    let Some(carried) = notice(text, RecordLink::Unset, &options).and_then(|notice| notice.code) else { return };
    assert!(!carried.contains(is_hidden), "{carried:?}");
    acted_on(&carried);
    decodes(&carried);
}

/// A reader acts on a scheme and nothing else, and we allow two.
fn acted_on(carried: &str) {
    let Some((scheme, rest)) = carried.split_once(':') else { return };
    let is_scheme = scheme.starts_with(|first: char| first.is_ascii_alphabetic())
        && scheme.bytes().all(|byte| byte.is_ascii_alphanumeric() || b"+-.".contains(&byte));
    if is_scheme {
        let is_allowed = scheme.eq_ignore_ascii_case("https") || scheme.eq_ignore_ascii_case("http");
        assert!(
            is_allowed && rest.starts_with("//") && carried.bytes().all(|byte| byte.is_ascii_graphic()),
            "{carried:?}"
        );
        let host = rest[2..].split(['/', '?', '#']).next().unwrap_or_default();
        assert!(!host.is_empty() && !host.contains('@'), "{carried:?}");
    }
}

fn decodes(carried: &str) {
    for level in [Level::Medium, Level::Quartile] {
        if let Ok(code) = Code::of(carried, level) {
            assert_eq!(decoded(&code).as_deref(), Some(carried));
        }
    }
}

/// Bytes with what is written as `%` and two digits put back.
fn unescaped(text: &str) -> Vec<u8> {
    let (mut bytes, mut rest) = (Vec::new(), text.as_bytes());
    while let [first, after @ ..] = rest {
        let digits = after.get(..2).and_then(|digits| std::str::from_utf8(digits).ok());
        let is_hex = |digits: &&str| digits.bytes().all(|byte| byte.is_ascii_hexdigit());
        match digits.filter(|digits| *first == b'%' && is_hex(digits)) {
            Some(digits) => {
                bytes.push(u8::from_str_radix(digits, 16).unwrap());
                rest = &after[2..];
            }
            None => {
                bytes.push(*first);
                rest = after;
            }
        }
    }
    bytes
}

/// Words of a page neither open an element nor end an attribute, and can be read again.
fn page(text: &str) {
    let escaped = html::escaped(text);
    assert!(!escaped.contains(['<', '>', '"']) && !escaped.contains(is_hidden), "{escaped}");
    let entities = [("&lt;", "<"), ("&gt;", ">"), ("&quot;", "\""), ("&amp;", "&")];
    let read = entities.iter().fold(escaped.to_string(), |text, (entity, plain)| text.replace(entity, plain));
    if !text.contains(|c: char| is_hidden(c) || matches!(c, '\n' | '\t') || !c.is_ascii()) {
        assert_eq!(read, text);
    }
    let mut page = html::Html::default();
    page.line("p", &[("title", text)], text);
    let page = page.into_text();
    assert_eq!((page.matches('<').count(), page.matches('"').count()), (2, 2), "{page}");
    let path = html::path(&[text.to_owned()]);
    assert!(!path.contains('/') && path.is_ascii() && unescaped(&path) == text.as_bytes(), "{path}");
}

/// The title of a drawing adds no mark to it.
fn picture(text: &str) {
    let drawing = Drawing::new(Size::new(Length::um(74_000), Length::um(52_000)));
    let marks = |svg: &str| (svg.matches('<').count(), svg.matches('>').count(), svg.matches('"').count());
    for write in [svg::svg, svg::small, svg::light] {
        let (plain, hostile) = (write(&drawing, "x"), write(&drawing, text));
        assert_eq!(marks(&hostile), marks(&plain), "{hostile}");
        assert!(!hostile.contains(|c: char| c.is_control() && !matches!(c, '\n' | '\t')), "{hostile:?}");
    }
}

/// The title of a document is read again as it was given, by a reader that had no part in writing it.
fn info(text: &str) {
    let info = DocumentInfo { title: text.to_owned(), author: text.to_owned(), ..DocumentInfo::default() };
    let mut bytes = Vec::new();
    PdfWriter::begin(&mut bytes, &Setup { info, ..Setup::default() }).unwrap().finish().unwrap();
    let document = lopdf::Document::load_mem(&bytes).unwrap();
    let info = document.trailer.get(b"Info").and_then(lopdf::Object::as_reference).unwrap();
    for key in [&b"Title"[..], b"Author"] {
        let Ok(told) = document.get_dictionary(info).unwrap().get(key).and_then(lopdf::Object::as_str) else {
            continue;
        };
        let read = match told.strip_prefix(&[0xfe, 0xff]) {
            Some(units) => {
                let units: Vec<u16> = units.chunks(2).map(|two| u16::from_be_bytes([two[0], two[1]])).collect();
                String::from_utf16(&units).unwrap()
            }
            None => String::from_utf8(told.to_vec()).unwrap(),
        };
        let words = |text: &str| text.split_whitespace().collect::<String>();
        assert!(words(text).starts_with(&words(&read)) || text.contains(is_hidden), "{read:?} of {text:?}");
    }
}

/// A file's name stays in its folder.
fn file_name(text: &str) {
    let name = safe_name(text);
    assert!(!name.is_empty() && !name.starts_with('.') && !name.contains(['/', '\\', '\0', '\n']), "{name:?}");
    assert!(name.len() <= 255, "{name:?}");
}
