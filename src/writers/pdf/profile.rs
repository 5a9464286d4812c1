//! A colour profile of a printing works (ICC.1:2010, the same as ISO 15076-1): read only as far as is needed to refuse
//! what is none, and to name it.

use std::fmt;

/// The profile of a four-colour printing process.
#[derive(Clone, PartialEq, Eq)]
pub struct Profile {
    bytes: Vec<u8>,
    description: String,
}

/// Bytes of a profile are shown as their number.
impl fmt::Debug for Profile {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "Profile({}, {} bytes)", self.description, self.bytes.len())
    }
}

/// Why a file is not the profile of a printing process.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum ProfileError {
    /// It is shorter than a profile's header, or has no signature of a profile.
    NoProfile,
    /// Its header gives another length than it has.
    Length {
        /// Bytes by the header.
        declared: u32,
        /// Bytes of the file.
        found: usize,
    },
    /// It is of a version that nobody knows here.
    Version {
        /// The version's first number.
        major: u8,
    },
    /// It describes something else than a printer.
    Class {
        /// The four letters of its class.
        class: String,
    },
    /// It has other inks than cyan, magenta, yellow and black.
    Space {
        /// The four letters of its colour space.
        space: String,
    },
    /// Its table of contents points outside the file or lacks what turns inks into colours.
    Contents,
}

impl fmt::Display for ProfileError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoProfile => f.write_str("this is not an ICC profile"),
            Self::Length { declared, found } => {
                write!(f, "the profile says that it has {declared} bytes, and the file has {found}: it is not whole")
            }
            Self::Version { major } => write!(f, "the profile is of version {major}, and 2 and 4 are known"),
            Self::Class { class } => {
                write!(f, "the profile is of class `{class}`, and a printing works needs one of class `prtr`")
            }
            Self::Space { space } => {
                write!(f, "the profile is for `{space}`, and a printing works needs one for `CMYK`")
            }
            Self::Contents => f.write_str("the profile's table of contents is damaged, or no colours are in it"),
        }
    }
}

impl std::error::Error for ProfileError {}

/// Bytes of a profile's header, before its table of contents (ICC.1:2010 7.2).
const HEADER: usize = 128;

/// A table of contents with more entries is damaged; profiles have some twenty.
const MOST_ENTRIES: u32 = 200;

/// A description that is longer is cut off: it is a name, not a text.
const LONGEST_DESCRIPTION: usize = 120;

impl Profile {
    /// Takes a file as the profile of a four-colour printing process.
    ///
    /// # Errors
    /// [`ProfileError`] for the first thing that speaks against it.
    pub fn read(bytes: Vec<u8>) -> Result<Self, ProfileError> {
        let signature = bytes.get(36..40);
        if bytes.len() < HEADER + 4 || signature != Some(b"acsp") {
            return Err(ProfileError::NoProfile);
        }
        let declared = number(&bytes, 0).unwrap_or_default();
        if u32::try_from(bytes.len()) != Ok(declared) {
            return Err(ProfileError::Length { declared, found: bytes.len() });
        }
        let major = bytes.get(8).copied().unwrap_or_default();
        if !matches!(major, 2 | 4) {
            return Err(ProfileError::Version { major });
        }
        if let Some(class) = other_than(&bytes, 12, b"prtr") {
            return Err(ProfileError::Class { class });
        }
        if let Some(space) = other_than(&bytes, 16, b"CMYK") {
            return Err(ProfileError::Space { space });
        }
        let contents = contents(&bytes).ok_or(ProfileError::Contents)?;
        // Without this table nobody can tell what an ink looks like (ICC.1:2010 8.5.2).
        if !contents.iter().any(|(tag, _)| tag == b"A2B0") {
            return Err(ProfileError::Contents);
        }
        let description = contents.iter().find(|(tag, _)| tag == b"desc").and_then(|(_, part)| described(part));
        let description = description.unwrap_or_else(|| "without a name".to_owned());
        Ok(Self { bytes, description })
    }

    /// What it calls itself.
    #[must_use]
    pub fn description(&self) -> &str {
        &self.description
    }

    /// The file.
    pub(super) fn bytes(&self) -> &[u8] {
        &self.bytes
    }
}

/// A whole number of four bytes, the highest first.
fn number(bytes: &[u8], at: usize) -> Option<u32> {
    let four: [u8; 4] = bytes.get(at..at.checked_add(4)?)?.try_into().ok()?;
    Some(u32::from_be_bytes(four))
}

fn length(bytes: &[u8], at: usize) -> Option<usize> {
    usize::try_from(number(bytes, at)?).ok()
}

/// The four letters at a place, if they are not the wanted ones.
fn other_than(bytes: &[u8], at: usize, wanted: &[u8; 4]) -> Option<String> {
    let found = bytes.get(at..at + 4)?;
    let plain = |byte: &u8| if byte.is_ascii_graphic() { char::from(*byte) } else { '?' };
    (found != wanted).then(|| String::from_utf8_lossy(found).trim_end().bytes().map(|byte| plain(&byte)).collect())
}

/// The parts of a profile by their four letters; `None` if one does not lie in the file.
fn contents(bytes: &[u8]) -> Option<Vec<(&[u8], &[u8])>> {
    let entries = number(bytes, HEADER).filter(|entries| *entries <= MOST_ENTRIES)?;
    let entry = |index: u32| {
        let at = HEADER + 4 + usize::try_from(index).ok()? * 12;
        let (start, size) = (length(bytes, at + 4)?, length(bytes, at + 8)?);
        Some((bytes.get(at..at + 4)?, bytes.get(start..start.checked_add(size)?)?))
    };
    (0..entries).map(entry).collect()
}

/// The text of a description of either version (ICC.1:2001-04 6.5.17, ICC.1:2010 10.13), as plain letters.
fn described(part: &[u8]) -> Option<String> {
    let text = match part.get(..4)? {
        b"desc" => {
            let letters = part.get(12..12usize.checked_add(length(part, 8)?)?)?;
            letters.iter().take_while(|byte| **byte != 0).map(|byte| char::from(*byte)).collect::<String>()
        }
        b"mluc" => {
            let (size, start) = (length(part, 20)?, length(part, 24)?);
            let units = part.get(start..start.checked_add(size)?)?.chunks_exact(2);
            let units = units.filter_map(|pair| Some(u16::from_be_bytes(pair.try_into().ok()?)));
            char::decode_utf16(units).map(|unit| unit.unwrap_or('?')).collect()
        }
        _ => return None,
    };
    let plain = |character: char| if matches!(character, ' '..='~') { character } else { '?' };
    let text: String = text.trim().chars().take(LONGEST_DESCRIPTION).map(plain).collect();
    (!text.is_empty()).then_some(text)
}
