//! Codes that would lead to the page of another notice, and links that several codes carry.

use std::collections::HashMap;

use super::compose::NoticeOptions;
use super::record_link::{checked, link_to, place_of_link};
use crate::finding::{Finding, code};
use crate::network::Device;
use crate::rules::numbers;
use crate::standing::{Entry, Standing, StandingColumn};
use crate::survey::value::RecordLink;
use crate::survey::{Enclosure, Survey};
use crate::table::Keyed;

/// Whose notice bears a link of its own.
#[derive(Clone, Copy)]
enum Bearer<'a> {
    Enclosure(&'a Enclosure),
    Isolator(&'a str, &'a str),
    Standing(&'a Standing, &'a Entry),
}

impl Bearer<'_> {
    fn name(self) -> String {
        match self {
            Self::Enclosure(enclosure) => enclosure.designation.clone(),
            Self::Isolator(device, location) => numbers::of_isolator(device, location),
            Self::Standing(_, entry) => entry.number.clone(),
        }
    }

    /// The numbers of its notices.
    fn numbers(self) -> Vec<String> {
        match self {
            Self::Enclosure(enclosure) => {
                let positions = enclosure.particulars().positions.len().max(1);
                (0..positions).map(|at| numbers::at_position(&enclosure.designation, at)).collect()
            }
            Self::Isolator(device, location) => vec![numbers::of_isolator(device, location)],
            Self::Standing(_, entry) => vec![entry.number.clone()],
        }
    }

    /// A finding about the cell that gives its link; the supplies file's cells have no place here.
    fn finding(self, survey: &Survey, finding: Finding) -> Finding {
        match self {
            Self::Enclosure(enclosure) => {
                Finding { place: place_of_link(survey, enclosure), ..finding.about(&enclosure.designation) }
            }
            Self::Isolator(..) => finding,
            Self::Standing(list, entry) => finding.at(list.place(entry.record, StandingColumn::RecordLink)),
        }
    }
}

/// The links of their own that notices carry, and what is wrong with these among themselves.
///
/// What differs in capitals or in a last slash alone leads to one page on most servers, so it counts as one link.
pub struct OwnLinks<'a> {
    survey: &'a Survey,
    options: &'a NoticeOptions,
    /// Who bears a link, with the words of the cell.
    bearers: Vec<(Bearer<'a>, &'a str)>,
    /// The first that bears each link, by what it is known by.
    first: Keyed<usize>,
    /// Who else bears the link of a first one: mostly nobody.
    others: HashMap<usize, Vec<usize>>,
    findings: Vec<Finding>,
}

impl<'a> OwnLinks<'a> {
    /// The links of enclosures, for which nothing but the survey is needed.
    #[must_use]
    pub fn of_enclosures(survey: &'a Survey, options: &'a NoticeOptions) -> Self {
        let mut links = Self {
            survey,
            options,
            bearers: Vec::new(),
            first: Keyed::default(),
            others: HashMap::new(),
            findings: Vec::new(),
        };
        survey.enclosures.iter().for_each(|it| links.add(Bearer::Enclosure(it), &it.record_link));
        links
    }

    fn add(&mut self, bearer: Bearer<'a>, link: &'a RecordLink) {
        let RecordLink::Given(given) = link else { return };
        let Ok(carried) = checked(given, self.options) else { return };
        let key = key(&carried);
        let at = self.bearers.len();
        match self.first(&key) {
            None => self.first.insert(&key, at),
            Some(first) => {
                let name = self.bearers.get(first).map(|(first, _)| first.name()).unwrap_or_default();
                self.findings.push(bearer.finding(self.survey, shared(given, &name, &bearer.name())));
                self.others.entry(first).or_default().push(at);
            }
        }
        self.bearers.push((bearer, given));
    }

    /// The first that bears the link that is known by this.
    fn first(&self, known_by: &str) -> Option<usize> {
        let is_it = |at: usize| {
            let given = self.bearers.get(at).map(|(_, given)| checked(given, self.options));
            given.and_then(Result::ok).is_some_and(|carried| key(&carried) == known_by)
        };
        self.first.find(known_by, is_it)
    }

    /// Everybody that bears the link that is known by this.
    fn all(&self, known_by: &str) -> impl Iterator<Item = (Bearer<'a>, &'a str)> {
        let first = self.first(known_by);
        let others = first.and_then(|first| self.others.get(&first)).map_or(&[][..], Vec::as_slice);
        first.into_iter().chain(others.iter().copied()).filter_map(|at| self.bearers.get(at).copied())
    }

