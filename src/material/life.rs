//! How long a label lasts: a range of years, open at its end or not.

use std::fmt;

use serde::Deserialize;

/// No label is said to last longer, in years; more would be a slip of the key.
const LONGEST: u16 = 100;

/// A service life as the trade states it, in years.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Deserialize)]
#[serde(try_from = "Vec<u16>")]
pub struct Life {
    /// The least that is usual; 0 where a material is not meant for the place.
    pub least: u16,
    /// The most that is usual; `None` for "and more".
    pub most: Option<u16>,
}

impl Life {
    /// Not meant for the place at all.
    pub const NONE: Self = Self { least: 0, most: Some(0) };

    /// Whether a material is meant for the place at all.
    #[must_use]
    pub fn is_some(self) -> bool {
        self != Self::NONE
    }

    /// The numbers as data files and reports write them: `[5, 7]`, `[10]` for 10 and more, none where it is not meant.
    #[must_use]
    pub fn numbers(self) -> Vec<u16> {
        if self.is_some() { [Some(self.least), self.most].into_iter().flatten().collect() } else { Vec::new() }
    }
}

/// `5 to 7 years`, `10 years and more`, `none`
impl fmt::Display for Life {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match (self.least, self.most) {
            (0, Some(0)) => f.write_str("none"),
            (least, Some(most)) if least == most => write!(f, "{least} years"),
            (least, Some(most)) => write!(f, "{least} to {most} years"),
            (least, None) => write!(f, "{least} years and more"),
        }
    }
}

impl TryFrom<Vec<u16>> for Life {
    type Error = String;

    fn try_from(numbers: Vec<u16>) -> Result<Self, String> {
        let sensible = |years: &u16| (1..=LONGEST).contains(years);
        match numbers.as_slice() {
            [] => Ok(Self::NONE),
            [least] if sensible(least) => Ok(Self { least: *least, most: None }),
            [least, most] if sensible(least) && sensible(most) && least <= most => {
                Ok(Self { least: *least, most: Some(*most) })
            }
            _ => Err(format!(
                "a life in years is `[least, most]`, `[least]` for \"and more\" or `[]` for none, each from 1 to {LONGEST}"
            )),
        }
    }
}
