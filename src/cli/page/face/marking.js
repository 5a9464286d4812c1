// The form by which chosen notices are marked in the record: what was done, on which day, by whom.
import { post } from "./ask.js";
import { choice, count, el, field, fill } from "./element.js";
import { again, site, take, version } from "./site.js";
import { banner, refused, say } from "./say.js";

const DEEDS = [["printed", "Printed"], ["fixed", "Fixed"], ["replaced", "Replaced"], ["inspected", "Inspected"], ["withdrawn", "Withdrawn"]];
const CONDITIONS = [["good", "Good"], ["faded", "Faded"], ["damaged", "Damaged"], ["missing", "Missing"], ["wrong", "Wrong"]];

export class Marking {
  constructor({ chosen, marked }) {
    this.chosen = chosen;
    this.marked = marked;
    this.deed = choice(DEEDS, "fixed", { on: { change: () => this.tell() } });
    this.condition = choice(CONDITIONS, "good");
    this.conditionField = field("Condition", this.condition);
    this.date = el("input", { type: "date" });
    this.by = el("input", { type: "text", autocomplete: "name" });
    this.note = el("input", { type: "text", autocomplete: "off" });
    this.press = el("button", { type: "submit", class: "main" }, "Mark");
    this.told = el("p", { class: "quiet", role: "status" });
    this.body = el("fieldset", { class: "mark-fields" }, el("legend", {}, "Mark the chosen notices"),
      field("As", this.deed), this.conditionField, field("Day", this.date), field("By", this.by, "Name or initials"), field("Note", this.note), this.told, this.press);
    this.element = el("form", { "aria-label": "Mark in the record", on: { submit: (event) => { event.preventDefault(); this.send(); } } }, this.body);
    this.allowed = false;
  }

  /** Whether there is a record to mark in. */
  allow(allowed) {
    this.allowed = allowed;
    this.body.disabled = !allowed;
    this.date.value ||= site()?.today ?? "";
    this.date.max = site()?.today ?? "";
    this.tell();
  }

  /** Says what the button would do. */
  tell() {
    const number = this.chosen().length;
    const [, words] = DEEDS.find(([deed]) => deed === this.deed.value);
    this.conditionField.hidden = this.deed.value !== "inspected";
    fill(this.press, number === 0 ? `Mark as ${words.toLowerCase()}` : `Mark ${count(number, "notice")} as ${words.toLowerCase()}`);
    fill(this.told, !this.allowed ? "There is no record to mark in." : number === 0 ? "Choose notices in the list: a press or Space on their row." : "");
  }

  async send() {
    const numbers = this.chosen();
    if (numbers.length === 0) {
      say("No notice is chosen.");
      this.told.textContent = "No notice is chosen yet.";
      return;
    }
    this.body.disabled = true;
    try {
      const deed = this.deed.value;
      const answer = await post("/api/mark", {
        v: version(), deed, numbers, date: this.date.value, by: this.by.value.trim(), note: this.note.value.trim(),
        ...(deed === "inspected" ? { condition: this.condition.value } : {}),
      });
      this.note.value = "";
      this.marked();
      banner("marked", { severity: "advice", words: answer.message });
      take(answer.site);
    } catch (failure) {
      if (failure.kind === "stale") again();
      refused("marked", failure);
    } finally {
      this.body.disabled = !this.allowed;
      this.tell();
      if (document.activeElement === document.body) this.press.focus();
    }
  }
}
