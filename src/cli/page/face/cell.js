// What stands at the cell with the focus: its whole text, its findings, the enclosure of its row and the notices made of it.
import { giveUp, save } from "./correcting.js";
import { button, el, fill, settled } from "./element.js";
import { findingList, findingsOfRow } from "./finding.js";
import { proofWord } from "./enclosure.js";
import { noticePicture } from "./picture.js";
import { address } from "./place.js";
import { about, site, version } from "./site.js";

/** The letters of a column as a spreadsheet shows them. */
export function letter(at) {
  let left = at + 1;
  let letters = "";
  while (left > 0) {
    letters = String.fromCharCode(65 + ((left - 1) % 26)) + letters;
    left = Math.floor((left - 1) / 26);
  }
  return letters;
}

export class CellSheet {
  constructor({ correct }) {
    this.head = el("h3", {}, "No cell chosen");
    this.value = el("p", { class: "cell-value" });
    this.correct = button("Correct this cell", correct, { hidden: true });
    this.save = button("Save", () => save(), { hidden: true, class: "main" });
    this.giveUp = button("Give up", () => giveUp(), { hidden: true });
    this.found = el("div", { id: "cell-findings" });
    this.enclosure = el("div", { class: "cell-enclosure" });
    this.element = el("aside", { class: "side", "aria-label": "At this cell" },
      this.head, this.value, el("div", { class: "deeds" }, this.correct, this.save, this.giveUp), this.found, this.enclosure);
    this.later = settled(120, () => this.ask());
    this.stop = new AbortController();
  }

  /** No cell is chosen, because no row is shown. */
  clear() {
    this.stop.abort();
    this.row = null;
    fill(this.head, "No cell chosen");
    [this.value, this.found, this.enclosure].forEach((part) => fill(part));
    this.correct.hidden = true;
  }

  /** Shows a cell at once, and what must be asked for a moment later. */
  show(row, column, header) {
    if (!row) return;
    const same = this.row?.row === row.row && this.version === version();
    this.row = row;
    this.column = column;
    const cell = Math.max(0, column - 1);
    const told = header[cell];
    fill(this.head, column === 0 ? `Row ${row.address}` : `${letter(cell)}${row.address}, ${told?.text ?? "no header"}`);
    const text = row.cells[cell] ?? "";
    fill(this.value, column === 0 ? "" : text === "" ? el("span", { class: "quiet" }, "empty") : text);
    this.correct.hidden = column === 0 || !site()?.survey?.correctable || !this.save.hidden;
    if (same) this.order();
    else this.later();
  }

  /** While a cell is being corrected, the buttons for it stand here as well. */
  writing(open) {
    this.save.hidden = !open;
    this.giveUp.hidden = !open;
    this.correct.hidden = open || this.column === 0;
  }

  async ask() {
    if (!this.row) return;
    this.stop.abort();
    this.stop = new AbortController();
    const { signal } = this.stop;
    const { row } = this;
    try {
      const [findings, enclosure] = await Promise.all([
        findingsOfRow(row.row, signal),
        row.enclosure === null || row.enclosure === undefined ? null : about(`/api/enclosure/${row.enclosure}`, {}, signal),
      ]);
      if (signal.aborted) return;
      this.findings = findings;
      this.version = version();
      this.order();
      const drawn = this.enclosureParts(enclosure);
      await seen(drawn);
      if (!signal.aborted) fill(this.enclosure, drawn);
    } catch (failure) {
      if (failure.name !== "AbortError" && failure.kind !== "stale") fill(this.found, el("p", { class: "quiet" }, "The findings of this row are not known: the program did not answer."));
    }
  }

  /** The findings of the cell first, then those of its row. */
  order() {
    const cell = this.column - 1;
    const here = this.findings.filter((finding) => finding.cell === cell);
    const rest = this.findings.filter((finding) => finding.cell !== cell);
    fill(this.found, findingList(here, { here: true }),
      rest.length > 0 && el("h4", {}, "Elsewhere in this row"), findingList(rest));
    const focused = document.activeElement;
    document.querySelectorAll('[aria-describedby="cell-findings"]').forEach((other) => other.removeAttribute("aria-describedby"));
    if (here.length > 0 && focused?.closest(".roll")) focused.setAttribute("aria-describedby", "cell-findings");
  }

  enclosureParts(enclosure) {
    if (!enclosure) return [el("p", { class: "quiet" }, "This row belongs to no enclosure.")];
    return [
      el("h4", {}, el("a", { href: address("enclosures", { show: enclosure.designation }) }, `Enclosure ${enclosure.designation}`)),
      el("p", {}, [enclosure.name, enclosure.area].filter(Boolean).join(", ")),
      el("p", {}, `Notice: ${enclosure.need.replaceAll("-", " ")}. Proof: ${proofWord(enclosure).toLowerCase()}.`),
      enclosure.notices.slice(0, 2).map((notice) => noticePicture(notice)),
      enclosure.notices.length > 2 && el("p", { class: "quiet" }, `${enclosure.notices.length - 2} more on its sheet`),
      enclosure.notices.length === 0 && el("p", { class: "quiet" }, "No notice is made of it."),
    ];
  }
}
CellSheet.prototype.findings = [];

/** Waits a moment for the pictures among some parts, so that the old ones stand until the new ones do. */
function seen(parts) {
  const pictures = parts.flat().filter((part) => part instanceof Element).flatMap((part) => [...part.querySelectorAll("img")]);
  const loaded = pictures.map((picture) => {
    picture.loading = "eager";
    return picture.decode().catch(() => null);
  });
  return Promise.race([Promise.all(loaded), new Promise((over) => { setTimeout(over, 600); })]);
}
