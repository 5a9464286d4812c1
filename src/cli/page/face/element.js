// Elements of the page. All text, whoever wrote it, becomes text nodes; nothing here ever reads text as markup.

/** Makes `<tag>`: attributes by name, `on` for listeners, children as elements or text; empty ones are left out. */
export function el(tag, attributes = {}, ...children) {
  const made = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) {
    if (value === null || value === undefined || value === false) continue;
    if (name === "on") {
      for (const [event, heard] of Object.entries(value)) made.addEventListener(event, heard);
    } else if (name === "value") {
      made.value = value;
    } else {
      made.setAttribute(name, value === true ? "" : value);
    }
  }
  put(made, ...children);
  return made;
}

/** Appends children: elements, text, lists of both. */
export function put(parent, ...children) {
  for (const child of children.flat(Infinity)) {
    if (child === null || child === undefined || child === false) continue;
    parent.append(child instanceof Node ? child : document.createTextNode(String(child)));
  }
  return parent;
}

/** Takes everything out of an element and puts in other children. Focus that stood inside goes to what came in its place. */
export function fill(parent, ...children) {
  const held = document.activeElement;
  const inside = held !== parent && parent.contains(held);
  parent.replaceChildren();
  put(parent, ...children);
  if (inside && !held.isConnected) likeOf(parent, held)?.focus({ preventScroll: true });
  return parent;
}

/** The element that stands for an earlier one: the same link, or the same words on the same kind of element. */
function likeOf(parent, earlier) {
  const alike = [...parent.querySelectorAll(earlier.tagName)];
  return alike.find((one) => one.id && one.id === earlier.id)
    ?? alike.find((one) => one.getAttribute("href") && one.getAttribute("href") === earlier.getAttribute("href"))
    ?? alike.find((one) => one.textContent === earlier.textContent && one.getAttribute("aria-label") === earlier.getAttribute("aria-label"))
    ?? parent.querySelector("a[href], button:enabled, [tabindex]");
}

/** A button that does something. */
export function button(words, press, attributes = {}) {
  return el("button", { type: "button", on: { click: press }, ...attributes }, words);
}

let labels = 0;
/** A field with its visible label; `hint` stands under it and is read with it. */
export function field(words, control, hint = null) {
  labels += 1;
  control.id ||= `field-${labels}`;
  const told = hint ? el("span", { class: "hint", id: `${control.id}-hint` }, hint) : null;
  if (told) control.setAttribute("aria-describedby", told.id);
  return el("div", { class: "field" }, el("label", { for: control.id }, words), control, told);
}

/** A choice of one: options as `[value, words]`. */
export function choice(options, value = "", attributes = {}) {
  const made = el("select", attributes);
  options.forEach(([key, words]) => made.append(el("option", { value: key }, words)));
  made.value = value;
  return made;
}

/** Puts other options into a choice, and keeps what was chosen where it is still there. */
export function offer(select, options, value = select.value) {
  const same = select.options.length === options.length
    && options.every(([key, words], at) => select.options[at].value === key && select.options[at].text === words);
  if (!same) fill(select, options.map(([key, words]) => el("option", { value: key }, words)));
  select.value = options.some(([key]) => key === value) ? value : "";
}

/** A box to tick, with its words. */
export function tick(words, checked, change) {
  const box = el("input", { type: "checkbox", on: { change: () => change?.(box.checked) } });
  box.checked = checked;
  return { box, label: el("label", { class: "tick" }, box, el("span", {}, words)) };
}

/** Waits until nothing was asked for a while, then does it once. */
export function settled(milliseconds, doing) {
  let timer = 0;
  return (...given) => {
    clearTimeout(timer);
    timer = setTimeout(() => doing(...given), milliseconds);
  };
}

/** `1 notice`, `2 notices`; thousands parted by a narrow space. */
export function count(number, one, many = `${one}s`) {
  return `${figures(number)} ${number === 1 ? one : many}`;
}

/** Figures with thousands parted. */
export function figures(number) {
  return String(number).replace(/\B(?=(\d{3})+(?!\d))/g, "\u202f");
}