    /// Every link, those of isolators and standing notices too, that leads to another notice of the survey or of the list of
    /// standing notices, and every one that two notices carry. A number of a notice leads to it too: whoever looks it up in
    /// the record finds the other one.
    #[must_use]
    pub fn crossed(
        mut self,
        devices: impl Iterator<Item = &'a Device> + Clone,
        standing: Option<&'a Standing>,
    ) -> Vec<Finding> {
        for device in devices.clone() {
            if let Some(own) = &device.own_notice {
                self.add(Bearer::Isolator(&device.designation, &device.location), &own.record_link);
            }
        }
        let entries = standing.into_iter().flat_map(|list| list.entries.iter().map(move |entry| (list, entry)));
        entries.clone().for_each(|(list, entry)| self.add(Bearer::Standing(list, entry), &entry.record_link));
        let mut findings = std::mem::take(&mut self.findings);
        if self.bearers.is_empty() {
            return findings;
        }
        let enclosures = self.survey.enclosures.iter().map(Bearer::Enclosure);
        let isolators = devices.map(|it| Bearer::Isolator(&it.designation, &it.location));
        let entries = entries.map(|(list, entry)| Bearer::Standing(list, entry));
        for owner in enclosures.chain(isolators).chain(entries) {
            for number in owner.numbers() {
                let built = link_to(&number, self.options);
                for link in [Some(&*number), built.as_deref()].into_iter().flatten() {
                    for (bearer, given) in self.all(&key(link)).filter(|(bearer, _)| bearer.name() != owner.name()) {
                        findings.push(bearer.finding(self.survey, of_another(given, &bearer.name(), &number)));
                    }
                }
            }
        }
        findings
    }
}

/// What a link is known by.
fn key(link: &str) -> String {
    let link = link.trim_end_matches('/');
    if link.is_ascii() { link.to_ascii_lowercase() } else { link.to_lowercase() }
}

fn of_another(given: &str, bearer: &str, number: &str) -> Finding {
    let message = format!("the record link of `{bearer}`, `{given}`, leads to the notice `{number}` of another");
    let help = "correct the cell, or leave it blank for the link that follows from the notice's own number";
    Finding::new(code::RECORD_LINK_OF_ANOTHER, message).help(help)
}

fn shared(given: &str, first: &str, bearer: &str) -> Finding {
    let message = format!("`{first}` and `{bearer}` have one record link, `{given}`");
    let help = "give each its own; one record for both is right only if it holds the isolators of both apart";
    Finding::new(code::RECORD_LINK_SHARED, message).help(help)
}

#[cfg(test)]
mod tests {
    use super::OwnLinks;
    use crate::network::testing::surveyed;
    use crate::network::{Network, NetworkOptions};
    use crate::notice::NoticeOptions;
    use crate::{standing, supplies};

    const OF_ANOTHER: &str = "record-link-of-another";
    const SHARED: &str = "record-link-shared";

    const HEADER: &str = "enclosure,circuit,voltage_to_earth,isolator,isolator_location,positions,record_link";

    /// What is found of boxes with these links, JB-2 at two positions, and of isolators with these: code, about whom, words.
    fn found(boxes: [&str; 2], isolators: [&str; 2]) -> Vec<String> {
        found_beside(boxes, isolators, "")
    }

    /// The same beside a standing notice with a link.
    fn found_beside(boxes: [&str; 2], isolators: [&str; 2], standing: &str) -> Vec<String> {
        let rows = [
            format!("JB-1,A/1,230,Q1,Room 1,,{}", boxes[0]),
            format!("JB-2,A/2,230,Q2,Room 2,door; rear,{}", boxes[1]),
        ];
        let survey = surveyed(HEADER, &rows.each_ref().map(String::as_str));
        let file = format!(
            "device,kind,fed_from,location,record_link\nQ1,breaker,,Room 1,{}\nQ2,breaker,,Room 2,{}\n",
            isolators[0], isolators[1]
        );
        let file = supplies::read(file.as_bytes(), &supplies::ReadOptions::new("supplies.csv")).supplies;
        let (network, _) = Network::join(&survey, Some(&file), &NetworkOptions::default());
        let options =
            NoticeOptions { record_link_base: "https://records.example/n/".to_owned(), ..NoticeOptions::default() };
        let list = format!("number,kind,record_link\nSTN-1,rcd-test,{standing}\n");
        let list = standing::read(list.as_bytes(), &standing::ReadOptions::new("standing.csv")).standing;
        let links = OwnLinks::of_enclosures(&survey, &options);
        let findings = links.crossed(network.devices().iter(), Some(&list)).into_iter();
        findings
            .map(|finding| {
                let cell = finding.place.map(|place| place.cell).unwrap_or_default();
                format!("{} [{cell}] {}", finding.code.name, finding.message)
            })
            .collect()
    }

