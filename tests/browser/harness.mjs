// A browser, pages opened from files, and the checks that hold for every page that callup writes.
import { chromium } from "playwright-core";
import { readFile } from "node:fs/promises";
import { createRequire } from "node:module";
import { execFile } from "node:child_process";
import { promisify } from "node:util";
import { pathToFileURL } from "node:url";
import assert from "node:assert/strict";

export const CALLUP = process.env.CALLUP ?? "target/release/callup";
const CHROMIUM = process.env.CHROMIUM ?? "/usr/bin/chromium";
// Without the network flags Chromium looks for hosts of its own at every start.
const FLAGS = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
  "--disable-component-update", "--disable-sync"];
export const WIDTHS = [360, 1280];
const run = promisify(execFile);

/** Runs the program; standard output. */
export async function callup(...words) {
  return (await run(CALLUP, words, { maxBuffer: 1 << 26 })).stdout;
}

export async function browser() {
  return chromium.launch({ executablePath: CHROMIUM, headless: true, args: FLAGS });
}

/** A page opened from a file, with everything noted that must not happen. */
export async function open(browser, file, { width = 1280, hash = "", dark = false } = {}) {
  const context = await browser.newContext({
    viewport: { width, height: width < 600 ? 740 : 900 }, colorScheme: dark ? "dark" : "light", acceptDownloads: true,
  });
  const page = await context.newPage();
  const wrong = [];
  page.on("console", (message) => ["error", "warning"].includes(message.type()) && wrong.push(`console: ${message.text()}`));
  page.on("pageerror", (error) => wrong.push(`error: ${error.stack ?? error}`));
  page.on("dialog", (dialog) => { wrong.push(`dialog: ${dialog.message()}`); dialog.dismiss(); });
  page.on("request", (request) => {
    if (!/^(blob|data):/.test(request.url()) && !request.isNavigationRequest()) wrong.push(`request: ${request.url()}`);
  });
  await page.goto(pathToFileURL(file).href + hash);
  return { page, wrong, close: () => context.close() };
}

/** Nothing went wrong that a page must not do: an error, a request, a dialog. */
export function clean({ wrong }) {
  assert.deepEqual(wrong, []);
}

/** Nothing sticks out to the side. */
export async function fits(page) {
  const [shown, whole] = await page.evaluate(() => [innerWidth, document.documentElement.scrollWidth]);
  assert.ok(whole <= shown, `${whole} px wide in a window of ${shown} px`);
}

const AXE = createRequire(import.meta.url).resolve("axe-core/axe.min.js");
/** The accessibility scan of axe-core: no finding that it calls serious or critical. */
export async function accessible(page) {
  // Put in through the debugger, past the page's own content policy.
  await page.evaluate(await readFile(AXE, "utf8"));
  const found = await page.evaluate(async () => {
    const { violations } = await axe.run(document, { resultTypes: ["violations"] });
    return violations.filter((v) => ["serious", "critical"].includes(v.impact))
      .map((v) => `${v.id}: ${v.nodes.map((n) => n.html.slice(0, 120)).join(" | ")}`);
  });
  assert.deepEqual(found, []);
}

/** Every page, whatever it shows: opened narrow and wide, by day and night, scanned, photographed. */
export async function everyPage(browser, name, file, settled, pictures) {
  for (const width of WIDTHS) {
    for (const dark of [false, true]) {
      const opened = await open(browser, file, { width, dark });
      await settled(opened.page);
      await fits(opened.page);
      await accessible(opened.page);
      clean(opened);
      if (pictures) await opened.page.screenshot({ path: `${pictures}/${name}-${width}${dark ? "-dark" : ""}.png`, fullPage: true });
      await opened.close();
    }
  }
}

let failed = 0;
/** One named check; a failure is told and counted, the rest goes on. */
export async function check(name, body) {
  const from = Date.now();
  try {
    await body();
    console.log(`ok    ${name} (${((Date.now() - from) / 1000).toFixed(1)} s)`);
  } catch (error) {
    failed += 1;
    console.log(`FAIL  ${name}\n${String(error.stack ?? error).slice(0, 3000)}`);
  }
}
export const failures = () => failed;
