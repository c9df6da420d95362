// A browser before the stand-in, at the size of a phone.
import { rmSync } from "node:fs";
import { mkdtemp } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { chromium } from "playwright-core";
import { build, preview } from "vite";

const PHONE = { width: 412, height: 915 };
/** How long a screen may take to load, in milliseconds. */
const PATIENCE = 20_000;
const executablePath = process.env.CHROMIUM ?? "/usr/bin/chromium";
const args = [
  "--no-sandbox",
  "--disable-gpu",
  "--disable-quic",
  "--no-first-run",
  "--disable-background-networking",
  "--disable-component-update",
  "--disable-sync",
];

/** The pages with the stand-in, put together as they are shipped: one of them is a file or two, not some hundreds. */
async function putTogether() {
  const outDir = await mkdtemp(join(tmpdir(), "headmark-look-"));
  const input = fileURLToPath(new URL("index.html", import.meta.url));
  await build({ build: { outDir, emptyOutDir: true, rolldownOptions: { input } }, logLevel: "error" });
  return outDir;
}

let made;

/**
 * Serves the pages, opens the browser, calls `look` with both, and closes everything whatever happened. `more` are
 * switches of the browser.
 */
export async function withBrowser(look, more = []) {
  made ??= await putTogether();
  const server = await preview({ build: { outDir: made }, preview: { port: 0 }, logLevel: "error" });
  const browser = await chromium.launch({ executablePath, args: [...args, ...more] });
  try {
    const { port } = server.httpServer.address();
    await look({ page: await phone(browser), url: `http://localhost:${port}/look/` });
  } finally {
    await browser.close();
    await server.close();
  }
}

process.on("exit", () => made && rmSync(made, { recursive: true, force: true }));

async function phone(browser) {
  const page = await browser.newPage({ viewport: PHONE, deviceScaleFactor: 1 });
  page.on("pageerror", (error) => {
    console.error(`the page threw: ${error.message}`);
    process.exitCode = 1;
  });
  return page;
}

/** Returns a second window onto the same pages, which shares nothing with the first. */
export async function alongside({ page, url }) {
  return { page: await phone(page.context().browser()), url };
}

/** Opens one screen in a theme, its text at a percentage, in a window so wide. */
export async function open({ page, url }, screen, theme = "sun", scale = 100, width = PHONE.width) {
  await page.setViewportSize({ width, height: PHONE.height });
  const address = `${url}?screen=${screen}&theme=${theme}&scale=${scale}`;
  for (let times = 1; ; times += 1) {
    try {
      await page.goto(address, { timeout: PATIENCE });
      await page.waitForSelector("main h1", { timeout: PATIENCE });
      return;
    } catch (error) {
      // The server of the pages, not the pages, stands still at times while it makes its parts; once more is enough.
      if (times === 3 || error.name !== "TimeoutError") throw error;
      console.warn(`${screen} did not load in ${PATIENCE / 1000} s and is asked for again`);
    }
  }
}

/** Returns the names of all screens. */
export async function screenNames(looked) {
  await open(looked, "home");
  return looked.page.evaluate(() => window.screenNames);
}

export const themes = ["sun", "dark"];

/** Goes on to sign, and types a PIN. */
async function askPin(page, keys) {
  await page.getByTestId("next").click();
  await page.getByTestId("ask-pin").waitFor();
  for (const key of keys) await page.getByTestId(`pad-${key}`).click();
}

