// Photographs a page that callup wrote: screens.mjs PAGE.html PICTURE.png WIDTH HEIGHT
import { browser, open } from "./harness.mjs";

const [file, picture, width, height] = process.argv.slice(2);
const chromium = await browser();
const { page, close } = await open(chromium, file, { width: Number(width) });
await page.setViewportSize({ width: Number(width), height: Number(height) });
// The live page first answers in a hurry, then in full.
await page.waitForTimeout(4000);
await page.screenshot({ path: picture });
await close();
await chromium.close();
