//! How a payload is cut into segments, and the smallest version that holds them. Both depend on nothing but where in it which
//! kinds of characters stand, and the links of a survey differ mostly in their figures: so those cut last are kept.

use std::cell::RefCell;

use qrcode::bits::Bits;
use qrcode::optimize::{Optimizer, Parser, Segment, total_encoded_len};
use qrcode::{EcLevel, Version};

/// How many ways of cutting a thread keeps.
const KEPT: usize = 8;

/// The last versions that write the lengths of segments in so many bits (ISO/IEC 18004, number of bits in character count
/// indicator).
const LAST_OF_RANGES: [i16; 3] = [9, 26, 40];

thread_local! {
    /// The last one used at the end.
    static CUT: RefCell<Vec<Cut>> = const { RefCell::new(Vec::new()) };
}

/// What sets characters of ASCII apart for a code.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Kind {
    Figure,
    /// A capital, or a sign that has a place beside the capitals.
    Alphanumeric,
    Other,
}

impl Kind {
    const fn of(byte: u8) -> Self {
        match byte {
            b'0'..=b'9' => Self::Figure,
            b'A'..=b'Z' | b' ' | b'$' | b'%' | b'*' | b'+' | b'-' | b'.' | b'/' | b':' => Self::Alphanumeric,
            _ => Self::Other,
        }
    }
}

/// How payloads of these kinds of characters are cut.
struct Cut {
    kinds: Vec<Kind>,
    correction: EcLevel,
    version: Version,
    segments: Vec<Segment>,
}

impl Cut {
    /// `None` where no version holds the payload.
    fn of(payload: &str, correction: EcLevel) -> Option<Self> {
        let parsed: Vec<Segment> = Parser::new(payload.as_bytes()).collect();
        LAST_OF_RANGES.into_iter().find_map(|last| {
            let range = Version::Normal(last);
            let segments: Vec<Segment> = Optimizer::new(parsed.iter().copied(), range).collect();
            let bits = total_encoded_len(&segments, range);
            let holds = |version: &Version| Bits::new(*version).max_len(correction).is_ok_and(|most| bits <= most);
            let version = (1..=last).map(Version::Normal).find(holds)?;
            Some(Self { kinds: payload.bytes().map(Kind::of).collect(), correction, version, segments })
        })
    }

    fn is_of(&self, payload: &str, correction: EcLevel) -> bool {
        let kinds = payload.bytes().map(Kind::of);
        self.correction == correction && self.kinds.len() == payload.len() && kinds.eq(self.kinds.iter().copied())
    }
}

/// What is made of how a payload in ASCII is cut: its smallest version, and its segments; `None` where no version holds it.
pub(super) fn of<T>(payload: &str, correction: EcLevel, make: impl FnOnce(Version, &[Segment]) -> T) -> Option<T> {
    CUT.with_borrow_mut(|kept| {
        match kept.iter().rposition(|cut| cut.is_of(payload, correction)) {
            Some(at) => kept.get_mut(at..)?.rotate_left(1),
            None => {
                let cut = Cut::of(payload, correction)?;
                if kept.len() >= KEPT {
                    kept.remove(0);
                }
                kept.push(cut);
            }
        }
        kept.last().map(|cut| make(cut.version, &cut.segments))
    })
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use qrcode::bits::encode_auto;

    use super::*;

    /// The crate's own way from a payload to a version and segments' bits, which it ends and fills up too.
    fn by_crate(payload: &str, correction: EcLevel) -> Option<(Version, Vec<u8>)> {
        let bits = encode_auto(payload.as_bytes(), correction).ok()?;
        Some((bits.version(), bits.into_bytes()))
    }

    fn by_segments(payload: &str, correction: EcLevel) -> Option<(Version, Vec<u8>)> {
        of(payload, correction, |version, segments| {
            let mut bits = Bits::new(version);
            bits.push_segments(payload.as_bytes(), segments.iter().copied()).unwrap();
            bits.push_terminator(correction).unwrap();
            (version, bits.into_bytes())
        })
    }

    const LEVELS: [EcLevel; 4] = [EcLevel::L, EcLevel::M, EcLevel::Q, EcLevel::H];

    proptest! {
        /// Few kinds and lengths, so that many payloads are cut as one before was.
        #[test]
        fn payloads_are_cut_as_the_crate_cuts_them(
            payloads in prop::collection::vec("(https://)?[0-9]{0,3}[A-Z /:-]{0,3}[a-z?&#@~]{0,2}[0-9]{0,9}[!-~]{0,3}", 1..24),
            level in 0_usize..4,
        ) {
            for payload in payloads {
                let correction = LEVELS[level];
                prop_assert_eq!(by_segments(&payload, correction), by_crate(&payload, correction), "{}", payload);
            }
        }
    }

    #[test]
    fn every_character_is_of_its_kind() {
        for byte in 0..0x80_u8 {
            for (before, behind) in [("ab", "cd"), ("AB", "CD"), ("12", "34")] {
                let payload = format!("{before}{}{behind}", char::from(byte).to_string().repeat(9));
                assert_eq!(by_segments(&payload, EcLevel::M), by_crate(&payload, EcLevel::M), "{payload:?}");
            }
        }
    }

    #[test]
    fn every_range_of_versions_is_cut_for_its_own_lengths() {
        for (pattern, most) in [("7", 7_089), ("A", 4_296), ("a", 2_953)] {
            // To one character more than any version holds (ISO/IEC 18004, table 7).
            for length in (0..most + 1).step_by(97).chain([most, most + 1]) {
                let payload = pattern.repeat(length);
                let cut = by_segments(&payload, EcLevel::L);
                assert_eq!(cut.is_some(), length <= most, "{pattern} {length}");
                assert_eq!(cut, by_crate(&payload, EcLevel::L), "{pattern} {length}");
            }
        }
    }

    #[test]
    fn no_more_are_kept_than_are_said() {
        for turn in 0..3 {
            for length in 1..=2 * KEPT {
                let payload = "x".repeat(length) + &turn.to_string();
                assert_eq!(by_segments(&payload, EcLevel::M), by_crate(&payload, EcLevel::M), "{payload}");
            }
        }
        assert_eq!(CUT.with_borrow(Vec::len), KEPT);
    }
}
