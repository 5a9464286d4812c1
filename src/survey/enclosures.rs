//! Rows into enclosures: cells that speak of the enclosure are held against those of its other rows.

use std::sync::Arc;

use super::column::{Column, Level};
use super::likeness;
use super::reader::ReadOptions;
use super::record::{Enclosure, Particulars, Row};
use super::row::RowRules;
use super::together;
use crate::finding::code;
use crate::table::cell::number::Decimals;
use crate::table::cell::{Fault, Parsed, number, size, text, words};
use crate::table::spelling;
use crate::table::value::{Declaration, Isolation, RecordLink};
use crate::table::{Alike, Aside, Columns, Desk, Keyed, Onward, RowCells, Table, index, number as kept};

/// What a row is understood by.
#[derive(Clone)]
pub(super) struct RowReader {
    rules: RowRules,
    /// What empty cells mean.
    defaults: Arc<[(Column, String)]>,
}

/// The enclosures found so far, in the order of the file.
pub(super) struct Enclosures {
    reader: RowReader,
    /// How many enclosures are accepted.
    limit: usize,
    /// The columns that speak of an enclosure, beside its designation.
    describing: Columns<Column>,
    enclosures: Vec<Enclosure>,
    /// For each of them, what was said of it so far.
    said: Vec<Said>,
    by_designation: Keyed<u32>,
    by_folded: Keyed<u32>,
    /// What much says alike.
    alike: Shared,
}

/// What rows and enclosures say alike: one for all of them.
#[derive(Default)]
struct Shared {
    texts: Alike<str>,
    declarations: Alike<Declaration>,
}

/// The record that first names an enclosure, and the one that first spoke of each of its columns.
#[derive(Clone)]
struct Said {
    named: u32,
    /// The columns of which that record spoke: mostly all that any record does.
    with_name: Columns<Column>,
    /// The others, each with its record.
    later: Vec<(Column, u32)>,
}

impl Table for Enclosures {
    type Column = Column;
    type Reader = RowReader;
    /// Without a designation it is read all the same, for what is wrong in it.
    type Row = (Option<String>, Row);
    type Product = Vec<Enclosure>;

    fn begin(options: &ReadOptions, decimals: Decimals) -> (RowReader, Self) {
        let reader =
            RowReader { rules: RowRules::new(&options.limits, decimals), defaults: options.usable_defaults().into() };
        let enclosures = Self {
            reader: reader.clone(),
            limit: options.limits.enclosures,
            describing: Column::ALL
                .iter()
                .copied()
                .filter(|it| it.level() == Level::Enclosure && *it != Column::KEY)
                .collect(),
            enclosures: Vec::new(),
            said: Vec::new(),
            by_designation: Keyed::default(),
            by_folded: Keyed::default(),
            alike: Shared::default(),
        };
        (reader, enclosures)
    }

    fn row(reader: &RowReader, aside: &mut Desk, cells: &RowCells<'_, Column>) -> Self::Row {
        let designation = cells.key();
        if designation.is_none() {
            cells.report_empty(aside, Column::Enclosure);
        }
        if reader.defaults.is_empty() {
            return (designation, reader.rules.row(aside, cells));
        }
        let mut filled = *cells;
        filled.fill(&reader.defaults, |column| column.level() == Level::Row);
        (designation, reader.rules.row(aside, &filled))
    }

    /// The row, added to its enclosure.
    fn take(
        &mut self,
        desk: &mut Desk,
        cells: &RowCells<'_, Column>,
        (designation, row): Self::Row,
        said: Vec<Aside>,
    ) -> Onward {
        let is_new = |designation: &String| self.known(designation).is_none();
        if self.enclosures.len() >= self.limit && designation.as_ref().is_some_and(is_new) {
            let message = format!("the survey has more enclosures than the {} accepted", self.limit);
            let fault = Fault::new(code::TOO_MANY_ENCLOSURES, message);
            desk.record(cells.record, fault.help("split it, or raise `enclosures` under [limits] in the job file"));
            return Onward::Stop;
        }
        desk.say(said);
        if let Some(designation) = designation {
            self.add(desk, &designation, cells, row);
        }
        Onward::Next
    }

