// The sheets as they will come out, drawn to scale with the notices in their cells. On the first sheet a press marks a cell
// as used up.
import { count, el, figures, fill } from "./element.js";
import { findingList } from "./finding.js";
import { mark as severityMark } from "./marks.js";
import { pictureOf } from "./picture.js";
import { prose, sentence } from "./say.js";

const MOST = 300;
let watching = null;

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

/** Draws a plan; `mark(text)` is called with the used cells when one is pressed. */
export function drawPlan(message, plan, answer, { used, mark }) {
  const sheets = answer.documents.reduce((sum, one) => sum + one.pages.length, 0);
  fill(message,
    answer.ready ? el("p", { class: "plan-head" }, `${count(answer.notices, "notice")} on ${count(sheets, "sheet")}`)
      : el("p", { class: "plan-head" }, severityMark("error"), prose(answer.message ?? "nothing can be printed")),
    answer.left_out.length > 0 && el("p", {}, severityMark("warning"), `Left out, because they have errors: ${answer.left_out.join(", ")}`),
    findingList(answer.findings),
    answer.quantities.length > 0 && el("details", {}, el("summary", {}, "Material"), el("ul", { class: "plain-list" }, answer.quantities.map((line) => el("li", {}, sentence(line.trim()))))));
  const held = document.activeElement?.closest?.(".plan-cell")?.dataset.cell;
  watching?.disconnect();
  watching = new IntersectionObserver((seen) => {
    for (const one of seen.filter((page) => page.isIntersecting)) {
      watching.unobserve(one.target);
      one.target.fillPage();
    }
  }, { rootMargin: "400px" });
  const numbers = cellNumbers(used);
  fill(plan, answer.documents.map((document_, at) => drawDocument(document_, at, numbers, mark)));
  if (held) plan.querySelector(`.plan-cell[data-cell="${held}"]`)?.focus();
}

function drawDocument(given, at, used, mark) {
  const shown = given.pages.slice(0, MOST);
  return el("section", { class: "document" },
    el("h3", {}, given.name),
    el("p", { class: "quiet" }, `${given.paper}, for ${given.made}: ${count(given.pages.length, "sheet")}`),
    at === 0 && given.markable !== false && el("p", { class: "quiet" }, "Press a cell of the first sheet to mark it as used up."),
    el("div", { class: "pages" }, shown.map((page, number) => drawPage(given, page, number, at === 0 && number === 0 && given.markable !== false ? { used, mark } : null))),
    given.pages.length > MOST && el("p", { class: "quiet" }, `The first ${MOST} sheets are drawn here; the file has all ${figures(given.pages.length)}.`));
}

function drawPage(given, page, number, marking) {
  const paper = el("div", { class: "paper" });
  paper.style.aspectRatio = `${given.width_mm} / ${given.height_mm}`;
  const fillPage = () => {
    fill(paper, page.cells.map((cell) => drawCell(given, cell, marking)));
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

function drawCell(given, cell, marking) {
  const isUsed = Boolean(marking?.used.has(cell.cell));
  const full = cell.notice !== null && cell.notice !== undefined;
  const inside = isUsed ? el("span", { class: "plan-word" }, "used") : full
    ? el("img", { src: pictureOf(cell.notice), alt: marking ? "" : `Notice ${cell.number}`, loading: "lazy", decoding: "async" })
    : el("span", { class: "plan-word" }, "empty");
  const words = `Cell ${cell.cell}: ${isUsed ? "used" : full ? `notice ${cell.number}` : "empty"}`;
  const made = marking
    ? el("button", { type: "button", class: "plan-cell", "data-cell": String(cell.cell), "aria-pressed": String(isUsed), "aria-label": `${words}. Mark as used`, title: words, on: { click: () => press(cell.cell, marking) } }, inside)
    : el("div", { class: "plan-cell", title: full ? cell.number : null }, inside);
  made.style.left = `${(100 * cell.x) / given.width_mm}%`;
  made.style.top = `${(100 * cell.y) / given.height_mm}%`;
  made.style.width = `${(100 * cell.w) / given.width_mm}%`;
  made.style.height = `${(100 * cell.h) / given.height_mm}%`;
  return made;
}

function press(cell, { used, mark }) {
  const now = new Set(used);
  if (!now.delete(cell)) now.add(cell);
  mark(cellText(now));
}
