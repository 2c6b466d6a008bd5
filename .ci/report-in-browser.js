// Opens FOLDER/report.html of each folder named; see report-in-browser.
const { chromium } = require("playwright-core");
const fs = require("fs");
const path = require("path");
const axe = fs.readFileSync(require.resolve("axe-core/axe.min.js"), "utf8");

const views = [
  { name: "desktop, light", width: 1400, height: 900, scheme: "light" },
  { name: "desktop, dark", width: 1400, height: 900, scheme: "dark" },
  { name: "phone, light", width: 360, height: 740, scheme: "light" },
  { name: "phone, dark", width: 360, height: 740, scheme: "dark" },
];
const flags = ["--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
  "--disable-background-networking", "--disable-component-update", "--disable-sync"];
const faults = [];

// smallest is the height of the smallest text in the pictures that are shown, px.
function smallest() {
  let least = Infinity;
  for (const svg of document.querySelectorAll(".picture svg")) {
    const width = svg.getBoundingClientRect().width;
    if (!width) continue;
    const zoom = width / svg.viewBox.baseVal.width;
    for (const t of svg.querySelectorAll("text")) least = Math.min(least, zoom * t.getAttribute("font-size"));
  }
  return least;
}

async function open(context, folder, view) {
  const where = `${folder}, ${view.name}`;
  const fault = (text) => faults.push(`${where}: ${text}`);
  const url = "file://" + path.resolve(folder, "report.html");
  const page = await context.newPage();
  page.on("console", (m) => fault("console: " + m.text()));
  page.on("pageerror", (e) => fault("error: " + e.message));
  page.on("request", (r) => r.url() !== url && !r.url().startsWith("data:") && fault("request: " + r.url()));
  await page.setViewportSize({ width: view.width, height: view.height });
  await page.emulateMedia({ colorScheme: view.scheme });
  await page.goto(url);
  const links = await page.evaluate(() => [...document.querySelectorAll("a")].map((a) => a.getAttribute("href")).filter((h) => !document.getElementById(h.slice(1))));
  if (links.length) fault(`links that lead nowhere: ${links}`);
  const small = await page.evaluate(smallest);
  if (small < 8) fault(`a text of a picture is ${small.toFixed(1)} px high`);
  const wide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
  if (wide > 0) fault(`${wide} px wider than the window`);
  await page.evaluate(axe);
  const result = await page.evaluate(() => axe.run(document, { resultTypes: ["violations"] }));
  for (const v of result.violations) {
    const text = `${v.impact}: ${v.id}: ${v.help}: ${v.nodes.length} times, first ${v.nodes[0].html.slice(0, 160)}`;
    console.log(`${where}: ${text}`);
    if (v.impact === "serious" || v.impact === "critical") fault(text);
  }
  console.log(`${where}: ${result.passes.length} accessibility rules passed, ${result.violations.length} violated`);
  if (view === views[0]) {
    const pdf = await page.pdf({ preferCSSPageSize: true });
    if (pdf.subarray(0, 5).toString() !== "%PDF-") fault("printing gives no PDF");
  }
  await page.close();
}

(async () => {
  const profile = fs.mkdtempSync(path.join(process.cwd(), "profile-"));
  const context = await chromium.launchPersistentContext(profile, { executablePath: process.env.CHROMIUM, args: flags });
  // The first folder in every view, the others in the two that differ most.
  for (const [i, folder] of process.argv.slice(2).entries()) {
    for (const view of i ? [views[0], views[3]] : views) await open(context, folder, view);
  }
  await context.close();
  for (const f of faults) console.error("FAULT " + f);
  process.exit(faults.length ? 1 : 0);
})().catch((e) => {
  console.error(e);
  process.exit(1);
});
