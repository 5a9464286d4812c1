// All findings, the most severe first. Each leads to its cell.
import { el, count, figures, fill, put } from "./element.js";
import { findingLine } from "./finding.js";
import { Filter } from "./filter.js";
import { refused } from "./say.js";
import { about, site, version } from "./site.js";

const STEP = 100;
const parts = {};
let all = [];
let total = 0;
let loaded = null;
let rows = [];
let drawn = 0;

/** Builds the view once. */
export function build(section) {
  parts.filter = new Filter({
    find: "Find in findings", label: "Findings",
    more: [
      { name: "severity", words: "Kind", options: [["", "All"], ["error", "Errors"], ["warning", "Warnings"], ["advice", "Advice"]] },
      { name: "code", words: "Code", options: [["", "All"]] },
    ],
    changed: () => narrow(),
  });
  parts.filter.area.parentElement.hidden = true; // a finding knows its enclosure, not its area
  parts.list = el("ul", { class: "findings" });
  parts.none = el("p", { class: "quiet" });
  parts.end = el("p", { class: "quiet" });
  parts.roll = el("div", { class: "roll paper-roll", tabindex: "0", role: "region", "aria-label": "List of findings" }, parts.none, parts.list, parts.end);
  put(section, el("div", { class: "bar" }, parts.filter.element), parts.roll);
  new IntersectionObserver((seen) => seen.some((one) => one.isIntersecting) && more(), { root: null, rootMargin: "600px" }).observe(parts.end);
}

/** Shows what the address says. */
export async function show(given) {
  const other = parts.filter.show(given);
  if (loaded !== version()) await refresh();
  else if (other) narrow();
}

/** Draws again after the survey became another. */
export async function refresh() {
  if (site()?.state !== "ready") return;
  const mine = version();
  try {
    const answer = await about("/api/findings");
    if (mine !== version()) return;
    all = answer.findings;
    total = answer.total;
    loaded = mine;
  } catch (failure) {
    refused("findings", failure);
    return;
  }
  const codes = [...new Set(all.map((one) => one.code))].sort();
  const select = parts.filter.controls.get("code");
  const { value } = select;
  fill(select, [["", "All"], ...codes.map((code) => [code, code])].map(([key, words]) => el("option", { value: key }, words)));
  select.value = codes.includes(parts.filter.values.code ?? value) ? parts.filter.values.code ?? value : "";
  narrow();
}

function narrow() {
  const { find = "", severity, code } = parts.filter.values;
  const sought = find.trim().toLocaleLowerCase();
  rows = all.filter((one) => (!severity || one.severity === severity) && (!code || one.code === code)
    && (!sought || `${one.message}\n${one.help ?? ""}\n${one.enclosure ?? ""}\n${one.address ?? ""}`.toLocaleLowerCase().includes(sought)));
  const held = parts.list.contains(document.activeElement) ? document.activeElement : null;
  const above = parts.roll.scrollTop;
  const before = drawn;
  parts.list.replaceChildren();
  drawn = 0;
  fill(parts.none, rows.length > 0 ? "" : all.length > 0 ? "No finding matches." : "Nothing was found by the rules of this program. What it does not know, it cannot find.");
  do more(); while (drawn < Math.min(before, rows.length));
  parts.roll.scrollTop = above;
  if (held) ([...parts.list.querySelectorAll("a")].find((one) => one.href === held.href) ?? parts.roll).focus({ preventScroll: true });
  parts.filter.tell(`${count(rows.length, "finding")}${rows.length < total ? ` of ${figures(total)}` : ""}`);
  fill(parts.end, all.length < total ? `The first ${figures(all.length)} of ${figures(total)} are listed; correct these first.` : "");
}

function more() {
  if (drawn >= rows.length) return;
  put(parts.list, rows.slice(drawn, drawn + STEP).map((finding) => findingLine(finding)));
  drawn = Math.min(rows.length, drawn + STEP);
}
