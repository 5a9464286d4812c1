//! What can be wrong with the list of standing notices.

use super::{Code, Severity};

codes! {
    /// The `kind` of a standing notice is none that is known.
    ///
    /// What the notice would say hangs on it, so there is none. The kinds are `periodic-inspection`, `rcd-test`,
    /// `earthing-connection`, `earth-free-location`, `surge-protection`, `firefighters-switch` and `mixed-colours`.
    STANDING_KIND_UNKNOWN = "standing-kind-unknown", Error;
    /// The number of a standing notice belongs to something else already.
    ///
    /// By its number a notice is found, explained and replaced, and its drawing is named. Give each standing notice a
    /// number that no other notice, enclosure or isolator of the site bears; `sheet-` begins the names of drawings of
    /// whole sheets.
    STANDING_NUMBER_TAKEN = "standing-number-taken", Error;
    /// A cell for a date of inspection holds no day of the calendar.
    ///
    /// Write year, month and day (`2026-05-14`), or day, month and year with four figures (`14 May 2026`, `14/05/2026`).
    /// The month never comes first. An empty cell leaves a line on the notice to write on.
    STANDING_DATE_NOT_UNDERSTOOD = "standing-date-not-understood", Error;
    /// The next inspection does not come after the last one.
    ///
    /// Most often the two cells changed places, or a year is wrong. Correct them: a notice with such dates tells nobody
    /// when to look again.
    STANDING_DATES_REVERSED = "standing-dates-reversed", Error;
    /// A date of inspection stands at a notice that shows none.
    ///
    /// Only a notice of the kind `periodic-inspection` shows dates. Empty the cell, or correct `kind`.
    STANDING_DATE_NOT_SHOWN = "standing-date-not-shown", Warning;
    /// A date of inspection is not given.
    ///
    /// The notice has a line in its place. Write the date on it with a permanent pen that the material takes before the
    /// notice is fixed; a notice without dates says nothing.
    STANDING_DATE_LEFT_TO_WRITE = "standing-date-left-to-write", Advice;
    /// The last inspection lies after the date of the job.
    ///
    /// Nobody can have inspected yet. Correct the cell, or the date under `[job]` in the job file.
    STANDING_INSPECTION_AHEAD = "standing-inspection-ahead", Warning;
    /// The next inspection was due before the date of the job.
    ///
    /// The notice would be out of date on the day it is fixed. Have the installation inspected, or correct the cell.
    STANDING_INSPECTION_OVERDUE = "standing-inspection-overdue", Warning;
    /// A date of the next inspection is printed, and the job has no date to hold it against.
    ///
    /// If it is past already, the notice is out of date on the day it is fixed. Look at the dates of the list, or write
    /// `date` under `[job]` in the job file: then what is overdue is pointed out.
    STANDING_DATE_NOT_JUDGED = "standing-date-not-judged", Advice;
    /// A clause prescribes the words of a standing notice, and ours were not compared with the standard.
    ///
    /// They come from texts that quote the standard, or from memory; a translation of them is ours altogether. The
    /// standard's own words count. Open your copy, compare, and write what it says into `words` of the list: those words
    /// are printed as they stand, and this advice is lifted.
    STANDING_WORDS_UNVERIFIED = "standing-words-unverified", Advice;
    /// The words given for a test of residual current devices ask for a test every three months, or once a year or less often.
    ///
    /// Three months was the interval of earlier editions; now it is six (BS 7671 514.12.2, from texts that quote it). A new
    /// notice must not ask for another one. Write the words of the edition in force, or empty the cell.
    STANDING_WORDS_OUTDATED = "standing-words-outdated", Error;
    /// The words given for a standing notice reassure, or lack what the notice is for.
    ///
    /// No notice says that something is safe, dead, isolated or de-energised: nothing proves that to whoever reads it
    /// later. Words that a clause prescribes hold certain key words (`do not remove`, `firefighter`, `inspected`, `not be
    /// connected to earth`), and a test of residual current devices asks for six months; without them the words are most
    /// likely those of another notice, and the advice about unverified words stands. Compare with your copy.
    STANDING_WORDS_DOUBTFUL = "standing-words-doubtful", Warning;
    /// A date of inspection can be read in two ways.
    ///
    /// `03/04/2026` is read as 3 April, day first; who writes the month first means 4 March. Write `2026-04-03` or
    /// `3 April 2026`: that can be read in one way only.
    STANDING_DATE_AMBIGUOUS = "standing-date-ambiguous", Advice;
    /// A plate is wanted smaller than the least that is published for it.
    ///
    /// A firefighter's switch has a plate of at least 150 x 100 mm (BS 7671 537.4, from texts that quote it), so that it
    /// is found in smoke. Give a larger size, or leave it to the program.
    STANDING_PLATE_TOO_SMALL = "standing-plate-too-small", Error;
    /// The plate of a firefighter's switch is to be red.
    ///
    /// No sheet format has red: the plate is printed black on the stock of the sheet, white or yellow. Have it made by a
    /// works on red, or see that the switch itself is red and its plate beside it.
    STANDING_NOT_RED = "standing-not-red", Advice;
}
