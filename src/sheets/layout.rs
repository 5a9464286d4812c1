//! Reads a sheet format from its description and checks it.

mod machine;

use std::ops::Range;
use std::sync::Arc;

use serde::Deserialize;
use toml::Spanned;

use super::{Packing, SheetFormat, Stock, parse_size};
use crate::finding::{Code, Finding, Place, code};
use crate::length::{Length, Point, Rect, Size};
use crate::limits::Limits;
use crate::material::{self, Materials, Process};
use machine::{EngravingDescription, PressDescription, RollDescription};

/// A sheet format from the text of its description, named after its file, of a material that comes with the program.
/// `None` beside at least one error.
#[must_use]
pub fn read(name: &str, file: &str, text: &str, limits: &Limits) -> (Option<SheetFormat>, Vec<Finding>) {
    read_knowing(material::built_in(), name, file, text, limits)
}

/// The same with the classes of material of a run.
#[must_use]
pub fn read_knowing(
    materials: &Materials,
    name: &str,
    file: &str,
    text: &str,
    limits: &Limits,
) -> (Option<SheetFormat>, Vec<Finding>) {
    let source = Source { file, text };
    match toml::from_str::<Description>(text) {
        Ok(description) => Check { source, limits, materials, findings: Vec::new() }.format(name, &description),
        Err(error) => {
            let span = error.span().unwrap_or_default();
            (None, vec![source.finding(code::LAYOUT_NOT_READABLE, &span, "", in_plain_words(error.message()))])
        }
    }
}

/// The description as it stands in the file. Lengths are in millimetres.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Description {
    title: String,
    paper: Spanned<String>,
    orientation: Orientation,
    /// The cells, unless there is `packing`.
    cell: Option<Spanned<String>>,
    columns: Option<Spanned<usize>>,
    rows: Option<Spanned<usize>>,
    left: Option<Spanned<f64>>,
    top: Option<Spanned<f64>>,
    gap_across: Option<Spanned<f64>>,
    gap_down: Option<Spanned<f64>>,
    packing: Option<Spanned<PackingDescription>>,
    corner_radius: Spanned<f64>,
    unprintable: Spanned<f64>,
    cut_marks: bool,
    material: Spanned<String>,
    process: Spanned<Process>,
    #[serde(default)]
    stock: Stock,
    roll: Option<Spanned<RollDescription>>,
    press: Option<Spanned<PressDescription>>,
    engraving: Option<Spanned<EngravingDescription>>,
}

/// Labels of several sizes on one sheet.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct PackingDescription {
    /// From the edges of the paper to the room for labels.
    border: Spanned<f64>,
    /// The same at the top and at the foot, where the margin has something to say.
    top: Option<Spanned<f64>>,
    foot: Option<Spanned<f64>>,
    /// Between two labels.
    gap: Spanned<f64>,
}

/// How the paper is looked at.
#[derive(Clone, Copy, Deserialize)]
#[serde(rename_all = "kebab-case")]
enum Orientation {
    Portrait,
    Landscape,
}

/// No measure on a sheet is larger, in millimetres; more would be a slip of the key.
const LARGEST: f64 = 2_000.0;

struct Check<'a> {
    source: Source<'a>,
    limits: &'a Limits,
    materials: &'a Materials,
    findings: Vec<Finding>,
}

