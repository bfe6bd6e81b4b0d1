// The report: read, printed and saved from, in a browser.
import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { callup, check, clean, fits, open } from "./harness.mjs";

/** All is there as soon as the file is read. */
export const settled = (page) => page.waitForSelector("footer");

const rows = (page) => page.$$eval("#answer tbody tr", (all) => all.map((row) => [...row.cells].map((c) => c.textContent.trim())));

export async function checks({ browser, file, folder }) {
  const one = (name, body, options) => check(`report: ${name}`, async () => {
    const opened = await open(browser, file, options);
    await settled(opened.page);
    await body(opened.page);
    clean(opened);
    await opened.close();
  });

  await one("says what odds says", async (page) => {
    const odds = JSON.parse(await callup("odds", "--json"));
    const told = await rows(page);
    assert.equal(told.length, odds.baits.length);
    for (const bait of odds.baits) {
      const row = told.find(([name]) => name.replace(" ●", "") === bait.name);
      assert.ok(row, bait.name);
      assert.equal(row[0].endsWith("●"), bait.could_be_best, bait.name);
      const [best, worst] = bait.rank;
      assert.equal(row[2], best === worst ? `${best}` : `${best} to ${worst}`);
      for (const [i, loss] of ["never_noticed", "stayed_put", "turned_away"].entries()) {
        const value = bait.losses[loss];
        // Halves may be rounded either way.
        assert.ok(row[3 + i] === (value < 0.5 ? "<1" : value.toFixed(0)) || Math.abs(value % 1 - 0.5) < 1e-9, `${bait.name}: ${loss} ${row[3 + i]} for ${value}`);
      }
    }
  });

  await one("is read from the keyboard: past the head, into the contents, open what is folded", async (page) => {
    await page.keyboard.press("Tab");
    assert.equal(await page.evaluate(() => document.activeElement.className), "skip");
    await page.keyboard.press("Enter");
    assert.equal(new URL(page.url()).hash, "#content");
    const summary = page.locator("#assumptions summary").first();
    await summary.focus();
    await page.keyboard.press("Enter");
    assert.equal(await summary.evaluate((s) => s.parentElement.open), true);
    await fits(page);
  });

  await one("has a heading, a name and a size for everything", async (page) => {
    const levels = await page.$$eval("h1, h2, h3", (all) => all.map((h) => Number(h.tagName[1])));
    assert.equal(levels.filter((l) => l === 1).length, 1);
    assert.ok(levels.every((l, i) => i === 0 || l - levels[i - 1] <= 1), `${levels}`);
    const untold = await page.$$eval("svg[role=img]", (all) => all.filter((s) => !s.querySelector("title")?.textContent.trim() || !s.getAttribute("viewBox")).length);
    assert.equal(untold, 0);
    const bare = await page.$$eval("table", (all) => all.filter((t) => !t.caption || t.querySelector("th:not([scope])")).length);
    assert.equal(bare, 0);
    for (const link of await page.$$eval("nav a", (all) => all.map((a) => a.getAttribute("href")))) assert.ok(await page.$(link), link);
  });

  await one("each picture is saved as a picture of its own", async (page) => {
    const buttons = page.locator("button.save");
    const figures = await page.locator("figure").count();
    assert.equal(await buttons.count(), figures);
    const names = new Set();
    for (let i = 0; i < figures; i += 1) {
      const [download] = await Promise.all([page.waitForEvent("download"), buttons.nth(i).click()]);
      const saved = join(folder, download.suggestedFilename());
      await download.saveAs(saved);
      names.add(download.suggestedFilename());
      const svg = await readFile(saved, "utf8");
      assert.ok(svg.startsWith("<svg") && svg.includes('xmlns="http://www.w3.org/2000/svg"'), saved);
      if (i === 0) {
        const alone = await open(browser, saved);
        assert.equal(await alone.page.evaluate(() => document.documentElement.tagName), "svg");
        assert.ok((await alone.page.evaluate(() => document.documentElement.getBoundingClientRect().width)) > 100);
        clean(alone);
        await alone.close();
      }
    }
    assert.equal(names.size, figures, "no two of one name");
  });

  await one("prints what is folded, without buttons", async (page) => {
    await page.emulateMedia({ media: "print" });
    assert.equal(await page.locator("button.save").first().isVisible(), false);
    assert.equal(await page.locator("nav").isVisible(), false);
    // Without the script that opens them: the style alone must show what is folded.
    const hidden = await page.$$eval("details", (all) => all.filter((d) => d.lastElementChild.getBoundingClientRect().height < 10).length);
    assert.equal(hidden, 0);
    const pdf = await page.pdf();
    assert.ok(pdf.length > 50_000);
  });

  await check("report: is complete without a script", async () => {
    const context = await browser.newContext({ javaScriptEnabled: false });
    const page = await context.newPage();
    await page.goto(`file://${file}`);
    assert.ok((await page.locator("main section").count()) >= 10);
    assert.equal(await page.locator("button.save").first().isVisible(), false);
    await context.close();
  });
}

export async function hostile({ browser, file }) {
  await check("report-hostile: names do nothing but be read", async () => {
    for (const width of [360, 1280]) {
      const opened = await open(browser, file, { width });
      await settled(opened.page);
      assert.equal(await opened.page.evaluate(() => window.pwned), undefined);
      assert.equal(await opened.page.locator("script").count(), 1);
      assert.equal(await opened.page.locator("img, iframe, object, embed, link").count(), 0);
      const bidi = await opened.page.evaluate(() => /[\u202a-\u202e\u2066-\u2069]/.test(document.documentElement.outerHTML));
      assert.equal(bidi, false);
      assert.ok((await opened.page.locator("h1").textContent()).includes("<script>"), "shown as text");
      await opened.page.evaluate(() => document.querySelectorAll("details").forEach((d) => { d.open = true; }));
      await fits(opened.page);
      clean(opened);
      await opened.close();
    }
  });
}
