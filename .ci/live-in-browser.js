// Drives the page of gapline live; see live-in-browser.
const { chromium } = require("playwright-core");
const { execFileSync, spawn } = require("child_process");
const fs = require("fs");
const path = require("path");
const axe = fs.readFileSync(require.resolve("axe-core/axe.min.js"), "utf8");

const gapline = process.env.GAPLINE;
const flags = ["--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--autoplay-policy=no-user-gesture-required",
  "--disable-background-networking", "--disable-component-update", "--disable-sync"];
const faults = [];
const fault = (text) => { faults.push(text); console.error("FAULT " + text); };

// serve starts a server and returns its address and how to end it.
function serve(file) {
  return new Promise((resolve, reject) => {
    const child = spawn(gapline, ["--quiet", "live", file], { stdio: ["ignore", "pipe", "inherit"] });
    const ended = new Promise((r) => child.on("exit", (code) => r(code)));
    child.stdout.once("data", (d) => resolve({ address: String(d).trim(), child, ended }));
    child.on("error", reject);
  });
}

// sized is what size --json prints for settings, or null where it refuses them.
function sized(file, words) {
  try {
    return JSON.parse(execFileSync(gapline, ["--quiet", "size", file, "--json", ...words], { stdio: ["ignore", "pipe", "ignore"], maxBuffer: 1 << 26 }));
  } catch {
    return null;
  }
}

const under = (o, key) => key.split(".").reduce((x, k) => x?.[k], o);

// open opens a page that tells of every message and request.
async function open(browser, address, view = {}) {
  const context = await browser.newContext({ viewport: { width: 1400, height: 1000 }, acceptDownloads: true, ...view });
  const page = await context.newPage();
  const origin = new URL(address).origin;
  page.on("console", (m) => fault("console: " + m.text()));
  page.on("pageerror", (e) => fault("error: " + e.message));
  page.on("request", (r) => {
    const url = r.url();
    if (!url.startsWith(origin + "/") && !/^(blob|data):/.test(url)) fault("request: " + url);
  });
  await page.goto(address);
  await quiet(page);
  return page;
}

// quiet waits until the page has shown the answer to its last question.
async function quiet(page) {
  await page.waitForFunction(() => document.body.dataset.answered > 0 && !document.body.dataset.asking);
}

const settings = (page) => page.evaluate(() => document.getElementById("words").textContent).then((text) => shellWords(text).slice(3));

