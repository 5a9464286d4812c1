//! The job file, `job.toml` beside the survey: what holds for the whole run, as options for each stage.

use std::collections::BTreeMap;
use std::num::NonZero;

use encoding_rs::Encoding;
use serde::Deserialize;

use crate::files::STANDARD;
use crate::length::{Length, Point};
use crate::limits::Limits;
use crate::notice::NoticeOptions;
use crate::rules::{Edition, RuleOptions};
use crate::sheets::{Correction, in_plain_words};
use crate::supplies::{self, SupplyColumn};
use crate::survey::value::Volts;
use crate::survey::{Column, ReadOptions, is_hidden};
use crate::typesetting::LetterFloor;
use crate::writers::pdf::{DocumentInfo, Moment};

/// A job file, message file or sheet format beyond this many bytes is none.
pub const LARGEST_FILE: u64 = 1 << 20;

/// The highest charge that any of the rules leaves unnamed, volts d.c. (BS 7671 416.2.5).
const HIGHEST_CHARGE: u32 = 120;

/// The rule edition by which the rules decide.
pub const EDITION: &str = Edition::Bs7671A4.name();

/// Everything that a job file may say. An empty file is a valid one.
#[derive(Clone, Debug, Default, PartialEq, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Job {
    /// What the job is.
    pub job: Identity,
    /// How notices are worded and sized.
    pub notices: Notices,
    /// The sheet format for a notice size: `a7 = "a4-a7-6"`. A name, or a path beside the job file.
    pub sheets: BTreeMap<String, String>,
    /// What an empty cell of a survey column means.
    pub defaults: BTreeMap<String, String>,
    /// A house's own header, and the column of the survey or the supplies file that it stands for.
    pub headers: BTreeMap<String, String>,
    /// What each printer does wrong, by the printer's name.
    pub printers: BTreeMap<String, Printer>,
    /// Limits that differ from the usual ones.
    pub limits: LimitChanges,
}

/// The title block.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Identity {
    /// Title of the documents.
    pub title: String,
    /// The site, as the small line of each notice names it.
    pub site: String,
    /// For whom.
    pub client: String,
    /// Revision of the notices.
    pub revision: String,
    /// Date of issue, `2026-11-24` or `2026-11`.
    pub date: String,
    /// By whom.
    pub prepared_by: String,
    /// The supplies file, which describes the network behind the isolators: a path beside the job file; empty for none.
    pub supplies: String,
    /// Edition of the wiring rules: [`EDITION`], stated so that a later version cannot decide by another unnoticed.
    pub edition: String,
}

impl Default for Identity {
    fn default() -> Self {
        Self {
            title: String::new(),
            site: String::new(),
            client: String::new(),
            revision: String::new(),
            date: String::new(),
            prepared_by: String::new(),
            supplies: String::new(),
            edition: EDITION.to_owned(),
        }
    }
}

/// How notices are worded and sized.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Notices {
    /// The languages of every notice, the main one first: `["en"]`.
    pub languages: Vec<String>,
    /// Message files of further languages, by language: a path beside the job file.
    pub messages: BTreeMap<String, String>,
    /// What stands before a notice's number in its code, `https://records.example/`; empty for no code.
    pub record_link_base: String,
    /// From how far notices are read, in metres, where the survey does not say.
    pub reading_distance_m: f64,
    /// How small capitals may be.
    pub letter_floor: Floor,
    /// Above how many volts d.c., five seconds after isolation, a stored charge is dangerous.
    pub stored_charge_limit_v: u32,
}

impl Default for Notices {
    fn default() -> Self {
        Self {
            languages: vec!["en".to_owned()],
            messages: BTreeMap::new(),
            record_link_base: String::new(),
            reading_distance_m: 0.7,
            letter_floor: Floor::default(),
            stored_charge_limit_v: 60,
        }
    }
}

/// How small capitals may be, as the job file spells it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize)]
pub enum Floor {
    /// One two-hundredth of the reading distance.
    #[default]
    #[serde(rename = "1/200")]
    TwoHundredth,
    /// Sixteen minutes of arc, about distance / 215.
    #[serde(rename = "16-minutes")]
    SixteenMinutes,
}

/// What one printer does wrong, as measured on the `ruler` page.
#[derive(Clone, Copy, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Printer {
    /// Millimetres to move everything to the right.
    pub offset_x_mm: f64,
    /// Millimetres to move everything down.
    pub offset_y_mm: f64,
    /// Scale from left to right that makes 100 mm come out as 100 mm.
    pub scale_x: f64,
    /// Scale from top to bottom that makes 100 mm come out as 100 mm.
    pub scale_y: f64,
}

impl Default for Printer {
    fn default() -> Self {
        Self { offset_x_mm: 0.0, offset_y_mm: 0.0, scale_x: 1.0, scale_y: 1.0 }
    }
}

