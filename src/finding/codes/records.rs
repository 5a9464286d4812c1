//! What can be wrong with a record file.

use super::{Code, Severity};

codes! {
    /// The file named as the record is none.
    ///
    /// A record begins with one line that names its columns. It can be opened in a spreadsheet to look at it; saved from
    /// there in another form it is a record no longer. Nothing was changed. Name the right file, or take the record back from
    /// a copy.
    NOT_A_RECORD = "not-a-record", Error;
    /// The last line of the record was cut off while it was written.
    ///
    /// The program was stopped, or the disk was full. The line was never acknowledged; it is ignored, and the next entry
    /// takes its place. Look whether what it tells did happen, and record it again.
    RECORD_LINE_TORN = "record-line-torn", Warning;
    /// A line of the record is no entry.
    ///
    /// Most often somebody changed it by hand, or a spreadsheet wrote a date in its own form. What the line told is not
    /// known, so nothing is added to the record until it is mended.
    RECORD_LINE_NOT_UNDERSTOOD = "record-line-not-understood", Error;
    /// A line of the record was written by a later version of this program.
    ///
    /// What it tells cannot be known by this version. Use the later one.
    RECORD_OF_LATER_VERSION = "record-of-later-version", Error;
    /// A copy was fixed that is not the one printed last.
    ///
    /// Since it was printed the notice was printed again and says something else. What is on site now says what the survey
    /// said before. Fix the last printed copy, unless the older one was fixed for a reason that the note tells.
    OLDER_COPY_FIXED = "older-copy-fixed", Warning;
    /// An inspection found another copy than the record has there.
    ///
    /// Somebody fixed a copy without recording it, or it was never changed. From this entry on the record goes by what was
    /// found. Look whether it is the one that belongs there.
    OTHER_COPY_FOUND = "other-copy-found", Warning;
    /// It is not known which of the printed copies was found.
    ///
    /// Several were printed that say different things, and nobody recorded which was fixed. Whether the notice is true cannot
    /// be told. Read its revision, which stands on its small line, and name it with `--revision`.
    COPY_NOT_KNOWN = "copy-not-known", Warning;
}
