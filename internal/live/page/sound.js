// A/B listening: the server's impulse responses, applied by the browser's own convolver.
import { ask } from "./ask.js";
import { at, make, results, say } from "./dom.js";

let audio = null; // {context, source, a, b, master}
let made = null; // the server's answer
let onB = false;

const ratio = (dB) => 10 ** (dB / 20);
const bytes = (base64) => Uint8Array.from(atob(base64), (c) => c.charCodeAt(0)).buffer;

export function sounds(question, states) {
  at("make").addEventListener("click", () => compute(question, states));
  at("play").addEventListener("click", () => (audio ? stop() : play()));
  at("swap").addEventListener("click", () => { onB = !onB; mix(); });
  at("volume").addEventListener("input", () => { say(at("volumetext"), at("volume").value + " dB"); mix(); });
}

async function compute(question, states) {
  stop();
  made = null;
  at("play").disabled = at("swap").disabled = true;
  say(at("heard"), "computing");
  const chosen = states()[at("stateA").value];
  const answer = await ask("sound", { ...question(), before: chosen.set, bare: chosen.bare || false, seat: at("seat").value, signal: at("signal").value, match: at("match").checked }).catch(() => ({ faults: ["The server does not answer."] }));
  if (answer.faults.length) {
    say(at("heard"), answer.faults.join(" "));
    return;
  }
  made = answer;
  at("play").disabled = at("swap").disabled = false;
  say(at("heard"), "A: " + chosen.name + ". B: the present state. Ready; it starts quiet.");
  at("soundtable").replaceChildren(...answer.cautions.map((c) => make("p", { class: "caution" }, c)), ...results(answer));
}

async function play() {
  // The rate of the responses, so that nothing is resampled.
  const context = new AudioContext({ sampleRate: 48000 });
  const [signal, a, b] = await Promise.all([made.signal, made.a, made.b].map((x) => context.decodeAudioData(bytes(x))));
  const source = new AudioBufferSourceNode(context, { buffer: signal, loop: true });
  const master = new GainNode(context, { gain: 0 });
  const way = (response) => {
    const convolver = new ConvolverNode(context, { disableNormalization: true, buffer: response });
    const gain = new GainNode(context, { gain: 0 });
    source.connect(convolver).connect(gain).connect(master);
    return gain;
  };
  audio = { context, source, a: way(a), b: way(b), master };
  master.connect(context.destination);
  source.start();
  at("play").setAttribute("aria-pressed", "true");
  say(at("play"), "Stop");
  mix();
}

// mix fades to the chosen state and volume.
function mix() {
  say(at("swap"), onB ? "Switch to A" : "Switch to B");
  if (!audio) return;
  const soon = 0.02, now = audio.context.currentTime;
  audio.a.gain.setTargetAtTime(onB ? 0 : 1, now, soon);
  audio.b.gain.setTargetAtTime(onB ? 1 : 0, now, soon);
  audio.master.gain.setTargetAtTime(ratio(Number(at("volume").value)), now, soon);
  say(at("heard"), "Playing " + (onB ? "B, the present state" : "A, the other state") + ".");
}

function stop() {
  if (!audio) return;
  audio.source.stop();
  audio.context.close();
  audio = null;
  at("play").setAttribute("aria-pressed", "false");
  say(at("play"), "Play");
  say(at("heard"), "Stopped.");
}
