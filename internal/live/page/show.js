// Puts an answer of the server on the page.
import { at, findings, make, picture, results, say, scrolling, table } from "./dom.js";

const pictures = ["strip", "front", "plan", "low", "sweep", "stack"];

export function show(a, state, focus) {
  const broken = a.faults.length > 0;
  document.body.classList.toggle("stale", broken);
  at("faults").replaceChildren(...(broken ? [make("p", {}, "Cannot be computed. What stands below is the last state that could be."), ...a.faults.map((f) => make("p", {}, f))] : []));
  say(at("words"), "gapline size FILE" + a.words.map((w) => " " + w).join(""));
  if (broken) return;
  say(at("title"), a.title);
  const gap = at("gap");
  say(gap, a.gap);
  say(at("gapname"), "Gap " + a.gapBy);
  gap.dataset.key = a.gapKey;
  gap.dataset.value = a.gapValue;
  gap.className = a.verdict === "met" ? "closed" : "open";
  say(at("was"), a.gapWas !== a.gap ? "was " + a.gapWas : "");
  say(at("verdict"), a.sentence || a.verdict);
  at("levels").replaceChildren(table(a.levels));
  at("misfits").replaceChildren(...a.misfits.map((m) => make("p", {}, "MISFIT " + m)));
  say(at("caution"), a.cautions.join(" "));
  for (const name of pictures) {
    if (name !== "stack" || state.stack) picture(at(name), a.pictures[name], a.lacks[name]);
    else at(name).replaceChildren();
  }
  at("findings").replaceChildren(...findings(a.findings).children);
  at("figures").replaceChildren(table(a.figures, { cell: (key, text) => make("button", { type: "button", class: "link", onclick: () => focus(key) }, text) }));
  formula(a.formula, focus);
  at("compare").replaceChildren(...(a.compare ? [table(a.compare)] : []));
}

function formula(f, focus) {
  if (!f) {
    at("formula").replaceChildren(make("p", {}, "No figure of this name."));
    return;
  }
  const [first, ...rest] = f.texts;
  at("focus").value = f.key;
  at("formula").replaceChildren(
    make("p", {}, f.name + ", trust " + f.trust),
    make("p", { class: "formula" }, first || ""),
    ...f.tables.map((t) => scrolling(t, { cell: (key, text) => key ? make("button", { type: "button", class: "link", onclick: () => focus(key) }, text) : text })),
    ...rest.map((t) => make("p", {}, t)));
}

export function showStudy(found) {
  at("studied").replaceChildren(
    ...found.cautions.map((c) => make("p", { class: "caution" }, c)),
    ...found.pictures.map((svg) => { const p = make("div", { class: "picture" }); picture(p, svg, ""); return p; }),
    ...results(found));
}
