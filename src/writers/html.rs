//! Pages for a web browser: elements whose words cannot become markup, pictures within the page, and the fingerprints by which
//! a browser knows the style and the program of the page from any other.

use std::borrow::Cow;

use sha2::{Digest, Sha256};

use crate::survey::is_hidden;

/// Names and values of an element's attributes. Names are ours; values may be anybody's.
pub type Attributes<'a> = &'a [(&'static str, &'a str)];

/// A page, or a part of one, in the making. Every word goes through [`escaped`]; names of elements are ours.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Html(String);

impl Html {
    /// The beginning of a document.
    #[must_use]
    pub fn document() -> Self {
        Self("<!DOCTYPE html>\n".to_owned())
    }

    /// What is written so far.
    #[must_use]
    pub fn into_text(self) -> String {
        self.0
    }

    /// An element with what a function writes into it.
    pub fn element(&mut self, name: &'static str, attributes: Attributes<'_>, inside: impl FnOnce(&mut Self)) {
        self.void(name, attributes);
        inside(self);
        self.end(name);
    }

    /// An element with words in it.
    pub fn line(&mut self, name: &'static str, attributes: Attributes<'_>, words: &str) {
        self.element(name, attributes, |html| html.words(words));
        self.0.push('\n');
    }

    /// An element with words in it; nothing where there are none.
    pub fn said(&mut self, name: &'static str, attributes: Attributes<'_>, words: &str) {
        if !words.is_empty() {
            self.line(name, attributes, words);
        }
    }

    /// An element that has nothing in it and needs no end, such as a picture.
    pub fn void(&mut self, name: &'static str, attributes: Attributes<'_>) {
        self.0.push('<');
        self.0.push_str(name);
        for (name, value) in attributes {
            self.0.push(' ');
            self.0.push_str(name);
            self.0.push_str("=\"");
            self.0.push_str(&escaped(value));
            self.0.push('"');
        }
        self.0.push('>');
    }

    /// Words.
    pub fn words(&mut self, words: &str) {
        self.0.push_str(&escaped(words));
    }

    /// A new line of the source, which a browser shows as a blank or not at all.
    pub fn new_line(&mut self) {
        self.0.push('\n');
    }

    /// A style or program of our own, as it is; nothing of the user's may be in it.
    pub fn verbatim(&mut self, name: &'static str, text: &'static str) {
        self.void(name, &[]);
        self.0.push_str(text);
        self.end(name);
        self.0.push('\n');
    }

    fn end(&mut self, name: &str) {
        self.0.push_str("</");
        self.0.push_str(name);
        self.0.push('>');
    }
}

/// A text of the user that can neither open an element nor end an attribute, which always stands in double quotation marks, with everything made visible that turns or
/// hides what stands beside it.
#[must_use]
pub fn escaped(text: &str) -> Cow<'_, str> {
    let is_plain = |c: char| !matches!(c, '&' | '<' | '>' | '"' | '\n' | '\t') && !is_forbidden(c);
    if text.chars().all(is_plain) {
        return Cow::Borrowed(text);
    }
    let mut safe = String::with_capacity(text.len() + 16);
    for c in text.chars() {
        match c {
            '&' => safe.push_str("&amp;"),
            '<' => safe.push_str("&lt;"),
            '>' => safe.push_str("&gt;"),
            '"' => safe.push_str("&quot;"),
            '\n' | '\t' => safe.push(' '),
            c if is_forbidden(c) => safe.extend(c.escape_unicode()),
            c => safe.push(c),
        }
    }
    Cow::Owned(safe)
}

/// What no page holds as it is: what cannot be seen, and what HTML takes for no character (noncharacters, Unicode 23.7).
fn is_forbidden(c: char) -> bool {
    is_hidden(c) || u32::from(c) & 0xfffe == 0xfffe || matches!(c, '\u{fdd0}'..='\u{fdef}')
}

