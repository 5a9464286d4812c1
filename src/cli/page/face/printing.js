// Work that takes a while: how far it is, what came of it, and the files to open or to keep.
import { get } from "./ask.js";
import { count, el, fill, put } from "./element.js";
import { errorsFirst } from "./finding.js";
import { mark } from "./marks.js";
import { banner, prose, say, sentence } from "./say.js";

/** Shows a piece of work at the top of `place` until it is done; `after` is called when it is. */
export function startWork(place, number, words, after = null) {
  const bar = el("progress", { "aria-label": `${words}: progress` });
  const told = el("p", { class: "quiet" }, "Waiting to begin");
  const card = el("section", { class: "work", "aria-label": words, tabindex: "-1" }, el("h3", {}, words), bar, told);
  place.prepend(card);
  card.scrollIntoView({ block: "nearest" });
  say(`${words}: under way.`);
  ask(number, { card, bar, told, words, after });
}

async function ask(number, shown) {
  let state;
  try {
    state = await get(`/api/work/${number}`);
  } catch (failure) {
    fill(shown.told, `Not known how this went: ${failure.message}`);
    shown.bar.remove();
    return;
  }
  if (state.state === "running") {
    fill(shown.told, [sentence(state.what), state.of ? `${state.done} of ${state.of}` : state.done ? String(state.done) : ""].filter(Boolean).join(": "));
    if (state.of) {
      shown.bar.max = state.of;
      shown.bar.value = state.done;
    } else {
      shown.bar.removeAttribute("value");
    }
    setTimeout(() => ask(number, shown), 250);
    return;
  }
  shown.bar.remove();
  if (state.state === "failed") failed(state, shown);
  else done(state, shown);
  shown.after?.();
}

function failed(state, { card, told, words }) {
  const { message = "it failed without a reason", hint = null } = state.failure ?? {};
  told.remove();
  card.append(el("p", {}, mark("error"), prose(message)), hint ? el("p", { class: "quiet" }, prose(hint)) : "");
  put(card, errorsFirst(state.findings ?? []));
  say(`${words}: failed. ${message}`);
}

function done(state, { card, told, words }) {
  told.remove();
  card.append(
    el("ul", { class: "results" }, state.results.map((result) => el("li", {},
      el("a", { href: result.url, download: result.name, class: "deed main" }, `Download ${result.name}`),
      el("a", { href: result.url, target: "_blank", rel: "noopener", class: "deed" }, "Open in a new tab", el("span", { class: "unseen" }, `: ${result.name}`)),
      el("span", { class: "quiet" }, [result.pages ? count(result.pages, "page") : "", size(result.bytes)].filter(Boolean).join(", "))))),
    state.message ? el("p", { class: "said" }, state.message) : "",
    state.recorded !== null && state.recorded !== undefined ? el("p", {}, `Kept in the record: ${count(state.recorded, "notice")} printed.`) : "");
  put(card, errorsFirst(state.findings ?? []));
  say(`${words}: done. ${state.results.map((result) => result.name).join(", ")} can be downloaded.`);
}

function size(bytes) {
  return bytes >= 1e6 ? `${(bytes / 1e6).toFixed(1)} MB` : `${Math.max(1, Math.round(bytes / 1e3))} kB`;
}

/** Copies text, and says on the pressed button that it was. */
export async function copied(text, press) {
  try {
    await navigator.clipboard.writeText(text);
    say("Copied.");
    fill(press, "Copied");
    setTimeout(() => fill(press, "Copy"), 2000);
  } catch {
    banner("copied", { words: "The browser does not let this page copy; mark the text and copy it by hand." });
  }
}
