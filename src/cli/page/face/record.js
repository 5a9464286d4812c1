// The record: what must be done since the survey changed, the most dangerous first, and where every notice stands. Notices
// that are chosen here are marked as printed, fixed, replaced, inspected or withdrawn.
import { button, count, el, figures, fill, offer, put } from "./element.js";
import { changeList, countLine } from "./changes.js";
import { findingList } from "./finding.js";
import { Filter } from "./filter.js";
import { Grid } from "./grid.js";
import { Marking } from "./marking.js";
import { Listed } from "./pages.js";
import { place } from "./place.js";
import { prose, refused, say } from "./say.js";
import { about, site, version } from "./site.js";

const COLUMNS = [
  { key: "chosen", words: "Choose", width: 10 },
  { key: "number", words: "Notice", width: 26 },
  { key: "stands", words: "Stands", width: 46 },
  { key: "revision", words: "Revision", width: 11 },
  { key: "condition", words: "Condition", width: 13 },
  { key: "since", words: "Since", width: 13 },
  { key: "area", words: "Area", width: 26 },
];
const parts = {};
const chosen = new Set();
let all = [];
let loaded = null;

/** Builds the view once. */
export function build(section) {
  parts.filter = new Filter({
    find: "Find a notice", label: "Notices in the record",
    more: [{ name: "state", words: "State", options: [["", "Any"]] }, { name: "condition", words: "Condition", options: [["", "Any"]] }],
    changed: () => narrow(),
  });
  parts.grid = new Grid({ label: "Notices in the record: Space chooses", stuck: 1, many: true, draw, press: (row, index, column, how) => how !== "double" && toggle(row), rowState });
  parts.grid.setReadOnly(true);
  parts.marking = new Marking({ chosen: () => [...chosen], marked: () => { chosen.clear(); } });
  parts.hint = el("div");
  parts.counts = el("div", { class: "counted" });
  parts.since = el("section", { class: "since", "aria-label": "Since the last record" });
  parts.all = button("Choose all shown", () => chooseShown(true));
  parts.none = button("Choose none", () => chooseShown(false));
  put(section, parts.counts, parts.hint, el("div", { class: "beside record" },
    el("div", { class: "stack" }, el("div", { class: "bar" }, parts.filter.element, el("div", { class: "deeds" }, parts.all, parts.none)), parts.grid.element),
    el("div", { class: "side" }, parts.marking.element, parts.since)));
}

/** Shows what the address says. */
export async function show(given) {
  const other = parts.filter.show(given);
  if (loaded !== version()) await refresh();
  else if (other) narrow();
}

/** Draws again after the survey or the record became another. */
export async function refresh() {
  if (site()?.state !== "ready") return;
  const mine = version();
  let answer;
  try {
    answer = await about("/api/record");
  } catch (failure) {
    refused("record", failure);
    return;
  }
  if (mine !== version()) return;
  loaded = mine;
  all = answer.notices ?? [];
  fill(parts.hint, !answer.record && el("div", { class: "banner banner-advice" }, el("div", { class: "banner-words" },
    el("p", {}, "No record is kept of these notices."), answer.hint && el("p", { class: "quiet" }, prose(answer.hint)))), findingList([...answer.findings ?? [], ...answer.record_findings ?? []]));
  parts.marking.allow(Boolean(answer.record));
  fill(parts.counts, answer.record && [el("span", { class: "quiet" }, "Since the last record"), countLine(answer.counts)]);
  fill(parts.since, answer.record && [el("h3", {}, "Since the last record"), changeList(answer.changes ?? [])]);
  const values = (key) => [["", "Any"], ...[...new Set(all.map((one) => one[key]).filter(Boolean))].sort().map((words) => [words, words])];
  const wanted = place().view === "record" ? place().with : parts.filter.values;
  for (const key of ["state", "condition"]) offer(parts.filter.controls.get(key), values(key), wanted[key] ?? "");
  parts.filter.show({ ...parts.filter.values, ...wanted });
  const known = new Set(all.map((one) => one.number));
  chosen.forEach((number) => known.has(number) || chosen.delete(number));
  parts.grid.setColumns(COLUMNS);
  narrow();
}

let shown = [];
function narrow() {
  const { find = "", area, state, condition } = parts.filter.values;
  const sought = find.trim().toLocaleLowerCase();
  shown = all.filter((one) => (!area || one.area === area) && (!state || one.state === state) && (!condition || one.condition === condition)
    && (!sought || one.number.toLocaleLowerCase().includes(sought)));
  parts.grid.setSource(new Listed(shown));
  parts.filter.tell(shown.length === all.length ? count(shown.length, "notice") : `${count(shown.length, "notice")} of ${figures(all.length)}`);
  parts.marking.tell();
}

function draw(cell, row, column) {
  const { key } = COLUMNS[column];
  if (key === "chosen") {
    const on = chosen.has(row.number);
    fill(cell, el("span", { class: on ? "box on" : "box", "aria-hidden": "true" }), el("span", { class: "unseen" }, on ? "chosen" : "not chosen"));
  } else {
    cell.classList.toggle("strong", key === "number");
    cell.textContent = row[key] ?? "";
  }
}

function rowState(element, row) {
  element.setAttribute("aria-selected", String(Boolean(row && chosen.has(row.number))));
}

function toggle(row) {
  if (!chosen.delete(row.number)) chosen.add(row.number);
  parts.grid.redraw();
  parts.marking.tell();
  say(`${row.number} ${chosen.has(row.number) ? "chosen" : "not chosen"}; ${count(chosen.size, "notice")} chosen.`);
}

function chooseShown(on) {
  if (on) shown.forEach((one) => chosen.add(one.number));
  else chosen.clear();
  parts.grid.redraw();
  parts.marking.tell();
  say(`${count(chosen.size, "notice")} chosen.`);
}
