//! Where the findings of one reading come together, each with its place, no more of them than the limit.

use std::sync::Arc;

use super::cell::Fault;
use super::source::{Source, number};
use crate::finding::{Code, Finding, Place, Severity, code};

/// The file being read and what was found in it so far.
pub(crate) struct Desk {
    pub(crate) source: Arc<Source>,
    limit: usize,
    findings: Vec<Finding>,
    errors: usize,
    left_out: usize,
    /// What is said of cells, where it is laid aside until its turn comes.
    aside: Option<Vec<Aside>>,
}

/// Something said of a cell or a record of which its turn has not come yet.
pub(crate) struct Aside {
    enclosure: String,
    record: usize,
    cell: Option<usize>,
    fault: Fault,
}

impl Aside {
    /// Whether it is a finding of this code.
    pub(crate) fn is_of(&self, code: Code) -> bool {
        self.fault.code == code
    }
}

impl Desk {
    pub(crate) fn new(file: Arc<str>, limit: usize) -> Self {
        let source = Arc::new(Source { file, ..Source::default() });
        Self { source, limit, findings: Vec::new(), errors: 0, left_out: 0, aside: None }
    }

    /// A desk for one thread of several: what is said of cells is laid aside, and nothing else may be said at it.
    pub(crate) fn aside(source: Arc<Source>) -> Self {
        Self { source, limit: 0, findings: Vec::new(), errors: 0, left_out: 0, aside: Some(Vec::new()) }
    }

    /// The source, to be added to.
    pub(crate) fn source_mut(&mut self) -> &mut Source {
        Arc::make_mut(&mut self.source)
    }

    /// What was laid aside since the last time.
    pub(crate) fn laid_aside(&mut self) -> Vec<Aside> {
        self.aside.as_mut().map(std::mem::take).unwrap_or_default()
    }

    /// Says now what was laid aside.
    pub(crate) fn say(&mut self, aside: impl IntoIterator<Item = Aside>) {
        for Aside { enclosure, record, cell, fault } in aside {
            self.cell_of(&enclosure, record, cell, fault);
        }
    }

    /// Reports something about the file as a whole.
    pub(crate) fn file(&mut self, fault: Fault) {
        self.place(fault, |source| Some(source.file_place()));
    }

    /// Reports something about the job rather than the file.
    pub(crate) fn job(&mut self, fault: Fault) {
        self.place(fault, |_| None);
    }

    /// Reports something about a whole record; record 0 is the header.
    pub(crate) fn record(&mut self, record: usize, fault: Fault) {
        self.place(fault, |source| Some(source.record_place(record)));
    }

    /// Reports something about a cell of a record.
    pub(crate) fn cell(&mut self, record: usize, cell: usize, fault: Fault) {
        self.place(fault, |source| Some(source.cell_place(record, cell)));
    }

    /// Reports something about a cell, touching one enclosure's notice.
    pub(crate) fn cell_of(&mut self, enclosure: &str, record: usize, cell: Option<usize>, fault: Fault) {
        if let Some(aside) = &mut self.aside {
            aside.push(Aside { enclosure: enclosure.to_owned(), record, cell, fault });
            return;
        }
        let before = self.findings.len();
        match cell {
            Some(cell) => self.cell(record, cell, fault),
            None => self.record(record, fault),
        }
        if let Some(finding) = self.findings.get_mut(before) {
            finding.enclosure = (!enclosure.is_empty()).then(|| enclosure.to_owned());
        }
    }

    /// Reports a fault at a place that is made only if the finding is kept.
    pub(crate) fn place(&mut self, fault: Fault, place: impl FnOnce(&Source) -> Option<Place>) {
        debug_assert!(self.aside.is_none(), "only what is said of cells is laid aside");
        let is_error = fault.code.severity == Severity::Error;
        let so_far = if is_error { self.errors } else { self.findings.len() - self.errors };
        if so_far >= self.limit {
            self.left_out += 1;
            return;
        }
        self.errors += usize::from(is_error);
        let place = place(&self.source);
        self.findings.push(Finding { place, ..fault.finding() });
    }

    /// The source and the findings, with a last one that counts those left out.
    pub(crate) fn finish(mut self) -> (Source, Vec<Finding>) {
        if self.left_out > 0 {
            let message = format!("{} more findings are not shown", number(self.left_out));
            let fault = Fault::new(code::FINDINGS_LEFT_OUT, message)
                .help("mend those shown, then check again, or raise `findings` under [limits] in the job file");
            self.findings.push(fault.finding().at(self.source.file_place()));
        }
        (Arc::unwrap_or_clone(self.source), self.findings)
    }
}