impl Check<'_> {
    fn format(mut self, name: &str, description: &Description) -> (Option<SheetFormat>, Vec<Finding>) {
        let format = self.values(name, description);
        if let Some(format) = &format {
            self.cells(format, description);
        }
        let refused = self.findings.iter().any(|finding| finding.severity() == crate::finding::Severity::Error);
        (format.filter(|_| !refused), self.findings)
    }

    /// Every value by itself; `None` if some value cannot be used.
    fn values(&mut self, name: &str, description: &Description) -> Option<SheetFormat> {
        let production = self.production(description);
        let material = self.material(&description.material);
        let corner_radius = self.measure("corner_radius", &description.corner_radius);
        let unprintable = self.measure("unprintable", &description.unprintable);
        let paper = self.paper(description)?;
        let room = match &description.packing {
            Some(packing) => self.packed(packing, paper, description),
            None => self.in_cells(paper, description),
        };
        let Room { cells, columns, packing } = room?;
        Some(SheetFormat {
            name: name.to_owned(),
            title: description.title.clone(),
            paper,
            cells,
            columns,
            packing,
            corner_radius: corner_radius?,
            unprintable: unprintable?,
            cut_marks: description.cut_marks,
            material: material?,
            process: *description.process.get_ref(),
            stock: description.stock,
            production: production?,
        })
    }

    /// A class of material by its name.
    fn material(&mut self, name: &Spanned<String>) -> Option<Arc<str>> {
        if self.materials.find(name.get_ref()).is_none() {
            let finding = self.materials.not_known(name.get_ref());
            self.findings.push(finding.at(self.source.place(&name.span(), "material")));
            return None;
        }
        Some(Arc::from(name.get_ref().as_str()))
    }

    /// Room for labels of any size.
    fn packed(
        &mut self,
        packing: &Spanned<PackingDescription>,
        paper: Size,
        description: &Description,
    ) -> Option<Room> {
        let given = [
            ("cell", description.cell.is_some()),
            ("columns", description.columns.is_some()),
            ("rows", description.rows.is_some()),
            ("left", description.left.is_some()),
            ("top", description.top.is_some()),
            ("gap_across", description.gap_across.is_some()),
            ("gap_down", description.gap_down.is_some()),
        ];
        if let Some((key, _)) = given.into_iter().find(|(_, given)| *given) {
            let message = format!("`{key}` belongs to cells, and `[packing]` has none");
            self.report(code::LAYOUT_NOT_READABLE, &packing.span(), "packing", message);
            return None;
        }
        let described = packing.get_ref();
        let border = self.measure("border", &described.border)?;
        let top = described.top.as_ref().map_or(Some(border), |top| self.measure("top", top))?;
        let foot = described.foot.as_ref().map_or(Some(border), |foot| self.measure("foot", foot))?;
        let gap = self.measure("gap", &described.gap)?;
        let size = Size::new(paper.width - border * 2, paper.height - top - foot);
        if size.width <= Length::ZERO || size.height <= Length::ZERO {
            let message = "with these borders there is no room for labels".to_owned();
            self.report(code::LAYOUT_VALUE, &described.border.span(), "border", message);
            return None;
        }
        let area = Rect::new(Point::new(border, top), size);
        Some(Room { cells: Vec::new(), columns: 0, packing: Some(Packing { area, gap }) })
    }

    /// Equal cells.
    fn in_cells(&mut self, paper: Size, description: &Description) -> Option<Room> {
        let (cell, columns, rows, left, top) = (
            self.needed("cell", description.cell.as_ref()),
            self.needed("columns", description.columns.as_ref()),
            self.needed("rows", description.rows.as_ref()),
            self.needed("left", description.left.as_ref()),
            self.needed("top", description.top.as_ref()),
        );
        let (cell, columns, rows) = (cell?, columns?, rows?);
        let size = self.size("cell", cell).map(|size| lying(cell.get_ref(), size));
        let counts = self.counts(columns, rows);
        let (left, top) = (self.measure("left", left?), self.measure("top", top?));
        let across = self.gap("gap_across", description.gap_across.as_ref(), columns);
        let down = self.gap("gap_down", description.gap_down.as_ref(), rows);
        let (columns, rows) = counts?;
        let grid =
            Grid { corner: Point::new(left?, top?), cell: size?, gaps: Size::new(across?, down?), columns, rows };
        self.inside(&grid, paper, cell)?;
        Some(Room { cells: grid.cells(), columns, packing: None })
    }

    /// A key that cells need.
    fn needed<'b, T>(&mut self, key: &str, value: Option<&'b Spanned<T>>) -> Option<&'b Spanned<T>> {
        if value.is_none() {
            let message = format!("missing field `{key}`; without cells a sheet format needs `[packing]`");
            self.report(code::LAYOUT_NOT_READABLE, &(0..0), key, message);
        }
        value
    }

    /// Whether the cells end on the paper.
    fn inside(&mut self, grid: &Grid, paper: Size, cell: &Spanned<String>) -> Option<()> {
        let (right, bottom) = grid.end();
        if right <= paper.width.to_mm() && bottom <= paper.height.to_mm() {
            return Some(());
        }
        let message =
            format!("the cells end {right} mm from the left and {bottom} mm from the top of a paper of {paper}");
        self.report(code::CELLS_OUTSIDE_PAPER, &cell.span(), "cell", message);
        None
    }

    /// The cells against the border of the paper and their own corners.
    fn cells(&mut self, format: &SheetFormat, description: &Description) {
        if !format.printable().contains(format.grid()) {
            let message = format!("cells reach into the border of {} mm that is not printed", format.unprintable);
            self.report(code::CELLS_IN_UNPRINTABLE_BORDER, &description.unprintable.span(), "unprintable", message);
        }
        if format.unprintable * 2 >= format.paper.width.min(format.paper.height) {
            let message = format!("with a border of {} mm nothing of the paper is printed", format.unprintable);
            self.report(code::LAYOUT_VALUE, &description.unprintable.span(), "unprintable", message);
        }
        self.bleeds(format, description);
        let cell = format.cell();
        if format.corner_radius * 2 > cell.width.min(cell.height) {
            let message = format!("a corner of {} mm is too large for a cell of {cell}", format.corner_radius);
            self.report(code::LAYOUT_VALUE, &description.corner_radius.span(), "corner_radius", message);
        }
    }

    fn paper(&mut self, description: &Description) -> Option<Size> {
        let paper = self.size("paper", &description.paper)?;
        let lies = paper.width > paper.height;
        Some(match description.orientation {
            Orientation::Portrait if lies => paper.turned(),
            Orientation::Landscape if !lies => paper.turned(),
            Orientation::Portrait | Orientation::Landscape => paper,
        })
    }

    fn counts(&mut self, across: &Spanned<usize>, down: &Spanned<usize>) -> Option<(usize, usize)> {
        let (columns, rows) = (*across.get_ref(), *down.get_ref());
        let cells = columns.saturating_mul(rows);
        let most = self.limits.sheet_cells;
        if (1..=most).contains(&cells) {
            return Some((columns, rows));
        }
        let message = format!(
            "{columns} columns and {rows} rows give {cells} cells, and a sheet has 1 to {most} \
                               (`sheet_cells` under [limits] in the job file)"
        );
        self.report(code::LAYOUT_VALUE, &across.span(), "columns", message);
        None
    }

    fn size(&mut self, key: &str, value: &Spanned<String>) -> Option<Size> {
        let size = parse_size(value.get_ref());
        if size.is_none() {
            let message = format!(
                "`{}` is neither `A3` to `A9` or `Letter` nor a size in millimetres, such as `105x74`",
                value.get_ref()
            );
            self.report(code::LAYOUT_VALUE, &value.span(), key, message);
        }
        size
    }

    fn measure(&mut self, key: &str, value: &Spanned<f64>) -> Option<Length> {
        let millimetres = *value.get_ref();
        if (0.0..=LARGEST).contains(&millimetres) {
            return Some(Length::mm(millimetres));
        }
        let message = format!("`{key}` is {millimetres:?} mm and must lie between 0 and {LARGEST}");
        self.report(code::LAYOUT_VALUE, &value.span(), key, message);
        None
    }

    fn gap(&mut self, key: &str, gap: Option<&Spanned<f64>>, count: &Spanned<usize>) -> Option<Length> {
        match gap {
            Some(gap) if *gap.get_ref() < 0.0 => {
                let message = format!("with a gap of {} mm each cell lies over the next", gap.get_ref());
                self.report(code::CELLS_OVERLAP, &gap.span(), key, message);
                None
            }
            Some(gap) => self.measure(key, gap),
            None if *count.get_ref() <= 1 => Some(Length::ZERO),
            None => {
                let message = format!("`{key}` is missing, and there is more than one cell in that direction");
                self.report(code::LAYOUT_VALUE, &count.span(), key, message);
                None
            }
        }
    }

    fn report(&mut self, code: Code, span: &Range<usize>, key: &str, message: String) {
        self.findings.push(self.source.finding(code, span, key, message));
    }
}

