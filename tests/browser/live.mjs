// The live page: what is moved and read on it, against what the program says.
import assert from "node:assert/strict";
import { execFile } from "node:child_process";
import { promisify } from "node:util";
import { readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { CALLUP, callup, check, clean, fits, open } from "./harness.mjs";

const run = promisify(execFile);
// From a move to the first answer and to the full one, ms. The median of the moves counts, in the best of a few
// rounds, because other work on the machine is none of the page's.
const FIRST_MS = 300, FULL_MS = 1000, MOVES = 7, ROUNDS = 4;
// The longest that the page itself may stand still while it works things out, ms.
const STILL_MS = 250;
const PATIENCE_MS = 120_000;

/** The full answer is there, and with it the strip and what would change it. */
export async function settled(page) {
  await page.waitForFunction(() => turn > 0 && document.documentElement.dataset.state === String(turn), null, { timeout: PATIENCE_MS });
}
/** The full answer is there. */
const full = (page) => page.waitForFunction(() => turn > 0 && document.documentElement.dataset.full === String(turn), null, { timeout: PATIENCE_MS });
const text = (page, id) => page.evaluate((id) => document.getElementById(id).textContent, id);
const shown = (page) => page.evaluate(() => shown.odds);

/** What the program says to the command that the page shows. */
async function byProgram(page, ...more) {
  const command = (await text(page, "command")).trim();
  const { stdout } = await run("bash", ["-c", `callup() { "$CALLUP" "$@"; }; ${command} ${more.join(" ")}`], { env: { ...process.env, CALLUP } });
  return stdout;
}
/** The page's numbers and the program's are the same to the last bit. */
async function agrees(page) {
  await full(page);
  const mine = await shown(page), theirs = JSON.parse(await byProgram(page, "--json"));
  for (const key of ["schema", "version", "seed", "draws", "points", "fixed"]) assert.equal(mine[key], theirs[key], key);
  assert.deepEqual(mine.baits, theirs.baits);
  assert.deepEqual({ ...mine.scenario, title: 0 }, { ...theirs.scenario, title: 0 });
  // And to the printed word.
  const table = await byProgram(page, "--csv");
  assert.equal(table.trim().split("\n").length, 3);
  const said = await byProgram(page);
  for (const id of ["strikesa", "strikesb"]) assert.ok(said.includes((await text(page, id)).replace(" in 100", "")), `${await text(page, id)} in\n${said}`);
}
const move = (page, path, kept) => page.evaluate(([path, kept]) => {
  const c = control(path);
  put(c, c.words ? kept : toShown(c, kept));
}, [path, kept]);

export async function checks({ browser, file, folder, pictures }) {
  const one = (name, body, options) => check(`page: ${name}`, async () => {
    const opened = await open(browser, file, options);
    await full(opened.page);
    await body(opened.page);
    clean(opened);
    await opened.close();
  });

  await one("says what the program says", agrees);

  await one("sliders by keyboard", async (page) => {
    for (const [id, key, times] of [["c-water-secchi", "ArrowLeft", 12], ["c-when-time", "ArrowRight", 6], ["c-sky-cloud", "Home", 1], ["c-fish-depth", "ArrowLeft", 10], ["c-sky-wind", "PageUp", 1], ["c-water-temperature", "ArrowRight", 4], ["c-forage-length", "ArrowLeft", 3]]) {
      const before = await text(page, id + "-out");
      await page.focus("#" + id);
      for (let k = 0; k < times; k++) await page.keyboard.press(key);
      assert.notEqual(await text(page, id + "-out"), before, id);
    }
    await agrees(page);
  });

  await one("sliders by mouse", async (page) => {
    for (const [id, share] of [["c-fish-depth", 0.2], ["c-water-secchi", 0.85]]) {
      const box = await page.locator("#" + id).boundingBox();
      const before = await text(page, id + "-out");
      await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
      await page.mouse.down();
      await page.mouse.move(box.x + box.width * share, box.y + box.height / 2, { steps: 6 });
      await page.mouse.up();
      assert.notEqual(await text(page, id + "-out"), before, id);
    }
    await agrees(page);
  });

  await one("the fish dragged in the picture", async (page) => {
    const before = await text(page, "c-fish-depth-out");
    const fish = await page.locator("#stage .fish").boundingBox();
    const [x, y] = [fish.x + fish.width / 2, fish.y + fish.height / 2];
    await page.mouse.move(x, y);
    await page.mouse.down();
    await page.mouse.move(x, y - 60, { steps: 6 });
    await page.mouse.up();
    const after = await text(page, "c-fish-depth-out");
    assert.ok(parseFloat(after) < parseFloat(before), `${before} to ${after}`);
    await agrees(page);
  });

  await one("lists: tint, phase, pressure, both baits", async (page) => {
    for (const [id, value] of [["c-water-tint", "algae-green"], ["c-fish-phase", "summer"], ["c-fish-pressure", "heavy"], ["a-length", "130"], ["a-lip", "deep"], ["a-sound", "rattling"], ["a-finish", "chartreuse"], ["b-finish", "mirror"]]) {
      await page.selectOption("#" + id, value);
    }
    await agrees(page);
    assert.match(await text(page, "namea"), /130 mm, deep lip, rattling, chartreuse/);
  });

  await one("another water, and units of feet and Fahrenheit", async (page) => {
    await page.selectOption("#water", "northern-smallmouth");
    await page.selectOption("#units", "us");
    await page.focus("#c-fish-depth");
    await page.keyboard.press("ArrowRight");
    await full(page);
    assert.match(await text(page, "c-fish-depth-out"), / ft$/);
    assert.match(await text(page, "c-water-temperature-out"), / °F$/);
    await agrees(page);
  });

  await one("the strip has the program's numbers", async (page) => {
    await settled(page);
    const mine = await page.evaluate(() => strip.sweep);
    assert.equal(mine.cells_done, 21);
    const over = "water.secchi=0.3 m..10 m:21log";
    const theirs = JSON.parse(await byProgramSweep(page, over, mine));
    assert.deepEqual(mine.cells.map((c) => [c.at, c.strikes_per_100, c.leader]), theirs.cells.map((c) => [c.at, c.strikes_per_100, c.leader]));
    assert.ok((await text(page, "stripsaid")).length > 20);
    assert.equal(await page.locator("#changes tbody tr").count(), 14);
    // A row's button puts its own control on the strip.
    await page.locator("#changes tbody tr", { hasText: "Fish depth" }).locator("button").click();
    await page.waitForFunction(() => strip?.sweep.axes[0].path === "fish.depth");
  });

  await one("a link keeps the state", async (page) => {
    await move(page, "water.secchi", 1.7);
    await page.selectOption("#b-finish", "pearl");
    await full(page);
    const mine = await shown(page), hash = await page.evaluate(() => location.hash);
    const again = await open(browser, file, { hash });
    await full(again.page);
    assert.deepEqual((await shown(again.page)).baits, mine.baits);
    assert.equal(await again.page.evaluate(() => location.hash), hash);
    clean(again);
    await again.close();
  });

  await one("a saved file is a scenario for the program, and opens again", async (page) => {
    await move(page, "fish.depth", 3.3);
    await full(page);
    const [download] = await Promise.all([page.waitForEvent("download"), page.click("#save")]);
    const saved = join(folder, "saved.toml");
    await download.saveAs(saved);
    const mine = await shown(page), theirs = JSON.parse(await callup("odds", saved, "--json"));
    assert.deepEqual(mine.baits, theirs.baits);
    await page.setInputFiles("#file", saved);
    await page.waitForFunction(() => state.source !== null);
    await full(page);
    assert.deepEqual((await shown(page)).baits, mine.baits);
  });

  await one("a file with faults is told with its places, and the page goes on", async (page) => {
    const bad = join(folder, "bad.toml");
    await writeFile(bad, (await page.evaluate(() => source())).replace('secchi = "3.4 m"', 'secchi = "3.4 furlongs"').replace("cloud", "clowd"));
    await page.setInputFiles("#file", bad);
    await page.waitForFunction(() => document.getElementById("alarm").textContent.includes("help:"));
    const said = await text(page, "alarm");
    assert.match(said, /bad\.toml:\d+:\d+/);
    assert.match(said, /furlongs/);
    assert.match(said, /clowd/);
    assert.ok(said.split("\n").length > 6, "each line of a fault on its own");
    await page.selectOption("#water", "first-light");
    await page.waitForFunction(() => document.getElementById("alarm").textContent === "");
    await agrees(page);
  });

  await one("the same bait twice", async (page) => {
    for (const part of ["length", "lip", "sound", "finish"]) await page.selectOption(`#b-${part}`, await page.inputValue(`#a-${part}`));
    await settled(page);
    assert.match(await text(page, "verdict"), /same bait/);
  });

  await lessons(one, pictures);

  await one("quick, then full, in time", async (page) => {
    const rounds = [];
    for (let round = 0; round < ROUNDS; round++) {
      await settled(page);
      const times = { quick: [], full: [] };
      for (let k = 0; k < MOVES; k++) {
        await page.evaluate(() => { timing.quick.length = timing.full.length = 0; });
        await page.focus("#c-fish-depth");
        await page.keyboard.press(k % 2 ? "ArrowLeft" : "ArrowRight");
        await full(page);
        const now = await page.evaluate(() => timing);
        times.quick.push(now.quick[0] ?? now.full[0]);
        times.full.push(now.full[0]);
      }
      const median = (v) => v.sort((a, b) => a - b)[Math.floor(v.length / 2)];
      rounds.push([median(times.quick), median(times.full)].map(Math.round));
      if (rounds.at(-1)[0] < FIRST_MS && rounds.at(-1)[1] < FULL_MS) break;
    }
    console.log(`      first and full answer, ms, by round: ${rounds.map((r) => r.join(" and ")).join("; ")}`);
    assert.ok(rounds.at(-1)[0] < FIRST_MS && rounds.at(-1)[1] < FULL_MS);
  });

  await one("never stands still", async (page) => {
    let longest = Infinity;
    for (let round = 0; round < ROUNDS && longest >= STILL_MS; round++) {
      longest = await page.evaluate(async () => {
        let last = performance.now(), longest = 0, going = true;
        const beat = () => { const now = performance.now(); longest = Math.max(longest, now - last); last = now; if (going) setTimeout(beat, 0); };
        beat();
        const c = control("fish.depth");
        for (let k = 0; k < 20; k++) { put(c, 2 + 0.1 * k); await new Promise((done) => setTimeout(done, 40)); }
        await new Promise((done) => setTimeout(done, 1500));
        going = false;
        return longest;
      });
    }
    console.log(`      longest pause ${Math.round(longest)} ms`);
    assert.ok(longest < STILL_MS);
  });

  await one("on paper", async (page) => {
    await settled(page);
    await page.emulateMedia({ media: "print" });
    assert.equal(await page.locator("#controls").isVisible(), false);
    assert.equal(await page.locator("#stage svg").isVisible(), true);
    if (pictures) await page.screenshot({ path: `${pictures}/page-print.png`, fullPage: true });
  }, { width: 800 });
}

/** The page's sweep of the strip, done by the program with the same two baits. */
async function byProgramSweep(page, over, mine) {
  const command = (await text(page, "command")).trim().replace(/^callup odds/, "callup sweep");
  const { stdout } = await run("bash", ["-c", `"$CALLUP" ${command.replace(/^callup /, "")} --over '${over}' --draws ${mine.draws} --points ${mine.points} --json`], { env: { ...process.env, CALLUP } });
  return stdout;
}

/** Each lesson: it starts where it says, and what it asks to notice is so. */
async function lessons(one, pictures) {
  await one("at least six lessons, each true", async (page) => {
    const all = await page.evaluate(() => LESSONS);
    assert.ok(all.length >= 6);
    await page.click("#teach summary");
    for (const [k, lesson] of all.entries()) {
      await page.selectOption("#lesson", String(k));
      await page.waitForFunction((name) => document.getElementById("lessonbody").textContent.includes("Notice") && state.scenario === name && state.a, lesson.water);
      await full(page);
      for (const part of ["title", "ask", "notice"]) assert.ok(lesson[part].length > 8, part);
      for (const claim of lesson.check) {
        await move(page, lesson.move.path, claim.at);
        await full(page);
        const now = await page.evaluate(() => ({ leader: shown.said.verdict.leader, medians: shown.odds.baits.map((b) => b.strikes_per_100.median) }));
        const where = `${lesson.title}, at ${claim.at}: ${JSON.stringify(now)}`;
        if (claim.leader !== undefined) assert.equal(now.leader, claim.leader, where);
        for (const [i, key] of ["a", "b"].entries()) {
          if (claim[key]) assert.ok(now.medians[i] >= claim[key][0] && now.medians[i] <= claim[key][1], where);
        }
      }
    }
    // And it moves by itself when asked to.
    await page.selectOption("#lesson", "0");
    await full(page);
    await page.click("#play");
    await page.waitForFunction((to) => Math.abs(shown.odds.scenario.water.clarity.secchi_m - to) < 1e-9, all[0].move.to, { timeout: 60_000 });
    if (pictures) await page.screenshot({ path: `${pictures}/page-lesson.png` });
  });
}

export async function hostile({ browser, file, pictures }) {
  await check("page-hostile: names do no harm", async () => {
    for (const width of [360, 1280]) {
      const opened = await open(browser, file, { width });
      await settled(opened.page);
      assert.equal(await opened.page.evaluate(() => window.pwned), undefined);
      assert.equal(await opened.page.locator("img, #answer script, #answer svg[onload]").count(), 0);
      const all = await opened.page.evaluate(() => document.body.innerText);
      assert.doesNotMatch(all, /[\u202a-\u202e\u2066-\u2069]/);
      assert.match(await text(opened.page, "namea"), /<script>window\.pwned=3/);
      assert.match(await text(opened.page, "title"), /<\/script>/);
      await fits(opened.page);
      clean(opened);
      // Through a link as well.
      const hash = await opened.page.evaluate(() => location.hash);
      const again = await open(browser, file, { width, hash });
      await full(again.page);
      assert.equal(await again.page.evaluate(() => window.pwned), undefined);
      assert.deepEqual((await shown(again.page)).baits, (await shown(opened.page)).baits);
      clean(again);
      await again.close();
      await opened.close();
    }
    const written = await readFile(file, "utf8");
    assert.ok(!written.includes("</script><script>window.pwned"));
  });
}
