// What changed since the last record: how much of each kind, and each change with its danger, what to do, old and new.
import { el, figures } from "./element.js";
import { address } from "./place.js";
import { prose, sentence } from "./say.js";

const COUNTED = [["altered", "altered"], ["new", "new"], ["moved", "moved"], ["withdrawn", "withdrawn"], ["not_judged", "not judged"], ["unchanged", "unchanged"]];
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
    el("h4", {}, el("a", { href: address("record", { find: given.number }) }, given.number), `: ${given.change}`),
    given.danger && el("p", {}, prose(given.danger)),
    given.advice && el("p", { class: "do" }, prose(given.advice)),
    given.differences.length > 0 && el("table", { class: "differences" },
      el("caption", { class: "unseen" }, `What differs on ${given.number}`),
      el("thead", {}, el("tr", {}, el("th", { scope: "col" }, "What"), el("th", { scope: "col" }, "On the old notice"), el("th", { scope: "col" }, "By the survey now"))),
      el("tbody", {}, given.differences.map((one) => el("tr", {}, el("th", { scope: "row" }, sentence(one.what)), words(one.old), words(one.new))))));
}

function words(text) {
  return el("td", {}, text === "" || text === null || text === undefined ? el("span", { class: "quiet" }, "nothing") : text);
}
