// Small helpers to build and change the page.

export const at = (id) => document.getElementById(id);

// make builds an element: attributes, then children, which are elements or texts.
export function make(tag, attributes = {}, ...children) {
  const e = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) {
    if (name.startsWith("on")) e.addEventListener(name.slice(2), value);
    else if (value === true) e.setAttribute(name, "");
    else if (value !== false && value != null) e.setAttribute(name, value);
  }
  e.append(...children);
  return e;
}

// say sets a text if it changed, so that what is read aloud is read once.
export function say(e, text) {
  if (e.textContent !== text) e.textContent = text;
}

// picture puts an SVG into an element, or the reason why there is none.
export function picture(e, svg, why) {
  if (e.drawn === svg && svg) return;
  e.drawn = svg;
  if (!svg) {
    e.replaceChildren(make("p", { class: "none" }, why || ""));
    return;
  }
  const read = new DOMParser().parseFromString(svg, "image/svg+xml").documentElement;
  // A picture set for a narrow column is not blown up beyond legible size.
  e.classList.toggle("slim", read.viewBox.baseVal.width < 300);
  e.replaceChildren(document.importNode(read, true));
}

// table builds a table of texts. left lists columns that are words; cell, where given, makes
// the first cell of a row from its key and text.
export function table(t, { cell } = {}) {
  const words = t.head.map((_, i) => i === 0 || t.rows.every((r) => !/^[-+]?[0-9]/.test(r[i])));
  const kind = (i) => (words[i] ? { class: "left" } : {});
  const rows = t.rows.map((r, n) => make("tr", {},
    ...r.map((text, i) => i ? make("td", kind(i), text) : make("th", { scope: "row", class: "left" }, cell ? cell(t.keys[n], text) : text))));
  return make("table", {},
    ...(t.caption ? [make("caption", {}, t.caption)] : []),
    make("thead", {}, make("tr", {}, ...t.head.map((text, i) => make("th", { scope: "col", ...kind(i) }, text)))),
    make("tbody", {}, ...rows));
}

// results builds texts, tables and findings of a study.
export function results(r) {
  return [
    ...r.texts.map((t) => make("p", {}, t)),
    ...r.tables.map((t) => scrolling(t)),
    findings(r.findings),
  ];
}

// scrolling is a table in a box that scrolls where it is too wide, by the keyboard too.
export function scrolling(t, options) {
  return make("div", { class: "scroll", role: "region", "aria-label": t.caption || t.head.join(", "), tabindex: "0" }, table(t, options));
}

export function findings(list) {
  return make("ul", {}, ...list.map((f) => make("li", {}, make("b", {}, (f.sign || f.severity) + " "), f.text)));
}
