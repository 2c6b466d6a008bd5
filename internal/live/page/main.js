// The page: asks the server what the state comes to, and shows it.
import { ask } from "./ask.js";
import { at, make, say } from "./dom.js";
import { show } from "./show.js";
import { Sliders } from "./sliders.js";
import { sounds } from "./sound.js";
import { State } from "./state.js";
import { studies } from "./study.js";

const state = new State();
const sliders = new Sliders(state, changed);
let text = ""; // names the file's text on the server
let asking = false, dirty = false;
let shown = ""; // the question whose answer stands on the page

// question is what the server needs to know of the state.
function question() {
  return { text, set: state.words(), before: state.before(), keep: state.kept, keys: state.keys, inHand: state.inHand, focus: state.focus,
    stack: state.stack, narrow: narrow("sweep"), slim: narrow("strip") };
}

// narrow reports whether a picture is set for a narrow column.
function narrow(id) { return at(id).clientWidth < 560; }

// changed asks for the present state. While an answer is under way the next question waits,
// so that only the latest state is asked for and answers come in order. What stands on the
// page already is not asked for again: the end of a drag has the question of its last move.
async function changed() {
  buttons();
  dirty = true;
  if (asking) return;
  asking = true;
  document.body.dataset.asking = "yes";
  while (dirty) {
    dirty = false;
    const asked = JSON.stringify(question());
    if (asked === shown) continue;
    try {
      const a = await ask("state", question());
      if (a.sliders) sliders.show(a.sliders, a.faults.length > 0, dirty);
      if (!state.focus && a.formula) state.focus = a.formula.key;
      show(a, state, focus);
      shown = asked;
    } catch {
      shown = "";
      at("faults").replaceChildren(make("p", {}, "The server does not answer. Start gapline live again and open the address that it prints."));
    }
  }
  asking = false;
  delete document.body.dataset.asking;
  document.body.dataset.answered = Number(document.body.dataset.answered || 0) + 1;
}

// again asks for the present state though its question is the same: runs have been stored.
function again() {
  shown = "";
  changed();
}

function buttons() {
  at("undo").disabled = state.past.length === 0;
  at("reset").disabled = state.set.size === 0;
  at("keep").disabled = state.kept.length >= 4;
  states();
}

function focus(key) {
  state.focus = key;
  changed();
}

// states are those that B can be heard against.
function states() {
  const list = [{ name: "the state before the last change", set: state.before() }, { name: "the file as it was opened", set: [] },
    { name: "the present state without its insert", set: state.words(), bare: true }, ...state.kept.map((k) => ({ name: k.name, set: k.set }))];
  const select = at("stateA");
  const names = list.map((s) => s.name).join("\n");
  if (select.names !== names) {
    const chosen = select.value;
    select.names = names;
    select.replaceChildren(...list.map((s, i) => make("option", { value: i }, s.name)));
    if (chosen && Number(chosen) < list.length) select.value = chosen;
  }
  return list;
}

function keep() {
  const letters = "ABCDEFGH";
  const used = state.kept.map((k) => k.name[0]);
  const letter = [...letters].find((l) => !used.includes(l));
  state.kept.push({ name: letter + ": " + (state.words().join(", ") || "the file"), set: state.words() });
  showKept();
  changed();
}

function showKept() {
  at("kept").replaceChildren(make("div", { class: "keptlist" }, ...state.kept.map((k) => make("span", {},
    make("button", { type: "button", onclick: () => { state.replace(k.set); changed(); }, "aria-label": "Take " + k.name }, "Take " + k.name[0]), " ",
    make("button", { type: "button", onclick: () => { state.kept = state.kept.filter((x) => x !== k); showKept(); changed(); }, "aria-label": "Drop " + k.name }, "Drop " + k.name[0])))));
}

// save has the browser save a text.
function save(name, content) {
  const url = URL.createObjectURL(new Blob([content], { type: "application/toml" }));
  const link = make("a", { href: url, download: name });
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(url), 1000);
}

function wire() {
  at("undo").addEventListener("click", () => { state.undo(); changed(); });
  at("reset").addEventListener("click", () => { state.reset(); changed(); });
  at("keep").addEventListener("click", keep);
  at("copy").addEventListener("click", async () => {
    const words = at("words").textContent;
    try {
      await navigator.clipboard.writeText(words);
      say(at("said"), "Copied: " + words);
    } catch {
      say(at("said"), "The browser does not let the page copy. Take it from here: " + words);
    }
  });
  at("download").addEventListener("click", async () => {
    const a = await ask("file", question()).catch(() => ({ faults: ["The server does not answer."] }));
    if (a.faults.length) say(at("said"), a.faults.join(" "));
    else { save(a.name, a.text); say(at("said"), "Handed to the browser as " + a.name + ", with the settings written in."); }
  });
  at("end").addEventListener("click", async () => {
    await ask("end", {}).catch(() => null);
    say(at("said"), "The server has ended. The page stays as it is.");
  });
  at("add").addEventListener("submit", (e) => {
    e.preventDefault();
    const key = at("newkey").value.trim();
    if (![...at("allkeys").options].some((o) => o.value === key)) {
      say(at("said"), key ? key + " is no key that a slider can have: choose one of the list." : "Write or choose a key.");
      return;
    }
    if (!state.keys.includes(key)) state.keys.push(key);
    state.inHand = key;
    at("newkey").value = "";
    say(at("said"), "Added " + key + ".");
    changed();
  });
  at("focus").addEventListener("change", () => focus(at("focus").value));
  at("showstack").addEventListener("change", () => { state.stack = at("showstack").checked; changed(); });
  document.addEventListener("keydown", (e) => {
    const writing = e.target.matches("input[type=text], input:not([type])");
    if ((e.ctrlKey || e.metaKey) && e.key === "z" && !writing) { e.preventDefault(); state.undo(); changed(); }
  });
  let was = "";
  addEventListener("resize", () => {
    const is = [narrow("sweep"), narrow("strip")].join();
    if (was && is !== was) changed();
    was = is;
  });
  studies(() => ({ ...question(), narrow: narrow("studied") }), again);
  sounds(question, states);
}

async function start() {
  wire();
  const a = await ask("start", {});
  if (a.faults.length) {
    at("faults").replaceChildren(...a.faults.map((f) => make("p", {}, f)));
    return;
  }
  text = a.text;
  say(at("file"), a.file);
  document.title = a.file + " - gapline";
  at("allkeys").replaceChildren(...a.keys.map((k) => make("option", { value: k.name }, k.doc)));
  at("focus").replaceChildren(...a.figures.map((f) => make("option", { value: f.name }, f.name)));
  state.inHand = "cabinet.pitch";
  changed();
}

start();
