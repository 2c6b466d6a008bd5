// The list of keys: a slider for each number, a choice for each word, a lock for each link.
import { at, make, say } from "./dom.js";

export class Sliders {
  constructor(state, changed) {
    this.state = state;
    this.changed = changed;
    this.rows = new Map();
  }

  // show brings the list up to date. The slider in hand is left where the hand is while it
  // moves, or while a later answer is to come, and all of them where a state cannot be
  // computed.
  show(list, broken, late) {
    this.late = late;
    for (const s of list) {
      if (broken && this.rows.has(s.key)) continue;
      let row = this.rows.get(s.key);
      if (!row) {
        row = s.choices ? this.choice(s) : this.number(s);
        this.rows.set(s.key, row);
        at("list").append(row.box);
      }
      row.box.classList.toggle("hand", s.key === this.state.inHand);
      row.show(s);
    }
    const wanted = new Set(list.map((s) => s.key));
    for (const [key, row] of this.rows) {
      if (wanted.has(key)) continue;
      row.box.remove();
      this.rows.delete(key);
    }
  }

  take(key) {
    if (this.state.inHand === key) return;
    this.state.inHand = key;
    this.changed();
  }

  number(s) {
    const id = "key-" + s.key;
    const range = make("input", { type: "range", id, min: s.min, max: s.max, step: s.step });
    const value = make("input", { type: "text", class: "value", "aria-label": s.label + ", value", autocomplete: "off", spellcheck: "false" });
    const put = (text) => { this.state.begin(); this.state.set.set(s.key, text); this.state.inHand = s.key; this.changed(); };
    const close = () => { this.state.end(); this.changed(); };
    range.addEventListener("input", () => put(range.value + (s.unit ? " " + s.unit : "")));
    range.addEventListener("change", close);
    range.addEventListener("focus", () => this.take(s.key));
    value.addEventListener("change", () => { put(value.value); close(); });
    value.addEventListener("focus", () => this.take(s.key));
    const foot = this.foot(s);
    return {
      box: make("div", { class: "key" }, make("div", { class: "head" }, make("label", { for: id, title: s.doc }, s.label), value), range, foot.box),
      show: (s) => {
        const steady = !(this.state.moving || this.late) || this.state.inHand !== s.key;
        if (steady && s.value !== null) range.value = s.value;
        range.disabled = s.value === null || s.linked;
        range.setAttribute("aria-valuetext", s.text);
        if (document.activeElement !== value || steady && !this.typed(value)) value.value = s.text;
        value.shown = value.value;
        value.disabled = s.linked;
        foot.show(s);
      },
    };
  }

  // typed reports whether somebody is writing in the box.
  typed(value) { return document.activeElement === value && value.value !== value.shown; }

  choice(s) {
    const id = "key-" + s.key;
    const select = make("select", { id }, make("option", { value: "" }, "not given"), ...s.choices.map((c) => make("option", { value: c }, c)));
    select.addEventListener("change", () => {
      this.state.inHand = s.key;
      this.state.change({ [s.key]: select.value || "none" });
      this.changed();
    });
    const foot = this.foot(s);
    return {
      box: make("div", { class: "key" }, make("div", { class: "head" }, make("label", { for: id, title: s.doc }, s.label), select), foot.box),
      show: (s) => { select.value = s.word; select.disabled = s.linked; foot.show(s); },
    };
  }

  // foot is the key's own name with the lock of its link, or the way back to the file's value.
  foot(s) {
    let now = s;
    const name = make("span");
    const lock = make("button", { type: "button", class: "lock" });
    const remove = make("button", { type: "button", class: "lock", "aria-label": "Remove the slider of " + s.key }, "Remove");
    lock.addEventListener("click", () => {
      this.state.inHand = s.key;
      this.state.change({ [s.key]: now.set ? null : now.exact });
      this.changed();
    });
    remove.addEventListener("click", () => {
      this.state.keys = this.state.keys.filter((k) => k !== s.key);
      this.state.change({ [s.key]: null });
      this.changed();
    });
    return {
      box: make("div", { class: "foot" }, name, make("span", {}, lock, " ", remove)),
      show: (s) => {
        now = s;
        say(name, s.follows ? s.key + ", " + (s.linked ? s.follows : "free of its link") : s.key);
        lock.hidden = !s.follows && !s.set;
        say(lock, s.follows ? (s.linked ? "Unlock" : "Lock") : "As in the file");
        lock.setAttribute("aria-label", s.follows ? (s.linked ? "Unlock " + s.key + ": it " + s.follows : "Lock " + s.key + " so that it follows again") : s.key + " as in the file");
        remove.hidden = !this.state.keys.includes(s.key);
      },
    };
  }
}
