// Rows that are fetched as they are needed, a page at a time. Old pages are forgotten; what is asked for last comes first.

const PAGE = 100;
const KEPT = 60;

/** Rows by number out of pages: `fetch(from, count, signal)` gives `{ total, rows }`. `arrived` is called after each. */
export class Pages {
  constructor(fetch, arrived, failed = () => {}) {
    this.fetch = fetch;
    this.arrived = arrived;
    this.failed = failed;
    this.total = 0;
    this.pages = new Map();
    this.wanted = [];
    this.running = 0;
    this.stop = new AbortController();
  }

  /** The row, or nothing yet; it is then on its way. */
  at(index) {
    const number = Math.floor(index / PAGE);
    const page = this.pages.get(number);
    if (page) {
      this.pages.delete(number); // the latest used stands last
      this.pages.set(number, page);
      return page[index - number * PAGE];
    }
    this.want(number);
    return undefined;
  }

  /** The row if it is here. */
  peek(index) {
    return this.pages.get(Math.floor(index / PAGE))?.[index % PAGE];
  }

  /** Fetches all pages that hold rows `from` to `to`, so that they can be drawn at once. */
  async ready(from, to) {
    const first = Math.floor(Math.max(0, from) / PAGE);
    const last = Math.floor(Math.max(0, to - 1) / PAGE);
    for (let number = first; number <= last; number += 1) {
      const answer = await this.fetch(number * PAGE, PAGE, this.stop.signal);
      this.total = answer.total;
      this.pages.set(number, answer.rows);
      this.answer = answer;
      if (answer.total <= (number + 1) * PAGE) break;
    }
    return this;
  }

  /** Drops what is under way. */
  end() {
    this.stop.abort();
  }

  want(number) {
    this.wanted = this.wanted.filter((other) => other !== number);
    this.wanted.push(number);
    this.next();
  }

  async next() {
    if (this.running >= 2 || this.wanted.length === 0 || this.stop.signal.aborted) return;
    const number = this.wanted.pop();
    this.wanted = this.wanted.slice(-4); // whoever scrolls far does not wait for what was passed
    this.running += 1;
    try {
      const answer = await this.fetch(number * PAGE, PAGE, this.stop.signal);
      this.total = answer.total;
      this.pages.set(number, answer.rows);
      for (const old of this.pages.keys()) {
        if (this.pages.size <= KEPT) break;
        this.pages.delete(old);
      }
      if (!this.stop.signal.aborted) this.arrived(this, answer);
    } catch (failure) {
      if (!this.stop.signal.aborted) this.failed(failure);
    } finally {
      this.running -= 1;
      this.next();
    }
  }
}

/** Rows that are all here already. */
export class Listed {
  constructor(rows) {
    this.rows = rows;
    this.total = rows.length;
  }

  at(index) {
    return this.rows[index];
  }

  peek(index) {
    return this.rows[index];
  }

  end() {}
}
