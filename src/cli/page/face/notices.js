// The notices as a gallery of true pictures. Only those in sight are fetched and drawn.
import { count, el, fill, put, settled } from "./element.js";
import { lay } from "./dialog.js";
import { Filter } from "./filter.js";
import { Pages } from "./pages.js";
import { fetchPictures, noticePicture, pictureOf } from "./picture.js";
import { address, alter, go, place } from "./place.js";
import { refused } from "./say.js";
import { about, site, version } from "./site.js";
import { Rolling } from "./rolling.js";

export const KINDS = [["", "All kinds"], ["enclosure", "On enclosures"], ["device", "On devices"], ["standing", "Standing"]];
const parts = {};
let pages = null;
let asked = 0;
let loaded = null;
let across = 1;

/** Builds the view once. */
export function build(section) {
  parts.filter = new Filter({ find: "Find a notice", label: "Notices", more: [{ name: "kind", words: "Kind", options: KINDS }], changed: () => load() });
  parts.print = el("a", { class: "deed", href: "#sheets" }, "Print these…");
  parts.print.addEventListener("click", (event) => {
    event.preventDefault();
    const { find, area, kind } = parts.filter.values;
    go("sheets", { area, kind, only: find ? `*${find}*` : "" });
  });
  parts.body = el("div", { class: "gallery-rows", role: "list" });
  parts.roll = el("div", { class: "roll gallery" }, parts.body);
  parts.rolling = new Rolling({
    scroller: parts.roll, body: parts.body,
    make: () => el("div", { class: "gallery-row", role: "presentation" }), draw: drawRow,
    gap: (height) => {
      const gap = el("div", { class: "gap", role: "presentation", "aria-hidden": "true" });
      gap.style.height = `${height}px`;
      return gap;
    },
    kept: () => {
      const held = document.activeElement?.closest?.(".gallery-row");
      return [...parts.rolling.rows].filter(([, row]) => row === held).map(([index]) => index);
    },
  });
  // whoever rolls past a thousand notices does not wait for their pictures
  parts.pictures = settled(100, () => fetchPictures(parts.body));
  parts.roll.addEventListener("scroll", () => parts.pictures(), { passive: true });
  new ResizeObserver(() => layOut()).observe(parts.roll);
  put(section, el("div", { class: "bar" }, parts.filter.element, el("div", { class: "deeds" }, parts.print)),
    el("p", { class: "paper-note" }, "The notices that were in sight, without their pictures: the view Sheets makes files that print them at their true size."), parts.roll);
}

/** Shows what the address says; `show` lays one notice out. */
export async function show(given) {
  const other = parts.filter.show(given);
  if (other || loaded !== version()) await load();
  if (given.show !== undefined) layNotice(Number(given.show));
}

/** Draws again after the survey became another. */
export function refresh() {
  return load();
}

async function load() {
  if (site()?.state !== "ready") return;
  asked += 1;
  const mine = asked;
  const values = { find: parts.filter.values.find, area: parts.filter.values.area, kind: parts.filter.values.kind };
  const fresh = new Pages(async (from, rows, signal) => {
    const answer = await about("/api/notices", { ...values, from, count: rows }, signal);
    return { total: answer.total, rows: answer.notices };
  }, () => parts.rolling.now(true), (failure) => refused("notices", failure));
  const [first, end] = parts.rolling.sight();
  try {
    await fresh.ready(first * across, Math.max(end * across, 24));
  } catch (failure) {
    refused("notices", failure);
    return;
  }
  if (mine !== asked) return;
  pages?.end();
  pages = fresh;
  loaded = version();
  parts.filter.tell(count(pages.total, "notice"));
  layOut(true);
}

/** How many stand side by side, by the width; a row is as high as its pictures are wide. */
function layOut(anew = false) {
  if (!pages || parts.rolling.still || parts.roll.clientWidth === 0) return;
  const rem = parseFloat(getComputedStyle(document.documentElement).fontSize);
  const width = parts.roll.clientWidth - rem;
  const now = Math.max(1, Math.floor(width / (15 * rem)));
  const height = Math.round((width / now) * 0.71 + 3.6 * rem);
  if (!anew && now === across && height === parts.rolling.height) return;
  if (now !== across) {
    parts.rolling.empty();
  }
  across = now;
  parts.rolling.height = height;
  parts.rolling.total = Math.ceil(pages.total / across);
  parts.body.style.setProperty("--across", String(across));
  parts.body.style.setProperty("--high", `${height}px`);
  parts.rolling.now(true);
}

function drawRow(row, index) {
  for (let at = 0; at < across; at += 1) {
    const number = index * across + at;
    let card = row.children[at];
    if (!card) {
      card = el("div", { class: "card", role: "listitem" });
      row.append(card);
    }
    const notice = number < pages.total ? pages.at(number) : null;
    card.hidden = number >= pages.total;
    card.setAttribute("aria-setsize", String(pages.total));
    card.setAttribute("aria-posinset", String(number + 1));
    const key = notice ? `${version()} ${notice.index}` : "";
    if (card.dataset.key === key) continue;
    card.dataset.key = key;
    drawCard(card, notice);
  }
}

function drawCard(card, notice) {
  if (!notice) {
    fill(card);
    return;
  }
  const old = card.querySelector("button");
  const press = old ?? el("button", { type: "button", class: "card-press" });
  press.onclick = () => layNotice(notice.index, notice);
  fill(press, noticePicture(notice, { later: true }));
  parts.pictures();
  const under = el("p", { class: "quiet card-words" }, [notice.area, notice.position].filter(Boolean).join(", ") || "place unknown");
  if (old) [...card.children].forEach((child) => child !== old && child.remove());
  else card.append(press);
  card.append(under);
}

/** A notice at its own size on a sheet laid over the page. */
async function layNotice(index, known = null) {
  const notice = known ?? await find(index);
  if (!notice) return;
  alter({ show: index });
  const deeds = el("p", { class: "deeds" },
    notice.kind === "enclosure" && el("a", { href: address("enclosures", { show: notice.designation }) }, `Sheet of ${notice.designation}`),
    el("a", { href: address("record", { find: notice.number }) }, "Its record"),
    el("a", { href: address("sheets", { only: notice.number }) }, "Print this one"));
  const picture = el("img", { src: pictureOf(index), alt: `Notice ${notice.number} as printed`, class: "true-size" });
  lay(`Notice ${notice.number}`, [
    el("p", {}, [notice.size ?? "size unknown", notice.area, notice.position].filter(Boolean).join("; ")),
    el("div", { class: "true" }, picture),
    el("h3", {}, "What it says"),
    el("ul", { class: "plain-list" }, notice.text.map((line) => el("li", {}, line))),
    deeds,
  ], { wide: true });
  const laid = document.querySelector("dialog.laid");
  laid.addEventListener("close", () => place().view === "notices" && alter({ show: "" }));
  deeds.addEventListener("click", (event) => event.target.closest("a") && laid.close());
}

/** The notice of this index: without filters they stand in the order of their indices. */
async function find(index) {
  try {
    const [one] = (await about("/api/notices", { from: index, count: 1 })).notices;
    return one?.index === index ? one : null;
  } catch (failure) {
    refused("notices", failure);
    return null;
  }
}
