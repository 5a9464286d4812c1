//! The revisions of a survey's notices by what its record says was printed.

use rayon::prelude::*;

use crate::cli::failure::Failure;
use crate::cli::languages;
use crate::cli::pipeline::Loaded;
use crate::job::Identity;
use crate::notice::{self, Notice, Packing};
use crate::records::{self, Event, Issue, Ledger};

/// Gives every notice its own revision and date of issue; without a record those of the job stay. What is wrong with the
/// record is found among everything else.
///
/// # Errors
/// That of a message file.
pub(in crate::cli) fn issue(loaded: &mut Loaded) -> Result<(), Failure> {
    let Some(record) = &loaded.record else { return Ok(()) };
    loaded.findings.extend(record.reading.findings.iter().cloned());
    // Of a record of years most entries are inspections, by which no revision rises.
    let printed = record.reading.entries.iter().filter(|entry| entry.event == Event::Printed);
    let ledger = Ledger::of(printed);
    let (wording, _) = languages::wording(&loaded.job, &loaded.job_folder)?;
    let job = &loaded.job.job;
    loaded.packed.par_iter_mut().for_each_init(Packing::default, |packing, packed| {
        let mut notice = packed.notice();
        let (revision, date) = issued(&ledger, &notice, job);
        if revision != job.revision || date != job.date {
            notice::issue(&mut notice, (&revision, &date), &job.site, &wording);
        }
        // With its fingerprint, which is asked for again.
        *packed = packing.pack(notice);
    });
    Ok(())
}

/// Revision and date of issue of a notice by what a record has of it.
pub(super) fn issued(ledger: &Ledger<'_>, notice: &Notice, job: &Identity) -> (String, String) {
    let own = Issue { revision: &job.revision, date: &job.date };
    records::issue(ledger.find(&notice.number), notice.fingerprint(), own)
        .unwrap_or_else(|| (job.revision.clone(), job.date.clone()))
}
