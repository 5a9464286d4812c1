// The sheet of one enclosure: what is decided and why, its points of isolation, what is proved and what is not known.
import { el, fill } from "./element.js";
import { findingList } from "./finding.js";
import { noticePicture } from "./picture.js";
import { address } from "./place.js";
import { prose, refused, say, sentence } from "./say.js";
import { about, version } from "./site.js";

export class EnclosureSheet {
  constructor() {
    this.element = el("article", { class: "side sheet", "aria-label": "Sheet of the enclosure" });
    this.stop = new AbortController();
  }

  /** No enclosure is open; says why. */
  none(words, back = null) {
    this.stop.abort();
    fill(this.element, words && el("p", { class: "quiet" }, words), back && el("p", {}, el("a", { href: back }, "All enclosures")));
  }

  /** Shows the enclosure of this index; `focus` leads the viewer to its heading. */
  async show(index, { back, focus }) {
    this.stop.abort();
    this.stop = new AbortController();
    const { signal } = this.stop;
    try {
      const told = await about(`/api/enclosure/${index}`, {}, signal);
      if (signal.aborted) return;
      const held = this.element.contains(document.activeElement);
      const above = this.element.scrollTop;
      this.draw(told, back);
      this.element.scrollTop = focus ? 0 : above;
      if ((held && !this.element.contains(document.activeElement)) || (focus && this.alone())) this.head.focus();
      if (focus) say(`${told.heading}. Notice: ${told.need.replaceAll("-", " ")}.`);
    } catch (failure) {
      if (failure.name !== "AbortError") refused("enclosure", failure);
    }
  }

  /** Whether the list beside it is not shown, because the screen is narrow. */
  alone() {
    return this.element.previousElementSibling?.offsetParent === null;
  }

  draw(told, back) {
    this.head = el("h3", { tabindex: "-1" }, told.heading || told.designation);
    fill(this.element,
      el("p", { class: "back" }, el("a", { href: back }, "All enclosures")),
      this.head,
      el("dl", { class: "facts" },
        fact("Notice", sentence(told.need.replaceAll("-", " "))),
        fact("Proof", proofWord(told)),
        told.row !== null && told.row !== undefined && fact("Survey", el("a", { href: address("survey", { row: told.row, cell: 0 }) }, "its first row"))),
      part("Notices", notices(told)),
      told.findings.length > 0 && part("Findings", findingList(told.findings)),
      part("Points of isolation", points(told.points)),
      part("Proof", proof(told.proof)),
      part("Voltages", list(told.voltages, "unknown")),
      part("Why", reasons(told.reasons)),
      told.supply_path.length > 0 && part("Supply path", el("pre", { class: "path", tabindex: "0", role: "region", "aria-label": "Supply path" }, told.supply_path.join("\n"))),
      told.diagram && part("One-line diagram", el("a", { class: "diagram", href: picture(told), target: "_blank", rel: "noopener" },
        el("img", { src: picture(told), alt: `One-line diagram of ${told.designation}; its supply path says the same in words. Opens in a new tab.` }))));
  }
}

/** What is proved, in a word or two: the first sentence of it. */
export function proofWord(told) {
  return sentence((told.proof?.result ?? "unknown").split(". ")[0]);
}

const picture = (told) => `/picture/enclosure/${told.index}.svg?v=${version()}`;

function part(head, ...content) {
  return el("section", {}, el("h4", {}, head), content);
}

function fact(name, value) {
  return el("div", {}, el("dt", {}, name), el("dd", {}, value));
}

function list(lines, none) {
  return lines.length === 0 ? el("p", {}, sentence(none)) : el("ul", { class: "plain-list" }, lines.map((line) => el("li", {}, prose(line))));
}

function points(given) {
  if (given.length === 0) return el("p", {}, "None is given.");
  return el("ol", { class: "points" }, given.map((point) => el("li", {},
    el("span", { class: "terminal", "aria-hidden": "true" }, String(point.number)),
    el("div", {},
      el("p", {}, el("span", { class: "strong" }, point.device), point.location ? `, ${point.location}` : ", place unknown"),
      point.circuits && el("p", { class: "quiet" }, `Circuits: ${point.circuits}`),
      point.handling.map((line) => el("p", { class: "quiet" }, sentence(line)))))));
}

function proof(given) {
  return [
    el("p", {}, `${sentence(given?.result ?? "unknown")}.`),
    given?.lines?.length > 0 && list(given.lines, ""),
    given?.advice?.length > 0 && list(given.advice, ""),
    el("p", { class: "strong" }, "This shows only what the survey and the supplies file describe. Prove dead at the point of work."),
  ];
}

function reasons(given) {
  return el("ul", { class: "reasons" }, given.map((reason) => el("li", { class: reason.outcome === "not needed" || reason.outcome === "not-needed" ? "dropped" : null },
    el("p", {}, el("span", { class: "strong" }, `${sentence(reason.outcome.replaceAll("-", " "))}: `), prose(reason.because)),
    el("p", { class: "quiet" }, [reason.rule.replaceAll("-", " "), reason.clause].filter(Boolean).join("; ")))));
}

function notices(told) {
  if (told.notices.length + told.devices.length === 0) return el("p", {}, "No notice is made of it.");
  return [
    el("div", { class: "pictures" }, told.notices.map(noticePicture)),
    told.devices.length > 0 && el("p", {}, "On its devices: ", told.devices.map((device, at) => [at > 0 && "; ",
      el("a", { href: address("notices", { find: device.number, show: device.index }) }, device.number)])),
  ];
}
