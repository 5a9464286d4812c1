// A table of any length and width as a grid: one cell can be reached with Tab, the arrow keys lead from there. Only the rows
// and columns in sight are drawn; the cell to be reached always is.
import { count, el, fill } from "./element.js";
import { MOST_ON_PAPER, Rolling } from "./rolling.js";

const WIDEST_ON_PAPER = 190; // letters; a wider table is printed row by row, each cell with its header

export class Grid {
  /**
   * `columns` as `{ key, words, small, width }` (width in letters); `draw(cell, row, column, index)` fills a cell;
   * `press(row, index, column, how)` is called for a click, Enter, Space or F2 on a cell; `moved(row, index, column)` when
   * the cell to be reached is another; `rowState(element, row, index)` marks the row.
   */
  constructor({ label, draw, press = () => {}, moved = () => {}, rowState = () => {}, stuck = 1, many = false }) {
    Object.assign(this, { draw, press, moved, rowState, stuck });
    this.columns = [];
    this.source = { total: 0, at: () => undefined, peek: () => undefined };
    this.index = 0;
    this.column = 0;
    // the rows are laid out each by itself, which is what keeps rolling smooth; so the roles are said and not left to the tags
    this.headRow = el("tr", { role: "row", "aria-rowindex": "1" });
    this.head = el("thead", { role: "rowgroup" }, this.headRow);
    this.body = el("tbody", { role: "rowgroup" });
    this.table = el("table", { role: "grid", "aria-label": label, "aria-multiselectable": many ? "true" : null }, this.head, this.body);
    this.cut = el("p", { class: "paper-note" });
    this.element = el("div", { class: "roll table-roll" }, this.cut, this.table);
    this.rolling = new Rolling({
      scroller: this.element,
      body: this.body,
      make: (index) => this.makeRow(index),
      again: (row, index) => {
        row.setAttribute("aria-rowindex", String(index + 2));
        return row;
      },
      draw: (row, index) => this.drawRow(row, index),
      gap: (height) => this.makeGap(height),
      kept: () => [this.index],
      head: () => this.head.offsetHeight,
      stale: () => this.columnsInSight(),
    });
    this.rolling.paper = (whole) => this.paper(whole);
    this.wanted = [];
    this.table.addEventListener("keydown", (event) => this.key(event));
    this.body.addEventListener("click", (event) => this.pointed(event, "click"));
    this.body.addEventListener("dblclick", (event) => this.pointed(event, "double"));
    this.body.addEventListener("focusin", (event) => this.entered(event));
  }

  /** Whether cells can be corrected in their place. */
  setReadOnly(readOnly) {
    this.table.setAttribute("aria-readonly", String(readOnly));
  }

  /** Other columns: everything is drawn anew. */
  setColumns(columns) {
    const key = JSON.stringify(columns);
    if (key === this.columnsKey) return;
    this.columnsKey = key;
    this.columns = columns;
    this.headRow.replaceChildren(...columns.map((column, at) => el("th", {
      scope: "col", role: "columnheader", "aria-colindex": String(at + 1), class: at < this.stuck ? `stuck stuck-${at}` : null, title: column.title ?? null,
    }, column.small && el("span", { class: "letter" }, column.small), column.words)));
    let left = 0;
    this.lefts = columns.map((column, at) => {
      this.headRow.children[at].style.width = `${column.width}ch`;
      left += column.width;
      return left - column.width;
    });
    this.table.style.width = `${columns.reduce((sum, column) => sum + column.width, 0)}ch`;
    this.table.setAttribute("aria-colcount", String(columns.length));
    this.column = Math.min(this.column, Math.max(0, columns.length - 1));
    this.rolling.empty();
    this.place();
  }

  /** Sets the stuck columns side by side. */
  place() {
    let left = 0;
    for (let at = 0; at < this.stuck && at < this.columns.length; at += 1) {
      this.table.style.setProperty(`--stuck-${at}`, `${left}px`);
      const head = this.headRow.children[at];
      if (head && getComputedStyle(head).position === "sticky") left += head.offsetWidth;
    }
    this.stuckWidth = left;
  }