/// Where the labels lie.
struct Room {
    cells: Vec<Rect>,
    columns: usize,
    packing: Option<Packing>,
}

/// Equal cells in rows and columns.
struct Grid {
    corner: Point,
    cell: Size,
    gaps: Size,
    columns: usize,
    rows: usize,
}

impl Grid {
    /// Right and lower edge of the last cell in millimetres, which may lie beyond the range of a length.
    fn end(&self) -> (f64, f64) {
        let end = |start: Length, count: usize, size: Length, gap: Length| {
            let count = u32::try_from(count).map_or(f64::MAX, f64::from);
            start.to_mm() + count * size.to_mm() + (count - 1.0) * gap.to_mm()
        };
        (
            end(self.corner.x, self.columns, self.cell.width, self.gaps.width),
            end(self.corner.y, self.rows, self.cell.height, self.gaps.height),
        )
    }

    fn cells(&self) -> Vec<Rect> {
        let step = |count: usize, size: Length, gap: Length| (size + gap) * i32::try_from(count).unwrap_or(i32::MAX);
        let place = |row: usize, column: usize| {
            let right = step(column, self.cell.width, self.gaps.width);
            let down = step(row, self.cell.height, self.gaps.height);
            Rect::new(self.corner + Point::new(right, down), self.cell)
        };
        (0..self.rows).flat_map(|row| (0..self.columns).map(move |column| place(row, column))).collect()
    }
}

