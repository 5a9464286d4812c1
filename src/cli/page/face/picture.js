// A notice as it is printed, as a picture that is fetched when it comes into sight.
import { el } from "./element.js";
import { version } from "./site.js";

/** The address of the picture of a notice. */
export const pictureOf = (index) => `/picture/notice/${index}.svg?v=${version()}`;

/** The picture with its number and size under it. `lines` is what the notice says, for those who do not see it. */
export function noticePicture(notice) {
  const words = notice.text?.length ? `Notice ${notice.number}: ${notice.text.join(". ")}` : `Notice ${notice.number} as printed`;
  return el("figure", { class: "notice" },
    notice.misfit ? el("p", { class: "misfit" }, notice.misfit) : el("img", { src: pictureOf(notice.index), alt: words, loading: "lazy", decoding: "async" }),
    el("figcaption", {}, el("span", { class: "strong" }, notice.number), notice.size ? ` ${notice.size}` : " size unknown"));
}
