// The sheet formats to choose from, parted by what makes them. With none chosen, those of the job are taken.
import { get } from "./ask.js";
import { button, count, el, fill } from "./element.js";
import { refused } from "./say.js";

export class FormatChoice {
  constructor(changed) {
    this.changed = changed;
    this.names = [];
    this.list = el("div", { class: "formats" });
    this.told = el("span", { class: "strong" }, "Those of the job");
    this.element = el("details", { class: "format-choice" },
      el("summary", {}, el("span", { class: "summary-label" }, "Sheet formats: "), this.told),
      button("Take those of the job", () => this.take([])), this.list);
  }

  /** Fetches the formats, once. */
  async load() {
    if (this.loading) return;
    this.loading = true;
    try {
      this.draw((await get("/api/formats")).formats);
    } catch (failure) {
      this.loading = false;
      refused("formats", failure);
    }
  }

  draw(formats) {
    const made = [...new Set(formats.map((one) => one.made))];
    fill(this.list, made.map((how) => el("fieldset", {}, el("legend", {}, `For ${how}`), formats.filter((one) => one.made === how).map((one) => this.line(one)))));
    this.mark();
  }

  line(format) {
    const box = el("input", { type: "checkbox", value: format.name, on: { change: () => this.toggle(format.name, box.checked) } });
    const cells = format.cells > 0 ? count(format.cells, "cell") : "any";
    return el("label", { class: "tick" }, box, el("span", {}, el("span", { class: "strong" }, format.name),
      ` ${format.paper}, ${format.cell === "packed" ? "packed, sizes mixed" : `${cells} of ${format.cell}`}`));
  }

  toggle(name, on) {
    this.take(on ? [...this.names, name] : this.names.filter((other) => other !== name));
  }

  take(names) {
    this.choose(names);
    this.changed();
  }

  /** Shows a choice without telling of it. */
  choose(names) {
    this.names = names;
    this.mark();
  }

  mark() {
    this.list.querySelectorAll("input").forEach((box) => { box.checked = this.names.includes(box.value); });
    this.told.textContent = this.names.length > 0 ? this.names.join(", ") : "those of the job";
  }

  chosen() {
    return this.names;
  }
}
