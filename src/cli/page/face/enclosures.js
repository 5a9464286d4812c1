// All enclosures as a list of any length, and beside it the sheet of the one that is open.
import { el, count, figures, fill, offer, put } from "./element.js";
import { EnclosureSheet } from "./enclosure.js";
import { Filter } from "./filter.js";
import { Grid } from "./grid.js";
import { mark } from "./marks.js";
import { Listed } from "./pages.js";
import { address, go, place } from "./place.js";
import { refused } from "./say.js";
import { about, site, version } from "./site.js";

const COLUMNS = [
  { key: "designation", words: "Enclosure", width: 16 },
  { key: "found", words: "Findings", width: 12 },
  { key: "need", words: "Notice", width: 13 },
  { key: "points", words: "Points", width: 9, title: "points of isolation" },
  { key: "to_earth", words: "Voltages", width: 30 },
  { key: "proof", words: "Proof", width: 17 },
  { key: "name", words: "Name", width: 28 },
  { key: "area", words: "Area", width: 18 },
];
const parts = {};
let all = [];
let loaded = null;
let opened = "";

/** Builds the view once. */
export function build(section) {
  parts.filter = new Filter({
    find: "Find an enclosure", label: "Enclosures",
    more: [
      { name: "need", words: "Notice", options: [["", "Any"]] },
      { name: "proof", words: "Proof", options: [["", "Any"]] },
      { name: "faulty", words: "Only with errors or warnings", tick: true },
    ],
    changed: () => narrow(),
  });
  parts.grid = new Grid({ label: "Enclosures", draw, press: (row, index, column, how) => how !== "double" && open(row), rowState });
  parts.grid.setReadOnly(true);
  parts.sheet = new EnclosureSheet();
  parts.beside = el("div", { class: "beside list-and-sheet" }, parts.grid.element, parts.sheet.element);
  put(section, el("div", { class: "bar" }, parts.filter.element), parts.beside);
}

/** Shows what the address says. */
export async function show(given) {
  const other = parts.filter.show(given);
  if (loaded !== version()) await load();
  else if (other) narrow();
  openNamed(given.show ?? "", given.index);
}

/** Draws again after the survey became another. */
export async function refresh() {
  await load();
  openNamed(place().with.show ?? "", undefined, true);
}

async function load() {
  if (site()?.state !== "ready") return;
  const mine = version();
  try {
    all = (await about("/api/enclosures")).enclosures;
  } catch (failure) {
    refused("enclosures", failure);
    return;
  }
  if (mine !== version()) return;
  loaded = mine;
  const values = (key) => [["", "Any"], ...[...new Set(all.map((one) => one[key]))].sort().map((words) => [words, spelled(words)])];
  for (const key of ["need", "proof"]) offer(parts.filter.controls.get(key), values(key), parts.filter.values[key] ?? "");
  parts.grid.setColumns(COLUMNS);
  narrow();
}

function narrow() {
  const { find = "", area, need, proof, faulty } = parts.filter.values;
  const sought = find.trim().toLocaleLowerCase();
  const rows = all.filter((one) => (!area || one.area === area) && (!need || one.need === need) && (!proof || one.proof === proof)
    && (!faulty || one.errors + one.warnings > 0)
    && (!sought || `${one.designation}\n${one.name}\n${one.area}`.toLocaleLowerCase().includes(sought)));
  parts.grid.setSource(new Listed(rows));
  parts.filter.tell(rows.length === all.length ? count(rows.length, "enclosure") : `${count(rows.length, "enclosure")} of ${figures(all.length)}`);
}

function draw(cell, row, column) {
  const { key } = COLUMNS[column];
  if (key === "found") {
    fill(cell, row.errors > 0 && [mark("error"), `${row.errors} `], row.warnings > 0 && [mark("warning"), String(row.warnings)]);
  } else if (key === "designation") {
    fill(cell, el("span", { class: "strong go" }, row.designation));
  } else {
    cell.dataset.kind = key === "points" ? "figure" : "";
    cell.textContent = key === "need" || key === "proof" ? spelled(row[key]) : String(row[key] ?? "unknown");
  }
}

/** A word of the program as it is read: `not-needed` as two words; what is not known is called so. */
function spelled(word) {
  return String(word ?? "unknown").replaceAll("-", " ");
}

function rowState(element, row) {
  if (row && row.designation === opened) element.setAttribute("aria-selected", "true");
  else element.removeAttribute("aria-selected");
}

function open(row) {
  go("enclosures", { ...parts.filter.values, show: row.designation });
}

/** Opens the sheet of the enclosure of this name, or none. */
function openNamed(name, index, again = false) {
  const other = opened !== name;
  opened = name;
  parts.beside.classList.toggle("opened", name !== "");
  parts.beside.parentElement.classList.toggle("sheet-opened", name !== "");
  const found = name === "" ? null : all.find((one) => one.designation === name) ?? all[Number(index)] ?? null;
  if (other) parts.grid.redraw();
  const back = address("enclosures", parts.filter.values);
  if (name === "") {
    const left = parts.sheet.element.contains(document.activeElement);
    parts.sheet.none(all.length > 0 ? "Choose an enclosure in the list to see its sheet." : "");
    if (other && (left || document.activeElement === document.body)) parts.grid.goTo(parts.grid.index, 0);
  } else if (found === null) {
    if (loaded !== null) parts.sheet.none(`The survey has no enclosure ${name}.`, back);
  } else {
    parts.sheet.show(found.index, { back, focus: other && !again });
    const at = parts.grid.source.rows.indexOf(found);
    if (other && at >= 0 && !parts.grid.element.contains(document.activeElement)) parts.grid.goTo(at, 0, false);
  }
}
