//! What can keep a notice from being worded, or set on its plate.

use super::{Code, Severity};

codes! {
    /// The notice does not fit at the smallest letters that can be read from the reading distance.
    ///
    /// Text is never cut or shrunk below that. Give the enclosure more space, a larger size, shorter place names or a
    /// shorter reading distance.
    NOTICE_DOES_NOT_FIT = "notice-does-not-fit", Error;
    /// The notice does not fit at the size that the survey asks for, and was made larger.
    ///
    /// Its letters must be read from the reading distance. Look whether the larger one has room where it is fixed, and
    /// state the room in `space`; or shorten the place names.
    LARGER_THAN_WANTED = "larger-than-wanted", Advice;
    /// The job asks for a language for which there are no messages.
    ///
    /// English and German come with the program; every other language is a message file that the job names beside its
    /// tag. Check the spelling of the tag (`cy`, `de-AT`) and give the file.
    LANGUAGE_UNKNOWN = "language-unknown", Error;
    /// Notices are worded in a language that comes with the program and that no competent translator has read.
    ///
    /// A word that is wrong on a warning notice can kill. Let an electrician who speaks the language read every notice
    /// before it is fixed. A message file of your own under `[notices.messages]` takes the place of the messages that come
    /// with the program.
    LANGUAGE_UNCHECKED = "language-unchecked", Advice;
    /// A message file is not written in Fluent syntax at this line.
    ///
    /// What cannot be read cannot be said. A message is `name = text` from the first character of a line; what it goes
    /// on with is indented.
    MESSAGE_FILE_SYNTAX = "message-file-syntax", Error;
    /// A message file does not give a message that notices say.
    ///
    /// A notice that is silent in one of its languages misleads whoever reads that one. Add the message.
    MESSAGE_MISSING = "message-missing", Error;
    /// A message file gives the same message twice.
    ///
    /// Only one of them can be said, and it may not be the one that was checked. Remove the other.
    MESSAGE_REPEATED = "message-repeated", Error;
    /// A message file gives a message that no notice says.
    ///
    /// It is probably a misspelling of one that is missing. Correct or remove it.
    MESSAGE_UNKNOWN = "message-unknown", Warning;
    /// A message leaves out one of its arguments, at least in one of its plural variants.
    ///
    /// The notice would lose a place, a device or a figure in that language. Name the argument, `{ $device }`, in every
    /// variant.
    MESSAGE_ARGUMENT_MISSING = "message-argument-missing", Error;
    /// A message names an argument that it does not have.
    ///
    /// It would be printed as a name in braces. The arguments are those that the
    /// English message has.
    MESSAGE_ARGUMENT_UNKNOWN = "message-argument-unknown", Error;
    /// A message refers to something that cannot be resolved: a term or message that is not there, a function, itself.
    ///
    /// Write the words out instead.
    MESSAGE_UNRESOLVED = "message-unresolved", Error;
    /// A message file does not name who checked its translation.
    ///
    /// A word that is wrong on a warning notice can kill. Let an electrician who speaks the language read every
    /// message, then add the name: `translation-checked-by = NAME`.
    TRANSLATION_UNCHECKED = "translation-unchecked", Advice;
    /// A record link begins with a scheme that is not allowed, names no plain host, or holds a character that is not
    /// seen; or the words that a code is to carry do.
    ///
    /// Whoever scans a notice's code must get a record, never a call, a message or a program. Give a whole link that
    /// begins with `https://`, or a plain record number without a colon; `-` stands for no code.
    RECORD_LINK_REFUSED = "record-link-refused", Error;
    /// The job's `record_link_base` ends in a letter or figure, and the number of each notice runs on from it.
    ///
    /// From `https://records.example/n` the code of `JB-1/1` leads to `https://records.example/nJB-1/1`, where nobody looks for
    /// it, and a code on a durable notice cannot be mended. End the base in `/`, or in what your own server asks for, such as
    /// `=` or `#`. If the number really belongs behind that letter, the warning may stand.
    RECORD_LINK_RUNS_ON = "record-link-runs-on", Warning;
    /// A record link, the job's link base with the notice's number, or the notice's own words are longer than a code may
    /// carry.
    ///
    /// The longer the text, the larger the code, and it is never printed smaller than can be read. Shorten the link or
    /// use the record's number alone. Words (`qr = "text"`) are never shortened: `code_chars` under `[limits]` lets longer ones
    /// through, a record link takes their place, `-` leaves the code out.
    RECORD_LINK_TOO_LONG = "record-link-too-long", Error;
    /// The record link of a notice leads to the notice of another enclosure or isolator.
    ///
    /// Whoever scans the code reads how something else is isolated, and may believe it. A cell copied from the row above is the
    /// usual cause. Correct it, or leave it blank for the link that follows from the notice's own number.
    RECORD_LINK_OF_ANOTHER = "record-link-of-another", Error;
    /// Two notices have one record link.
    ///
    /// One record may be meant for both, but a cell copied by mistake looks the same, and then a code leads to the record of
    /// something else. Give each its own link or number, or see that the record tells the two apart.
    RECORD_LINK_SHARED = "record-link-shared", Warning;

    /// The embedded fonts have no glyph for a character of the notice.
    ///
    /// An empty box in place of a letter could change what the notice says, so nothing is printed. Latin, Greek and
    /// Cyrillic letters, figures and the usual signs are there; write the text with those.
    MISSING_GLYPH = "missing-glyph", Error;

    /// The code needs more room than the notice has.
    ///
    /// A module is never smaller than 0.4 mm and four modules around the code stay white, or a telephone may fail to read
    /// it. A shorter record link makes a smaller code; a larger notice has more room; `-` leaves the code out; a record link
    /// is shorter than the notice's own words.
    CODE_TOO_LARGE = "code-too-large", Error;

    /// The record link is longer than the largest code can carry.
    ///
    /// A code holds at most some two thousand characters, and far fewer at a size that fits a notice. Give a short link.
    CODE_TOO_LONG = "code-too-long", Error;
}
