//! A small survey of the invented cold store, its notices, and documents of them with one thing wrong.

use std::sync::Arc;

use noticewright::drawing::Drawing;
use noticewright::length::Size;
use noticewright::limits::Limits;
use noticewright::network::{Network, NetworkOptions};
use noticewright::notice::{self, Notice, NoticeOptions};
use noticewright::reading_back::{self, Claim, Declarations, Difference, ReadBack, Sheet, Texts};
use noticewright::rules::{self, RuleOptions};
use noticewright::sheets::{self, Formats, Label, Page, Palette, Plan, Run};
use noticewright::survey::{self, ReadOptions, Survey};
use noticewright::typesetting::{LetterFloor, SetNotice, Setting, Typesetter};
use noticewright::wording::Wording;
use noticewright::writers::pdf::{DocumentInfo, PdfWriter, Setup};

/// Three enclosures and their isolators, with remarks, two voltages and a code each.
pub(crate) const SURVEY: &str = "\
enclosure,name,area,circuit,serves,fed_from,source,nominal,conductors,earthing,voltage_to_earth,isolator,isolator_location,on_load,before_isolating,locking
CH3-JB1,Evaporator junction box,Chamber 3,DB-C/7,fan,DB-C,mains,230/400,L1 L2 N,TN-S,230,Q7,\"Switchroom 1, board C\",no,,padlock
CH3-JB1,,,DX-1/2,defrost heater,DX-1,mains,230/400,L2 N,TN-S,230,Q12,\"Chamber 3 lobby, board X\",yes,tell the lift users,padlock
CH3-JB2,Drain heater box,Chamber 3,DB-C/8,drain heater,DB-C,mains,230/400,L1 N,TN-S,230,Q8,\"Switchroom 1, board C\",,,padlock
CH3-JB2,,,UPS-2/1,probe heater,UPS-2,ups,230,L1 N,TN-S,230,QU2,Comms room,,,none
CP4,Door panel,Dock 2,DB-F/1,door,DB-F,mains,230/400,L1 L2 L3 N,TN-S,230,Q31,\"Dock 2, board F\",,,padlock
CP4,,,DB-F/2,leveller,DB-F,mains,230/400,L1 L2 L3 N,TN-S,230,Q31,\"Dock 3, board F\",,,padlock
";

/// Notices once set, and where they lie.
pub(crate) struct Job {
    pub(crate) survey: Survey,
    pub(crate) notices: Vec<Notice>,
    pub(crate) set: Vec<SetNotice>,
    pub(crate) plan: Plan,
}

impl Job {
    /// The job of the survey above.
    pub(crate) fn usual() -> Self {
        Self::of_survey(SURVEY)
    }

    /// The job of a survey.
    pub(crate) fn of_survey(text: &str) -> Self {
        let options = NoticeOptions {
            site: "Saltmere cold store".into(),
            revision: "B".into(),
            date: "2026-11".into(),
            record_link_base: "https://records.example/".into(),
            ..NoticeOptions::default()
        };
        let survey = survey::read(text.as_bytes(), &ReadOptions::new("survey.csv")).survey;
        let (network, _) = Network::join(&survey, None, &NetworkOptions::default());
        let (decisions, _) = rules::decide(&survey, &network, &RuleOptions::default());
        let (notices, _) = notice::compose(&survey, &decisions, &Wording::english(), &options);
        Self::of(survey, notices, Run::default())
    }

    /// The job of these notices, each of which can be set.
    pub(crate) fn of(survey: Survey, notices: Vec<Notice>, run: Run) -> Self {
        let set: Vec<SetNotice> = notices.iter().map(|notice| set(notice).unwrap()).collect();
        let formats = Formats::default();
        let labels: Vec<Label<'_>> =
            set.iter().map(|set| Label { size: set.drawing.size, enclosure: "CH3-JB1" }).collect();
        let (plan, _) = sheets::plan(&labels, &formats, run, &Limits::default()).unwrap();
        assert_eq!(plan.documents.len(), 1);
        Self { survey, notices, set, plan }
    }

