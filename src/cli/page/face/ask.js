// Questions to the program on this machine, and what it means when it does not answer.

/** An answer that says no: `kind` tells why, `hint` what to do. */
export class Refusal extends Error {
  constructor(status, answer) {
    super(answer?.message ?? `the program answered ${status} without a reason`);
    this.status = status;
    this.hint = answer?.hint ?? null;
    this.kind = answer?.kind ?? "refused";
  }
}

const lost = new Set();
/** Is called with `over` (another run of the program), `ended` (no answer at all) or `back`. */
export function whenLost(heard) {
  lost.add(heard);
}
const tell = (what) => lost.forEach((heard) => heard(what));

async function answer(path, options) {
  let got;
  try {
    got = await fetch(path, { cache: "no-store", credentials: "same-origin", ...options });
  } catch (failure) {
    if (failure.name === "AbortError") throw failure;
    tell("ended");
    throw new Refusal(0, { message: "the program does not answer", hint: "start it again in the terminal", kind: "ended" });
  }
  if (got.status === 403) {
    tell("over");
    throw new Refusal(403, { message: "this page is of an earlier run of the program", hint: "open the address that it printed", kind: "ended" });
  }
  tell("back");
  const said = await got.json().catch(() => null);
  if (!got.ok) throw new Refusal(got.status, said);
  return said;
}

/** Fetches JSON; `query` holds what follows the question mark, empty ones are left out. */
export function get(path, query = {}, signal = undefined) {
  const asked = new URLSearchParams();
  for (const [name, value] of Object.entries(query)) {
    if (value !== "" && value !== null && value !== undefined && value !== false) asked.set(name, value === true ? "1" : String(value));
  }
  const tail = asked.toString();
  return answer(tail ? `${path}?${tail}` : path, { signal });
}

/** Sends JSON. */
export function post(path, body) {
  return answer(path, { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify(body) });
}

/** Sends the bytes of a file. */
export function send(path, file) {
  return answer(path, { method: "POST", headers: { "Content-Type": "application/octet-stream" }, body: file });
}