  /** Other rows. Whoever stands in a cell stays in it, if there is such a row still. */
  setSource(source) {
    if (this.source !== source) this.source.end?.();
    this.source = source;
    this.redraw();
  }

  /** Draws the rows in sight again, in place. */
  redraw() {
    this.table.setAttribute("aria-rowcount", String(this.source.total + 1));
    // A table on paper that ends early would look whole.
    fill(this.cut, this.source.total > MOST_ON_PAPER ? `At most the first ${count(MOST_ON_PAPER, "row")} of ${this.source.total} are on this print.` : "");
    if (this.source.total > 0) this.index = Math.min(this.index, this.source.total - 1);
    const held = this.body.contains(document.activeElement);
    this.rolling.total = this.source.total;
    this.measure();
    this.rolling.now(true);
    this.reachable();
    if (held && !this.body.contains(document.activeElement)) (this.cellAt(this.index, this.column) ?? this.element).focus();
  }

  measure() {
    const size = parseFloat(getComputedStyle(this.element).getPropertyValue("--row")) || 2;
    this.rolling.height = Math.round(size * parseFloat(getComputedStyle(document.documentElement).fontSize));
    this.place();
  }

  /** On paper all rows stand that are here, and the columns that hold anything, by their share of the width. */
  paper(whole) {
    if (this.element.clientHeight === 0) return;
    this.rolling.whole = whole;
    const held = this.columns.map((_, at) => !whole || this.holds(at));
    const letters = this.columns.reduce((sum, column, at) => sum + (held[at] ? column.width : 0), 0);
    this.columns.forEach((column, at) => {
      const head = this.headRow.children[at];
      head.hidden = !held[at];
      head.style.width = whole ? `${(100 * column.width) / letters}%` : `${column.width}ch`;
    });
    this.onPaper = whole ? held : null;
    this.element.classList.toggle("too-wide", whole && letters > WIDEST_ON_PAPER);
    this.rolling.now(true);
  }

  /** Whether a column holds anything in the rows that are here. */
  holds(at) {
    const cell = this.makeCell(at);
    for (let index = 0; index < this.source.total; index += 1) {
      const row = this.source.peek(index);
      if (row === undefined) continue;
      this.draw(cell, row, at, index);
      if (cell.textContent !== "") return true;
    }
    return at === 0;
  }

  /** Which columns are in sight; tells whether they are others than before. */
  columnsInSight() {
    const letters = this.columns.reduce((sum, column) => sum + column.width, 0);
    const pixels = letters > 0 ? this.table.offsetWidth / letters : 0; // of one letter
    const from = this.element.scrollLeft - 200;
    const to = this.element.scrollLeft + this.element.clientWidth + 200;
    const wanted = this.columns.map((_, at) => at).filter((at) => this.onPaper ? this.onPaper[at] : at < this.stuck || at === this.column
      || (this.lefts[at] * pixels < to && (this.lefts[at] + this.columns[at].width) * pixels > from));
    const other = wanted.join() !== this.wanted.join();
    this.wanted = wanted;
    return other;
  }

  makeRow(index) {
    const row = el("tr", { role: "row", "aria-rowindex": String(index + 2) });
    row.cellAt = new Map();
    return row;
  }

  makeCell(at) {
    const column = this.columns[at];
    const cell = el(at === 0 ? "th" : "td", {
      role: at === 0 ? "rowheader" : "gridcell", scope: at === 0 ? "row" : null, "aria-colindex": String(at + 1), tabindex: "-1",
      class: at < this.stuck ? `stuck stuck-${at}` : null, "data-head": column.words,
    });
    cell.style.width = `${column.width}ch`;
    if (at >= this.stuck) cell.style.left = `${this.lefts[at]}ch`;
    return cell;
  }

  drawRow(element, index) {
    const row = this.source.at(index);
    const cells = element.cellAt;
    element.classList.toggle("waiting", row === undefined);
    this.rowState(element, row, index);
    for (const [at, cell] of cells) {
      if (this.wanted.includes(at) || cell.dataset.held) continue;
      cell.remove();
      cells.delete(at);
    }
    let before = element.firstChild;
    for (const at of this.wanted) {
      while (before && Number(before.getAttribute("aria-colindex")) - 1 < at) before = before.nextSibling;
      let cell = cells.get(at);
      if (!cell) {
        cell = this.makeCell(at);
        cells.set(at, cell);
        element.insertBefore(cell, before);
      }
      if (cell.dataset.held) continue; // somebody writes in it
      if (row === undefined) cell.textContent = at === 0 ? "…" : "";
      else this.draw(cell, row, at, index);
      cell.tabIndex = index === this.index && at === this.column ? 0 : -1;
    }
  }