/// Limits as a job file may change them.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct LimitChanges {
    /// Bytes of one input file.
    pub file_bytes: Option<NonZero<u64>>,
    /// Rows of a survey or a supplies file.
    pub rows: Option<NonZero<usize>>,
    /// Columns of a survey or a supplies file.
    pub columns: Option<NonZero<usize>>,
    /// Characters of one cell.
    pub cell_chars: Option<NonZero<usize>>,
    /// Enclosures of a survey.
    pub enclosures: Option<NonZero<usize>>,
    /// Devices named in one cell: `isolator`, or `fed_from` of a supplies file.
    pub devices_per_row: Option<NonZero<usize>>,
    /// Positions of one enclosure.
    pub positions: Option<NonZero<usize>>,
    /// Copies of every notice.
    pub copies: Option<NonZero<usize>>,
    /// Pages of one document.
    pub pages: Option<NonZero<usize>>,
    /// Characters that a code carries.
    pub code_chars: Option<NonZero<usize>>,
    /// Cells of one label sheet.
    pub sheet_cells: Option<NonZero<usize>>,
    /// Pixels of one picture.
    pub picture_pixels: Option<NonZero<usize>>,
    /// Findings kept in one run.
    pub findings: Option<NonZero<usize>>,
}

/// What is wrong with a job file, and where.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct JobFault {
    /// Line from 1, where known.
    pub line: Option<usize>,
    /// What is wrong.
    pub message: String,
}

/// Reads a job file.
///
/// # Errors
/// The first thing that is not understood, with its line.
pub fn read(text: &str) -> Result<Job, JobFault> {
    let job: Job = toml::from_str(text).map_err(|error| JobFault {
        line: error.span().map(|span| line_of(text, span.start)),
        message: in_plain_words(error.message()),
    })?;
    job.checked()
}

fn line_of(text: &str, byte: usize) -> usize {
    text.bytes().take(byte).filter(|&byte| byte == b'\n').count() + 1
}

impl Job {
    /// Takes the job only if every value can be used.
    fn checked(self) -> Result<Self, JobFault> {
        self.job.check()?;
        self.notices.check()?;
        self.read_options("", None)?;
        self.printers.iter().try_for_each(|(name, printer)| printer.check(name))?;
        Ok(self)
    }

    /// The limits of this run.
    #[must_use]
    pub fn limits(&self) -> Limits {
        let usual = Limits::default();
        let changed = self.limits;
        let count = |changed: Option<NonZero<usize>>, usual: usize| changed.map_or(usual, NonZero::get);
        Limits {
            file_bytes: changed.file_bytes.map_or(usual.file_bytes, NonZero::get),
            rows: count(changed.rows, usual.rows),
            columns: count(changed.columns, usual.columns),
            cell_chars: count(changed.cell_chars, usual.cell_chars),
            enclosures: count(changed.enclosures, usual.enclosures),
            devices_per_row: count(changed.devices_per_row, usual.devices_per_row),
            positions: count(changed.positions, usual.positions),
            copies: count(changed.copies, usual.copies),
            pages: count(changed.pages, usual.pages),
            code_chars: count(changed.code_chars, usual.code_chars),
            sheet_cells: count(changed.sheet_cells, usual.sheet_cells),
            picture_pixels: count(changed.picture_pixels, usual.picture_pixels),
            findings: count(changed.findings, usual.findings),
        }
    }

    /// How the survey that goes by `file` is read.
    ///
    /// # Errors
    /// A name under `[headers]` that is no column of either file, or one under `[defaults]` that is none of the survey.
    pub fn read_options(&self, file: &str, encoding: Option<&'static Encoding>) -> Result<ReadOptions, JobFault> {
        let mut options = ReadOptions { encoding, limits: self.limits(), ..ReadOptions::new(file) };
        for (own, name) in &self.headers {
            match Column::named(name) {
                Some(column) => {
                    options.header_map.insert(own.clone(), column);
                }
                None if SupplyColumn::named(name).is_some() => {}
                None => return Err(no_column(name, "headers")),
            }
        }
        for (name, text) in &self.defaults {
            let column = Column::named(name).ok_or_else(|| no_column(name, "defaults"))?;
            options.defaults.insert(column, text.clone());
        }
        Ok(options)
    }

    /// How the supplies file that goes by `file` is read. A house's own headers hold where the file has the column that
    /// they stand for; the defaults are those of the survey's columns alone.
    #[must_use]
    pub fn supplies_options(&self, file: &str, encoding: Option<&'static Encoding>) -> supplies::ReadOptions {
        let meant = self.headers.iter().filter_map(|(own, name)| Some((own.clone(), SupplyColumn::named(name)?)));
        supplies::ReadOptions {
            encoding,
            limits: self.limits(),
            header_map: meant.collect(),
            ..supplies::ReadOptions::new(file)
        }
    }

