// What changed since the last record: how much of each kind, and each change with its danger, what to do, old and new.
import { el, figures } from "./element.js";
import { address } from "./place.js";
import { prose, sentence } from "./say.js";

const COUNTED = [["altered", "altered"], ["not_fit", "not fit"], ["new", "new"], ["moved", "moved"], ["withdrawn", "withdrawn"], ["not_judged", "not judged"], ["unchanged", "unchanged"]];
const MOST = 200;

/** How many notices changed in which way. */
export function countLine(counts) {
  if (!counts) return null;
  return el("dl", { class: "facts counts" }, COUNTED.map(([key, words]) => el("div", {}, el("dt", {}, sentence(words)), el("dd", {}, figures(counts[key] ?? 0)))));
}

/** The changes, the most dangerous first, as the program ranks them. */
export function changeList(changes) {
  if (changes.length === 0) return el("p", { class: "quiet" }, "No change is known of. What is not in the record cannot be compared.");
  return [
    el("ol", { class: "changes" }, changes.slice(0, MOST).map(change)),
    changes.length > MOST && el("p", { class: "quiet" }, `The ${MOST} most dangerous of ${figures(changes.length)} are listed.`),
  ];
}

function change(given) {
  return el("li", {},
    el("h4", {}, el("a", { href: address("record", { find: given.number }) }, given.number), `: ${words(given.change)}`),
    given.danger && el("p", { class: "danger" }, given.danger_in_words ? `It ${given.danger_in_words}.` : sentence(words(given.danger))),
    given.advice && el("p", { class: "do" }, prose(given.advice)),
    given.differences.length > 0 && el("table", { class: "differences" },
      el("caption", { class: "unseen" }, `What differs on ${given.number}`),
      el("thead", {}, el("tr", {}, el("th", { scope: "col" }, "What"), el("th", { scope: "col" }, "On the old notice"), el("th", { scope: "col" }, "By the survey now"))),
      el("tbody", {}, given.differences.map((one) => el("tr", {}, el("th", { scope: "row" }, [sentence(words(one.what)), one.at].filter(Boolean).join(": ")), text(one.old), text(one.new))))));
}

/** A code of the program, such as `point-lacking`, as words. */
function words(code) {
  return String(code).replaceAll("-", " ");
}

function text(given) {
  return el("td", {}, given === "" || given === null || given === undefined ? el("span", { class: "quiet" }, "nothing") : given);
}