// shellWords takes a command line apart as a shell does, with single quotes alone.
function shellWords(text) {
  const out = [];
  for (const m of text.matchAll(/((?:'[^']*'|\\'|[^\s'\\])+)/g)) out.push(m[1].replace(/'([^']*)'|\\'/g, (_, inside) => inside ?? "'"));
  return out;
}

// agrees compares the gap on the page with that of the same settings on the command line.
async function agrees(page, file, what) {
  await quiet(page);
  const shown = await page.evaluate(() => ({ ...document.getElementById("gap").dataset, faults: document.getElementById("faults").textContent }));
  const o = sized(file, await settings(page));
  if (!o && shown.faults) return true; // refused alike
  if (!o || shown.faults) {
    fault(`${what}: the page says ${shown.faults || "nothing"}, size ${o ? "computes" : "refuses"}`);
    return false;
  }
  const want = under(o, shown.key);
  if (String(want) !== shown.value) fault(`${what}: the page has ${shown.key} = ${shown.value}, size ${want}`);
  return String(want) === shown.value;
}

// Each slider is dragged with the mouse and left at another value.
async function drag(page, file) {
  const ids = await page.evaluate(() => [...document.querySelectorAll("#list input[type=range]")].map((e) => e.id));
  let done = 0;
  for (const id of ids) {
    const slider = page.locator(`[id="${id}"]`);
    if (await slider.isDisabled()) {
      await page.locator(".key", { has: slider }).getByRole("button", { name: /^Unlock/ }).click();
      await quiet(page);
    }
    await slider.scrollIntoViewIfNeeded();
    const box = await slider.boundingBox();
    const before = await slider.inputValue();
    const y = box.y + box.height / 2;
    const [at, step] = await slider.evaluate((e) => [(e.value - e.min) / (e.max - e.min), e.step / (e.max - e.min)]);
    const far = Math.max(0.06, 1.2 * step);
    await page.mouse.move(box.x + 8 + at * (box.width - 16), y);
    await page.mouse.down();
    for (const part of [0.3, 0.6, 0.8, 1]) await page.mouse.move(box.x + 8 + (at + part * far) * (box.width - 16), y);
    await page.mouse.up();
    await quiet(page);
    if ((await slider.inputValue()) === before) {
      fault(`${id} did not move`);
      continue;
    }
    if (await agrees(page, file, "dragged " + id)) done++;
    await page.getByRole("button", { name: "Undo" }).click();
  }
  console.log(`${done} of ${ids.length} sliders dragged, each with the gap of size --json`);
}

// Random states: some sliders set at once, as a fast hand does.
async function random(page, file, count) {
  let seed = 12345;
  const next = () => (seed = (seed * 1103515245 + 12345) % 2147483648) / 2147483648;
  let same = 0, tried = 0;
  while (same < count && tried++ < 4 * count) {
    await page.getByRole("button", { name: "Reset to the file" }).click().catch(() => {});
    await quiet(page);
    await page.evaluate((r) => {
      [...document.querySelectorAll("#list input[type=range]:not(:disabled)")].forEach((e, i) => {
        if (r[2 * i] < 0.5) return;
        e.value = Number(e.min) + (0.3 + 0.4 * r[2 * i + 1]) * (e.max - e.min);
        e.dispatchEvent(new Event("input", { bubbles: true }));
        e.dispatchEvent(new Event("change", { bubbles: true }));
      });
    }, Array.from({ length: 60 }, next));
    await quiet(page);
    const words = await settings(page);
    if (!words.length) continue;
    if (!sized(file, words)) {
      await agrees(page, file, "state " + words.join(" "));
      continue; // only states that can be computed count
    }
    if (await agrees(page, file, "state " + words.join(" "))) same++;
  }
  if (same < count) fault(`${same} of ${count} random states compared`);
  console.log(`${same} random states, each with the gap of size --json`);
}

// The keyboard alone: reach a slider, move it, undo, unlock, add a key, keep, download.
async function keyboard(browser, address, file) {
  const page = await open(browser, address);
  const reach = async (what, test) => {
    for (let i = 0; i < 120; i++) {
      await page.keyboard.press("Tab");
      if (await page.evaluate(test)) return true;
    }
    fault("the keyboard does not reach " + what);
    return false;
  };
  await reach("the slider of the pitch", () => document.activeElement.id === "key-cabinet.pitch");
  const value = () => page.evaluate(() => document.getElementById("gap").dataset.value);
  const before = await value();
  for (let i = 0; i < 3; i++) await page.keyboard.press("ArrowRight");
  await agrees(page, file, "keyboard");
  if ((await value()) === before) fault("arrow keys do not move the gap");
  await page.keyboard.press("Control+z");
  await page.keyboard.press("Control+z");
  await page.keyboard.press("Control+z");
  await quiet(page);
  if ((await value()) !== before) fault("Ctrl-Z does not bring the gap back");
  await reach("a lock", () => /^Unlock/.test(document.activeElement.textContent));
  await page.keyboard.press("Enter");
  await quiet(page);
  await reach("the list of keys", () => document.activeElement.id === "newkey");
  await page.keyboard.type("line.tilt");
  await page.keyboard.press("Enter");
  await quiet(page);
  if (!(await page.locator('[id="key-line.tilt"]').count())) fault("line.tilt was not added");
  await page.evaluate(() => scrollTo(0, 0));
  await page.locator("#title").click();
  await page.keyboard.press("Shift+Tab");
  for (let i = 0; i < 400 && !(await page.evaluate(() => document.activeElement.id === "keep")); i++) await page.keyboard.press("Tab");
  await page.keyboard.press("Enter");
  await quiet(page);
  if (!(await page.locator("#compare table").count())) fault("nothing was kept");
  console.log("the keyboard alone: slider, undo, lock, key, keep");
  await page.context().close();
}

// What the browser saves is the design of the sliders.
async function download(page) {
  await page.locator('[id="key-horn.coverage"]').evaluate((e) => { e.value = 71; e.dispatchEvent(new Event("input")); e.dispatchEvent(new Event("change")); });
  await quiet(page);
  const [saved] = await Promise.all([page.waitForEvent("download"), page.getByRole("button", { name: "Download the design file" }).click()]);
  const folder = fs.mkdtempSync(path.join(require("os").tmpdir(), "saved-"));
  const name = path.join(folder, "saved.toml");
  await saved.saveAs(name);
  const shown = await page.evaluate(() => ({ ...document.getElementById("gap").dataset }));
  const o = sized(name, []);
  if (!o || String(under(o, shown.key)) !== shown.value || !/^#/m.test(fs.readFileSync(name, "utf8"))) fault("the saved file is not the design on the page, or lost its comments");
  fs.rmSync(folder, { recursive: true });
  console.log("the saved file has the page's gap and its comments");
}

// Slower studies run beside the sliders, can be given up, and wave adds its level.
async function study(page) {
  await page.getByRole("button", { name: "Sound at the seats" }).click();
  await page.locator('[id="key-cabinet.pitch"]').evaluate((e) => { e.stepUp(); e.dispatchEvent(new Event("input")); e.dispatchEvent(new Event("change")); });
  await page.waitForSelector("#studied svg", { timeout: 120000 });
  await page.getByRole("button", { name: "Horn by the wave equation" }).click();
  await page.getByRole("button", { name: "Give it up" }).click();
  await page.waitForFunction(() => document.getElementById("progress").textContent === "given up");
  await quiet(page);
  console.log("seats heard beside a moving slider; wave given up");
}

// Both sounds are computed, play from the browser's convolver, start quiet, switch and stop.
async function sound(page) {
  await page.selectOption("#signal", "clicks");
  await page.getByRole("button", { name: "Compute the sounds" }).click();
  await page.waitForFunction(() => !document.getElementById("play").disabled, null, { timeout: 120000 });
  if ((await page.inputValue("#volume")) !== "-40") fault("the volume does not start low");
  await page.locator("#play").click();
  await page.waitForFunction(() => /^Playing A/.test(document.getElementById("heard").textContent));
  await page.locator("#swap").click();
  await page.waitForFunction(() => /^Playing B/.test(document.getElementById("heard").textContent));
  await page.locator("#play").click();
  await page.waitForFunction(() => document.getElementById("heard").textContent === "Stopped.");
  console.log("A and B played and stopped");
}

// Accessibility in three views, with a misfit and a fault shown.
async function accessible(browser, address) {
  for (const view of [{ name: "light" }, { name: "dark", colorScheme: "dark" }, { name: "phone", viewport: { width: 390, height: 844 }, reducedMotion: "reduce" }]) {
    const { name, ...options } = view;
    const page = await open(browser, address, options);
    await page.locator('[id="key-cabinet.pitch"]').evaluate((e) => { e.value = 330; e.dispatchEvent(new Event("input")); e.dispatchEvent(new Event("change")); });
    await page.getByRole("button", { name: "Keep for comparison" }).click();
    await page.locator("summary").last().click();
    await quiet(page);
    if (!/MISFIT/.test(await page.locator("#misfits").textContent())) fault(name + ": no misfit at a pitch of 330 mm");
    const wide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
    if (wide > 0) fault(`${name}: ${wide} px wider than the window`);
    // The policy of the page lets no script in; the checker comes through the browser's own door.
    await page.evaluate(axe);
    const result = await page.evaluate(() => axe.run(document, { resultTypes: ["violations"] }));
    for (const v of result.violations) {
      const text = `${name}: ${v.impact}: ${v.id}: ${v.help}: ${v.nodes.length} times, first ${v.nodes[0].html.slice(0, 160)}`;
      if (v.impact === "serious" || v.impact === "critical") fault(text);
      else console.log(text);
    }
    console.log(`${name}: ${result.passes.length} accessibility rules passed, ${result.violations.length} violated`);
    await page.context().close();
  }
}

// Two pages of one server and two servers do not disturb each other; a server ends from its page.
async function beside(browser, first) {
  const second = await serve("hatch-mids.toml");
  const [a, b, c] = [await open(browser, first.address), await open(browser, first.address), await open(browser, second.address)];
  await a.locator('[id="key-cabinet.pitch"]').evaluate((e) => { e.stepUp(); e.dispatchEvent(new Event("input")); e.dispatchEvent(new Event("change")); });
  await agrees(a, "hatch-insert.toml", "first page");
  await agrees(b, "hatch-insert.toml", "second page");
  await agrees(c, "hatch-mids.toml", "second server");
  await c.getByRole("button", { name: "End the server" }).click();
  if ((await second.ended) !== 0) fault("the server that its page ended did not end with 0");
  for (const p of [a, b, c]) await p.context().close();
  console.log("two pages and two servers beside each other; one ended from its page");
}

// latency times moves of a slider from the input event to the frame behind the new gap.
async function latency(page, stack) {
  await page.locator("#showstack").setChecked(stack);
  await quiet(page);
  const times = await page.evaluate(async () => {
    const e = document.getElementById("key-cabinet.pitch"), out = [];
    // A message posted from a frame is read once that frame is painted.
    const port = new MessageChannel();
    const frame = () => new Promise((r) => requestAnimationFrame(() => { port.port1.onmessage = r; port.port2.postMessage(0); }));
    for (let i = 0; i < 200; i++) {
      e.value = Number(e.value) + (i % 20 < 10 ? 2 : -2);
      const begun = performance.now();
      // A timer would be held to 4 ms.
      const answered = new Promise((r) => new MutationObserver((_, o) => { o.disconnect(); r(); }).observe(document.body, { attributeFilter: ["data-answered"] }));
      e.dispatchEvent(new Event("input"));
      e.dispatchEvent(new Event("change"));
      await answered;
      await frame();
      out.push(performance.now() - begun);
    }
    return out.sort((x, y) => x - y);
  });
  console.log(`${stack ? "with the stack's pattern" : "all that size knows"}: ${times[100].toFixed(0)} ms median, ${times[190].toFixed(0)} ms 95th of 200, with the frame that shows it`);
}

(async () => {
  const file = "hatch-insert.toml";
  const server = await serve(file);
  const browser = await chromium.launch({ executablePath: process.env.CHROMIUM, args: flags });
  const page = await open(browser, server.address);
  await agrees(page, file, "as opened");
  if (process.env.LATENCY) {
    await latency(page, false);
    await latency(page, true);
    await page.reload();
    await quiet(page);
  }
  await drag(page, file);
  await random(page, file, 20);
  await page.getByRole("button", { name: "Reset to the file" }).click();
  await download(page);
  await study(page);
  await sound(page);
  await keyboard(browser, server.address, file);
  await accessible(browser, server.address);
  await beside(browser, server);
  await browser.close();
  const stopped = Date.now();
  server.child.kill("SIGINT");
  if ((await server.ended) !== 0) fault("Ctrl-C does not end the server with 0");
  if (Date.now() - stopped > 1500) fault(`Ctrl-C took ${Date.now() - stopped} ms`);
  process.exit(faults.length ? 1 : 0);
})().catch((e) => {
  console.error(e);
  process.exit(1);
});
