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
    /// A column of an inspection list is not read, and may be the one that says what was found, when, or by whom.
    ///
    /// Its name is almost that of a column that is read, or no row says what was found, or `--date` or `--by` would speak for
    /// rows that may say it themselves. Correct the header; notes of your own stand best under `note`.
    LIST_COLUMN_NOT_UNDERSTOOD = "list-column-not-understood", Error;
    /// An inspection list names a notice that the record does not have.
    ///
    /// It is misspelt, or its printing was never recorded. Nothing of the list is recorded until it is mended.
    LIST_NUMBER_UNKNOWN = "list-number-unknown", Error;
    /// A row of an inspection list has no condition that a notice can have, or one where it is none of an inspection.
    ///
    /// `good`, `faded`, `damaged`, `missing` and `wrong` are known. A guess could make a worn notice a good one, so nothing of
    /// the list is recorded until it is mended.
    LIST_CONDITION_NOT_UNDERSTOOD = "list-condition-not-understood", Error;
    /// A row of an inspection list says that a notice was inspected, and not how it was found.
    ///
    /// Write the condition, or empty the event if nobody looked at it.
    LIST_CONDITION_MISSING = "list-condition-missing", Error;
    /// A row of an inspection list has no event that can be told from site.
    ///
    /// `inspected`, `fixed`, `replaced` and `withdrawn` are known; empty means inspected. What is printed is recorded where it
    /// is printed.
    LIST_EVENT_NOT_UNDERSTOOD = "list-event-not-understood", Error;
    /// A day of an inspection list is none, or could be two.
    ///
    /// `03/04/2027` is the third of April to some and the fourth of March to others. Write year, month and day.
    LIST_DATE_NOT_UNDERSTOOD = "list-date-not-understood", Error;
    /// A row of an inspection list has no day, and none was named for all of them.
    ///
    /// The next inspection is counted from it. Write it, or name it with `--date`.
    LIST_DATE_MISSING = "list-date-missing", Error;
    /// A day of an inspection list has not come yet, or lies before the printing of the notice.
    ///
    /// Most often the year is mistyped. A day in the future would keep the notice from falling due.
    LIST_DATE_NOT_POSSIBLE = "list-date-not-possible", Error;
    /// What a row of an inspection list tells cannot be so by the record.
    ///
    /// Such as a notice that was fixed where one is fixed already, or a revision that was never printed. Correct the row, or
    /// record first what is missing in the record.
    LIST_NOT_POSSIBLE = "list-not-possible", Error;
    /// A row of an inspection list has a note, a photo, a place, a day or a name, but neither condition nor event.
    ///
    /// It is left out. Perhaps somebody forgot to write how the notice was found: look at the row again.
    LIST_ROW_LEFT_OUT = "list-row-left-out", Warning;
    /// The page of a notice does not lie where the code of the notice leads.
    ///
    /// A code carries the job's `record_link_base` with the number of the notice, and a plain web server looks for folders of
    /// that name. A number with an empty part, with dots alone or too long for a folder, or one that differs from another by
    /// capitals alone, cannot be such folders on every disk. The page is made all the same, in a folder below `by-name`, and
    /// the index leads to it.
    RECORD_PAGE_ELSEWHERE = "record-page-elsewhere", Warning;
    /// The survey knows few of the notices that are fixed by the record.
    ///
    /// The record of one site was held against the survey of another, or the enclosures have other names now. A fixed notice
    /// that the survey does not know is called not to be judged, and nothing is to be taken down by that. Name the record of
    /// this survey, or look up which enclosures were renamed.
    RECORD_OF_ANOTHER_SURVEY = "record-of-another-survey", Warning;
    /// A notice that was taken away is said to be there again, and it was not printed since.
    ///
    /// Somebody fixed the old copy again, or it was never taken away, or another notice is meant. What made it be taken away
    /// may still hold. Look whether the notice belongs there and is true; if not, take it down and record it as withdrawn.
    TAKEN_AWAY_BEFORE = "taken-away-before", Warning;
    /// Two inspections of one day tell different things of a notice, and nothing was done to it in between.
    ///
    /// Of one day nobody can say which came last. The one that is recorded last counts: if that is a mistake, a notice that
    /// was found wrong or damaged is no longer due. Record once more how it really is. Nothing is said where the later one has
    /// a note of its own, which tells what came between.
    FOUND_OTHERWISE_THAT_DAY = "found-otherwise-that-day", Warning;
    /// A notice that was found wrong is said to be well again, though no new copy was fixed.
    ///
    /// What a notice says does not come right by itself: either the site was changed back, or one of the two inspections is
    /// mistaken, or the second looked only whether the notice can be read. It is no longer due by the record. If it still
    /// does not say what is there, record it as wrong again.
    WRONG_TAKEN_BACK = "wrong-taken-back", Warning;
    /// Two rows of an inspection list, or a row and the record, tell of one day that a notice was found in two conditions.
    ///
    /// Nobody says that anything was done in between, so one of the two is not so, and a guess could lose that the notice was
    /// found wrong. Leave one row; where several copies hang under one number, the worst. If something was done, write what
    /// under `note` of the later row. What was recorded by mistake is put right with `records inspected`.
    LIST_FOUND_OTHERWISE = "list-found-otherwise", Error;
    /// Copies that say different things lie ready, and nobody said which of them was fixed.
    ///
    /// The last printed one is taken for it. If an older one was fixed, the record calls true what is not. Read the revision,
    /// which stands on its small line, and name it with `--revision`.
    OTHER_COPY_READY = "other-copy-ready", Warning;
    /// A row of an inspection list is recorded already, and something else of the same notice and day after it.
    ///
    /// It may be the same row once more, or it happened again. A guess could undo what was recorded last, so nothing of the
    /// list is recorded. Take the row out if it is the same; if it happened again, say so under `note`.
    LIST_ROW_TOLD_BEFORE = "list-row-told-before", Error;
}
