// Rolling rows: only the rows in sight stand in the page, between gaps as high as the rest. Rows that stay in sight are
// never taken out and put back, so whoever stands in one keeps the focus.

const SPARE = 5;
/** So many rows are drawn on paper; whoever shows more says so there. */
export const MOST_ON_PAPER = 2000;

/** Keeps the children of `body` to the rows in sight of `scroller`. */
export class Rolling {
  /**
   * `height` of a row in pixels, `total` rows; `make(index)` gives a new row, `draw(row, index)` fills it (again);
   * `again(row, index)` has a row that went out of sight stand for another;
   * `stale()` tells whether all rows must be filled again; `gap()` is an empty one; `kept()` lists rows that stay though they are out of sight.
   */
  constructor({ scroller, body, make, draw, gap, again = null, kept = () => [], head = () => 0, stale = () => false }) {
    Object.assign(this, { scroller, body, make, draw, gap, again, kept, head, stale });
    this.whole = false; // on paper all rows stand
    // what is on its way to paper is not drawn again: its height there has nothing to do with what is in sight
    this.still = false;
    window.addEventListener("beforeprint", () => {
      this.paper(true);
      this.still = true;
    });
    window.addEventListener("afterprint", () => {
      this.still = false;
      this.paper(false);
      this.soon();
    });
    this.rows = new Map();
    this.spare = [];
    this.gaps = [];
    this.height = 32;
    this.total = 0;
    this.due = 0;
    scroller.addEventListener("scroll", () => this.soon(), { passive: true });
    new ResizeObserver(() => this.soon()).observe(scroller);
  }

  /** Draws at the next frame. */
  soon() {
    if (!this.due) this.due = requestAnimationFrame(() => this.now());
  }

  /** The first row in sight and the one after the last. */
  sight() {
    if (this.whole) return [0, Math.min(this.total, MOST_ON_PAPER)];
    const above = Math.max(0, this.scroller.scrollTop - this.offset());
    const seen = Math.max(0, this.scroller.clientHeight - this.head());
    const first = Math.max(0, Math.floor(above / this.height) - SPARE);
    return [first, Math.min(this.total, Math.ceil((above + seen) / this.height) + SPARE)];
  }

  /** Forgets all rows, because they will be made otherwise. */
  empty() {
    this.body.replaceChildren();
    this.rows.clear();
    this.spare = [];
    this.gaps = [];
  }

  offset() {
    return 0;
  }

  /** Before and after printing: whoever rolls a table lays it out for paper here. */
  paper() {}

  /** Draws what is in sight; `anew` also fills rows again that are there. */
  now(anew = false) {
    cancelAnimationFrame(this.due);
    this.due = 0;
    if (this.still || this.scroller.clientHeight === 0) return;
    const again = this.stale() || anew;
    const [first, end] = this.sight();
    const shown = new Set(this.kept().filter((index) => index >= 0 && index < this.total));
    for (let index = first; index < end; index += 1) shown.add(index);
    this.gaps.forEach((gap) => gap.remove());
    this.gaps = [];
    for (const [index, row] of this.rows) {
      if (shown.has(index)) continue;
      row.remove();
      this.rows.delete(index);
      if (this.again && this.spare.length < 80) this.spare.push(row);
    }
    let cursor = this.body.firstChild;
    let next = 0;
    for (const index of [...shown].sort((one, other) => one - other)) {
      if (index > next) this.part(cursor, index - next);
      const row = this.rows.get(index);
      if (row) {
        if (again) this.draw(row, index);
        cursor = row.nextSibling;
      } else {
        this.add(index, cursor);
      }
      next = index + 1;
    }
    if (this.total > next) this.part(cursor, this.total - next);
  }

  add(index, before) {
    const made = this.spare.length > 0 ? this.again(this.spare.pop(), index) : this.make(index);
    this.rows.set(index, made);
    this.draw(made, index);
    this.body.insertBefore(made, before);
  }

  part(before, rows) {
    const gap = this.gap(rows * this.height);
    this.gaps.push(gap);
    this.body.insertBefore(gap, before);
  }

  /** Brings a row into sight, with as little scrolling as does. */
  reveal(index) {
    const top = this.offset() + index * this.height;
    const seen = this.scroller.clientHeight - this.head();
    if (top < this.scroller.scrollTop) this.scroller.scrollTop = top;
    else if (top + this.height > this.scroller.scrollTop + seen) this.scroller.scrollTop = top + this.height - seen;
  }
}
