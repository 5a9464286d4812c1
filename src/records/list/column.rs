//! The columns of an inspection list: name, whether needed, what it means, an example.

use crate::table::{OtherFile, columns};

columns! {
    /// A column of an inspection list: what is known first, then what is filled in.
    pub enum ListColumn;
    Number "number" true "CH3-JB2/1" "Number of the notice, as its small line has it.";
    Designation "designation" false "CH3-JB2" "Enclosure or device.";
    Area "area" false "Chamber 3" "Building, floor or room.";
    Position "position" false "left of the door" "Where it is fixed.";
    Revision "revision" false "B"
        "Revision that is fixed by the record; where an inspection finds another one, write that over it.";
    Says "says" false "Isolate at both points: Q7, Q9" "What it says, in short.";
    LastInspection "last_inspection" false "2027-05-14 good" "When it was inspected last, and what was found.";
    Due "due" false "inspect it" "What the record says is to be done; empty where nothing is known to be due.";
    Event "event" false "fixed" "`inspected` `fixed` `replaced` `withdrawn`; empty means inspected.";
    Condition "condition" false "good"
        "How an inspection found it: `good` `faded` `damaged` `missing` `wrong`; empty where it was not looked at.";
    Date "date" false "2027-06-01" "The day, year-month-day or day month year.";
    By "by" false "JD" "Who.";
    Place "place" false "on the frame, not the lid" "Where, if not at the position of the list.";
    Photo "photo" false "photos/0412.jpg" "Path or link of a photograph.";
    Note "note" false "corner lifts" "Free text.";
}

impl ListColumn {
    pub(super) const KEY: Self = Self::Number;
    pub(super) const KEY_IS_ENCLOSURE: bool = false;
    pub(super) const FILE: &'static str = "list of inspections";
    pub(super) const ROW: &'static str = "each notice that was looked at";
    pub(super) const OTHER: OtherFile = OtherFile {
        file: "survey",
        columns: &["enclosure", "circuit", "isolator"],
        help: "name an inspection list, which `noticewright records list` writes",
    };

    /// Whether the column is filled in on site.
    #[must_use]
    pub const fn is_filled_in(self) -> bool {
        use ListColumn as C;
        matches!(self, C::Event | C::Condition | C::Date | C::By | C::Place | C::Photo | C::Note)
    }

    /// Whether the column holds the name of a thing, which a spreadsheet likes to turn into something else.
    #[must_use]
    pub const fn is_designation(self) -> bool {
        matches!(self, Self::Number)
    }

    /// Whether a date has its sense in the column, or nothing in it is read.
    pub(super) const fn is_free(self) -> bool {
        !matches!(self, Self::Number)
    }

    /// Nought is no word; nothing of a list is printed, and what it says is held against the record.
    pub(super) const fn is_worded(self) -> bool {
        false
    }

    /// Whether a blank cell already says that nobody knows.
    pub(super) const fn blank_is_unknown(self) -> bool {
        !matches!(self, Self::Number)
    }

    /// What to do where a needed cell is empty.
    pub(super) const fn if_empty(self) -> &'static str {
        "write the number of the notice, which its small line has"
    }
}
