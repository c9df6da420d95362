// What a person does with a page, and what is asked of it: for the promises.
import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { screenNames } from "../browser.mjs";

export const display = "field-display-0-0";
export const current = "field-loop_current-0-0";

export const sent = (page) => page.evaluate(() => window.look.sent);
export const answers = async (page, key) =>
  (await sent(page)).filter((one) => one.do === "answer" && one.key === key);
export const setCore = (page, how) => page.evaluate((values) => Object.assign(window.look, values), how);
export const saved = (page, state) => page.locator(`[data-testid=saved][data-saved=${state}]`).waitFor();

/** What the screen was given. */
export const given = async (screen) =>
  JSON.parse(await readFile(new URL(`../views/${screen}.json`, import.meta.url), "utf8")).view;

/** One screen of each sort, by what it is. */
export async function oneOfEach(looked) {
  const screens = new Map();
  for (const name of await screenNames(looked)) {
    const view = await readFile(new URL(`../views/${name}.json`, import.meta.url), "utf8");
    const { at } = JSON.parse(view);
    if (!screens.has(at)) screens.set(at, name);
  }
  return screens;
}

export const note = "field-note-0-0";
export const focused = (page) => page.evaluate(() => document.activeElement.dataset.testid);

/** Where parts are on the screen; none may lie upon another. */
export async function lieApart(page, ...names) {
  const boxes = [];
  for (const name of names) boxes.push({ name, box: await page.getByTestId(name).first().boundingBox() });
  const seen = await page.evaluate(() => window.innerHeight);
  for (const { name, box } of boxes) {
    assert.ok(
      box.y >= 0 && box.y + box.height <= seen + 1,
      `${name} is out of sight: ${box.y}, ${box.height}`,
    );
  }
  for (const [at, one] of boxes.entries()) {
    for (const other of boxes.slice(at + 1)) {
      const apart = one.box.y + one.box.height <= other.box.y || other.box.y + other.box.height <= one.box.y;
      assert.ok(apart, `${one.name} and ${other.name} lie upon each other`);
    }
  }
}

/** What was done with a PIN. */
export const pins = (page) => page.evaluate(() => window.look.pins);

/** Puts a text into a field as pasting does. */
export async function paste(page, field, text) {
  await field.focus();
  await page.keyboard.insertText(text);
}

export async function press(page, keys) {
  for (const key of keys) await page.getByTestId(`pad-${key}`).click();
}