    /// The enclosures, with what the job says where no row said anything.
    fn finish(mut self, desk: &mut Desk) -> Vec<Enclosure> {
        let RowReader { rules, defaults } = self.reader.clone();
        let (mut enclosures, said) = (std::mem::take(&mut self.enclosures), std::mem::take(&mut self.said));
        if !defaults.is_empty() {
            self.check_defaults(desk, &defaults);
            for (enclosure, mut said) in enclosures.iter_mut().zip(said) {
                let unsaid = said.clone();
                let cells = RowCells::silent(&defaults, |column| unsaid.nothing(column));
                said.describe(desk, &cells, enclosure, rules, &mut self.alike);
            }
        }
        enclosures.iter().for_each(|enclosure| together::report(desk, enclosure));
        enclosures.iter_mut().for_each(|enclosure| enclosure.rows.shrink_to_fit());
        enclosures.shrink_to_fit();
        enclosures
    }
}

impl Enclosures {
    /// Reports what is wrong with the job's defaults themselves.
    fn check_defaults(&mut self, desk: &mut Desk, defaults: &[(Column, String)]) {
        let cells = RowCells::of_job(defaults);
        let row = self.reader.rules.row(desk, &cells);
        self.by_designation.clear();
        self.by_folded.clear();
        self.add(desk, "", &cells, row);
    }

    /// Adds a row to its enclosure, and what the same record says of the enclosure.
    pub(super) fn add(&mut self, desk: &mut Desk, designation: &str, cells: &RowCells<'_, Column>, mut row: Row) {
        self.share(&mut row);
        let place = self.place(desk, designation, cells);
        if let Some((enclosure, said)) = self.enclosures.get_mut(place).zip(self.said.get_mut(place)) {
            // Most enclosures have a row or two: room for four would be most of what a survey takes.
            if enclosure.rows.len() == enclosure.rows.capacity() {
                enclosure.rows.reserve_exact(enclosure.rows.len().max(1));
            }
            enclosure.rows.push(row);
            // All but its first row mostly say nothing of it.
            if cells.says_any_of(self.describing) {
                said.describe(desk, cells, enclosure, self.reader.rules, &mut self.alike);
            }
        }
    }

    /// Lets a row share what another says alike.
    fn share(&mut self, row: &mut Row) {
        let devices = match &mut row.isolation {
            Some(Isolation::By(devices)) => &mut **devices,
            Some(Isolation::Impossible | Isolation::Unknown) | None => &mut [],
        };
        let texts = [&mut row.serves, &mut row.fed_from, &mut row.locking].into_iter().flatten();
        texts
            .chain(devices.iter_mut().map(|device| &mut device.location))
            .for_each(|text| self.alike.texts.share(text));
    }

    /// The place of the enclosure with this designation, which is begun if it is a new one.
    fn place(&mut self, desk: &mut Desk, designation: &str, cells: &RowCells<'_, Column>) -> usize {
        // The rows of an enclosure mostly follow each other.
        if self.enclosures.last().is_some_and(|last| last.designation == designation) {
            return self.enclosures.len() - 1;
        }
        self.known(designation).unwrap_or_else(|| self.begin(desk, designation, cells))
    }

    fn known(&self, designation: &str) -> Option<usize> {
        let has = |place| self.named(place).is_some_and(|enclosure| enclosure.designation == designation);
        self.by_designation.find(designation, has).map(index)
    }

    fn named(&self, place: u32) -> Option<&Enclosure> {
        self.enclosures.get(index(place))
    }

