//! Commands that a run names to be given after it, word for word as a shell takes them.

use std::path::Path;

use crate::cli::arguments::{Choice, General, OnPaper, SubjectChoice};
use crate::standing::Date;

/// `noticewright records printed ...` for notices that these options chose and put onto paper; with numbers, for these
/// alone. `output` is the document.
pub(in crate::cli) fn command(
    general: &General,
    (survey, output): (&Path, &Path),
    (choice, paper): (&Choice, &OnPaper),
    numbers: Option<impl Iterator<Item = String>>,
    (day, by): (Date, Option<&str>),
) -> String {
    let mut words = Words(vec!["noticewright".to_owned(), "records".to_owned(), "printed".to_owned()]);
    words.word(&survey.to_string_lossy());
    words.general(general);
    words.chosen((choice, paper), numbers);
    words.option("--date", Some(day.to_string()));
    words.option("--by", by);
    words.option("--file", Some(output.to_string_lossy()));
    words.0.join(" ")
}

/// `noticewright labels ...` with these options.
pub(in crate::cli) fn labels(
    general: &General,
    (survey, output): (&Path, &Path),
    (choice, paper): (&Choice, &OnPaper),
) -> String {
    let mut words = Words(vec!["noticewright".to_owned(), "labels".to_owned()]);
    words.word(&survey.to_string_lossy());
    words.general(general);
    words.option("-o", Some(output.to_string_lossy()));
    words.chosen((choice, paper), None::<std::iter::Empty<String>>);
    words.0.join(" ")
}

/// A command on a survey that comes next, with the files that this run was given.
pub(in crate::cli) fn next(general: &General, command: &[&str], survey: &Path, options: &[(&str, &str)]) -> String {
    let mut words = Words(std::iter::once("noticewright").chain(command.iter().copied()).map(str::to_owned).collect());
    words.word(&survey.to_string_lossy());
    words.general(general);
    for (option, value) in options {
        if value.is_empty() { words.0.push((*option).to_owned()) } else { words.option(option, Some(value)) }
    }
    words.0.join(" ")
}

struct Words(Vec<String>);

impl Words {
    fn word(&mut self, text: &str) {
        let is_plain = |c: char| c.is_ascii_alphanumeric() || "-_./:,@+=%".contains(c);
        let quoted = || format!("'{}'", text.replace('\'', r"'\''"));
        self.0.push(if !text.is_empty() && text.chars().all(is_plain) { text.to_owned() } else { quoted() });
    }

    /// The files of a run.
    fn general(&mut self, general: &General) {
        let files = [
            ("--job", &general.job),
            ("--supplies", &general.supplies),
            ("--standing", &general.standing),
            ("--records", &general.records),
        ];
        for (option, path) in files {
            self.option(option, path.as_ref().map(|path| path.to_string_lossy()));
        }
        self.option("--encoding", general.encoding.as_deref());
    }

    /// Which notices, and how they go onto paper; with numbers, these instead of patterns.
    fn chosen(&mut self, (choice, paper): (&Choice, &OnPaper), numbers: Option<impl Iterator<Item = String>>) {
        choice.sheet.iter().for_each(|sheet| self.option("--sheet", Some(sheet)));
        match numbers {
            Some(numbers) => numbers.for_each(|number| self.option("--number", Some(number))),
            None => choice.only.iter().for_each(|pattern| self.option("--only", Some(pattern))),
        }
        self.option("--subject", choice.subject.map(SubjectChoice::word));
        if choice.leave_out_faulty {
            self.0.push("--leave-out-faulty".to_owned());
        }
        let cells = &paper.cells;
        self.option("--start-at", cells.start_at.map(|cell| cell.to_string()));
        self.option("--used-cells", cells.used_cells.as_deref());
        self.option("--copies", (cells.copies != 1).then(|| cells.copies.to_string()));
        self.option("--printer", paper.printer.as_deref());
        self.option("--profile", paper.profile.as_ref().map(|path| path.to_string_lossy()));
    }

    /// Nothing without a value. A value that begins with a hyphen is held to its option.
    fn option(&mut self, option: &str, value: Option<impl AsRef<str>>) {
        let Some(value) = value else { return };
        if value.as_ref().starts_with('-') && value.as_ref() != "-" {
            return self.word(&format!("{option}={}", value.as_ref()));
        }
        self.0.push(option.to_owned());
        self.word(value.as_ref());
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_shell_takes_every_word_as_it_was_meant() {
        let mut words = Words(Vec::new());
        for value in ["CH3-*", "it's", "Chamber 3", "-x", "-", "$HOME", ""] {
            words.option("--only", Some(value));
        }
        let expected =
            r"--only 'CH3-*' --only 'it'\''s' --only 'Chamber 3' --only=-x --only - --only '$HOME' --only ''";
        assert_eq!(words.0.join(" "), expected);
    }
}
