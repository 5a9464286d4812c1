// Starts the page: builds the views, shows the one that the address names, and draws again what the survey makes stale.
import { whenLost } from "./ask.js";
import { listen } from "./dropping.js";
import * as enclosures from "./enclosures.js";
import * as findings from "./findings.js";
import { listenForUndo, showHead, showView } from "./head.js";
import * as notices from "./notices.js";
import { address, place, VIEWS, whenPlace } from "./place.js";
import * as record from "./record.js";
import { banner, say, unbanner } from "./say.js";
import * as sheets from "./sheets.js";
import { again, site, version, watch, whenSite } from "./site.js";
import * as survey from "./survey.js";

const views = { survey, findings, enclosures, notices, sheets, record };
const seen = new Map();
const last = new Map();
let current = null;

const section = (view) => document.getElementById(`view-${view}`);

/** Shows the view of a place; `moved` when the viewer went there, and not the page by itself. */
function show({ view, with: given }, moved = false) {
  const other = current !== view;
  current = view;
  last.set(view, given);
  for (const name of VIEWS) section(name).hidden = name !== view;
  document.body.dataset.view = view;
  showView(view, site());
  keepLinks();
  if (other && moved) {
    document.getElementById(`head-${view}`).focus({ preventScroll: window.scrollY < 200 });
  }
  if (site()?.state !== "ready") return;
  if (seen.has(view) && seen.get(view) !== version()) views[view].refresh();
  seen.set(view, version());
  views[view].show(given);
}

/** The strip leads back to each view as it was left. */
function keepLinks() {
  for (const link of document.querySelectorAll(".strip a")) {
    link.dataset.view ||= link.getAttribute("href").slice(1);
    const { row, cell, ...kept } = last.get(link.dataset.view) ?? {};
    link.setAttribute("href", address(link.dataset.view, kept));
  }
}

whenSite((answer, other) => {
  showHead(answer);
  showView(current, answer);
  document.body.dataset.state = answer.state;
  if (!answer.survey?.dropped) unbanner("headers");
  if (!other || answer.state !== "ready") return;
  if (seen.get(current) === undefined) {
    show(place());
  } else {
    seen.set(current, version());
    views[current].refresh();
  }
});

whenLost((what) => {
  if (what === "back") {
    unbanner("lost");
  } else if (what === "over") {
    banner("lost", { severity: "error", words: "This page's program has ended or was started again.", hint: "Open the address that it printed.", stays: true });
  } else {
    banner("lost", { severity: "error", words: "The program does not answer; it has probably ended.", hint: "What is on the screen stays. Start the program again to go on.", stays: true, deeds: [["Try again", again]] });
  }
});

document.querySelector(".skip").addEventListener("click", (event) => {
  event.preventDefault();
  document.getElementById("main").focus();
});
// the strip keeps what was filtered last; it is read when it is used
document.querySelector(".strip").addEventListener("pointerdown", () => { last.set(current, place().with); keepLinks(); });
document.querySelector(".strip").addEventListener("focusin", () => { last.set(current, place().with); keepLinks(); });

for (const view of VIEWS) views[view].build(section(view));
keepLinks();
listen();
listenForUndo();
whenPlace(show);
show(place());
again().then(() => {
  if (site()?.state === "failed") say("The survey cannot be read.");
});
watch();
