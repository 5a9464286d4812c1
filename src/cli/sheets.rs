//! `sheets`: the sheet formats at hand, or one of them checked, described and drawn.

use std::fmt::Write as _;
use std::path::{Path, PathBuf};

use super::arguments::{General, Sheets};
use super::failure::Failure;
use super::outputs::Outputs;
use super::report::visible;
use super::terminal::Terminal;
use super::{pipeline, sizes};
use crate::length::{Rect, Size};
use crate::material::{Material, Materials, Process, rub_test};
use crate::sheets::{self, Page, Palette, Production, SheetFormat};
use crate::typesetting::Typesetter;
use crate::writers::pdf::{DocumentInfo, PdfWriter, Setup, encode};

/// Lists the formats, or shows one.
pub(super) fn perform(arguments: &Sheets, general: &General, terminal: Terminal) -> Result<(), Failure> {
    let (job, folder) = pipeline::load_job(None, general)?;
    let Some(name) = &arguments.name else {
        return Ok(terminal.print(&list(&job.sheets.values().cloned().collect::<Vec<_>>(), &folder, &job)?)?);
    };
    let mut findings = Vec::new();
    let format = sizes::format(name, Path::new(""), &job, &mut findings)?;
    terminal.print(&description(&format, &job.materials()))?;
    terminal.complain(&pipeline::render_findings(&findings, general.report, terminal.message_colour()));
    pipeline::judge(&findings, general.strict)?;
    let Some(output) = &arguments.output else { return Ok(()) };
    let info = DocumentInfo { title: format!("Sheet format {}", format.name), ..job.document_info() };
    let page = Page::plain(sheets::picture(&format, &Typesetter::new()));
    let mut outputs = Outputs::check(std::slice::from_ref(output), &[PathBuf::from(name)], general)?;
    let (name, written) = outputs.write(|out| {
        let mut pdf = PdfWriter::begin(out, &Setup::plain(info, Palette::Office))?;
        pdf.add(&encode(&page, &Palette::Office))?;
        pdf.finish()
    })?;
    outputs.publish()?;
    terminal.say(&format!("{}: {} page, true to size\n", visible(&name), written.pages));
    Ok(())
}

fn list(own: &[String], folder: &Path, job: &crate::job::Job) -> Result<String, Failure> {
    let mut text = String::new();
    for format in sheets::built_in() {
        text.push_str(&line(format));
    }
    for name in own.iter().filter(|name| sheets::find(name).is_none()) {
        text.push_str(&line(sizes::format(name, folder, job, &mut Vec::new())?.as_ref()));
    }
    Ok(text + "\nA format of your own is one small file in the same form: name it with `--sheet FILE`\n")
}

fn line(format: &SheetFormat) -> String {
    let paper = sheets::paper_name(format.paper);
    let count = if format.packing.is_some() { "any".to_owned() } else { format.cells.len().to_string() };
    let of = if format.packing.is_some() { "in" } else { "of" };
    format!(
        "{:21} {paper:13} {count:>3} {of} {:15} {}\n",
        format.name,
        format.cell().to_string(),
        visible(&format.title)
    )
}

fn description(format: &SheetFormat, materials: &Materials) -> String {
    let grid = format.grid();
    let rows = format.cells.len() / format.columns.max(1);
    let mut text = format!("{}: {}\n", visible(&format.name), visible(&format.title));
    let mut row = |name: &str, value: String| {
        let _ = writeln!(text, "  {name:20} {value}");
    };
    let (name, size) = (sheets::paper_name(format.paper), format.paper.to_string());
    row("paper", if name == size { size } else { format!("{name} ({size})") });
    if let Some(packing) = format.packing {
        row("room for labels", format!("{}, sizes mixed and packed", packing.area.size));
        row("border", borders(format.paper, packing.area));
        row("gap for the knife", format!("{} mm", packing.gap));
        if format.is_web() {
            row("length", format!("cut off after the last label, {} mm at most", format.paper.height));
        }
    } else {
        row("cells", format!("{} of {}, {} across and {rows} down", format.cells.len(), format.cell(), format.columns));
        row("first cell", format!("{} mm from the left, {} mm from the top", grid.origin.x, grid.origin.y));
    }
    row("corner radius", format!("{} mm", format.corner_radius));
    row("unprintable border", format!("{} mm", format.unprintable));
    if let Production::Press(press) = &format.production {
        row("bleed", format!("{} mm", press.bleed));
        row("room for marks", format!("{} mm", press.marks));
        row("cutting contour", format!("spot colour `{}`", visible(&press.contour)));
    }
    if let Production::Engraving(engraving) = &format.production {
        row("tool", format!("{} mm wide", engraving.tool));
    }
    row("marked by", format.process.name().to_owned());
    row("stock", format.stock.name().to_owned());
    row("material", visible(&format.material));
    if let Some(class) = materials.find(&format.material) {
        known(class, format.process, &mut row);
    }
    text
}

/// What is known of a class, and of its mark.
fn known(class: &Material, process: Process, row: &mut impl FnMut(&str, String)) {
    let marked = |ways: &[Process], is_with: &str| {
        if ways.contains(&process) { format!("yes, marked by {process}") } else { format!("no{is_with}") }
    };
    let shielded = |ways: &[Process]| marked(ways, if ways.is_empty() { "" } else { ", marked so its mark lies open" });
    row("what it is", visible(&class.words));
    row("service temperature", format!("{} to {} °C", class.coldest, class.hottest));
    row("usual life", format!("{} indoors, {} in the open", class.indoor_years, class.outdoor_years));
    row("washing down", shielded(&class.washdown_marked_by));
    row("solvents", shielded(&class.solvent_marked_by));
    row("rub test", rub_test(class, process).to_string());
    row("conducts", if class.conductive { "yes: keep it off live parts" } else { "no" }.to_owned());
    row("surfaces", class.surfaces.iter().map(|surface| surface.name()).collect::<Vec<_>>().join(", "));
    row("note", visible(&class.notes));
    row("figures from", visible(&class.basis));
}

/// From the edges of the paper to the room for labels.
fn borders(paper: Size, area: Rect) -> String {
    let (left, top) = (area.origin.x, area.origin.y);
    let (right, foot) = (paper.width - area.right(), paper.height - area.bottom());
    format!("{left} mm left, {right} mm right, {top} mm at the top, {foot} mm at the foot")
}
