//! `records pages`: a page a notice, and an index, for any plain web server.

use std::io::Write as _;
use std::path::PathBuf;

use rayon::prelude::*;

use super::kept;
use crate::cli::arguments::{General, PagesOf, SubjectChoice};
use crate::cli::changes;
use crate::cli::document;
use crate::cli::failure::Failure;
use crate::cli::labels::Reporter;
use crate::cli::outputs::Outputs;
use crate::cli::pipeline::{self, Loaded};
use crate::cli::prepared::{self, Asked, Prepared};
use crate::cli::printing::Printing;
use crate::cli::progress::Progress;
use crate::cli::report::json::OutputEntry;
use crate::cli::report::{counted, visible};
use crate::cli::terminal::Terminal;
use crate::files::{self, Destination, FileError, Folder};
use crate::finding::Finding;
use crate::notice::Subject;
use crate::records::Ledger;
use crate::records::pages::{Links, Site, Sources};
use crate::sheets::Run;

/// Pages made together before they are written: enough for every core, few enough for memory and open files.
const AT_ONCE: usize = 64;

/// Makes the pages; with errors nothing is written, unless the faulty enclosures are to be left out.
pub(super) fn perform(arguments: &PagesOf, general: &General, terminal: Terminal) -> Result<(), Failure> {
    let loaded = pipeline::load(&arguments.survey, general)?;
    if let Some(record) = &loaded.record {
        kept::say_if_not_there(&record.path, terminal);
    }
    let reporter = Reporter { loaded: &loaded, general, terminal };
    let asked = Asked::of(&arguments.choice, Run::default());
    let prepared = reporter.ready(prepared::prepare(&loaded, asked, general, true)?)?;
    let made = make(&loaded, &prepared, arguments, general)?;
    let findings = [prepared.findings.as_slice(), &made.findings].concat();
    reporter.report(&findings, &prepared.set, &Printing::of_documents(made.outputs))?;
    terminal.say(&made.said);
    document::end(&prepared.selection.left_out, terminal)
}

/// What was written.
struct Made {
    outputs: Vec<OutputEntry>,
    findings: Vec<Finding>,
    said: String,
}

fn make(loaded: &Loaded, prepared: &Prepared<'_>, arguments: &PagesOf, general: &General) -> Result<Made, Failure> {
    let (facts, choice) = (prepared.facts(&arguments.survey), &arguments.choice);
    let options = loaded.job.notice_options();
    let measure = changes::measure(loaded, &[]);
    let ledger = loaded.record.as_ref().map(|record| Ledger::of(&record.reading.entries));
    let sources = Sources {
        prepared: prepared.shown(&facts),
        record: ledger.as_ref(),
        typesetter: &prepared.typesetter,
        languages: &loaded.job.notices.languages,
        options: &options,
        measure: &measure,
        naming: files::safe_name,
    };
    let subject = choice.subject.map(SubjectChoice::subject);
    let folder = Folder::named(&arguments.output);
    let some = !choice.only.is_empty() || subject.is_some();
    let [index] = Site::index_path();
    let there = if some { Vec::new() } else { folder.holding(index, Site::mark()) };
    let asks = |kind: Option<Subject>, names: [&str; 3]| {
        subject.is_none_or(|subject| kind == Some(subject)) && prepared.wanted.asks_for_names(names)
    };
    let site = Site::of(sources, asks, there);
    if site.count() == 0 {
        return Err(crate::cli::selection::nothing(&prepared.wanted, loaded));
    }
    let keep = prepared::files_read(loaded, Some(&arguments.survey), &choice.sheet, None);
    let target = Target { folder, keep, general };
    let index = target.check(&site, some)?;
    let outputs = target.write(&site, index)?;
    let said = summary(&site, &options.record_link_base, arguments, index);
    Ok(Made { outputs, findings: site.findings(), said })
}

/// The pages that are written, and the names of those of a batch that failed in the middle.
type Done<'a> = (&'a mut Vec<OutputEntry>, &'a mut Vec<String>);

/// Where the pages go.
struct Target<'a> {
    folder: Folder,
    keep: Vec<PathBuf>,
    general: &'a General,
}

