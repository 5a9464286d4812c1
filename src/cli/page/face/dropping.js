// A survey dropped anywhere on the page, or chosen with the button, is read in the place of the one before.
import { post, send } from "./ask.js";
import { beingWritten } from "./correcting.js";
import { banner, refused, say, unbanner } from "./say.js";
import { take } from "./site.js";

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
  banner("dropped", { severity: "advice", words: `Reading ${file.name}…`, stays: true });
  try {
    const answer = await send(`/api/survey?name=${encodeURIComponent(file.name)}`, file);
    unbanner("dropped");
    take(answer);
    say(`${file.name} was read.`);
  } catch (failure) {
    unbanner("dropped");
    refused("dropped", failure);
  }
}

/** Back to the survey that the program was started with. */
export async function ownSurvey() {
  try {
    take(await post("/api/own-survey", {}));
    say("Back at the survey that the program was started with.");
  } catch (failure) {
    refused("dropped", failure);
  }
}
