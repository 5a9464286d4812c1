// Where the viewer is, kept in the address after `#`: the view, what is filtered, which enclosure is open.
// A reload and the back button lead there again.

export const VIEWS = ["survey", "findings", "enclosures", "notices", "sheets", "record"];
const listeners = new Set();

/** The place: `{ view, with }`, where `with` holds names and values. */
export function place() {
  const [name, tail = ""] = window.location.hash.slice(1).split("?", 2);
  return { view: VIEWS.includes(name) ? name : "survey", with: Object.fromEntries(new URLSearchParams(tail)) };
}

/** The address of a place. */
export function address(view, given = {}) {
  const kept = Object.entries(given).filter(([, value]) => value !== "" && value !== null && value !== undefined && value !== false);
  const tail = new URLSearchParams(kept.map(([name, value]) => [name, value === true ? "1" : String(value)])).toString();
  return tail ? `#${view}?${tail}` : `#${view}`;
}

/** Goes to a place; the back button leads back here. */
export function go(view, given = {}) {
  const target = address(view, given);
  if (window.location.hash === target) listeners.forEach((heard) => heard(place(), true));
  else window.location.hash = target;
}

/** Alters what the address holds of this view, without a step for the back button. */
export function alter(given) {
  const here = place();
  const target = address(here.view, { ...here.with, ...given });
  if (target !== (window.location.hash || "#survey")) window.history.replaceState(null, "", target);
}

/** Is called when the place becomes another. */
export function whenPlace(heard) {
  listeners.add(heard);
}

window.addEventListener("hashchange", () => {
  if (window.location.hash === "#main") return; // the skip link
  listeners.forEach((heard) => heard(place(), true));
});
