// One finding as a line: mark and word, message, what to do, where it is, and what its code means.
import { about } from "./site.js";
import { button, count, el, figures, fill } from "./element.js";
import { get } from "./ask.js";
import { lay } from "./dialog.js";
import { bySeverity, tag } from "./marks.js";
import { address } from "./place.js";
import { prose, refused, sentence } from "./say.js";

/** The line of a finding; `here` leaves out the way to its cell and enclosure. */
export function findingLine(finding, { here = false } = {}) {
  return el("li", { class: `finding finding-${finding.severity}` },
    tag(finding.severity),
    el("div", { class: "finding-words" },
      el("p", {}, prose(finding.message)),
      finding.help && el("p", { class: "quiet" }, prose(finding.help)),
      el("p", { class: "finding-links" }, !here && where(finding),
        button("What this means", () => explain(finding.code), { class: "link", "aria-label": `What ${finding.code} means` }))));
}

function where(finding) {
  const place = finding.address ?? (finding.line ? `line ${finding.line}` : "");
  const words = [place, finding.column && `column ${finding.column}`].filter(Boolean).join(", ");
  const parts = [];
  if (finding.of_survey && finding.row !== null && finding.row !== undefined) {
    const target = address("survey", { row: finding.row, cell: finding.cell ?? 0 });
    parts.push(el("a", { href: target }, words ? `Go to ${words}` : "Go to its row"));
  } else {
    parts.push(el("span", { class: "quiet" }, [finding.file, words].filter(Boolean).join(", ")));
  }
  if (finding.enclosure) parts.push(el("a", { href: address("enclosures", { show: finding.enclosure }) }, finding.enclosure));
  return parts;
}

const MOST = 200;
/** Findings as a list, the most severe first; nothing where there are none. */
export function findingList(findings, options = {}) {
  if (findings.length === 0) return null;
  const sorted = bySeverity(findings);
  const list = el("ul", { class: "findings" }, sorted.slice(0, MOST).map((finding) => findingLine(finding, options)));
  return sorted.length > MOST ? [list, el("p", {}, el("a", { href: "#findings" }, `All ${figures(sorted.length)} findings`))] : list;
}

/** The errors, and the other findings behind a line to open. */
export function errorsFirst(findings) {
  const errors = findings.filter((finding) => finding.severity === "error");
  const others = findings.filter((finding) => finding.severity !== "error");
  return [findingList(errors), others.length > 0 && el("details", {},
    el("summary", {}, errors.length > 0 ? `and ${count(others.length, "warning or advice", "warnings and advice")}` : count(others.length, "finding")), findingList(others))];
}

async function explain(code) {
  const text = el("pre", { class: "long" }, "Asking…");
  lay(code, text);
  try {
    const answer = await get(`/api/code/${encodeURIComponent(code)}`);
    fill(text, answer.text);
  } catch (failure) {
    fill(text, sentence(failure.message));
    refused("code", failure);
  }
}

/** The findings of a row of the survey. */
export async function findingsOfRow(row, signal) {
  const answer = await about(`/api/row/${row}`, {}, signal);
  return answer.findings;
}
