// Drives the pages that callup writes, in Chromium. CALLUP names the program, PICTURES a folder for screenshots,
// PAGE a built live page to use instead of the one in the program. A page is added to PAGES with a line.
import { mkdtemp, mkdir, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import * as live from "./live.mjs";
import * as report from "./report.mjs";
import { browser, callup, check, everyPage, failures } from "./harness.mjs";

const here = import.meta.dirname;
const from = process.env.PAGE ? ["--from", process.env.PAGE] : [];
// What it is called, the words that make it, when it is settled, and what is checked besides.
const PAGES = [
  { name: "page", words: (file) => ["page", "-o", file, ...from], settled: live.settled, checks: live.checks },
  { name: "page-us", words: (file) => ["page", "northern-smallmouth", "--units", "us", "-o", file, ...from], settled: live.settled },
  { name: "page-hostile", words: (file) => ["page", join(here, "hostile.toml"), "-o", file, ...from], settled: live.settled, checks: live.hostile },
  { name: "report", words: (file) => ["report", "-o", file], settled: report.settled, checks: report.checks },
  { name: "report-hostile", words: (file) => ["report", join(here, "hostile.toml"), "--draws", "64", "--points", "64", "-o", file], settled: report.settled, checks: report.hostile },
];

const folder = await mkdtemp(join(tmpdir(), "callup-pages-"));
const pictures = process.env.PICTURES && resolve(process.env.PICTURES);
if (pictures) await mkdir(pictures, { recursive: true });
const wanted = process.argv.slice(2);
const chromium = await browser();
try {
  for (const page of PAGES.filter((p) => !wanted.length || wanted.includes(p.name))) {
    const file = join(folder, `${page.name}.html`);
    await callup(...page.words(file));
    await check(`${page.name}: opens narrow and wide, by day and night, and is accessible`, () =>
      everyPage(chromium, page.name, file, page.settled, pictures));
    await page.checks?.({ browser: chromium, file, folder, pictures });
  }
} finally {
  await chromium.close();
  await rm(folder, { recursive: true, force: true });
}
if (failures()) { console.log(`${failures()} failed`); process.exitCode = 1; }
