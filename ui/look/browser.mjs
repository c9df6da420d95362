// A browser before the stand-in, at the size of a phone.
import { chromium } from "playwright-core";
import { createServer } from "vite";

const PHONE = { width: 412, height: 915 };
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

/**
 * Serves the pages, opens the browser, calls `look` with both, and closes everything whatever happened. `more` are
 * switches of the browser.
 */
export async function withBrowser(look, more = []) {
  const server = await createServer({ server: { port: 0, strictPort: false }, logLevel: "error" });
  await server.listen();
  const browser = await chromium.launch({ executablePath, args: [...args, ...more] });
  try {
    const { port } = server.httpServer.address();
    const page = await browser.newPage({ viewport: PHONE, deviceScaleFactor: 1 });
    page.on("pageerror", (error) => {
      console.error(`the page threw: ${error.message}`);
      process.exitCode = 1;
    });
    await look({ page, url: `http://localhost:${port}/look/` });
  } finally {
    await browser.close();
    await server.close();
  }
}

/** Opens one screen in a theme, its text at a percentage, in a window so wide. */
export async function open({ page, url }, screen, theme = "sun", scale = 100, width = PHONE.width) {
  await page.setViewportSize({ width, height: PHONE.height });
  await page.goto(`${url}?screen=${screen}&theme=${theme}&scale=${scale}`);
  await page.waitForSelector("main h1");
}

/** Returns the names of all screens. */
export async function screenNames(looked) {
  await open(looked, "home");
  return looked.page.evaluate(() => window.screenNames);
}

export const themes = ["sun", "dark"];

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
