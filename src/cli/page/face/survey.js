// The survey as a table, its findings at their cells, and beside it what stands at the cell that has the focus.
import { beingWritten, correct, giveUp } from "./correcting.js";
import { CellSheet, letter } from "./cell.js";
import { button, count, el, fill, put } from "./element.js";
import { Filter } from "./filter.js";
import { Grid } from "./grid.js";
import { openHeaders } from "./headers.js";
import { mark, worst } from "./marks.js";
import { Pages } from "./pages.js";
import { go, place } from "./place.js";
import { banner, refused, say } from "./say.js";
import { about, site } from "./site.js";

const WHOLE = 2000;
const parts = {};
let header = [];
let asked = 0;
let target = null;

/** Builds the view once. */
export function build(section) {
  parts.filter = new Filter({ find: "Find in any cell", label: "Rows of the survey", more: [{ name: "faulty", words: "Only rows with findings", tick: true }], changed: () => load() });
  parts.note = el("p", { class: "quiet note" });
  parts.paper = el("p", { class: "paper-note" });
  parts.grid = new Grid({ label: "Survey", stuck: 2, draw: drawCell, press, moved: (row, index, column) => parts.sheet.show(row, column, header), rowState });
  const kept = parts.grid.rolling.kept;
  parts.grid.rolling.kept = () => (beingWritten() ? [...kept(), beingWritten().index] : kept());
  parts.sheet = new CellSheet({ correct: () => begin(parts.grid.index, parts.grid.column) });
  put(section, el("div", { class: "bar" }, parts.filter.element, el("div", { class: "deeds" }, button("Headers…", openHeaders))),
    parts.note, parts.paper, el("div", { class: "beside" }, parts.grid.element, parts.sheet.element));
}

/** Shows what the address says; `row` and `cell` lead to a cell. */
export function show(given) {
  target = given.row === undefined ? null : { row: Number(given.row), cell: Number(given.cell ?? 0) };
  note();
  const other = parts.filter.show(target ? {} : given);
  if (other || parts.grid.source.total === 0) load();
  else seek();
}

/** Draws again after the survey became another. */
export function refresh() {
  note();
  parts.filter.show(target ? {} : place().with);
  load();
}

function note() {
  const { correctable, why_not: why } = site()?.survey ?? {};
  parts.grid.setReadOnly(correctable === false);
  fill(parts.note, correctable === false ? `Read only: ${why ?? "this survey cannot be corrected here"}.` : "Enter or a double click corrects a cell. Enter saves, Esc gives up, Ctrl+Z undoes.");
}

async function load() {
  if (site()?.state !== "ready") return;
  asked += 1;
  const mine = asked;
  const values = { ...parts.filter.values };
  const [first, end] = parts.grid.rolling.sight();
  const pages = new Pages((from, rows, signal) => about("/api/table", { ...values, from, count: rows }, signal),
    () => arrived(), (failure) => refused("table", failure));
  try {
    await pages.ready(first, Math.max(end, first + 40));
  } catch (failure) {
    refused("table", failure);
    return;
  }
  if (mine !== asked) return;
  takeHeader(pages.answer.header);
  parts.grid.setSource(pages);
  lostRow();
  if (pages.total <= WHOLE) pages.ready(0, pages.total).catch(() => null); // so that it can be printed whole
  fill(parts.paper, pages.total > WHOLE ? `Only rows that were looked at are on this print; the survey has ${count(pages.total, "row")}.` : "");
  const narrowed = values.find || values.area || values.faulty;
  parts.filter.tell(narrowed ? `${count(pages.total, "row")} of ${site().survey.rows}` : count(pages.total, "row"));
  if (pages.total === 0) parts.sheet.clear();
  else if (!seek()) parts.sheet.show(pages.at(parts.grid.index), parts.grid.column, header);
}

/** Rows that were on their way are here: perhaps the one that the viewer waits for. */
function arrived() {
  parts.grid.redraw();
  const row = parts.grid.source.at(parts.grid.index);
  if (row && row.row !== parts.sheet.row?.row) parts.sheet.show(row, parts.grid.column, header);
}

/** A row that is being corrected and is no longer shown: what was written is told, not lost silently. */
function lostRow() {
  const open = beingWritten();
  const now = open && parts.grid.source.at(open.index);
  if (!open || now === undefined || now?.row === open.row) return;
  const written = open.input.value;
  giveUp(null);
  parts.grid.redraw();
  banner("correct", { words: `Not saved: the row of ${open.name} is no longer shown.`, hint: `You had written: ${written}` });
}

/** Goes to the cell that the address names. */
function seek() {
  if (!target) return false;
  const { row, cell } = target;
  if (row >= parts.grid.source.total) return false;
  target = null;
  parts.grid.goTo(row, cell + 1);
  return true;
}

function takeHeader(cells) {
  header = cells;
  const words = (text) => Math.max(7, Math.min(24, text.length + 4));
  parts.grid.setColumns([{ words: "Row", width: 8 }, ...cells.map((cell, at) => ({
    words: cell.text || "(empty)", small: letter(at), width: width(cell, words(cell.text)),
    title: cell.column && cell.column !== cell.text ? `read as ${cell.column}` : cell.column ? null : "not read as any column",
  }))]);
}

const WIDE = { name: 26, serves: 26, isolator_location: 26, before_isolating: 28, live_after: 28, note: 34, area: 18, enclosure: 15, isolator: 15, source: 16, locking: 16 };
function width(cell, least) {
  return Math.max(least, WIDE[cell.column] ?? 0);
}

function drawCell(cell, row, column) {
  if (column === 0) {
    cell.textContent = String(row.address);
    return;
  }
  const text = row.cells[column - 1] ?? "";
  const severities = row.marks.filter(([at]) => at === column - 1).map(([, severity]) => severity);
  const found = worst(severities);
  if ((cell.dataset.found ?? "") !== (found ?? "")) cell.dataset.found = found ?? "";
  cell.textContent = text; // in one go, as most cells are: a table of any length must roll smoothly
  if (found) cell.prepend(mark(found));
}

function rowState(element, row) {
  element.classList.toggle("first-of", Boolean(row && row.cells[1]));
}

function press(row, index, column, how) {
  if (column === 0) {
    if (row.enclosure !== null && how !== "click") go("enclosures", { show: row.cells[0], index: row.enclosure });
    return;
  }
  if (how === "enter" || how === "double") begin(index, column);
}

function begin(index, column) {
  const row = parts.grid.source.at(index);
  if (!row || column === 0) return;
  const { correctable, why_not: why } = site().survey;
  if (!correctable) {
    banner("correct", { words: "This survey is read only here.", hint: why });
    say(`Read only: ${why ?? ""}`);
    return;
  }
  parts.grid.goTo(index, column);
  const cell = column - 1;
  correct({
    element: parts.grid.cellAt(index, column), row: row.row, cell, index, before: row.cells[cell] ?? "",
    name: `${letter(cell)}${row.address}, ${header[cell]?.text ?? ""}`,
    told: (ended, saved) => {
      if (saved !== undefined) row.cells[cell] = saved; // until the survey is here as it was read again
      if (ended) parts.grid.redraw();
      parts.sheet.writing(!ended);
    },
  });
}
