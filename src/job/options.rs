//! The job as each stage's own options.

use std::num::NonZero;

use encoding_rs::Encoding;

use super::{Floor, Job, JobFault, Printer, Qr, fault, moment};
use crate::length::Length;
use crate::limits::Limits;
use crate::material::Materials;
use crate::notice::{Carries, NoticeOptions, TEXT_CHARS};
use crate::rules::RuleOptions;
use crate::sheets::Correction;
use crate::standing::{self, Date, StandingColumn};
use crate::supplies::{self, SupplyColumn};
use crate::survey::value::Volts;
use crate::survey::{Column, ReadOptions};
use crate::typesetting::LetterFloor;
use crate::writers::pdf::DocumentInfo;

impl Job {
    /// The limits of this run.
    #[must_use]
    pub fn limits(&self) -> Limits {
        self.limits.applied()
    }

    /// How the survey that goes by `file` is read.
    ///
    /// # Errors
    /// A name under `[headers]` that is no column of any of the files; one under `[defaults]` that is none of the survey, or
    /// that is a declaration, by which a word would disappear from every notice at once.
    pub fn read_options(&self, file: &str, encoding: Option<&'static Encoding>) -> Result<ReadOptions, JobFault> {
        let mut options = ReadOptions { encoding, limits: self.limits(), ..ReadOptions::new(file) };
        for (own, name) in &self.headers {
            match Column::named(name) {
                Some(column) => {
                    options.header_map.insert(own.clone(), column);
                }
                None if SupplyColumn::named(name).is_some() || StandingColumn::named(name).is_some() => {}
                None => return Err(no_column(name, "headers")),
            }
        }
        for (name, text) in &self.defaults {
            let column = Column::named(name).ok_or_else(|| no_column(name, "defaults"))?;
            if matches!(column, Column::NoConfusion | Column::PurposeObvious) {
                return Err(declared_for_all(name));
            }
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

    /// How the list of standing notices that goes by `file` is read. The defaults are those of the survey's columns alone.
    #[must_use]
    pub fn standing_options(&self, file: &str, encoding: Option<&'static Encoding>) -> standing::ReadOptions {
        let meant = self.headers.iter().filter_map(|(own, name)| Some((own.clone(), StandingColumn::named(name)?)));
        standing::ReadOptions {
            encoding,
            limits: self.limits(),
            header_map: meant.collect(),
            ..standing::ReadOptions::new(file)
        }
    }

    /// The first and the last day that the date of the job can mean; `None` without one.
    #[must_use]
    pub fn date(&self) -> Option<(Date, Date)> {
        Date::span(&self.job.date)
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
            site: self.job.site.as_str().into(),
            revision: self.job.revision.clone(),
            date: self.job.date.clone(),
            record_link_base: self.notices.record_link_base.clone(),
            carries: match self.notices.qr {
                Qr::Link => Carries::Link,
                Qr::Text => Carries::Text,
            },
            code_chars: self.limits().code_chars,
            text_chars: self.limits.code_chars.map_or(TEXT_CHARS, NonZero::get),
            reading_distance: self.reading_distance(),
            tag_distance: Length::mm(self.notices.tag_reading_distance_m * 1_000.0),
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

    /// The classes of material of this job. [`read`](super::read) has checked them.
    #[must_use]
    pub fn materials(&self) -> Materials {
        self.known_materials().unwrap_or_default()
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
        self.printers.get(printer).map(Printer::correction)
    }
}

fn no_column(name: &str, section: &str) -> JobFault {
    fault(format!("`{name}` under [{section}] is not a column of the survey"))
}

fn declared_for_all(name: &str) -> JobFault {
    fault(format!(
        "`{name}` under [defaults] would declare it of every enclosure: write it in the survey, for each enclosure with its \
         reason and the name of who looked at it"
    ))
}
