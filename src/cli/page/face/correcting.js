// A cell of the survey corrected in its place: Enter saves, Esc gives up. Nothing is saved by going away, and nothing that
// was written is lost by it. What is written goes to the program, which alone changes the file.
import { post } from "./ask.js";
import { el, fill } from "./element.js";
import { again, readAgain, site, take, version } from "./site.js";
import { banner, refused, say, unbanner } from "./say.js";

let open = null;

/** The correction that is being written: `{ row, cell, index }`, or nothing. */
export const beingWritten = () => open;

window.addEventListener("beforeunload", (event) => {
  if (open && open.input.value !== open.before) event.preventDefault(); // the browser asks first
});

/** Starts to correct a cell; `told(ended, saved)` is called when it starts and ends. */
export function correct({ element, row, cell, index, name, before, told }) {
  if (open) {
    say("Another cell is still being corrected. Enter saves it, Escape gives it up.");
    open.input.focus();
    return;
  }
  const input = el("input", { type: "text", class: "writing", "aria-label": `${name}: Enter saves, Escape gives up`, autocomplete: "off", spellcheck: "false", value: before });
  open = { element, row, cell, index, name, before, input, told, busy: false };
  element.dataset.held = "1";
  element.parentElement.classList.add("written");
  fill(element, input);
  input.addEventListener("keydown", (event) => {
    if (event.isComposing) return;
    if (event.key === "Enter") {
      event.preventDefault();
      event.stopPropagation();
      save();
    } else if (event.key === "Escape") {
      event.preventDefault();
      event.stopPropagation();
      giveUp();
    }
  });
  input.focus();
  input.select();
  told();
}

/** Gives up what is being written; the cell stands as before. */
export function giveUp(words = "Given up; the cell stands as before.") {
  if (!open || open.busy) return;
  unbanner("correct");
  end(words);
}

function end(words, saved = undefined) {
  const { element, told, input } = open;
  const inside = element.contains(document.activeElement) || document.activeElement === document.body;
  delete element.dataset.held;
  element.parentElement.classList.remove("written");
  open = null;
  input.remove();
  if (inside && element.isConnected) element.focus();
  if (words) say(words);
  told(true, saved);
}

/** Saves what is being written. */
export async function save() {
  if (!open || open.busy) return;
  const { row, cell, before, input, name } = open;
  const after = input.value;
  if (after === before) {
    giveUp("Nothing was altered.");
    return;
  }
  open.busy = true;
  input.readOnly = true;
  input.classList.add("saving");
  try {
    const answer = await post("/api/correct", { v: version(), row, cell, before, after });
    unbanner("correct");
    open.busy = false;
    end(null, after);
    take(answer);
    say(`Saved: ${name} is now ${after === "" ? "empty" : after}. ${totals(answer)}`);
  } catch (failure) {
    if (!open) return;
    open.busy = false;
    input.readOnly = false;
    input.classList.remove("saving");
    notSaved(failure);
    input.focus();
  }
}

function notSaved(failure) {
  if (failure.kind === "stale") {
    again();
    banner("correct", { severity: "error", words: "Not saved: the survey was read again meanwhile.", hint: "Look whether this is still the cell that you mean, then press Enter again." });
  } else if (failure.kind === "changed-on-disk") {
    banner("correct", { severity: "error", words: `Not saved: ${failure.message}`, hint: failure.hint, deeds: [["Read it again", readAgain]] });
  } else {
    refused("correct", failure);
  }
}

/** Takes back the last correction. */
export async function undo() {
  const told = site()?.last_correction;
  if (open || !site()?.corrections) return;
  try {
    take(await post("/api/undo", { v: version() }));
    say(`Undone: ${told ?? "the last correction"}. ${totals(site())}`);
  } catch (failure) {
    if (failure.kind === "stale") again();
    refused("correct", failure, failure.kind === "changed-on-disk" ? [["Read it again", readAgain]] : []);
  }
}

function totals(answer) {
  const { errors, warnings, advice } = answer.totals ?? {};
  return answer.totals ? `Now errors: ${errors}, warnings: ${warnings}, advice: ${advice}.` : "";
}