/** What can be opened over a screen: its name, the screen, and how. */
export const overlays = [
  { name: "pad-length", screen: "4-evidence", open: (page) => page.getByTestId("field-dip-1-1").click() },
  {
    name: "pad-reading",
    screen: "3-as-found",
    open: (page) => page.getByTestId("field-display-0-0").click(),
  },
  {
    name: "pad-temperature",
    screen: "3-as-found",
    open: (page) => page.getByTestId("field-liquid_temperature-0-0").click(),
  },
  {
    name: "pad-number",
    screen: "2-make-safe",
    open: (page) => page.getByTestId("field-inhibit_minutes-0-0").click(),
  },
  {
    name: "check-source",
    screen: "3-as-found-check",
    open: (page) => page.getByTestId("open-source").click(),
  },
  {
    name: "check-point",
    screen: "3-as-found-check",
    open: (page) => page.getByTestId("field-check_display-0-3").click(),
  },
  {
    name: "find-offers",
    screen: "find",
    open: (page) => page.getByTestId("offers").waitFor(),
  },
  {
    name: "find-near",
    screen: "find",
    open: async (page) => {
      await page.getByTestId("list-near").click();
      await page.getByTestId("near-0").waitFor();
    },
  },
  {
    name: "find-work",
    screen: "find",
    open: async (page) => {
      await page.getByTestId("list-work").click();
      await page.getByTestId("list").waitFor();
    },
  },
  { name: "missing", screen: "1-find", open: (page) => page.getByTestId("next").click() },
  { name: "discard", screen: "home", open: (page) => page.getByTestId("discard-LT-3107").click() },
  { name: "remove", screen: "4-evidence", open: (page) => page.getByTestId("remove-1").click() },
  {
    name: "free-space",
    screen: "send-photos",
    open: (page) => page.getByTestId("space-free").click(),
  },
  {
    name: "pin-keys",
    screen: "pin",
    open: async (page) => {
      await page.getByTestId("pin-new").click();
      for (const key of ["4", "8", "1"]) await page.getByTestId(`pad-${key}`).click();
    },
  },
  { name: "pin-change", screen: "pin-set", open: (page) => page.getByTestId("pin-change").click() },
  { name: "pin-remove", screen: "pin-set", open: (page) => page.getByTestId("pin-remove").click() },
  { name: "ask-pin", screen: "8-sign-pin", open: (page) => askPin(page, ["4", "8", "1", "5", "1", "6"]) },
  {
    name: "ask-pin-shown",
    screen: "8-sign-pin",
    open: async (page) => {
      await askPin(page, ["4", "8", "1", "5", "1", "6"]);
      await page.getByTestId("pin-show").click();
    },
  },
  {
    name: "ask-pin-wrong",
    screen: "8-sign-pin",
    open: async (page) => {
      await askPin(page, ["4", "8", "1", "5"]);
      await page.getByTestId("pin-sign").click();
      await page.getByTestId("message-pin.wrong").waitFor();
    },
  },
  { name: "ask-pin-waits", screen: "8-sign-pin-waits", open: (page) => askPin(page, []) },
  {
    name: "ask-pin-without",
    screen: "8-sign-pin",
    open: async (page) => {
      await askPin(page, []);
      await page.getByTestId("pin-without").click();
    },
  },
  { name: "exported", screen: "record", open: (page) => page.getByTestId("export").click() },
  {
    name: "more",
    screen: "5-shift",
    open: async (page) => {
      for (const summary of await page.locator("summary").all()) await summary.click();
    },
  },
  {
    name: "not-saved",
    screen: "1-find",
    open: async (page) => {
      await page.evaluate(() => (window.look.fail = true));
      await page.getByTestId("field-serial_read-0-0").fill("MDW-9");
      await page.getByTestId("trouble").waitFor();
    },
  },
  {
    name: "not-saved-pad",
    screen: "4-evidence",
    open: async (page) => {
      await page.evaluate(() => (window.look.fail = true));
      await page.getByTestId("field-dip-1-1").click();
      await page.getByTestId("pad-7").click();
      await page.getByTestId("trouble").waitFor();
    },
  },
];

/** Opens an overlay on its screen and waits until it stands still. */
export async function openOverlay(looked, overlay, theme, scale, width) {
  await open(looked, overlay.screen, theme, scale, width);
  await overlay.open(looked.page);
  await looked.page.waitForTimeout(150);
}
