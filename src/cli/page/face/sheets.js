// What is to be made: the choice of notices and of sheets at the left, the sheets themselves at the right, and the buttons
// that make them. Every change is planned again, so that what is seen is what is made.
import { post } from "./ask.js";
import { button, choice, el, field, fill, offer, put, settled, tick } from "./element.js";
import { FormatChoice } from "./formats.js";
import { KINDS } from "./notices.js";
import { alter } from "./place.js";
import { drawPlan, onSheets } from "./plan.js";
import { copied, startWork } from "./printing.js";
import { refused, say } from "./say.js";
import { again, site, version } from "./site.js";

const WHATS = [
  ["labels", "Notices", "PDF of the sheets"], ["approval", "Approval pages", "PDF, beside the reasons"],
  ["schedule", "Schedule", "PDF"], ["schedule-csv", "Schedule", "CSV"], ["schedule-xlsx", "Schedule", "workbook"],
  ["cards", "Isolation cards", "PDF"], ["fixing", "Fixing list", "PDF"],
];
const parts = {};
let loaded = null;
let asked = 0;

/** Builds the view once. */
export function build(section) {
  parts.formats = new FormatChoice(() => changed());
  parts.area = choice([["", "All areas"]]);
  parts.kind = choice(KINDS);
  parts.only = el("input", { type: "text", autocomplete: "off", spellcheck: "false" });
  parts.used = el("input", { type: "text", autocomplete: "off", inputmode: "numeric", pattern: "[0-9, \\-]*" });
  parts.copies = el("input", { type: "number", min: "1", max: "999", value: "1" });
  parts.printer = choice([["", "None measured"]]);
  parts.faulty = tick("Leave out enclosures with errors", false, () => changed());
  const later = settled(300, () => changed());
  for (const input of [parts.only, parts.used, parts.copies]) input.addEventListener("input", later);
  for (const select of [parts.area, parts.kind, parts.printer]) select.addEventListener("change", () => changed());
  parts.plan = el("div", { class: "plan" });
  parts.message = el("div", { class: "plan-message" });
  parts.works = el("div", { class: "works" });
  parts.command = el("code", { class: "command", tabindex: "0" });
  const form = el("form", { class: "choice", "aria-label": "What is made", on: { submit: (event) => { event.preventDefault(); changed(); } } },
    el("fieldset", {}, el("legend", {}, "Which notices"),
      field("Area", parts.area), field("Kind", parts.kind),
      field("Only", parts.only, "Name or pattern of enclosure, device or notice, such as CH3-*"), parts.faulty.label),
    el("fieldset", {}, el("legend", {}, "On which sheets"),
      parts.formats.element,
      field("Used cells of the first sheet", parts.used, "Such as 1,4-6; or press the cells on the sheet"),
      field("Copies of each", parts.copies), field("Printer", parts.printer)));
  put(section, el("div", { class: "beside sheets" },
    el("div", { class: "side choices" }, form, el("h3", {}, "The same on the command line"),
      el("div", { class: "copy" }, parts.command, button("Copy", (event) => copied(parts.command.textContent, event.currentTarget)))),
    el("div", { class: "roll paper-roll", tabindex: "0", role: "region", "aria-label": "Sheets" }, making(),
      el("p", { class: "paper-note" }, "The sheets are not on this print: open the file that is made here, and print it at actual size."), parts.works, parts.message, parts.plan)));
}

function making() {
  parts.record = tick("Keep in the record that they were printed", false, (on) => { parts.who.hidden = !on; });
  parts.date = el("input", { type: "date" });
  parts.by = el("input", { type: "text", autocomplete: "name" });
  parts.who = el("div", { hidden: true, class: "who" }, field("Day", parts.date), field("Printed by", parts.by));
  return el("fieldset", { class: "making" }, el("legend", { class: "unseen" }, "Make"),
    el("div", { class: "makes" }, WHATS.map(([what, words, form], at) =>
      button([words, el("span", { class: "make-form" }, form)], () => make(what), { class: at === 0 ? "main make" : "make" }))),
    el("div", { class: "keep" }, parts.record.label, parts.who));
}

