// A notice as it is printed, as a picture that is fetched when it comes into sight.
import { el } from "./element.js";
import { version } from "./site.js";

/** The address of the picture of a notice. */
export const pictureOf = (index) => `/picture/notice/${index}.svg?v=${version()}`;

/** The picture with its number and size under it; its lines, if known, are told to those who do not see it. `later` leaves
 *  the fetching to `fetchPictures`. */
export function noticePicture(notice, { later = false } = {}) {
  const words = notice.text?.length ? `Notice ${notice.number}: ${notice.text.join(". ")}` : `Notice ${notice.number} as printed`;
  return el("figure", { class: "notice" },
    notice.misfit ? el("p", { class: "misfit" }, notice.misfit) : el("img", { [later ? "data-later" : "src"]: pictureOf(notice.index), alt: words, loading: "lazy", decoding: "async" }),
    el("figcaption", {}, el("span", { class: "strong" }, notice.number), notice.size ? ` ${notice.size}` : " size unknown"));
}

/** Fetches the pictures in an element that were left for later. */
export function fetchPictures(within) {
  for (const picture of within.querySelectorAll("img[data-later]")) {
    picture.loading = "eager"; // the rows in sight are few, and what was not fetched would hold up printing
    picture.src = picture.dataset.later;
    delete picture.dataset.later;
  }
}