    /// How the rules decide.
    #[must_use]
    pub fn rule_options(&self) -> RuleOptions {
        RuleOptions { stored_charge_limit: Volts::whole(self.notices.stored_charge_limit_v), ..RuleOptions::default() }
    }

    /// What holds for every notice.
    #[must_use]
    pub fn notice_options(&self) -> NoticeOptions {
        NoticeOptions {
            site: self.job.site.clone(),
            revision: self.job.revision.clone(),
            date: self.job.date.clone(),
            record_link_base: self.notices.record_link_base.clone(),
            code_chars: self.limits().code_chars,
            reading_distance: self.reading_distance(),
            ..NoticeOptions::default()
        }
    }

    /// What a document says about itself. The date is the job's; a month stands for its first day.
    #[must_use]
    pub fn document_info(&self) -> DocumentInfo {
        DocumentInfo {
            title: [self.job.title.as_str(), self.job.site.as_str(), "Warning notices"]
                .into_iter()
                .find(|title| !title.is_empty())
                .unwrap_or_default()
                .to_owned(),
            author: self.job.prepared_by.clone(),
            subject: format!("Electrical warning notices by {}", self.job.edition),
            language: self.notices.languages.first().cloned().unwrap_or_default(),
            created: moment(&self.job.date),
        }
    }

    /// How small letters may be.
    #[must_use]
    pub const fn letter_floor(&self) -> LetterFloor {
        match self.notices.letter_floor {
            Floor::TwoHundredth => LetterFloor::TwoHundredth,
            Floor::SixteenMinutes => LetterFloor::SixteenMinutes,
        }
    }

    /// From how far notices are read where the survey does not say.
    #[must_use]
    pub fn reading_distance(&self) -> Length {
        Length::mm(self.notices.reading_distance_m * 1_000.0)
    }

    /// What is made good for a printer; `None` if the job does not name it.
    #[must_use]
    pub fn correction(&self, printer: &str) -> Option<Correction> {
        self.printers.get(printer).map(|printer| Correction {
            offset: Point::new(Length::mm(printer.offset_x_mm), Length::mm(printer.offset_y_mm)),
            scale_x: printer.scale_x,
            scale_y: printer.scale_y,
        })
    }
}

impl Identity {
    /// Every text can be printed, the date is one, and the edition is the one by which the rules decide.
    ///
    /// # Errors
    /// The first value that cannot be used.
    pub fn check(&self) -> Result<(), JobFault> {
        let texts = [
            ("title", &self.title),
            ("site", &self.site),
            ("client", &self.client),
            ("revision", &self.revision),
            ("date", &self.date),
            ("prepared_by", &self.prepared_by),
            ("supplies", &self.supplies),
            ("edition", &self.edition),
        ];
        for (key, text) in texts {
            if let Some(hidden) = text.chars().find(|&c| is_hidden(c) || matches!(c, '\t' | '\n' | '\r')) {
                let number = u32::from(hidden);
                return Err(fault(format!("`{key}` holds the hidden character U+{number:04X}; type it again")));
            }
        }
        if self.supplies == STANDARD {
            return Err(fault("`supplies` is `-`; only `--supplies -` reads standard input".to_owned()));
        }
        if !self.date.is_empty() && moment(&self.date).is_none() {
            return Err(fault(format!("`date` is `{}`; write year-month-day, such as 2026-11-24", self.date)));
        }
        if self.edition != EDITION {
            return Err(fault(format!("`edition` is `{}`; the rules at hand are those of {EDITION}", self.edition)));
        }
        Ok(())
    }
}

impl Notices {
    fn check(&self) -> Result<(), JobFault> {
        let (distance, limit) = (self.reading_distance_m, self.stored_charge_limit_v);
        if !(0.1..=20.0).contains(&distance) {
            return Err(fault(format!("`reading_distance_m` is {distance:?}; it lies between 0.1 and 20 metres")));
        }
        if !(1..=HIGHEST_CHARGE).contains(&limit) {
            return Err(fault(format!(
                "`stored_charge_limit_v` is {limit}; it lies between 1 and {HIGHEST_CHARGE} volts"
            )));
        }
        if self.languages.is_empty() {
            return Err(fault("`languages` is empty; a notice needs at least one".to_owned()));
        }
        Ok(())
    }
}

