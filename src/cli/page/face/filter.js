// The line of filters above a table or gallery. What is chosen stands in the address; typing waits a moment.
import { choice, el, field, fill, offer, settled, tick } from "./element.js";
import { alter } from "./place.js";
import { site } from "./site.js";

/**
 * Filters by name: `find`, `area`, and those of `more` as `{ name, words, options }` or `{ name, words, tick: true }`.
 * `changed(values)` is called when one is another.
 */
export class Filter {
  constructor({ find = "Find", more = [], changed, label }) {
    this.changed = changed;
    this.values = {};
    this.more = more;
    this.find = el("input", { type: "search", autocomplete: "off", spellcheck: "false" });
    this.area = choice([["", "All areas"]]);
    this.controls = new Map([["find", this.find], ["area", this.area]]);
    const fields = [field(find, this.find), field("Area", this.area)];
    for (const one of more) {
      if (one.tick) {
        const made = tick(one.words, false, () => this.read());
        this.controls.set(one.name, made.box);
        fields.push(el("div", { class: "field tick-field" }, made.label));
      } else {
        const made = choice(one.options);
        this.controls.set(one.name, made);
        fields.push(field(one.words, made));
      }
    }
    this.told = el("output", { class: "told", role: "status" });
    const later = settled(200, () => this.read());
    this.find.addEventListener("input", later);
    for (const control of this.controls.values()) {
      if (control.tagName === "SELECT") control.addEventListener("change", () => this.read());
    }
    this.element = el("form", { class: "filter", role: "search", "aria-label": label, on: { submit: (event) => { event.preventDefault(); this.read(); } } },
      fields, this.told);
  }

  read() {
    const now = {};
    for (const [name, control] of this.controls) now[name] = control.type === "checkbox" ? (control.checked ? "1" : "") : control.value;
    if (JSON.stringify(now) === JSON.stringify(this.values)) return;
    this.values = now;
    alter({ ...now, row: "", cell: "" }); // the cell that was gone to need not be among these rows
    this.changed(now);
  }

  /** Shows what an address says; gives whether that is another choice than before. */
  show(given) {
    offer(this.area, [["", "All areas"], ...(site()?.areas ?? []).map((area) => [area, area])], given.area ?? "");
    const now = {};
    for (const [name, control] of this.controls) {
      const value = given[name] ?? "";
      if (control.type === "checkbox") control.checked = value === "1";
      else if (control !== document.activeElement || control.value.trim() !== value.trim()) control.value = value;
      now[name] = control.type === "checkbox" ? (control.checked ? "1" : "") : control.value;
    }
    const other = JSON.stringify(now) !== JSON.stringify(this.values);
    this.values = now;
    return other;
  }

  /** How much is shown, for all to read and hear. */
  tell(words) {
    if (this.told.textContent !== words) fill(this.told, words);
  }
}
