//! Where no notice is made, and where a rule is lifted or unknown on one that is: always on the survey's word, with who
//! declares it and why.

use super::column::{Column, Listed, Value};
use super::declared::{Declared, basis};
use crate::finding::Severity;
use crate::prepared::{Names, Prepared};
use crate::rules::{Clause, Decision, DeviceDecision, Explained, Outcome, Reason, Rule};
use crate::survey::Enclosure;

/// What became of the notice.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Made {
    /// There is none, on the survey's word.
    None,
    /// There is one, for other reasons or because it is not known.
    Printed,
    /// There is none because of errors.
    LeftOut,
}

impl Made {
    /// In words.
    #[must_use]
    pub const fn in_words(self) -> &'static str {
        match self {
            Self::None => "none, on the survey's word",
            Self::Printed => "printed",
            Self::LeftOut => "left out because of errors; treat as live",
        }
    }
}

/// One rule that asks for nothing, or of which nothing is known, on one enclosure or isolator.
#[derive(Clone, Debug)]
pub struct SilentRow<'a> {
    /// `enclosure` or `isolator`; empty where neither is known.
    pub kind: &'static str,
    /// Designation.
    pub designation: &'a str,
    /// What it is.
    pub name: &'a str,
    /// Its area, or where the isolator is.
    pub area: &'a str,
    /// What became of the notice.
    pub made: Made,
    /// The rule in words.
    pub rule: String,
    /// What it came to.
    pub outcome: &'static str,
    /// Why.
    pub because: String,
    /// Where the rule stands; `None` for common practice, and where there is no rule.
    pub clause: Option<&'static Clause>,
    /// What is declared, and by whom.
    pub declared: Declared,
    /// How the rows are known.
    pub basis: String,
}

impl<'a> SilentRow<'a> {
    /// Whether another row speaks of the same enclosure or isolator.
    #[must_use]
    pub fn is_of_the_same(&self, other: &Self) -> bool {
        (self.kind, self.designation, self.area, self.made) == (other.kind, other.designation, other.area, other.made)
    }

    /// Where the rule stands, and how surely that is known.
    #[must_use]
    pub fn clause_in_words(&self) -> String {
        match self.clause {
            Some(clause) => clause.in_words(),
            None if self.rule.is_empty() => String::new(),
            None => "common practice".to_owned(),
        }
    }

    fn about(enclosure: &'a Enclosure, made: Made, Explained { reason, because }: Explained) -> Self {
        Self {
            kind: "enclosure",
            designation: &enclosure.designation,
            name: enclosure.name.as_deref().unwrap_or_default(),
            area: enclosure.area.as_deref().unwrap_or_default(),
            made,
            rule: reason.rule.in_words(),
            outcome: reason.outcome.name(),
            because,
            clause: reason.clause,
            declared: Declared::of(reason.rule, reason.outcome, enclosure),
            basis: basis(enclosure),
        }
    }

    /// Every rule of an enclosure without a notice, those that something lifts first.
    pub(super) fn without(explained: &[Explained], enclosure: &'a Enclosure) -> Vec<Self> {
        let of = |outcome: Outcome| explained.iter().filter(move |one| one.reason.outcome == outcome).cloned();
        let reasons = of(Outcome::Lifted).chain(of(Outcome::NotNeeded));
        reasons.map(|reason| Self::about(enclosure, Made::None, reason)).collect()
    }

    /// The rules of an enclosure with a notice that are lifted or unknown, and the locations that its notice leaves away.
    pub(super) fn beside(explained: &[Explained], decision: &Decision, enclosure: &'a Enclosure) -> Vec<Self> {
        let reasons = explained.iter().cloned();
        let open = reasons.filter(|one| matches!(one.reason.outcome, Outcome::Lifted | Outcome::Unknown));
        let mut rows: Vec<Self> = open.map(|reason| Self::about(enclosure, Made::Printed, reason)).collect();
        let declaration = enclosure.particulars().no_confusion.as_deref().filter(|_| decision.locations_left_out);
        if let Some(declaration) = declaration {
            rows.push(Self {
                kind: "enclosure",
                designation: &enclosure.designation,
                name: enclosure.name.as_deref().unwrap_or_default(),
                area: enclosure.area.as_deref().unwrap_or_default(),
                made: Made::Printed,
                rule: "locations of the isolators".to_owned(),
                outcome: Outcome::Lifted.name(),
                because: "the notice leaves the locations away, since no confusion is said to be possible".to_owned(),
                clause: Rule::SeveralIsolators.clause(),
                declared: Declared::named("no_confusion", std::iter::once(declaration)),
                basis: basis(enclosure),
            });
        }
        rows
    }

