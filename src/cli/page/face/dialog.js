// A sheet of paper laid over the page: for what a finding means, a notice at its size, headers. Esc lays it away.
import { button, el } from "./element.js";

/** Shows `content` under a heading, and gives back what closes it. Focus goes back to where it was. */
export function lay(title, content, { wide = false } = {}) {
  const from = document.activeElement;
  const head = el("h2", { id: "laid-head", tabindex: "-1" }, title);
  const laid = el("dialog", { class: wide ? "laid wide" : "laid", "aria-labelledby": "laid-head" },
    el("div", { class: "laid-head" }, head, button("Close", () => laid.close())),
    el("div", { class: "laid-body" }, content));
  laid.addEventListener("click", (event) => {
    if (event.target === laid) laid.close();
  });
  laid.addEventListener("close", () => {
    laid.remove();
    (from?.isConnected ? from : document.getElementById("main")).focus();
  });
  document.querySelector("dialog.laid")?.close();
  document.body.append(laid);
  laid.showModal();
  head.focus();
  return () => laid.close();
}
