// The headers of a survey that has names of its own: each is given the column that it means. What the job file needs to
// keep it stands below, to copy.
import { post } from "./ask.js";
import { button, choice, el, fill } from "./element.js";
import { lay } from "./dialog.js";
import { copied } from "./printing.js";
import { prose, refused, say } from "./say.js";
import { about, again, take, version } from "./site.js";

/** Lays the headers over the page. */
export async function openHeaders() {
  const body = el("div", {}, el("p", { class: "quiet" }, "Asking…"));
  const close = lay("Headers of the survey", body, { wide: true });
  try {
    draw(body, await about("/api/headers"), close);
  } catch (failure) {
    close();
    refused("headers", failure);
  }
}

function draw(body, answer, close) {
  const options = [["", "not read"], ...answer.columns.map((one) => [one.column, one.needed ? `${one.column} (needed)` : one.column])];
  const meanings = new Map(answer.columns.map((one) => [one.column, one.meaning]));
  const taken = new Set(answer.headers.map((one) => one.column).filter(Boolean));
  const lacking = answer.columns.filter((one) => one.needed && !taken.has(one.column)).map((one) => one.column);
  const lines = answer.headers.map((header) => line(header, options, meanings));
  const form = el("form", { on: { submit: (event) => { event.preventDefault(); save(lines, close); } } },
    el("p", {}, lacking.length > 0 ? `Needed and not found yet: ${lacking.join(", ")}.` : "All needed columns are found."),
    el("ul", { class: "headers" }, lines.map((one) => one.element)),
    el("p", { class: "deeds" }, el("button", { type: "submit", class: "main" }, "Read the survey so")));
  fill(body, form, answer.lines ? [
    el("h3", {}, "To keep this, the job file needs"),
    el("div", { class: "copy" }, el("pre", { class: "command", tabindex: "0" }, answer.lines), button("Copy", (event) => copied(answer.lines, event.currentTarget)))] : null);
}

let made = 0;
function line(header, options, meanings) {
  made += 1;
  const told = el("span", { class: "hint" });
  const select = choice(options, header.column ?? "", { id: `header-${made}` });
  const tell = () => fill(told, prose(meanings.get(select.value) ?? (select.value ? "" : "This column is left aside.")));
  select.addEventListener("change", tell);
  tell();
  return { header, select, element: el("li", { class: header.column ? null : "lacking" }, el("label", { for: select.id }, header.text || "(empty)"), select, told) };
}

async function save(lines, close) {
  const headers = {};
  for (const { header, select } of lines) {
    if (select.value !== (header.column ?? "") || (select.value && !header.own)) headers[header.text] = select.value;
  }
  try {
    const answer = await post("/api/headers", { v: version(), headers });
    close();
    take(answer);
    say("The survey is read by these headers.");
  } catch (failure) {
    if (failure.kind === "stale") again();
    close();
    refused("headers", failure);
  }
}