/// A cell whose size is given by name lies, as notices do; one in millimetres stands as it is written.
fn lying(text: &str, size: Size) -> Size {
    if text.trim_start().starts_with(|first: char| first.is_alphabetic()) { size.turned() } else { size }
}

/// The description's file, for places.
struct Source<'a> {
    file: &'a str,
    text: &'a str,
}

impl Source<'_> {
    fn finding(&self, code: Code, span: &Range<usize>, key: &str, message: String) -> Finding {
        Finding::new(code, message).at(self.place(span, key))
    }

    fn place(&self, span: &Range<usize>, key: &str) -> Place {
        let before = self.text.get(..span.start).unwrap_or(self.text);
        let line_start = before.rfind('\n').map_or(0, |end| end + 1);
        let column = before.get(line_start..).unwrap_or_default().chars().count() + 1;
        let line = before.matches('\n').count() + 1;
        let line_text = self.text.get(line_start..).and_then(|rest| rest.lines().next()).unwrap_or_default();
        Place {
            file: Arc::from(self.file),
            line: u32::try_from(line).unwrap_or(u32::MAX),
            column: u32::try_from(column).unwrap_or(u32::MAX),
            column_name: key.to_owned(),
            address: String::new(),
            cell: self.text.get(span.clone()).unwrap_or_default().to_owned(),
            line_text: line_text.to_owned(),
        }
    }
}

/// What the reader of TOML says, on one line and without the names of the program's own types.
#[must_use]
pub fn in_plain_words(message: &str) -> String {
    const WORDS: [(&str, &str); 9] = [
        ("invalid type: map, expected a string", "a bare date or a table, expected words in quotation marks"),
        ("expected a string", "expected words in quotation marks"),
        ("expected a nonzero u64", "expected a whole number from 1"),
        ("expected a nonzero usize", "expected a whole number from 1"),
        ("expected u32", "expected a whole number from 0"),
        ("expected u64", "expected a whole number from 0"),
        ("expected usize", "expected a whole number from 0"),
        ("expected f64", "expected a number"),
        ("expected a map", "expected a table"),
    ];
    let plain = WORDS.iter().fold(message.to_owned(), |text, (jargon, plain)| text.replace(jargon, plain));
    plain.lines().collect::<Vec<_>>().join(", ")
}