/** Shows what the address says. */
export async function show(given) {
  const { area = "", kind = "", only = "", used = "", copies = "1", printer = "", sheets = "", faulty = "" } = given;
  offers();
  const before = JSON.stringify(chosen());
  parts.area.value = area;
  parts.kind.value = kind;
  parts.only.value = only;
  parts.used.value = used;
  parts.copies.value = copies;
  parts.printer.value = [...parts.printer.options].some((one) => one.value === printer) ? printer : "";
  parts.faulty.box.checked = faulty === "1";
  parts.formats.choose(sheets ? sheets.split(" ") : []);
  if (loaded !== version() || JSON.stringify(chosen()) !== before) await plan();
}

/** Draws again after the survey became another. */
export async function refresh() {
  offers();
  await plan();
}

function offers() {
  offer(parts.area, [["", "All areas"], ...(site()?.areas ?? []).map((area) => [area, area])]);
  offer(parts.printer, [["", "None measured"], ...(site()?.printers ?? []).map((name) => [name, name])]);
  parts.date.value ||= site()?.today ?? "";
  parts.date.max = site()?.today ?? "";
  parts.record.box.disabled = !site()?.record;
  parts.formats.load();
}

function chosen() {
  return {
    sheets: parts.formats.chosen(), area: parts.area.value, only: parts.only.value.trim(), kind: parts.kind.value,
    used_cells: parts.used.value.replace(/\s/g, ""), copies: Math.max(1, Number.parseInt(parts.copies.value, 10) || 1),
    printer: parts.printer.value, leave_out_faulty: parts.faulty.box.checked,
  };
}

function changed() {
  const now = chosen();
  alter({ sheets: now.sheets.join(" "), area: now.area, only: now.only, kind: now.kind, used: now.used_cells, copies: now.copies === 1 ? "" : now.copies, printer: now.printer, faulty: now.leave_out_faulty });
  plan(true);
}

async function plan(byViewer = false) {
  if (site()?.state !== "ready") return;
  asked += 1;
  const mine = asked;
  parts.plan.setAttribute("aria-busy", "true");
  try {
    const answer = await post("/api/plan", { v: version(), ...chosen() });
    if (mine !== asked) return;
    loaded = version();
    fill(parts.command, answer.command);
    if (byViewer) say(answer.ready ? onSheets(answer) : answer.message ?? "nothing can be printed");
    drawPlan(parts.message, parts.plan, answer, { used: parts.used.value, mark, take: (format) => parts.formats.take([format]), leave: parts.faulty.box.checked ? null : leaveOut });
  } catch (failure) {
    if (mine !== asked) return;
    if (failure.kind === "stale") again();
    fill(parts.message);
    fill(parts.plan);
    refused("plan", failure);
  } finally {
    if (mine === asked) parts.plan.removeAttribute("aria-busy");
  }
}

/** Marks cells of the first sheet as used, as the field says it. */
function mark(cells) {
  parts.used.value = cells;
  say(cells ? `Used cells: ${cells}.` : "No cell is used.");
  changed();
}

function leaveOut() {
  parts.faulty.box.checked = true;
  parts.faulty.box.focus();
  changed();
}

async function make(what) {
  const recorded = what === "labels" && parts.record.box.checked;
  try {
    const { work } = await post("/api/print", { v: version(), ...chosen(), what, record: recorded, date: recorded ? parts.date.value : "", by: recorded ? parts.by.value.trim() : "" });
    const [, words, form] = WHATS.find(([name]) => name === what);
    startWork(parts.works, work, `${words}, ${form}`, recorded ? again : null);
  } catch (failure) {
    if (failure.kind === "stale") again();
    refused("print", failure);
  }
}
