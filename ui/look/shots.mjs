// Takes a picture of every screen in both themes into `look/out`, which is not kept. Screens named behind the command
// are taken alone: `npm run look -- 5-shift plan`.
import { mkdir } from "node:fs/promises";
import { fileURLToPath } from "node:url";
import { open, openOverlay, overlays, screenNames, themes, withBrowser } from "./browser.mjs";

const out = fileURLToPath(new URL("./out/", import.meta.url));
await mkdir(out, { recursive: true });

/** The window grows to the whole screen first: else what stands at the bottom would cut it in the middle. */
async function whole(page, name) {
  const height = await page.evaluate(() => document.documentElement.scrollHeight);
  await page.setViewportSize({ width: page.viewportSize().width, height });
  await page.screenshot({ path: `${out}${name}.png` });
}

const only = process.argv.slice(2);
const isAsked = (name) => only.length === 0 || only.includes(name);

await withBrowser(async (looked) => {
  const { page } = looked;
  for (const name of (await screenNames(looked)).filter(isAsked)) {
    for (const theme of themes) {
      await open(looked, name, theme);
      await page.screenshot({ path: `${out}${name}-${theme}-phone.png` });
      await whole(page, `${name}-${theme}`);
    }
    await open(looked, name, "sun", 200);
    await whole(page, `${name}-large`);
  }
  for (const overlay of overlays.filter(({ name }) => isAsked(name))) {
    for (const theme of themes) {
      await openOverlay(looked, overlay, theme);
      await page.screenshot({ path: `${out}${overlay.name}-${theme}.png` });
    }
  }
});
