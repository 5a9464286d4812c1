// The marks of findings. Each has a shape and a sign of its own, so that it is told apart without its colour, and a word.
import { el } from "./element.js";

const SVG = "http://www.w3.org/2000/svg";
const SHAPES = {
  error: ["M2 2H14V14H2Z", "M5.2 5.2 10.8 10.8M10.8 5.2 5.2 10.8"],
  warning: ["M8 1.6 15 14.4H1Z", "M8 6V10M8 11.4V12.9"],
  advice: ["M8 1.5A6.5 6.5 0 1 1 7.99 1.5Z", "M8 7.2V11.8M8 4.2V5.8"],
};
export const WORDS = { error: "error", warning: "warning", advice: "advice" };
const RANK = { error: 0, warning: 1, advice: 2 };

/** The mark of a severity, with its word for those who do not see it unless the word stands beside. */
export function mark(severity, silent = false) {
  const known = SHAPES[severity] ? severity : "advice";
  const drawn = document.createElementNS(SVG, "svg");
  drawn.setAttribute("viewBox", "0 0 16 16");
  drawn.setAttribute("class", `mark mark-${known}`);
  drawn.setAttribute("aria-hidden", "true");
  drawn.setAttribute("focusable", "false");
  SHAPES[known].forEach((path, at) => {
    const stroke = document.createElementNS(SVG, "path");
    stroke.setAttribute("d", path);
    stroke.setAttribute("class", at === 0 ? "mark-shape" : "mark-sign");
    drawn.append(stroke);
  });
  if (silent) return drawn;
  return el("span", { class: "marked" }, drawn, el("span", { class: "unseen" }, `${WORDS[known]}: `));
}

/** Findings in the order of their severity, and else as they come. */
export function bySeverity(findings) {
  return [...findings].sort((one, other) => (RANK[one.severity] ?? 3) - (RANK[other.severity] ?? 3));
}

/** The most severe of some severities, or nothing. */
export function worst(severities) {
  return [...severities].sort((one, other) => RANK[one] - RANK[other])[0] ?? null;
}

/** The severity as mark and word, for a list. */
export function tag(severity) {
  return el("span", { class: `tag tag-${severity}` }, mark(severity, true), WORDS[severity] ?? severity);
}