/// A drawing within a page: a `data:` address of an SVG picture (RFC 2397). Double quotation marks become single ones,
/// which may stand in an address; in our pictures none stands within a value.
#[must_use]
pub fn picture_address(svg: &str) -> String {
    let mut address = "data:image/svg+xml,".to_owned();
    address.reserve(svg.len() * 3 / 2);
    for byte in svg.trim_end().bytes() {
        match byte {
            b'"' => address.push('\''),
            b'\n' => address.push_str("%20"),
            plain if plain.is_ascii_alphanumeric() || b"-._~:/=+,;()!*'".contains(&plain) => {
                address.push(char::from(plain))
            }
            other => address.push_str(&format!("%{other:02X}")),
        }
    }
    address
}

/// The fingerprint of a style or program of the page, as a content policy names it.
#[must_use]
pub fn fingerprint(text: &str) -> String {
    format!("'sha256-{}'", base64(&Sha256::digest(text)))
}

/// Bytes in base 64 (RFC 4648, 4), filled up with `=`.
fn base64(bytes: &[u8]) -> String {
    const DIGITS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let mut text = String::with_capacity(bytes.len().div_ceil(3) * 4);
    for three in bytes.chunks(3) {
        let byte = |place: usize| u32::from(three.get(place).copied().unwrap_or_default());
        let bits = byte(0) << 16 | byte(1) << 8 | byte(2);
        for place in 0..4 {
            let digit = usize::try_from(bits >> (18 - 6 * place) & 63).ok().and_then(|digit| DIGITS.get(digit));
            text.push(if place <= three.len() { digit.map_or('=', |digit| char::from(*digit)) } else { '=' });
        }
    }
    text
}

/// A path of a link, each part between slashes percent-encoded (RFC 3986, 3.3).
#[must_use]
pub fn path(parts: &[String]) -> String {
    let mut path = String::new();
    for (number, part) in parts.iter().enumerate() {
        if number > 0 {
            path.push('/');
        }
        for byte in part.bytes() {
            if byte.is_ascii_alphanumeric() || b"-._~".contains(&byte) {
                path.push(char::from(byte));
            } else {
                path.push_str(&format!("%{byte:02X}"));
            }
        }
    }
    path
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_stay_words() {
        let mut html = Html::default();
        html.line("p", &[("title", "\" onload='x' <a>&")], "</p><script>alert(1)</script>&amp;");
        assert_eq!(
            html.into_text(),
            "<p title=\"&quot; onload='x' &lt;a&gt;&amp;\">&lt;/p&gt;&lt;script&gt;alert(1)&lt;/script&gt;&amp;amp;</p>\n"
        );
        assert_eq!(escaped("Kühlraum – 5 µF"), "Kühlraum – 5 µF");
        assert_eq!(escaped("a\u{202e}b\u{0}c\u{ffff}d\u{200b}e\nf"), "a\\u{202e}b\\u{0}c\\u{ffff}d\\u{200b}e f");
    }

    #[test]
    fn base_64_is_that_of_the_standard() {
        // RFC 4648, section 10: test vectors.
        for (bytes, text) in [
            ("", ""),
            ("f", "Zg=="),
            ("fo", "Zm8="),
            ("foo", "Zm9v"),
            ("foob", "Zm9vYg=="),
            ("fooba", "Zm9vYmE="),
            ("foobar", "Zm9vYmFy"),
        ] {
            assert_eq!(base64(bytes.as_bytes()), text);
        }
        // Content Security Policy Level 3, section 8.2 (from memory): the example's source expression.
        assert_eq!(fingerprint("alert('Hello, world.');"), "'sha256-qznLcsROx4GACP2dm0UCKCzCG+HiZ1guq6ZZDob/Tng='");
    }

    #[test]
    fn a_path_keeps_its_parts() {
        let parts = ["Q7@Room 1: a/b", "..%", "ü"].map(str::to_owned);
        assert_eq!(path(&parts), "Q7%40Room%201%3A%20a%2Fb/..%25/%C3%BC");
    }
}
