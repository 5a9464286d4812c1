// The block at the top, as on a drawing: site, survey, findings; and the views with how much is in each.
import { undo } from "./correcting.js";
import { ownSurvey } from "./dropping.js";
import { button, count, el, figures, fill } from "./element.js";
import { mark } from "./marks.js";
import { address } from "./place.js";
import { sentence } from "./say.js";
import { version } from "./site.js";

const byId = (id) => document.getElementById(id);

let shown = "";
/** Shows a site answer. */
export function showHead(site) {
  const now = JSON.stringify(site);
  if (now === shown) return;
  shown = now;
  const { survey, totals } = site;
  fill(byId("site-name"), site.site || (site.state === "failed" ? "The survey cannot be read" : site.state === "reading" ? "Reading the survey" : "Site not named"));
  fill(byId("site-title"), site.title ?? "");
  fill(byId("survey-name"), survey?.name ?? "unknown");
  fill(byId("survey-facts"), survey && site.state === "ready" ? [count(survey.rows ?? 0, "row"), survey.dropped && ", opened here ", survey.dropped && corrected(survey), survey.dropped && own(),
    !survey.correctable && ", read only"] : "");
  fill(byId("edition"), site.edition ?? "");
  if (site.state === "failed") fill(byId("totals"), el("span", {}, "unknown")); // no figure of an earlier reading may reassure
  if (totals && site.state === "ready") {
    fill(byId("totals"), total("error", totals.errors, "errors"), total("warning", totals.warnings, "warnings"), total("advice", totals.advice, "advice"));
    const badges = { survey: survey?.rows, findings: totals.errors + totals.warnings + totals.advice, enclosures: totals.enclosures, notices: totals.notices };
    for (const [view, number] of Object.entries(badges)) badge(view, number);
  }
  const press = byId("undo");
  press.disabled = !site.corrections;
  fill(press, site.corrections > 1 ? `Undo (${site.corrections})` : "Undo");
  press.title = site.last_correction ? `Undo ${site.last_correction}` : "No correction to undo";
  press.setAttribute("aria-label", site.last_correction ? `Undo the last correction: ${site.last_correction}` : "Undo the last correction");
}

function total(severity, number, words) {
  return el("a", { href: address("findings", { severity }), class: number > 0 ? `total total-${severity}` : "total none", "aria-label": `${number} ${words}` }, mark(severity, true),
    el("span", { class: "figure" }, figures(number)), el("span", { class: "total-word" }, number === 1 ? severity : words));
}

function corrected(survey) {
  if (!survey.correctable) return null;
  return [el("a", { href: `/api/survey-file?v=${version()}`, download: survey.name }, "download it with its corrections"), " "];
}

function own() {
  return button("Back to the first survey", ownSurvey, { class: "link" });
}

function badge(view, number) {
  const link = document.querySelector(`.strip a[href^="#${view}"]`);
  const old = link.querySelector(".number");
  const words = number === undefined ? "" : figures(number);
  if (old) fill(old, words);
  else link.append(el("span", { class: "number" }, words));
}

/** Which view is shown, in the strip and in the title of the window. */
export function showView(view, site) {
  for (const link of document.querySelectorAll(".strip a")) {
    if (link.dataset.view === view) link.setAttribute("aria-current", "page");
    else link.removeAttribute("aria-current");
  }
  document.title = [sentence(view), site?.site, "noticewright"].filter(Boolean).join(" · ");
}

/** Ctrl+Z outside of fields takes back the last correction; so does the button. */
export function listenForUndo() {
  byId("undo").addEventListener("click", undo);
  document.addEventListener("keydown", (event) => {
    if (!(event.ctrlKey || event.metaKey) || event.shiftKey || event.altKey || event.key.toLowerCase() !== "z") return;
    if (event.target.closest?.("input, textarea, select, dialog")) return;
    event.preventDefault();
    undo();
  });
}