    /// The same job with a notice changed.
    pub(crate) fn with(&self, number: &str, change: impl FnOnce(&mut Notice)) -> Self {
        let mut notices = self.notices.clone();
        change(notices.iter_mut().find(|notice| notice.number == number).unwrap());
        Self::of(self.survey.clone(), notices, self.plan.run.clone())
    }

    /// A page as it is planned, from 0.
    pub(crate) fn page(&self, number: usize) -> Page {
        let drawing = |label: usize| self.set.get(label).map(|set| Arc::clone(&set.drawing));
        self.plan.page(0, number, &Typesetter::new(), drawing).unwrap()
    }

    pub(crate) fn pages(&self) -> Vec<Page> {
        (0..self.plan.documents[0].pages()).map(|number| self.page(number)).collect()
    }

    /// The document of this job.
    pub(crate) fn document(&self) -> Vec<u8> {
        document(&self.pages(), &Palette::Office)
    }

    /// Reads a document as if it were that of this job, in which every label is an enclosure's or a device's.
    pub(crate) fn read(&self, bytes: Vec<u8>) -> ReadBack {
        self.read_pages(bytes, &self.pages(), Texts::Letters)
    }

    /// The same with pages of one's own.
    pub(crate) fn read_pages(&self, bytes: Vec<u8>, pages: &[Page], texts: Texts) -> ReadBack {
        let (network, _) = Network::join(&self.survey, None, &NetworkOptions::default());
        let declarations = Declarations::of(&self.survey, &network);
        let sheet = |number: usize| {
            let page = pages.get(number)?.clone();
            Some(Sheet { claims: self.claims(number, &declarations), page })
        };
        reading_back::read_back(Arc::new(bytes), pages.len(), texts, sheet)
    }

    fn claims<'a>(&'a self, page: usize, declarations: &'a Declarations) -> Vec<Claim<'a>> {
        let mut claims: Vec<(usize, Claim<'a>)> = Vec::new();
        for (label, (notice, set)) in self.notices.iter().zip(&self.set).enumerate() {
            let Setting { letter_height, sign_height, .. } = set.setting;
            let claim = Claim { notice, letter_height, sign_height, declared: declarations.about(notice) };
            let here = self.plan.places(label).into_iter().filter(|place| place.page == page + 1);
            claims.extend(here.map(|place| (place.cell, claim)));
        }
        claims.sort_by_key(|(cell, _)| *cell);
        claims.into_iter().map(|(_, claim)| claim).collect()
    }
}

pub(crate) fn set(notice: &Notice) -> Option<SetNotice> {
    let sizes = [(105, 74), (148, 105), (210, 148)].map(|(width, height)| Size::whole_mm(width, height));
    Typesetter::new().set(notice, &sizes, LetterFloor::default()).ok()
}

/// The bytes of a document.
pub(crate) fn document(pages: &[Page], palette: &Palette) -> Vec<u8> {
    let mut bytes = Vec::new();
    let mut writer = PdfWriter::begin(&mut bytes, &Setup::plain(DocumentInfo::default(), palette.clone())).unwrap();
    writer.add_all(pages.len(), |number| Ok(pages[number].clone())).unwrap();
    writer.finish().unwrap();
    bytes
}

/// A drawing changed.
pub(crate) fn changed(drawing: &Arc<Drawing>, change: impl FnOnce(&mut Drawing)) -> Arc<Drawing> {
    let mut drawing = Drawing::clone(drawing);
    change(&mut drawing);
    Arc::new(drawing)
}

/// The differences as a person reads them.
pub(crate) fn said(read: &ReadBack) -> Vec<String> {
    read.differences.iter().map(Difference::to_string).collect()
}

/// Exactly these differences, in any order.
#[track_caller]
pub(crate) fn assert_said(read: &ReadBack, expected: &[&str]) {
    let mut said = said(read);
    let mut expected = expected.to_vec();
    said.sort_unstable();
    expected.sort_unstable();
    assert_eq!(said, expected);
}