    #[test]
    fn a_link_to_another_notice_is_an_error_however_it_is_written() {
        for (given, number) in [
            ("https://records.example/n/JB-2/1", "JB-2/1"),
            ("https://records.example/n/JB-2/2", "JB-2/2"),
            ("HTTPS://RECORDS.EXAMPLE/N/jb-2/2/", "JB-2/2"),
            ("JB-2/1", "JB-2/1"),
            ("Q2@Room 2", "Q2@Room 2"),
            ("https://records.example/n/Q2%40Room%202", "Q2@Room 2"),
        ] {
            let message = format!("the record link of `JB-1`, `{given}`, leads to the notice `{number}` of another");
            assert_eq!(found([given, ""], ["", ""]), [format!("{OF_ANOTHER} [{given}] {message}")]);
        }
        let of_isolator = "the record link of `Q1@Room 1`, `JB-2/1`, leads to the notice `JB-2/1` of another";
        assert_eq!(found(["", ""], ["JB-2/1", ""]), [format!("{OF_ANOTHER} [] {of_isolator}")]);
    }

    #[test]
    fn a_standing_notice_is_one_of_them() {
        let beside = |link: &str, standing| found_beside([link, ""], ["", ""], standing);
        let to_it = "the record link of `JB-1`, `STN-1`, leads to the notice `STN-1` of another";
        assert_eq!(beside("STN-1", ""), [format!("{OF_ANOTHER} [STN-1] {to_it}")]);
        let from_it = "the record link of `STN-1`, `JB-2/1`, leads to the notice `JB-2/1` of another";
        assert_eq!(beside("", "JB-2/1"), [format!("{OF_ANOTHER} [JB-2/1] {from_it}")]);
        let both = "`JB-1` and `STN-1` have one record link, `SCS-9`";
        assert_eq!(beside("SCS-9", "SCS-9"), [format!("{SHARED} [SCS-9] {both}")]);
        assert_eq!(beside("SCS-8", "STN-1"), Vec::<String>::new());
    }

    #[test]
    fn a_link_to_itself_or_to_nobody_is_none_of_another() {
        for given in
            ["https://records.example/n/JB-2/2", "JB-2/1", "https://records.example/n/JB-3/1", "4711", "-", "JB-2"]
        {
            assert_eq!(found(["", given], ["", ""]), Vec::<String>::new(), "{given}");
        }
    }

    #[test]
    fn one_link_of_two_is_worth_a_look() {
        let boxes = found(["SCS-1", "scs-1"], ["", ""]);
        assert_eq!(boxes, [format!("{SHARED} [scs-1] `JB-1` and `JB-2` have one record link, `scs-1`")]);
        let accented = found(["SCS-\u{c9}1", "scs-\u{e9}1"], ["", ""]);
        assert_eq!(accented, [format!("{SHARED} [scs-\u{e9}1] `JB-1` and `JB-2` have one record link, `scs-\u{e9}1`")]);
        let isolators = found(["SCS-1", ""], ["", "SCS-1"]);
        assert_eq!(isolators, [format!("{SHARED} [] `JB-1` and `Q2@Room 2` have one record link, `SCS-1`")]);
        assert_eq!(found(["SCS-1", "SCS-2"], ["SCS-3", "SCS-4"]), Vec::<String>::new());
    }

    /// Each that bears the link is told that it leads to another, whoever bore it first.
    #[test]
    fn one_link_of_two_that_leads_to_a_third_is_told_of_both() {
        let shared = format!("{SHARED} [jb-2/2] `JB-1` and `STN-1` have one record link, `jb-2/2`");
        let of_another = |cell: &str, bearer: &str| {
            format!(
                "{OF_ANOTHER} [{cell}] the record link of `{bearer}`, `{cell}`, leads to the notice `JB-2/2` of another"
            )
        };
        let found = found_beside(["JB-2/2", ""], ["", ""], "jb-2/2");
        assert_eq!(found, [shared, of_another("JB-2/2", "JB-1"), of_another("jb-2/2", "STN-1")]);
    }
}
