// The state of the page: which keys are set, the states before, and those kept.

export class State {
  constructor() {
    this.set = new Map(); // key -> value, as --set takes it
    this.past = []; // states before, the latest last
    this.kept = []; // {name, set}
    this.keys = []; // keys with a slider that were added
    this.inHand = "";
    this.focus = "";
    this.stack = false;
    this.moving = false; // a hand is on a slider
  }

  // begin remembers the state before a change; a drag is one change.
  begin() {
    if (this.moving) return;
    this.moving = true;
    this.past.push(new Map(this.set));
    if (this.past.length > 200) this.past.shift();
  }

  // end closes a change. One that changed nothing is forgotten.
  end() {
    this.moving = false;
    const last = this.past.at(-1);
    if (last && same(last, this.set)) this.past.pop();
  }

  // change sets keys as one change; null takes a setting away.
  change(values) {
    this.begin();
    for (const [key, value] of Object.entries(values)) {
      if (value === null) this.set.delete(key);
      else this.set.set(key, value);
    }
    this.end();
  }

  undo() {
    const last = this.past.pop();
    if (last) this.set = last;
  }

  reset() {
    this.begin();
    this.set = new Map();
    this.end();
  }

  // replace takes another state as one change.
  replace(words) {
    this.begin();
    this.set = new Map(words.map(split));
    this.end();
  }

  words() { return list(this.set); }

  before() { return list(this.past.at(-1) || this.set); }
}

const list = (set) => [...set].map(([key, value]) => key + "=" + value);

function split(word) {
  const i = word.indexOf("=");
  return [word.slice(0, i), word.slice(i + 1)];
}

function same(a, b) {
  return a.size === b.size && [...a].every(([key, value]) => b.get(key) === value);
}
