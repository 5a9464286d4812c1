// The sheets as they will come out, drawn to scale with the notices in their cells. On the first sheet a press marks a cell
// as used up.
import { button, count, el, figures, fill } from "./element.js";
import { errorsFirst } from "./finding.js";
import { mark as severityMark } from "./marks.js";
import { pictureOf } from "./picture.js";
import { prose, sentence } from "./say.js";

const MOST = 300;
let watching = null;
let last = [];

/** The numbers in a text such as `1,4-6`. */
export function cellNumbers(text) {
  const numbers = new Set();
  for (const part of text.split(",")) {
    const [first, last = first] = part.split("-").map((one) => Number.parseInt(one, 10));
    for (let cell = first; cell <= Math.min(last, first + 999); cell += 1) numbers.add(cell);
  }
  return numbers;
}

/** Numbers as such a text: runs of three and more as ranges. */
export function cellText(numbers) {
  const sorted = [...numbers].sort((one, other) => one - other);
  const parts = [];
  for (let at = 0; at < sorted.length;) {
    let end = at;
    while (sorted[end + 1] === sorted[end] + 1) end += 1;
    if (end - at >= 2) parts.push(`${sorted[at]}-${sorted[end]}`);
    else parts.push(...sorted.slice(at, end + 1).map(String));
    at = end + 1;
  }
  return parts.join(",");
}

/** How many notices come out on how many sheets. */
export function onSheets(answer) {
  const sheets = answer.documents.reduce((sum, one) => sum + one.pages.length, 0);
  return `${count(answer.notices, "notice")} on ${count(sheets, "sheet")}`;
}

/** Draws a plan; `mark(text)` is called with the used cells when one is pressed, `take(format)` when only one is
 *  wanted, `leave()` when what has errors is to be left out. */
export function drawPlan(message, plan, answer, { used, mark, take, leave }) {
  fill(message,
    answer.ready ? el("p", { class: "plan-head" }, onSheets(answer))
      : el("p", { class: "plan-head" }, severityMark("error"), prose(answer.message ?? "nothing can be printed")),
    answer.left_out.length > 0 && el("p", {}, severityMark("warning"), `Left out, because they have errors: ${answer.left_out.join(", ")}`),
    answer.hint && el("p", { class: "quiet" }, prose(answer.hint)),
    leave && !answer.ready && answer.findings.some((finding) => finding.severity === "error") && el("p", {}, button("Leave out what has errors", leave)),
    errorsFirst(answer.findings),
    answer.quantities.length > 0 && el("details", {}, el("summary", {}, "Material"), el("ul", { class: "plain-list" }, answer.quantities.map((line) => el("li", { class: /^\s/.test(line) ? "under" : null }, sentence(line.trim()))))));
  // nothing can be printed so: the sheets stay as they were drawn, so that what was marked can be taken back
  if (answer.documents.length === 0 && last.length > 0) plan.classList.add("not-so");
  else plan.classList.remove("not-so");
  const documents = answer.documents.length > 0 ? answer.documents : last;
  last = documents;
  const held = document.activeElement?.closest?.(".plan-cell")?.dataset.cell;
  watching?.disconnect();
  watching = new IntersectionObserver((seen) => {
    for (const one of seen.filter((page) => page.isIntersecting)) {
      watching.unobserve(one.target);
      one.target.fillPage();
    }
  }, { rootMargin: "400px" });
  const numbers = cellNumbers(used);
  fill(plan, documents.map((one, at) => drawDocument(one, { numbers, mark, take, first: at === 0, alone: documents.length === 1 })));
  if (held) plan.querySelector(`.plan-cell[data-cell="${held}"]`)?.focus();
}

/** The size of a page; pages of one document may lie or stand. */
function sizeOf(given, page) {
  return { width: page.width_mm ?? given.width_mm, height: page.height_mm ?? given.height_mm };
}

function drawDocument(given, { numbers, mark, take, first, alone }) {
  const shown = given.pages.slice(0, MOST);
  const formats = new Map();
  given.pages.forEach((page) => formats.set(page.format, (formats.get(page.format) ?? 0) + 1));
  const marking = first && alone && formats.size === 1 && given.markable !== false ? { used: numbers, mark } : null;
  return el("section", { class: "document" },
    el("h3", {}, given.name),
    el("p", { class: "quiet" }, `${given.paper}, for ${given.made}: ${count(given.pages.length, "sheet")}`),
    marking && el("p", { class: "quiet" }, "Press a cell of the first sheet to mark it as used up."),
    formats.size > 1 && el("p", { class: "deeds" }, el("span", { class: "quiet" }, "One format alone:"),
      [...formats].map(([format, sheets]) => button(`${format}, ${count(sheets, "sheet")}`, () => take(format)))),
    el("div", { class: "pages" }, shown.map((page, number) => drawPage(given, page, number, number === 0 ? marking : null))),
    given.pages.length > MOST && el("p", { class: "quiet" }, `The first ${MOST} sheets are drawn here; the file has all ${figures(given.pages.length)}.`));
}

function drawPage(given, page, number, marking) {
  const paper = el("div", { class: "paper" });
  const { width, height } = sizeOf(given, page);
  paper.style.aspectRatio = `${width} / ${height}`;
  const fillPage = () => {
    fill(paper, page.cells.map((cell) => drawCell({ width, height }, cell, marking)));
    paper.fillPage = null;
  };
  if (marking) {
    fillPage();
  } else {
    paper.fillPage = fillPage;
    watching.observe(paper);
  }
  return el("figure", { class: marking ? "page first-page" : "page" }, paper, el("figcaption", {}, `Sheet ${number + 1}, ${page.format}`));
}

function drawCell(sheet, cell, marking) {
  const isUsed = Boolean(marking?.used.has(cell.cell));
  const full = cell.notice !== null && cell.notice !== undefined;
  const inside = isUsed ? el("span", { class: "plan-word" }, "used") : full
    ? el("img", { src: pictureOf(cell.notice), alt: marking ? "" : `Notice ${cell.number}`, loading: "lazy", decoding: "async" })
    : el("span", { class: "plan-word" }, "empty");
  const words = `Cell ${cell.cell}: ${isUsed ? "used" : full ? `notice ${cell.number}` : "empty"}`;
  const made = marking
    ? el("button", { type: "button", class: "plan-cell", "data-cell": String(cell.cell), "aria-pressed": String(isUsed), "aria-label": `${words}. Mark as used`, title: words, on: { click: () => press(cell.cell, marking) } }, inside)
    : el("div", { class: "plan-cell", title: full ? cell.number : null }, inside);
  if (cell.turned) turn(made.querySelector("img"), cell);
  made.style.left = `${(100 * cell.x) / sheet.width}%`;
  made.style.top = `${(100 * cell.y) / sheet.height}%`;
  made.style.width = `${(100 * cell.w) / sheet.width}%`;
  made.style.height = `${(100 * cell.h) / sheet.height}%`;
  return made;
}

/** A notice that lies across its cell: its picture is turned as it is on the sheet. */
function turn(picture, cell) {
  if (!picture) return;
  picture.style.width = `${(100 * cell.h) / cell.w}%`;
  picture.style.height = `${(100 * cell.w) / cell.h}%`;
  picture.style.transform = "rotate(90deg)";
}

function press(cell, { used, mark }) {
  const now = new Set(used);
  if (!now.delete(cell)) now.add(cell);
  mark(cellText(now));
}