impl Target<'_> {
    /// Looks at the place of every page before anything is written; whether the index is written too. Where only some
    /// pages are asked for, an index that is there keeps the others and stays.
    fn check(&self, site: &Site<'_>, some: bool) -> Result<bool, Failure> {
        for page in 0..site.count() {
            self.may_be_written(&site.path(page))?;
        }
        let (_, there) = self.folder.look(&Site::index_path()).map_err(refused)?;
        if some && there {
            return Ok(false);
        }
        self.may_be_written(&Site::index_path())?;
        Ok(true)
    }

    fn may_be_written(&self, parts: &[&str]) -> Result<(), Failure> {
        let (path, there) = self.folder.look(parts).map_err(refused)?;
        if there {
            Destination::check(&path, &[], self.general.force)?;
        }
        Ok(())
    }

    /// Writes them, the index last. A page is whole by itself, so it takes its name as soon as its batch is written.
    fn write(&self, site: &Site<'_>, index: bool) -> Result<Vec<OutputEntry>, Failure> {
        let (mut written, mut there) = (Vec::with_capacity(site.count() + 1), Vec::new());
        self.write_all(site, index, (&mut written, &mut there)).map_err(|failure| {
            let named = written.iter().map(|entry: &OutputEntry| entry.path.clone());
            failure.leaving(&named.chain(there).collect::<Vec<_>>())
        })?;
        Ok(written)
    }

    fn write_all(&self, site: &Site<'_>, index: bool, (written, there): Done<'_>) -> Result<(), Failure> {
        let progress = Progress::start(self.general);
        progress.count("writing pages", site.count());
        let numbers: Vec<usize> = (0..site.count()).collect();
        for batch in numbers.chunks(AT_ONCE) {
            let texts: Vec<(PathBuf, String)> = batch
                .par_iter()
                .map(|&page| Ok((self.folder.make_room(&site.path(page)).map_err(refused)?, site.page(page))))
                .collect::<Result<_, Failure>>()?;
            written.extend(self.put(&texts, 1, there)?);
            progress.done(batch.len());
        }
        if index {
            let path = self.folder.make_room(&Site::index_path()).map_err(refused)?;
            written.extend(self.put(&[(path, site.index())], site.count(), there)?);
        }
        Ok(())
    }

    /// Puts a batch in place; after a failure `there` names those of it that are in place all the same.
    fn put(
        &self,
        texts: &[(PathBuf, String)],
        notices: usize,
        there: &mut Vec<String>,
    ) -> Result<Vec<OutputEntry>, Failure> {
        let paths: Vec<PathBuf> = texts.iter().map(|(path, _)| path.clone()).collect();
        let mut outputs = Outputs::check(&paths, &self.keep, self.general)?;
        let mut written = Vec::with_capacity(texts.len());
        for (_, text) in texts {
            let (path, ()) = outputs.write(|out| out.write_all(text.as_bytes()))?;
            let bytes = u64::try_from(text.len()).unwrap_or(u64::MAX);
            written.push(OutputEntry { path, pages: 0, notices, bytes, read_back: None, packed: Vec::new() });
        }
        outputs.publish_after(there)?;
        Ok(written)
    }
}

/// A place that leads out of the folder, with what to do about it.
fn refused(error: FileError) -> Failure {
    if !matches!(error, FileError::Outside { .. }) {
        return error.into();
    }
    let hint = "a link stands there; pages are written into the folder alone, so take the link away";
    Failure::with_hint(error.to_string(), hint)
}

fn summary(site: &Site<'_>, base: &str, arguments: &PagesOf, index: bool) -> String {
    let folder = visible(&arguments.output.display().to_string());
    let beside = if index { "and an index" } else { "beside the index that was there, which stays as it is" };
    let mut said = format!("{folder}: {} {beside}\n", counted(site.count(), "record page"));
    let whose = ["is no more", "cannot be judged, because of errors", "is known to neither survey nor record"];
    for (count, whose) in site.not_to_rely_on().into_iter().zip(whose).filter(|(count, _)| *count > 0) {
        said.push_str(&format!("{count} of them: do not rely on the notice, which {whose}\n"));
    }
    said.push_str(&leading(&site.links(), base, &folder));
    said
}

/// How many codes lead to the pages, where the folder must answer for that, and why the others do not.
fn leading(links: &Links, base: &str, folder: &str) -> String {
    let mut said = String::new();
    match &links.example {
        Some((number, link)) => said.push_str(&format!(
            "{} to them where {} answers with this folder: that of {} at {}\n",
            if links.here == 1 { "1 code leads".to_owned() } else { format!("{} codes lead", links.here) },
            visible(base),
            visible(number),
            visible(link),
        )),
        None => said.push_str(&format!("no code leads to the pages in {folder}\n")),
    }
    if !links.base.is_empty() {
        said.push_str(&format!("  {}\n", links.base));
    }
    for (count, why) in [
        (links.without, "no code"),
        (links.other, "a code that carries another link, a record number or words"),
        (links.elsewhere, "a number that cannot be a folder"),
    ] {
        if count > 0 {
            said.push_str(&format!("  {}: {why}\n", counted(count, "notice")));
        }
    }
    said
}
