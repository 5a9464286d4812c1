// What the page says: banners that stay until they are dealt with, and a line for those who listen instead of look.
import { button, el, fill } from "./element.js";
import { mark } from "./marks.js";

const banners = new Map();
let line = null;

/** Says something to a screen reader without moving anybody. */
export function say(words) {
  line ??= document.getElementById("polite");
  line.textContent = "";
  // the same words again are only heard when the line was empty between
  setTimeout(() => { line.textContent = words; }, 60);
}

/** Shows a banner by name, in the place of the earlier one of this name. Deeds are `[words, press]`. */
export function banner(name, { severity = "warning", words, hint = null, deeds = [], stays = false }) {
  const key = JSON.stringify([severity, words, hint, deeds.map(([said]) => said)]);
  const shown = banners.get(name);
  if (shown?.key === key) return;
  const made = el("div", { class: `banner banner-${severity}`, role: severity === "error" ? "alert" : null });
  fill(made, mark(severity), el("div", { class: "banner-words" }, el("p", {}, prose(words)), hint && el("p", { class: "quiet" }, prose(hint))),
    el("div", { class: "deeds" }, deeds.map(([said, press]) => button(said, press)),
      !stays && button("Close", () => unbanner(name), { class: "plain", "aria-label": `Close: ${words}` })));
  if (shown) shown.made.replaceWith(made);
  else document.getElementById("banners").append(made);
  banners.set(name, { made, key });
  if (severity !== "error") say(words); // an alert is heard by itself
}

/** Takes a banner away; focus that stood in it goes to the work. */
export function unbanner(name) {
  const shown = banners.get(name);
  if (!shown) return;
  const held = shown.made.contains(document.activeElement);
  shown.made.remove();
  banners.delete(name);
  if (held) document.getElementById("main").focus();
}

/** Shows a refusal as a banner. */
export function refused(name, failure, deeds = []) {
  if (failure.name === "AbortError" || failure.kind === "stale" || failure.kind === "ended") return;
  banner(name, { severity: "error", words: failure.message, hint: failure.hint, deeds });
}

/** A message of the program as it stands in a page: with a capital, unless it begins with a name. */
export function sentence(words) {
  const text = String(words ?? "");
  return text.charAt(0).toUpperCase() + text.slice(1);
}

/** The same with what stands in backquotes, names and values, set apart instead; and as elements. */
export function prose(words) {
  const parts = sentence(words).split("`");
  if (parts.length % 2 === 0) return [sentence(words)]; // a quote of its own among them: left as it is
  return parts.map((part, at) => (at % 2 === 1 ? el("span", { class: "named" }, part) : part));
}
