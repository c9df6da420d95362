// Holds every screen to what a glove, the sun and a screen reader need. Fails with a list of what does not.
//
// axe with the AAA contrast rule (7:1) in both themes; and, measured: no sideways scrolling at 412 and 320 px and with
// text of twice the size, targets of 48 px with 8 px between, text of 18 px, readings of 28. The themes have the same
// measures, so what is narrow or large is held in one of them.
import { readFile } from "node:fs/promises";
import { createRequire } from "node:module";
import { alongside, open, openOverlay, overlays, screenNames, themes, withBrowser } from "./browser.mjs";
import { measure } from "./measure.mjs";

const axe = await readFile(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const rules = ["wcag2a", "wcag2aa", "wcag2aaa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"];

let screens = 0;
const found = [];

async function hold(page, where) {
  screens += 1;
  await page.evaluate(axe);
  const result = await page.evaluate((values) => window.axe.run({ runOnly: { type: "tag", values } }), rules);
  for (const violation of result.violations) {
    for (const node of violation.nodes) {
      found.push(`${where}: ${violation.id}: ${node.target.join(" ")}: ${node.failureSummary}`);
    }
  }
  for (const problem of await page.evaluate(measure)) found.push(`${where}: ${problem}`);
}

// Screens named behind the command are held alone: `npm run a11y -- find record`.
const only = process.argv.slice(2);
const isAsked = (name) => only.length === 0 || only.includes(name);

const looks = [
  ...themes.map((theme) => ({ theme, scale: 100, width: 412 })),
  { theme: "sun", scale: 100, width: 320 },
  { theme: "sun", scale: 200, width: 412 },
];

await withBrowser(async (looked) => {
  const names = (await screenNames(looked)).filter(isAsked);
  const over = overlays.filter(({ name }) => isAsked(name));
  const waiting = looks.flatMap((look) => [
    ...names.map((name) => ({ ...look, name })),
    ...over.map((overlay) => ({ ...look, name: overlay.name, overlay })),
  ]);
  // Two windows at a time: each waits for its page half of the while.
  await Promise.all([looked, await alongside(looked)].map((one) => holdAll(one, waiting)));
});

async function holdAll(looked, waiting) {
  for (let next = waiting.shift(); next; next = waiting.shift()) {
    const { name, overlay, theme, scale, width } = next;
    if (overlay) await openOverlay(looked, overlay, theme, scale, width);
    else await open(looked, name, theme, scale, width);
    await hold(looked.page, `${name} (${theme}, ${width} px, text ${scale} %)`);
  }
}

for (const line of found) console.error(line);
console.log(`${screens} screens held, ${found.length} violations`);
if (found.length > 0 || screens === 0) process.exitCode = 1;
