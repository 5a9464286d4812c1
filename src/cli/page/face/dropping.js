// A survey dropped anywhere on the page, or chosen with the button, is read in the place of the one before.
import { post, send } from "./ask.js";
import { beingWritten } from "./correcting.js";
import { openHeaders } from "./headers.js";
import { banner, refused, say, unbanner } from "./say.js";
import { about, site, take } from "./site.js";

/** Listens for files. */
export function listen() {
  const shade = document.getElementById("drop");
  const input = document.getElementById("file");
  let depth = 0;
  const files = (event) => [...(event.dataTransfer?.types ?? [])].includes("Files");
  const over = (shown) => { shade.hidden = !shown; };
  window.addEventListener("dragenter", (event) => {
    if (!files(event)) return;
    event.preventDefault();
    depth += 1;
    over(true);
  });
  window.addEventListener("dragover", (event) => {
    if (files(event)) event.preventDefault();
  });
  window.addEventListener("dragleave", (event) => {
    if (!files(event)) return;
    depth = Math.max(0, depth - 1);
    if (depth === 0) over(false);
  });
  window.addEventListener("drop", (event) => {
    if (!files(event)) return;
    event.preventDefault();
    depth = 0;
    over(false);
    read([...event.dataTransfer.files]);
  });
  document.getElementById("choose").addEventListener("click", () => input.click());
  input.addEventListener("change", () => {
    read([...input.files]);
    input.value = "";
  });
}

async function read(files) {
  if (files.length === 0) return;
  if (files.length > 1) {
    banner("dropped", { words: "One survey at a time: drop a single file." });
    return;
  }
  if (beingWritten()) {
    banner("dropped", { words: "A cell is still being corrected.", hint: "Save it with Enter or give it up with Esc, then open the other survey." });
    return;
  }
  const [file] = files;
  banner("dropped", { severity: "advice", words: `Reading \`${file.name}\`…`, stays: true });
  try {
    const answer = await send(`/api/survey?name=${encodeURIComponent(file.name)}`, file);
    unbanner("dropped");
    take(answer);
    say(`${file.name} was read.`);
    await lookAtHeaders(file.name);
  } catch (failure) {
    unbanner("dropped");
    refused("dropped", failure);
  }
}

/** A survey with headers of its own: says which needed columns were not found, and leads to where they are told. */
async function lookAtHeaders(name) {
  if (site()?.state !== "ready") return;
  const { columns, headers } = await about("/api/headers");
  const read = new Set(headers.map((header) => header.column));
  const lacking = columns.filter((column) => column.needed && !read.has(column.column)).map((column) => column.column);
  if (lacking.length === 0) return;
  banner("headers", { words: `\`${name}\` has no header that is read as ${lacking.map((column) => `\`${column}\``).join(" or ")}.`, hint: "If it has such a column under a name of its own, say which.",
    deeds: [["Headers…", () => { unbanner("headers"); openHeaders(); }]] });
}

/** Back to the survey that the program was started with. */
export async function ownSurvey() {
  try {
    unbanner("headers");
    take(await post("/api/own-survey", {}));
    say("Back at the survey that the program was started with.");
  } catch (failure) {
    refused("dropped", failure);
  }
}
