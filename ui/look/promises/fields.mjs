// The pad, and the fields and questions of a step.
import assert from "node:assert/strict";
import { open } from "../browser.mjs";
import { answers, display, focused, given, press, saved, sent, setCore } from "./hands.mjs";

export const promises = {
  "the pad writes a length as people say it, and the field keeps the focus": async (looked) => {
    const { page } = looked;
    await open(looked, "4-evidence");
    const field = page.getByTestId("field-dip-1-2");
    await field.click();
    await press(page, ["2", "2", "ft", "7", "half", "in"]);
    assert.equal(await field.inputValue(), `22' 7 1/2"`);
    await press(page, ["clear", "6", ".", "8", "8", "back", "9", "m"]);
    assert.equal(await field.inputValue(), "6.89 m");
    await press(page, ["sign"]);
    assert.equal(await field.inputValue(), "-6.89 m");
    await press(page, ["sign"]);
    assert.equal(await field.inputValue(), "6.89 m");
    assert.equal(await page.evaluate(() => document.activeElement.dataset.testid), "field-dip-1-2");
    await page.keyboard.type("m");
    assert.equal(await field.inputValue(), "6.89 mm");
    await press(page, ["done"]);
    await page.getByTestId("next").waitFor();
    assert.equal((await answers(page, "dip")).at(-1).text, "6.89 mm");
  },

  "a first tap puts the caret at the end, a second where it lands": async (looked) => {
    const { page } = looked;
    await open(looked, "3-as-found");
    const field = page.getByTestId(display);
    const read = await field.inputValue();
    await field.click({ position: { x: 20, y: 20 } });
    await press(page, ["5"]);
    assert.equal(await field.inputValue(), `${read}5`);
    await field.click({ position: { x: 8, y: 20 } });
    await press(page, ["3"]);
    assert.equal(await field.inputValue(), `3${read}5`);
  },

  "a slow tap, under which the field moves above the pad, puts the caret at the end too": async (looked) => {
    const { page } = looked;
    await open(looked, "3-as-found");
    const field = page.getByTestId(display);
    const read = await field.inputValue();
    const { x, y } = await field.boundingBox();
    await page.mouse.move(x + 20, y + 20);
    await page.mouse.down();
    await page.getByTestId("pad").waitFor();
    await page.waitForTimeout(150);
    await page.mouse.up();
    await press(page, ["5"]);
    assert.equal(await field.inputValue(), `${read}5`);
  },

  "the field is seen above the pad": async (looked) => {
    const { page } = looked;
    await open(looked, "4-evidence");
    await page.getByTestId("field-reading_after-1-0").click();
    await page.waitForTimeout(150);
    const field = await page.getByTestId("field-reading_after-1-0").boundingBox();
    const pad = await page.getByTestId("pad").boundingBox();
    assert.ok(field.y > 0 && field.y + field.height < pad.y, `${field.y} to ${pad.y}`);
  },

  "what is stated by one touch is what was shown, after what was typed before it": async (looked) => {
    const { page } = looked;
    await open(looked, "2-make-safe");
    await setCore(page, { delay: 60 });
    await page.getByTestId("field-control_room_told-0-0").fill("Ferris");
    await page.getByTestId("together").click();
    await page.locator("[data-testid=step-title][data-step=as_found]").waitFor();
    const all = await sent(page);
    assert.equal((await answers(page, "control_room_told")).at(-1).text, "Ferris");
    const { lines } = (await given("2-make-safe")).now.together;
    assert.ok(lines.length > 3);
    assert.deepEqual(all.at(-1), { do: "together", answers: lines.map(({ answer }) => answer) });
  },

  "a check is taken point by point, and a point that is done can be opened again": async (looked) => {
    const { page } = looked;
    await open(looked, "3-as-found-check");
    const now = page.getByTestId("point-now");
    assert.equal(await now.getAttribute("data-row"), "3");
    await page.getByTestId("offer-3").click();
    assert.equal(await page.getByTestId("field-check_applied-0-3").inputValue(), "19.50");
    await page.getByTestId("offer-3").waitFor({ state: "detached" });
    await page.getByTestId("field-check_display-0-3").click();
    await press(page, ["1", "9", ".", "5"]);
    assert.equal(await page.getByTestId("field-check_display-0-3").inputValue(), "19.5");
    await press(page, ["done"]);
    await page.getByTestId("point-1").click();
    assert.equal(await now.getAttribute("data-row"), "1");
    assert.equal(await page.evaluate(() => document.activeElement.dataset.testid), "field-check_applied-0-1");
    assert.equal((await answers(page, "check_display")).at(-1).text, "19.5");
  },

  "a check is closed until there is a pressure source": async (looked) => {
    const { page } = looked;
    await open(looked, "3-as-found");
    assert.equal(await page.getByTestId("field-pressure_source-0-0").isVisible(), false);
    await page.getByTestId("open-five-point").click();
    await page.getByTestId("option-pressure_source-0-0-yes").click();
    await saved(page, "yes");
    assert.equal((await answers(page, "pressure_source")).at(-1).text, "yes");
  },

  "a question that is seldom needed is closed, and the pad goes past it until it is opened": async (
    looked,
  ) => {
    const { page } = looked;
    await open(looked, "4-evidence-tape");
    const tape = page.getByTestId("field-tape_temperature-1-0");
    assert.equal(await tape.isVisible(), false);
    await page.getByTestId("field-reading_after-1-0").click();
    assert.equal(await page.getByTestId("pad-next").count(), 0, "what is closed comes next");
    await press(page, ["1", "done"]);
    await page.getByTestId("aside-tape_temperature-1-0").click();
    await page.getByTestId("field-reading_after-1-0").click();
    await press(page, ["next"]);
    assert.equal(await focused(page), "field-tape_temperature-1-0");
    await press(page, ["sign", "5", "degc", "done"]);
    await saved(page, "yes");
    assert.equal((await answers(page, "tape_temperature")).at(-1).text, "-5 °C");
  },
};
