// Light or dark: what the machine prefers, or what was chosen here. The choice is the one thing that is kept in the
// browser. This script runs before the first paint, so that nobody who chose dark is blinded by white.
"use strict";
(() => {
  const root = document.documentElement;
  const prefers = window.matchMedia("(prefers-color-scheme: dark)");
  let kept = null;
  try {
    kept = window.localStorage.getItem("theme");
  } catch {
    kept = null; // storage can be switched off; the page then follows the machine
  }
  const dark = () => (kept === "dark" || kept === "light" ? kept === "dark" : prefers.matches);
  const show = () => {
    root.dataset.theme = dark() ? "dark" : "light";
    document.getElementById("dark")?.setAttribute("aria-pressed", String(dark()));
  };
  show();
  prefers.addEventListener("change", show);
  document.addEventListener("DOMContentLoaded", () => {
    show();
    document.getElementById("dark").addEventListener("click", () => {
      kept = dark() ? "light" : "dark";
      try {
        window.localStorage.setItem("theme", kept);
      } catch {
        // it then holds until the page is closed
      }
      show();
    });
  });
})();
