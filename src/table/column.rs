//! What a kind of file says of its columns, the one declaration of them, and when two names are the same.

use std::fmt::Debug;
use std::hash::Hash;

/// The columns of one kind of file. The macro `columns!` declares them; there are at most 64, the bits of
/// one word.
pub trait Heading: Copy + Debug + Eq + Ord + Hash + 'static + Send + Sync {
    /// Every column, in order.
    const ALL: &'static [Self];

    /// The column without which nothing in the file can be understood: what the rows speak of.
    const KEY: Self;

    /// Whether the key is the designation of an enclosure, so that findings touch that enclosure's notice.
    const KEY_IS_ENCLOSURE: bool;

    /// What messages call a file of this kind: `survey`.
    const FILE: &'static str;

    /// What a file of this kind has a row for: "each way in which energy can reach an enclosure".
    const ROW: &'static str;

    /// The kind of file that is most likely given in the place of this one.
    const OTHER: OtherFile;

    /// The header as a file spells it: `fed_from`.
    fn name(self) -> &'static str;

    /// Its place in [`Heading::ALL`].
    fn index(self) -> usize;

    /// Whether a file must have it.
    fn needed(self) -> bool;

    /// What its cells mean, in a sentence or two.
    fn meaning(self) -> &'static str;

    /// Whether it holds the name of a thing, which a spreadsheet likes to turn into something else.
    fn is_designation(self) -> bool;

    /// Whether it holds free text, in which even a date has its sense.
    fn is_free(self) -> bool;

    /// Whether it holds words that are printed or compared, so that a figure nought alone has no sense.
    fn is_worded(self) -> bool;

    /// Whether a blank cell already says that nobody knows, and not that there is nothing.
    fn blank_is_unknown(self) -> bool;

    /// What to do where a needed cell is empty.
    fn if_empty(self) -> &'static str;

    /// The column whose header reads alike, without regard to case, spaces, `_` and `-`.
    #[must_use]
    fn named(header: &str) -> Option<Self> {
        Self::ALL.iter().copied().find(|column| same_name(column.name(), header))
    }
}

/// A kind of file that somebody may give in the place of another one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct OtherFile {
    /// What messages call it: `supplies file`.
    pub file: &'static str,
    /// The columns by which it is known.
    pub columns: &'static [&'static str],
    /// What to do.
    pub help: &'static str,
}

/// Declares the columns of a kind of file; the meaning of each is also its documentation.
///
/// What can be said of a column in one line stands beside its name. The rest of [`Heading`] the enum gives itself, as
/// constants and functions of the same names.
macro_rules! columns {
    (
        $(#[doc = $about:literal])+
        pub enum $Columns:ident;
        $($column:ident $name:literal $needed:literal $example:literal $meaning:literal;)+
    ) => {
        $(#[doc = $about])+
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum $Columns {
            $(#[doc = $meaning] $column,)+
        }

        impl $Columns {
            /// Every column, in order.
            pub const ALL: &'static [Self] = &[$(Self::$column),+];

            /// How many columns there are.
            pub const COUNT: usize = Self::ALL.len();

            /// The header as a file spells it: `fed_from`.
            #[must_use]
            pub const fn name(self) -> &'static str {
                match self { $(Self::$column => $name,)+ }
            }

            /// Whether a file must have it.
            #[must_use]
            pub const fn needed(self) -> bool {
                match self { $(Self::$column => $needed,)+ }
            }

            /// What its cells mean, in a sentence or two.
            #[must_use]
            pub const fn meaning(self) -> &'static str {
                match self { $(Self::$column => $meaning,)+ }
            }

            /// One cell as a practitioner would fill it; empty where an example would not help.
            #[must_use]
            pub const fn example(self) -> &'static str {
                match self { $(Self::$column => $example,)+ }
            }

            /// The column whose header reads alike, without regard to case, spaces, `_` and `-`.
            #[must_use]
            pub fn named(header: &str) -> Option<Self> {
                <Self as $crate::table::Heading>::named(header)
            }
        }

        const _: () = assert!($Columns::COUNT <= $crate::table::MOST_COLUMNS);

        impl $crate::table::Heading for $Columns {
            const ALL: &'static [Self] = Self::ALL;
            const KEY: Self = Self::KEY;
            const KEY_IS_ENCLOSURE: bool = Self::KEY_IS_ENCLOSURE;
            const FILE: &'static str = Self::FILE;
            const ROW: &'static str = Self::ROW;
            const OTHER: $crate::table::OtherFile = Self::OTHER;

            fn name(self) -> &'static str {
                Self::name(self)
            }

            fn index(self) -> usize {
                self as usize
            }

            fn needed(self) -> bool {
                Self::needed(self)
            }

            fn meaning(self) -> &'static str {
                Self::meaning(self)
            }

            fn is_designation(self) -> bool {
                Self::is_designation(self)
            }

            fn is_free(self) -> bool {
                Self::is_free(self)
            }

            fn is_worded(self) -> bool {
                Self::is_worded(self)
            }

            fn blank_is_unknown(self) -> bool {
                Self::blank_is_unknown(self)
            }

            fn if_empty(self) -> &'static str {
                Self::if_empty(self)
            }
        }
    };
}

pub(crate) use columns;

/// A name without what is not looked at when names are compared: case, spaces, `_` and `-`.
#[must_use]
pub fn folded(name: &str) -> String {
    if name.is_ascii() {
        let mut folded = name.replace(|c: char| c.is_ascii_whitespace() || matches!(c, '_' | '-' | '\u{B}'), "");
        folded.make_ascii_lowercase();
        return folded;
    }
    significant(name).collect()
}

/// Whether two names are the same without regard to case, spaces, `_` and `-`.
#[must_use]
pub fn same_name(one: &str, other: &str) -> bool {
    significant(one).eq(significant(other))
}

fn significant(name: &str) -> impl Iterator<Item = char> + '_ {
    name.chars()
        .filter(|c| !c.is_whitespace() && !matches!(c, '_' | '-' | '\u{2010}'..='\u{2015}'))
        .flat_map(char::to_lowercase)
}