  makeGap(height) {
    const gap = el("tr", { class: "gap", "aria-hidden": "true" }, el("td", { colspan: String(this.columns.length) }));
    gap.style.height = `${height}px`;
    return gap;
  }

  cellAt(index, column) {
    return this.rolling.rows.get(index)?.cellAt.get(column) ?? null;
  }

  reachable() {
    this.body.querySelectorAll('[tabindex="0"]').forEach((cell) => { cell.tabIndex = -1; });
    const cell = this.cellAt(this.index, this.column);
    if (cell) cell.tabIndex = 0;
  }

  /** Makes a cell the one to be reached, brings it into sight and, if wished, goes there. */
  goTo(index, column, focus = true) {
    if (this.source.total === 0) return;
    this.index = Math.max(0, Math.min(index, this.source.total - 1));
    this.column = Math.max(0, Math.min(column, this.columns.length - 1));
    this.rolling.reveal(this.index);
    this.rolling.now();
    this.reachable();
    const cell = this.cellAt(this.index, this.column);
    if (!cell) return;
    this.across(cell);
    if (focus) cell.focus({ preventScroll: true });
    this.moved(this.source.at(this.index), this.index, this.column);
  }

  across(cell) {
    if (this.column < this.stuck) return;
    const left = cell.offsetLeft;
    const roll = this.element;
    const stuck = this.stuckWidth ?? 0;
    if (left - stuck < roll.scrollLeft) roll.scrollLeft = left - stuck;
    else if (left + cell.offsetWidth > roll.scrollLeft + roll.clientWidth) roll.scrollLeft = Math.min(left - stuck, left + cell.offsetWidth - roll.clientWidth);
  }

  find(target) {
    const cell = target.closest?.("th,td");
    const row = cell?.parentElement;
    if (!row?.hasAttribute("aria-rowindex")) return null;
    return { cell, index: Number(row.getAttribute("aria-rowindex")) - 2, column: Number(cell.getAttribute("aria-colindex")) - 1 };
  }

  entered(event) {
    const at = this.find(event.target);
    if (!at || event.target !== at.cell || (at.index === this.index && at.column === this.column)) return;
    this.index = at.index;
    this.column = at.column;
    this.reachable();
    this.moved(this.source.at(at.index), at.index, at.column);
  }

  pointed(event, how) {
    if (event.target.closest("input,button,select")) return;
    const at = this.find(event.target);
    if (!at) return;
    if (how === "click") this.goTo(at.index, at.column);
    const row = this.source.at(at.index);
    if (row !== undefined) this.press(row, at.index, at.column, how, event);
  }

  key(event) {
    if (event.target.closest("input,select,button") || event.altKey || event.metaKey) return;
    const page = Math.max(1, Math.floor((this.element.clientHeight - this.head.offsetHeight) / this.rolling.height) - 1);
    const last = this.columns.length - 1;
    const far = event.ctrlKey;
    const moves = {
      ArrowDown: [far ? this.source.total : this.index + 1, this.column],
      ArrowUp: [far ? 0 : this.index - 1, this.column],
      ArrowRight: [this.index, far ? last : this.column + 1],
      ArrowLeft: [this.index, far ? 0 : this.column - 1],
      PageDown: [this.index + page, this.column],
      PageUp: [this.index - page, this.column],
      Home: [far ? 0 : this.index, 0],
      End: [far ? this.source.total : this.index, last],
    };
    const move = moves[event.key];
    if (move) {
      event.preventDefault();
      this.goTo(...move);
      return;
    }
    const how = { Enter: "enter", " ": "space", F2: "enter" }[event.key];
    const row = this.source.at(this.index);
    if (!how || far || row === undefined) return;
    event.preventDefault();
    this.press(row, this.index, this.column, how, event);
  }
}