    /// The rules of an isolator that are lifted or unknown.
    pub(super) fn of_isolator(prepared: &Prepared<'a>, names: &Names<'a>, device: &'a DeviceDecision) -> Vec<Self> {
        let open = |one: &Explained| matches!(one.reason.outcome, Outcome::Lifted | Outcome::Unknown);
        let made = if device.need.prints() { Made::Printed } else { Made::None };
        let row = |Explained { reason, because }: Explained| Self {
            kind: "isolator",
            designation: &device.device,
            name: "",
            area: device.place_in_words(),
            made,
            rule: reason.rule.in_words(),
            outcome: reason.outcome.name(),
            because,
            clause: reason.clause,
            declared: of_device(prepared, names, device, &reason),
            basis: String::new(),
        };
        device.explained().into_iter().filter(open).map(row).collect()
    }

    /// What is left out because of errors, by its designation.
    pub(super) fn left_out(prepared: &Prepared<'a>, names: &Names<'a>, designation: &'a str) -> Self {
        let messages_of = |severity: Severity| -> Vec<&str> {
            let found = names.findings(designation).iter().filter(|one| one.severity() == severity);
            found.map(|finding| finding.message.as_str()).collect()
        };
        // Warnings stop a notice only where there is no error, by `--strict`.
        let messages = Some(messages_of(Severity::Error)).filter(|errors| !errors.is_empty());
        let messages = messages.unwrap_or_else(|| messages_of(Severity::Warning));
        let because = match messages.as_slice() {
            [] => "an isolator whose notice would name an enclosure that is left out".to_owned(),
            messages => messages.join("; "),
        };
        let enclosure = names.enclosure(designation).and_then(|place| Some(prepared.decided(place)?.1));
        Self {
            kind: if enclosure.is_some() { "enclosure" } else { "isolator" },
            designation,
            name: enclosure.and_then(|one| one.name.as_deref()).unwrap_or_default(),
            area: enclosure.and_then(|one| one.area.as_deref()).unwrap_or_default(),
            made: Made::LeftOut,
            rule: String::new(),
            outcome: "",
            because,
            clause: None,
            declared: Declared::default(),
            basis: enclosure.map(basis).unwrap_or_default(),
        }
    }
}

/// What lifts or leaves open a rule of an isolator.
fn of_device(prepared: &Prepared<'_>, names: &Names<'_>, device: &DeviceDecision, reason: &Reason) -> Declared {
    if reason.outcome == Outcome::Unknown {
        return Declared {
            what: "the location of the isolator is not said".to_owned(),
            by: "nobody: not known".to_owned(),
        };
    }
    let served = device.disconnects.chunk_by(|one, other| one.enclosure == other.enclosure);
    let served = served.filter_map(|mine| prepared.decided(names.enclosure(&mine.first()?.enclosure)?));
    Declared::named("purpose_obvious", served.filter_map(|(_, enclosure)| enclosure.purpose_obvious.as_deref()))
}

impl Listed for SilentRow<'_> {
    const SHEET: &'static str = "No notice, lifted, unknown";
    const TABLE: &'static str = "no_notice";

    fn columns() -> Vec<Column<Self>> {
        vec![
            Column::new("of", 11, |row| Value::text(row.kind)),
            Column::new("designation", 16, |row| Value::text(row.designation)),
            Column::new("name", 26, |row| Value::text(row.name)),
            Column::new("area or location", 22, |row| Value::text(row.area)),
            Column::new("notice", 24, |row| Value::text(row.made.in_words())),
            Column::new("rule", 22, |row| Value::text(&row.rule)),
            Column::new("outcome", 12, |row| Value::text(row.outcome)),
            Column::new("because", 60, |row| Value::text(&row.because)),
            Column::new("what is declared", 34, |row| Value::text(&row.declared.what)),
            Column::new("declared by", 18, |row| Value::text(&row.declared.by)),
            Column::new("how the rows are known", 18, |row| Value::text(&row.basis)),
            Column::new("clause, and how surely it is known", 40, |row| row.clause_in_words().into()),
        ]
    }
}
