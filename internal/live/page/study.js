// Slower studies: one at a time, beside the sliders.
import { follow } from "./ask.js";
import { at, say } from "./dom.js";
import { showStudy } from "./show.js";

export function studies(question, again) {
  let running = null;
  const busy = (on) => {
    at("giveup").disabled = !on;
    at("bar").hidden = !on;
  };
  async function run(name) {
    running?.abort();
    const mine = (running = new AbortController());
    busy(true);
    at("bar").removeAttribute("value");
    say(at("progress"), "started");
    try {
      await follow("study", { ...question(), study: name }, mine.signal, (m) => {
        if (mine !== running) return;
        if (m.faults?.length) say(at("progress"), m.faults.join(" "));
        else if (m.found) {
          showStudy(m.found);
          say(at("progress"), "done, for the state as it was when it started" + (name === "wave" && !m.found.wave ? "; the width does not stay at the coverage within the run, so that the wave level has no figure for it" : ""));
          if (m.found.wave) again();
        } else if (m.total) {
          at("bar").value = m.done / m.total;
          say(at("progress"), m.what + ": " + m.done + " of " + m.total);
        }
      });
    } catch (e) {
      if (mine === running) say(at("progress"), e.name === "AbortError" ? "given up" : "the server does not answer");
    }
    if (mine === running) busy(false);
  }
  at("seats").addEventListener("click", () => run("seats"));
  at("wave").addEventListener("click", () => run("wave"));
  at("giveup").addEventListener("click", () => running?.abort());
}
