//! The languages of a job's notices and the encoding of its survey, both named by the user.

use std::path::Path;

use encoding_rs::Encoding;

use super::failure::Failure;
use super::report;
use crate::files;
use crate::finding::Finding;
use crate::job::{self, Job};
use crate::wording::{MessageFile, Wording};

/// The wording of a job, with the message files that it names.
pub(super) fn wording(job: &Job, folder: &Path) -> Result<(Wording, Vec<Finding>), Failure> {
    let mut files = Vec::new();
    for (language, name) in &job.notices.messages {
        files.push((language.as_str(), name.as_str(), files::read_text(&folder.join(name), job::LARGEST_FILE)?));
    }
    let files: Vec<MessageFile<'_>> =
        files.iter().map(|(language, file, text)| MessageFile { language, file, text }).collect();
    Wording::new(&job.notices.languages, &files).map_err(|findings| {
        let rendered = report::text::render(&findings, false);
        Failure::could_not_run(format!("the languages of the job cannot be used\n{rendered}"))
    })
}

/// An encoding by any of the names that the Encoding Standard gives it.
pub(super) fn encoding(name: &str) -> Result<&'static Encoding, Failure> {
    Encoding::for_label(name.as_bytes()).ok_or_else(|| {
        Failure::with_hint(
            format!("no encoding is called `{name}`"),
            "`utf-8`, `windows-1252`, `windows-1250` and `iso-8859-15` are some",
        )
    })
}
