// Typing is kept, in order, and says when it is not.
import assert from "node:assert/strict";
import { open } from "../browser.mjs";
import {
  answers,
  current,
  display,
  focused,
  given,
  lieApart,
  note,
  press,
  saved,
  sent,
  setCore,
} from "./hands.mjs";

export const promises = {
  "the last text wins over a slow core, and it says saved only then": async (looked) => {
    const { page } = looked;
    await open(looked, "3-as-found");
    await setCore(page, { delay: 120 });
    await page.getByTestId(display).fill("");
    await page.getByTestId(display).pressSequentially("1234567", { delay: 15 });
    await saved(page, "waiting");
    await saved(page, "yes");
    const kept = await answers(page, "display");
    assert.equal(kept.at(-1).text, "1234567");
    assert.ok(kept.length < 8, `${kept.length} texts were sent for 8 changes`);
    assert.equal(await page.getByTestId(display).inputValue(), "1234567");
  },

  "texts of two fields both arrive, in the order they were begun": async (looked) => {
    const { page } = looked;
    await open(looked, "3-as-found");
    await setCore(page, { delay: 60 });
    await page.getByTestId(display).fill("10");
    await page.getByTestId(current).fill("12.5");
    await page.getByTestId(display).fill("11");
    await saved(page, "yes");
    assert.equal((await answers(page, "display")).at(-1).text, "11");
    assert.equal((await answers(page, "loop_current")).at(-1).text, "12.5");
  },

  "what was typed reaches the core before the step is left": async (looked) => {
    const { page } = looked;
    await open(looked, "3-as-found");
    await setCore(page, { delay: 60 });
    await page.getByTestId(display).fill("9.87");
    await page.getByTestId("step-make_safe").click();
    await page.locator("[data-testid=step-title][data-step=make_safe]").waitFor();
    const all = await sent(page);
    assert.equal(all.at(-1).do, "go");
    assert.equal((await answers(page, "display")).at(-1).text, "9.87");
  },

  "what is missing is named as over its field, and leads there": async (looked) => {
    const { page } = looked;
    await open(looked, "3-as-found-begun");
    const { missing } = (await given("3-as-found-begun")).now.next;
    assert.ok(missing.length > 1);
    for (const [at, { leads }] of missing.entries()) {
      await page.getByTestId("next").click();
      const button = page.getByTestId(`missing-${at}`);
      const field = page.getByTestId(`field-${leads.key}-${leads.piece}-${leads.row}`);
      const isChoice = (await field.evaluate((one) => one.tagName)) === "FIELDSET";
      const label = isChoice
        ? field.locator("legend .label")
        : page.locator(`label[for="field-${leads.key}-${leads.piece}-${leads.row}"] .label`);
      assert.equal((await button.innerText()).trim(), (await label.innerText()).trim());
      await button.click();
      await page.getByTestId("missing").waitFor({ state: "detached" });
      const inside = await field.evaluate((one) => one.contains(document.activeElement));
      assert.ok(inside, `${leads.key} has the focus`);
      const box = await field.boundingBox();
      const seen = await page.evaluate(() => window.innerHeight);
      assert.ok(box.y >= 0 && box.y < seen, `${leads.key} is in sight`);
      // An open pad stands where the button does.
      if (!isChoice) await page.keyboard.press("Escape");
    }
  },

  "a text that could not be kept stays in its field until it is": async (looked) => {
    const { page } = looked;
    await open(looked, "3-as-found");
    await setCore(page, { fail: true });
    await page.getByTestId(display).fill("8.8");
    await page.getByTestId("trouble").waitFor();
    await page.getByTestId("trouble-close").click();
    await saved(page, "no");
    assert.equal(await page.getByTestId(display).inputValue(), "8.8");
    await setCore(page, { fail: false });
    await page.getByTestId("retry").click();
    await saved(page, "yes");
    assert.equal((await answers(page, "display")).at(-1).text, "8.8");
    assert.equal(await page.getByTestId(display).inputValue(), "8.8");
  },

  "a sentence typed while saves are refused is all there, and its spaces press nothing": async (looked) => {
    const { page } = looked;
    const words = "Hatch seal worn, gone on with the foreman's leave";
    await open(looked, "8-sign");
    await setCore(page, { fail: true, delay: 40 });
    await page.getByTestId(note).focus();
    await page.keyboard.type(words, { delay: 25 });
    await page.getByTestId("trouble").waitFor();
    await page.keyboard.type(" today", { delay: 25 });
    await saved(page, "no");
    assert.equal(await page.getByTestId(note).inputValue(), `${words} today`);
    assert.equal(await focused(page), note);
    assert.equal(await page.getByTestId("trouble").count(), 1, "a key that was typed closed the notice");
    assert.equal(await page.locator("dialog[open]").count(), 0, "a dialog came between");
    assert.equal(await page.getByTestId("trouble").getByRole("alert").count(), 1);
    assert.equal((await sent(page)).length, 0);
    await setCore(page, { fail: false });
    await page.getByTestId("trouble-retry").click();
    await saved(page, "yes");
    await page.getByTestId("trouble").waitFor({ state: "detached" });
    assert.equal((await answers(page, "note")).at(-1).text, `${words} today`);
    assert.equal(await focused(page), note);
  },

  "a notice of a refused save goes by itself once the text is kept": async (looked) => {
    const { page } = looked;
    await open(looked, "1-find");
    await setCore(page, { fail: true });
    await page.getByTestId("field-serial_read-0-0").fill("MDW-7");
    await page.getByTestId("trouble").waitFor();
    await setCore(page, { fail: false });
    await page.keyboard.type("1");
    await saved(page, "yes");
    await page.getByTestId("trouble").waitFor({ state: "detached" });
    assert.equal((await answers(page, "serial_read")).at(-1).text, "MDW-71");
  },

  "a closed notice keeps quiet in that field and speaks up in another": async (looked) => {
    const { page } = looked;
    await open(looked, "3-as-found");
    await setCore(page, { fail: true });
    await page.getByTestId(display).fill("8");
    await page.getByTestId("trouble-close").click();
    await page.getByTestId(display).pressSequentially(".85");
    await saved(page, "no");
    assert.equal(await page.getByTestId("trouble").count(), 0);
    await page.getByTestId(current).fill("12");
    await page.getByTestId("trouble").waitFor();
    assert.equal(await page.getByTestId(display).inputValue(), "8.85");
  },

  "a notice of a refused save covers no field, no key and no main button": async (looked) => {
    const { page } = looked;
    for (const scale of [100, 200]) {
      await open(looked, "4-evidence", "sun", scale);
      await setCore(page, { fail: true });
      for (const field of ["field-dip-1-1", "field-reading_after-1-0"]) {
        await page.getByTestId(field).click();
        await press(page, ["1", "2"]);
        await page.getByTestId("trouble").waitFor();
        await page.waitForTimeout(150);
        await lieApart(page, field, "told", "pad");
        await lieApart(page, "trouble-retry", "pad");
        assert.equal(await focused(page), field);
      }
      await page.getByTestId("pad-done").click();
      await page.waitForTimeout(150);
      await lieApart(page, "told", "next");

      await open(looked, "8-sign", "sun", scale);
      await setCore(page, { fail: true });
      await page.getByTestId(note).fill("x");
      await page.getByTestId("trouble").waitFor();
      await page.waitForTimeout(150);
      await lieApart(page, note, "told");
      await page.getByTestId("next").scrollIntoViewIfNeeded();
      await page.evaluate(() => scrollTo(0, document.documentElement.scrollHeight));
      await lieApart(page, "told", "next");
    }
  },

  "a visit with an unkept text is not left unasked": async (looked) => {
    const { page } = looked;
    await open(looked, "home");
    await page.getByTestId("continue").click();
    await page.getByTestId("field-serial_read-0-0").waitFor();
    await setCore(page, { fail: true });
    await page.getByTestId("field-serial_read-0-0").fill("MDW-7");
    await page.getByTestId("trouble-close").click();
    await page.getByTestId("home").click();
    await page.getByTestId("leave-ask").waitFor();
    await page.getByTestId("leave-stay").click();
    await page.goBack();
    await page.getByTestId("leave-ask").waitFor();
    await page.getByTestId("leave-stay").click();
    assert.equal(await page.getByTestId("field-serial_read-0-0").inputValue(), "MDW-7");
    await setCore(page, { fail: false });
    await page.getByTestId("home").click();
    await page.getByTestId("home-screen").waitFor();
    assert.equal((await answers(page, "serial_read")).at(-1).text, "MDW-7");
  },

  "an unkept text survives a walk to another step": async (looked) => {
    const { page } = looked;
    await open(looked, "3-as-found");
    await setCore(page, { fail: true });
    await page.getByTestId(display).fill("7.7");
    await page.getByTestId("trouble-close").click();
    await setCore(page, { fail: false });
    await page.getByTestId("pad-done").click();
    await page.getByTestId("step-find").click();
    await page.locator("[data-testid=step-title][data-step=find]").waitFor();
    await saved(page, "no");
    await page.getByTestId("retry").click();
    await saved(page, "yes");
    assert.equal((await answers(page, "display")).at(-1).text, "7.7");
  },
};
