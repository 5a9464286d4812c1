// The survey as the program holds it now: its version, its totals, and whoever must draw again when they change.
import { get, post } from "./ask.js";
import { banner, refused, say, unbanner } from "./say.js";

let now = null;
const listeners = new Set();
let asking = null;

/** The site as last heard; null before the first answer. */
export const site = () => now;
/** The version to ask with. */
export const version = () => now?.v ?? 0;
/** Is called with every site answer, and whether the survey is another one than before. */
export function whenSite(heard) {
  listeners.add(heard);
}

/** Takes a site answer that came with a deed. */
export function take(answer) {
  const other = now === null || now.v !== answer.v || now.state !== answer.state;
  now = answer;
  if (answer.state === "reading") setTimeout(again, 200);
  tellOfDisk(answer);
  listeners.forEach((heard) => heard(answer, other));
  return answer;
}

/** Asks for the site again; many who ask at once get one answer. */
export function again() {
  asking ??= get("/api/site").then(take).catch((failure) => refused("site", failure)).finally(() => { asking = null; });
  return asking;
}

/** Has the program read the files from disk again. */
export async function readAgain() {
  try {
    take(await post("/api/read-again", {}));
    unbanner("failure");
    unbanner("correct");
    say("The survey was read again.");
  } catch (failure) {
    refused("read-again", failure);
  }
}

/** Asks something about the survey; an answer about an earlier survey is dropped, and the page drawn again. */
export async function about(path, query = {}, signal = undefined) {
  try {
    return await get(path, { ...query, v: version() }, signal);
  } catch (failure) {
    if (failure.kind === "stale") again();
    throw failure;
  }
}

function tellOfDisk(answer) {
  if (answer.state === "failed" && answer.failure) {
    banner("failure", { severity: "error", words: answer.failure.message, hint: [answer.failure.hint, "What is still shown is from the last time that it could be read."].filter(Boolean).join("\n"), deeds: [["Read it again", readAgain]], stays: true });
  } else {
    unbanner("failure");
  }
  if (answer.changed_on_disk) {
    banner("disk", { words: "A file of this survey was changed by another program since it was read.", deeds: [["Read it again", readAgain]], stays: true });
  } else {
    unbanner("disk");
  }
}

/** Looks now and then whether another program changed the survey, while somebody looks at the page. */
export function watch() {
  setInterval(() => {
    if (document.visibilityState === "visible" && now?.state !== "reading") again();
  }, 4000);
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "visible") again();
  });
}