    fn begin(&mut self, desk: &mut Desk, designation: &str, cells: &RowCells<'_, Column>) -> usize {
        let place = self.enclosures.len();
        let folded = likeness::folded(designation);
        let is_alike = |place| self.named(place).is_some_and(|it| likeness::folded(&it.designation) == folded);
        match self.by_folded.find(&folded, is_alike) {
            Some(other) => self.report_alike(desk, cells, designation, index(other)),
            None => self.by_folded.insert(&folded, kept(place)),
        }
        self.by_designation.insert(designation, kept(place));
        self.enclosures.push(Enclosure { designation: designation.to_owned(), ..Enclosure::default() });
        self.said.push(Said { named: kept(cells.record), with_name: Columns::default(), later: Vec::new() });
        place
    }

    fn report_alike(&self, desk: &mut Desk, cells: &RowCells<'_, Column>, designation: &str, other: usize) {
        let Some((enclosure, said)) = self.enclosures.get(other).zip(self.said.get(other)) else { return };
        let cell = desk.source.cell_of(Column::Enclosure).unwrap_or(0);
        let there = desk.source.address(index(said.named), cell);
        let earlier = &enclosure.designation;
        let seen = |name: &str| spelling::key(&spelling::as_seen(name));
        if seen(designation) == seen(earlier) {
            let message = if spelling::key(designation) == spelling::key(earlier) {
                format!("`{designation}` differs from `{earlier}` in {there} only in case or blanks")
            } else {
                format!("`{designation}` looks like `{earlier}` in {there}, and has another kind of hyphen or accent")
            };
            let fault = Fault::new(code::ENCLOSURE_SPELT_TWO_WAYS, message)
                .help("write it alike on every row; two enclosures need designations that differ in more than that");
            // It lies in both enclosures: to leave out the one would not mend the other.
            return desk.cell(cells.record, cell, fault);
        }
        let message = format!(
            "`{designation}` differs from `{earlier}` in {there} only in case, blanks or hyphens, and is a second enclosure"
        );
        let fault =
            Fault::new(code::ENCLOSURES_ALIKE, message).help("write it alike on every row if it is the same enclosure");
        cells.report(desk, Column::Enclosure, fault);
    }
}

impl Said {
    /// Takes over what a record says of the enclosure.
    fn describe(
        &mut self,
        desk: &mut Desk,
        cells: &RowCells<'_, Column>,
        e: &mut Enclosure,
        rules: RowRules,
        alike: &mut Shared,
    ) {
        use Column as C;
        let decimals = rules.decimals;
        let mut p = e.particulars.take().map(|particulars| *particulars).unwrap_or_default();
        self.settle(desk, cells, C::Name, &mut e.name, text::free);
        self.settle(desk, cells, C::Area, &mut e.area, text::free);
        self.settle(desk, cells, C::Role, &mut p.roles, words::roles);
        self.settle(desk, cells, C::NoConfusion, &mut p.no_confusion, text::declaration);
        self.settle(desk, cells, C::PurposeObvious, &mut e.purpose_obvious, text::declaration);
        self.settle(desk, cells, C::Space, &mut p.space, |text| size::space(text, decimals));
        self.settle(desk, cells, C::Size, &mut p.size, |text| size::notice(text, decimals));
        self.settle(desk, cells, C::ReadingDistance, &mut p.reading_distance, |text| number::distance(text, decimals));
        self.settle(desk, cells, C::SignDistance, &mut p.sign_distance, |text| number::distance(text, decimals));
        self.settle(desk, cells, C::Environment, &mut p.environment, |text| words::environment(text, decimals));
        self.settle(desk, cells, C::Surface, &mut p.surface, words::surface);
        self.gather(desk, cells, C::Drawing, &mut p.drawing, rules.cell_chars);
        self.gather(desk, cells, C::Note, &mut p.note, rules.cell_chars);

        let mut positions = Some(std::mem::take(&mut p.positions)).filter(|positions| !positions.is_empty());
        self.settle(desk, cells, C::Positions, &mut positions, |text| text::positions(text, rules.positions));
        p.positions = positions.unwrap_or_default();
        e.area.iter_mut().for_each(|area| alike.texts.share(area));
        let declarations = [&mut p.no_confusion, &mut e.purpose_obvious].into_iter().flatten();
        declarations.for_each(|declaration| alike.declarations.share(declaration));
        e.particulars = Some(p).filter(|particulars| *particulars != Particulars::default()).map(Box::new);

        let mut link = Some(std::mem::take(&mut e.record_link)).filter(|link| *link != RecordLink::Unset);
        self.settle(desk, cells, C::RecordLink, &mut link, text::record_link);
        e.record_link = link.unwrap_or_default();
    }