impl Printer {
    /// A printer that is off by more than this is not corrected but mended: 20 mm, 2 per cent.
    fn check(&self, name: &str) -> Result<(), JobFault> {
        let offsets = [self.offset_x_mm, self.offset_y_mm];
        let scales = [self.scale_x, self.scale_y];
        if offsets.iter().any(|offset| !(-20.0..=20.0).contains(offset)) {
            return Err(fault(format!("printer `{name}`: an offset beyond 20 mm is not a printer's error")));
        }
        if scales.iter().any(|scale| !(0.98..=1.02).contains(scale)) {
            return Err(fault(format!(
                "printer `{name}`: a scale beyond 2 per cent points to `fit to page` in the print dialog"
            )));
        }
        Ok(())
    }
}

/// A day, or the first day of a month; `None` for anything else.
fn moment(date: &str) -> Option<Moment> {
    let number = |part: &str| part.parse::<i64>().ok().filter(|_| part.len() <= 4);
    let parts = date.trim().split('-').map(number).collect::<Option<Vec<_>>>()?;
    match parts.as_slice() {
        [year, month] => Moment::day(*year, *month, 1),
        [year, month, day] => Moment::day(*year, *month, *day),
        _ => None,
    }
}

fn no_column(name: &str, section: &str) -> JobFault {
    fault(format!("`{name}` under [{section}] is not a column of the survey"))
}

const fn fault(message: String) -> JobFault {
    JobFault { line: None, message }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_empty_job_is_the_usual_one() {
        let job = read("").unwrap();
        assert_eq!(job, Job::default());
        assert_eq!(job.job.edition, EDITION);
        assert_eq!(job.reading_distance(), Length::mm(700.0));
    }

    #[test]
    fn an_unknown_key_is_named_with_its_line() {
        let fault = read("[job]\nsite = \"Saltmere\"\nrevison = \"B\"\n").unwrap_err();
        assert_eq!(fault.line, Some(3));
        assert!(fault.message.contains("revison"), "{}", fault.message);
    }

    #[test]
    fn a_printer_that_shrinks_by_five_per_cent_is_refused() {
        let fault = read("[printers.office]\nscale_x = 0.95\n").unwrap_err();
        assert!(fault.message.contains("fit to page"), "{}", fault.message);
    }

    #[test]
    fn what_cannot_be_printed_or_decided_by_is_refused() {
        let refused = |text: &str| read(text).unwrap_err().message;
        assert!(refused("[job]\nsite = \"Salt\\u202Emere\"\n").contains("`site` holds the hidden character U+202E"));
        for date in ["yesterday", "2026", "2026-13-45", "2026-02-30", "9223372036854775807-1-1", "2026-11-24-1"] {
            assert!(refused(&format!("[job]\ndate = \"{date}\"\n")).contains("write year-month-day"), "{date}");
        }
        assert!(read("[job]\ndate = \"2026-11\"\n").is_ok());
        assert!(refused("[job]\nedition = \"another\"\n").contains(EDITION));
        for limit in ["0", "121", "4294967295"] {
            assert!(refused(&format!("[notices]\nstored_charge_limit_v = {limit}\n")).contains("1 and 120"), "{limit}");
        }
        assert!(refused("[notices]\nreading_distance_m = 1e308\n").contains("is 1e308;"));
        assert!(refused("[headers]\nBox = \"box\"\n").contains("not a column"));
        assert!(refused("[limits]\nrows = 0\n").contains("expected a whole number from 1"));
    }

    #[test]
    fn every_key_of_the_starter_job_can_be_used() {
        let starter = include_str!("cli/starter/job.toml");
        let is_name = |key: &str| key.chars().all(|c| c.is_ascii_lowercase() || matches!(c, '_' | '0'..='9'));
        let is_key = |rest: &str| {
            let key = rest.split_once(" = ").map(|(key, _)| key).unwrap_or_default();
            let quoted = key.strip_prefix('"').and_then(|key| key.strip_suffix('"'));
            rest.starts_with('[') || quoted.is_some() || (!key.is_empty() && is_name(key))
        };
        let all: String = starter
            .lines()
            .map(|line| line.strip_prefix("# ").filter(|rest| is_key(rest)).unwrap_or(line).to_owned() + "\n")
            .collect();
        let job = read(&all).unwrap();
        assert_eq!(job.limits(), Limits::default());
        assert_eq!((job.headers.len(), job.printers.len(), job.notices.messages.len()), (2, 1, 1));
        assert_eq!(job.job.supplies, "supplies.csv");
    }

    #[test]
    fn limits_and_corrections_are_taken_over() {
        let job = read("[limits]\nrows = 10\n[printers.office]\noffset_x_mm = 1.5\n").unwrap();
        assert_eq!(job.limits().rows, 10);
        assert_eq!(job.limits().columns, Limits::default().columns);
        let correction = job.correction("office").unwrap();
        assert_eq!(correction.offset, Point::new(Length::mm(1.5), Length::ZERO));
        assert_eq!(job.correction("other"), None);
    }
}
