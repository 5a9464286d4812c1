//! A short hash of everything that a notice says: two notices that say the same have the same one, whatever their
//! revision.

use std::sync::{Arc, OnceLock};

use sha2::{Digest, Sha256};

use super::{Notice, Said, Subject};
use crate::wording::one_line;

/// Begins what is hashed; changes when the order below does.
const VERSION: &str = "noticewright notice 1";

/// The fingerprint of a notice, worked out when it is first asked for: most runs ask for none.
///
/// A copy of a notice has its own to work out, for what it says may be changed before it is asked.
#[derive(Debug, Default)]
pub struct Fingerprint {
    /// The site as the small line names it: a part of what is hashed.
    site: Arc<str>,
    digits: OnceLock<String>,
}

impl Fingerprint {
    /// That of a notice of this site.
    #[must_use]
    pub fn at(site: &Arc<str>) -> Self {
        Self { site: Arc::clone(site), digits: OnceLock::new() }
    }

    /// Takes what was worked out; empty if nobody asked.
    pub(super) fn take(&mut self) -> String {
        self.digits.take().unwrap_or_default()
    }

    /// Puts back what was taken.
    pub(super) fn put(&mut self, digits: &str) {
        if !digits.is_empty() {
            self.digits = OnceLock::from(digits.to_owned());
        }
    }
}

impl Clone for Fingerprint {
    fn clone(&self) -> Self {
        Self::at(&self.site)
    }
}

/// The digits follow from the site and from the rest of the notice.
impl PartialEq for Fingerprint {
    fn eq(&self, other: &Self) -> bool {
        self.site == other.site
    }
}

impl Eq for Fingerprint {}

impl Notice {
    /// Hash of everything that it says, in hexadecimal.
    #[must_use]
    pub fn fingerprint(&self) -> &str {
        self.hashed.digits.get_or_init(|| fingerprint(self, &self.hashed.site))
    }
}

/// The first 16 hexadecimal digits of SHA-256 over the version text and then, in this order: subject, number,
/// designation, name, headline, statement, cautions, points (designation, place, serves, remarks), figures (figure,
/// meaning), closing, site, caption and payload of the code, and the size wished for in micrometres.
///
/// A text is hashed as its length in bytes (64 bits, most significant first) and its UTF-8; a list, what is there or
/// not included, as its length and its members. So no two different notices are hashed from the same bytes. Revision
/// and date are left out: they change without the notice saying anything else.
fn fingerprint(notice: &Notice, site: &str) -> String {
    let mut hash = Hash(Sha256::new());
    hash.text(VERSION);
    hash.text(match notice.subject {
        Subject::Enclosure => "enclosure",
        Subject::Device => "device",
        Subject::Standing => "standing",
    });
    [&notice.number, &notice.designation, &notice.name].into_iter().for_each(|text| hash.text(text));
    hash.said(&notice.headline);
    hash.said(&notice.statement);
    hash.list(&notice.cautions, Hash::said);
    hash.list(&notice.points, |hash, point| {
        [&point.designation, &point.place, &point.serves].into_iter().for_each(|text| hash.text(text));
        hash.list(&point.remarks, Hash::said);
    });
    hash.list(&notice.figures, |hash, figure| {
        hash.text(&figure.figure);
        hash.said(&figure.meaning);
    });
    hash.said(&notice.closing);
    hash.text(&one_line(site));
    hash.said(&notice.code_caption);
    hash.list(notice.code.as_slice(), |hash, code| hash.text(code));
    hash.list(notice.size.as_slice(), |hash, size| {
        hash.text(&size.width.to_um().to_string());
        hash.text(&size.height.to_um().to_string());
    });
    hash.digits()
}

struct Hash(Sha256);

impl Hash {
    fn length(&mut self, length: usize) {
        self.0.update(u64::try_from(length).unwrap_or(u64::MAX).to_be_bytes());
    }

    fn text(&mut self, text: &str) {
        self.length(text.len());
        self.0.update(text);
    }

    fn said(&mut self, said: &Said) {
        self.list(said, |hash, text| hash.text(text));
    }

    fn list<T>(&mut self, members: &[T], mut member: impl FnMut(&mut Self, &T)) {
        self.length(members.len());
        members.iter().for_each(|each| member(self, each));
    }

    fn digits(self) -> String {
        const DIGITS: [char; 16] = ['0', '1', '2', '3', '4', '5', '6', '7', '8', '9', 'a', 'b', 'c', 'd', 'e', 'f'];
        let bytes = self.0.finalize();
        let halves = bytes.iter().take(8).flat_map(|byte| [byte >> 4, byte & 0xF]);
        halves.filter_map(|half| DIGITS.get(usize::from(half))).collect()
    }
}