    /// Whether no record spoke of a column.
    fn nothing(&self, column: Column) -> bool {
        self.of(column).is_none()
    }

    /// Takes a value over, or holds it against the one that an earlier record gave.
    fn settle<T: PartialEq>(
        &mut self,
        desk: &mut Desk,
        cells: &RowCells<'_, Column>,
        column: Column,
        slot: &mut Option<T>,
        parse: impl FnOnce(&str) -> Parsed<T>,
    ) {
        if cells.text(column).is_empty() {
            return;
        }
        let value = cells.value(desk, column, parse);
        match self.first(column, cells) {
            None => *slot = value,
            Some(record) if *slot != value && value.is_some() => {
                if slot.is_none() {
                    *slot = value;
                }
                report_contradiction(desk, cells, column, record);
            }
            Some(_) => {}
        }
    }

    /// Joins what the records say, each thing once: references and notes do not contradict each other.
    fn gather(
        &mut self,
        desk: &mut Desk,
        cells: &RowCells<'_, Column>,
        column: Column,
        slot: &mut Option<String>,
        limit: usize,
    ) {
        let Some(value): Option<String> = cells.value(desk, column, text::free) else { return };
        self.first(column, cells);
        match slot {
            Some(said) if said.split("; ").any(|part| part == value) => {}
            Some(said) if said.len() + value.len() > limit => cells.report(desk, column, too_much(column, limit)),
            Some(said) => {
                said.push_str("; ");
                said.push_str(&value);
            }
            empty @ None => *empty = Some(value),
        }
    }

    /// The record that first spoke of a column; notes the present one if none did.
    fn first(&mut self, column: Column, cells: &RowCells<'_, Column>) -> Option<u32> {
        let (known, record) = (self.of(column), kept(cells.record));
        match known {
            Some(_) => {}
            None if record == self.named => self.with_name.insert(column),
            None => self.later.push((column, record)),
        }
        known
    }

    /// The record that first spoke of a column.
    fn of(&self, column: Column) -> Option<u32> {
        let later = || self.later.iter().find(|(other, _)| *other == column).map(|(_, record)| *record);
        if self.with_name.contains(column) { Some(self.named) } else { later() }
    }
}

fn too_much(column: Column, limit: usize) -> Fault {
    let message =
        format!("what the rows of one enclosure say in `{}` has more than {limit} characters together", column.name());
    Fault::new(code::CELL_TOO_LONG, message).help("shorten it, or say it on one row only")
}

fn report_contradiction(desk: &mut Desk, cells: &RowCells<'_, Column>, column: Column, record: u32) {
    let cell = desk.source.cell_of(column).unwrap_or(0);
    let there = desk.source.cell_place(index(record), cell);
    let message = format!(
        "`{}` of `{}` is `{}` here and `{}` in {} (line {})",
        column.name(),
        cells.text(Column::Enclosure),
        cells.text(column),
        there.cell,
        there.address,
        there.line
    );
    let help = "say the same on every row of the enclosure, or leave the further ones empty";
    cells.report(desk, column, Fault::new(code::CELLS_CONTRADICT, message).help(help));
}
