// Holds the pages to their promises about typing, saving and sending, against a slow or failing stand-in.
import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { open, screenNames, withBrowser } from "./browser.mjs";

const display = "field-display-0-0";
const current = "field-loop_current-0-0";

const sent = (page) => page.evaluate(() => window.look.sent);
const answers = async (page, key) =>
  (await sent(page)).filter((one) => one.do === "answer" && one.key === key);
const setCore = (page, how) => page.evaluate((values) => Object.assign(window.look, values), how);
const saved = (page, state) => page.locator(`[data-testid=saved][data-saved=${state}]`).waitFor();

/** What the screen was given. */
const given = async (screen) =>
  JSON.parse(await readFile(new URL(`./views/${screen}.json`, import.meta.url), "utf8")).view;

/** One screen of each sort, by what it is. */
async function oneOfEach(looked) {
  const screens = new Map();
  for (const name of await screenNames(looked)) {
    const view = await readFile(new URL(`./views/${name}.json`, import.meta.url), "utf8");
    const { at } = JSON.parse(view);
    if (!screens.has(at)) screens.set(at, name);
  }
  return screens;
}

const note = "field-note-0-0";
const focused = (page) => page.evaluate(() => document.activeElement.dataset.testid);

/** Where parts are on the screen; none may lie upon another. */
async function lieApart(page, ...names) {
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
const pins = (page) => page.evaluate(() => window.look.pins);

/** Puts a text into a field as pasting does. */
async function paste(page, field, text) {
  await field.focus();
  await page.keyboard.insertText(text);
}

async function press(page, keys) {
  for (const key of keys) await page.getByTestId(`pad-${key}`).click();
}

const promises = {
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

  "a proposal is one press: it adds its piece, after what was chosen before": async (looked) => {
    const { page } = looked;
    await open(looked, "4-evidence-none");
    await setCore(page, { delay: 60 });
    await page.getByTestId("option-crew-0-0-alone").click();
    await page.getByTestId("measure-next-0").click();
    await page.getByTestId("piece-90").waitFor();
    const [chosen, added] = await sent(page);
    assert.equal(chosen.text, "alone");
    assert.deepEqual(added, { do: "add", kind: "riser", timing: "before" });
  },

  "a proposal that is read elsewhere leads there": async (looked) => {
    const { page } = looked;
    await open(looked, "4-evidence-open");
    assert.match(
      await page.getByTestId("measure-next-0").innerText(),
      /offset on the unit[^]*±\s1\.00\sin\sthen/,
    );
    await page.getByTestId("measure-next-0").click();
    await page.locator("[data-testid=step-title][data-step=as_found]").waitFor();
    assert.deepEqual(await sent(page), [{ do: "go", step: "as_found" }]);
  },

  "a way out on Shift leads to the piece it adds": async (looked) => {
    const { page } = looked;
    await open(looked, "5-shift-open");
    await page.locator("[data-testid^=way-]", { hasText: "vented check" }).click();
    await page.locator("[data-testid=step-title][data-step=evidence]").waitFor();
    await page.getByTestId("piece-91").waitFor();
    assert.deepEqual(await sent(page), [{ do: "add", kind: "vented", timing: "before" }]);
  },

  "a proposal that could not be kept is told, and can be pressed again": async (looked) => {
    const { page } = looked;
    await open(looked, "4-evidence-none");
    await setCore(page, { fail: true });
    await page.getByTestId("measure-next-0").click();
    await page.getByTestId("trouble").waitFor();
    assert.equal((await sent(page)).length, 0);
    await setCore(page, { fail: false });
    await page.getByTestId("trouble-close").click();
    await page.getByTestId("measure-next-0").click();
    await page.getByTestId("piece-90").waitFor();
    assert.deepEqual(await sent(page), [{ do: "add", kind: "riser", timing: "before" }]);
  },

  "where nothing is determined each way out is a press": async (looked) => {
    const { page } = looked;
    await open(looked, "5-shift-open");
    const ways = await page.locator("[data-testid^=way-]").count();
    assert.equal(ways, 4);
    for (let way = 0; way < ways; way += 1) {
      await open(looked, "5-shift-open");
      await page.getByTestId(`way-${way}`).click();
      await page.locator("[data-testid=step-title]:not([data-step=shift])").waitFor();
      assert.equal((await sent(page)).length, 1);
    }
  },

  "the target is asked for again while the level moves, and an old one keeps its time": async (looked) => {
    const { page } = looked;
    await open(looked, "5-shift-moving");
    const shown = async (name) =>
      (await page.getByTestId(`target-${name}`).innerText()).replaceAll("\u00a0", " ");
    await page.getByTestId("target").waitFor();
    const given = await page.evaluate(() => window.look.target);
    for (const name of ["at", "from", "to", "by", "sure"]) {
      assert.equal(await shown(name), given[name].replaceAll("\u00a0", " "));
    }
    const late = { ...given, at: "11:59:59", to: "15.01 ft", sure: "± 0.20 ft (95 %)" };
    await setCore(page, { target: late });
    await page.getByTestId("target-to").filter({ hasText: "15.01" }).waitFor({ timeout: 8_000 });
    assert.equal(await page.getByTestId("message-target.read_again").count(), 0);
    const text = "Its rate is too old.";
    const old = { code: "target.read_again", grade: "warning", text, remedy: "Read again.", reason: null };
    await setCore(page, { target: { ...late, read_again: old } });
    await page.getByTestId("message-target.read_again").filter({ hasText: text }).waitFor({ timeout: 8_000 });
    assert.deepEqual([await shown("at"), await shown("sure")], ["11:59:59", "± 0.20 ft (95 %)"]);
    await setCore(page, { fail: true });
    const before = await page.evaluate(() => window.look.asked);
    await page.waitForFunction((asked) => window.look.asked > asked, before, { timeout: 8_000 });
    assert.equal(await shown("at"), "11:59:59", "a refusal leaves the last one, with its time");
    assert.equal(await page.getByTestId("trouble").count(), 0, "nobody asked, so nobody is told");
    await setCore(page, { fail: false, target: null });
    await page.getByTestId("target").waitFor({ state: "detached", timeout: 8_000 });
  },

  "the target is not asked for where nothing moves, nor once its screen is left": async (looked) => {
    const { page } = looked;
    await open(looked, "5-shift");
    await page.getByTestId("shift-to").waitFor();
    assert.equal(await page.evaluate(() => window.look.asked), 0);
    await open(looked, "5-shift-moving");
    await page.getByTestId("target").waitFor();
    await page.getByTestId("step-find").click();
    await page.locator("[data-testid=step-title][data-step=find]").waitFor();
    const asked = await page.evaluate(() => window.look.asked);
    await page.waitForTimeout(3_500);
    assert.equal(await page.evaluate(() => window.look.asked), asked);
  },

  "a file travels in pieces": async (looked) => {
    const { page } = looked;
    await open(looked, "find");
    const buffer = Buffer.alloc(48 * 1024 * 2 + 5, 7);
    await page.getByTestId("find-photo").setInputFiles({ name: "label.jpg", mimeType: "image/jpeg", buffer });
    await page.getByTestId("message-code.not_read").waitFor();
    assert.equal(await page.evaluate(() => window.look.pieces), 3);
  },

  "the plan opens from the instrument and leads back to it": async (looked) => {
    const { page } = looked;
    await open(looked, "confirm");
    await page.getByTestId("plan-open").click();
    await page.getByTestId("plan").waitFor();
    assert.match(await page.getByTestId("plan-at-full").innerText(), /psi/);
    await page.getByTestId("open-moves").click();
    await page.getByTestId("moves-table").waitFor();
    await page.getByTestId("plan-back").click();
    await page.getByTestId("confirm").waitFor();
    await page.getByTestId("visit-begin").waitFor();
  },

  "a table on a narrow screen names its columns beside the values": async (looked) => {
    const { page } = looked;
    await open(looked, "plan", "sun", 100, 320);
    const row = page.getByTestId("shown-trimmed-2");
    assert.match(await row.innerText(), /Display, ft\s+13\.00\s+Current, mA\s+12\.00/);
    await open(looked, "plan");
    assert.doesNotMatch(await page.getByTestId("shown-trimmed-2").innerText(), /Current/);
  },

  "a removal is asked about first": async (looked) => {
    const { page } = looked;
    await open(looked, "4-evidence");
    await page.getByTestId("remove-1").click();
    await page.getByTestId("remove-keep").click();
    assert.equal((await sent(page)).length, 0);
    await page.getByTestId("remove-1").click();
    await page.getByTestId("remove-yes").click();
    await page.getByTestId("piece-1").waitFor({ state: "detached" });
    assert.deepEqual(await sent(page), [{ do: "remove", piece: 1 }]);
  },

  "the phone's own back button leads home": async (looked) => {
    const { page } = looked;
    await open(looked, "home");
    await page.getByTestId("continue").click();
    await page.getByTestId("visit").waitFor();
    await page.goBack();
    await page.getByTestId("home-screen").waitFor();
  },

  "signing shows the record, and the export its file": async (looked) => {
    const { page } = looked;
    await open(looked, "8-sign");
    await page.getByTestId("next").click();
    await page.getByTestId("record").waitFor();
    await page.getByTestId("export").click();
    await page.getByTestId("exported").filter({ hasText: ".headmark" }).waitFor();
  },

  "a PIN is asked for before anything is signed, shown as dots, and goes to the core as it was typed": async (
    looked,
  ) => {
    const { page } = looked;
    await open(looked, "8-sign-pin");
    await page.getByTestId("next").click();
    const field = page.getByTestId("pin");
    assert.equal(await focused(page), "pin");
    await press(page, ["4", "8", "1", "9", "back", "5"]);
    assert.equal(await focused(page), "pin", "a key took the focus");
    assert.equal(await field.getAttribute("type"), "password");
    await page.getByTestId("pin-show").click();
    assert.deepEqual([await field.getAttribute("type"), await field.inputValue()], ["text", "4815"]);
    await page.getByTestId("pin-show").click();
    assert.equal(await field.getAttribute("type"), "password");
    assert.deepEqual(await pins(page), [], "nothing is signed while it is typed");
    await page.getByTestId("pin-sign").click();
    await page.getByTestId("message-pin.wrong").waitFor();
    assert.equal(await field.inputValue(), "4815", "what was typed is still there");
    await press(page, ["clear"]);
    await paste(page, field, "48 15 16");
    await field.press("Enter");
    await page.getByTestId("message-pin.wrong").waitFor();
    await press(page, ["clear"]);
    await paste(page, field, "481516");
    await field.press("Enter");
    await page.getByTestId("record").waitFor();
    assert.deepEqual(
      await pins(page),
      ["4815", "48 15 16", "481516"].map((pin) => ({ by: "pin", pin })),
    );
  },

  "without the PIN a reason is kept first, and nothing is signed by going back": async (looked) => {
    const { page } = looked;
    await open(looked, "8-sign-pin");
    await page.getByTestId("next").click();
    await page.getByTestId("pin-back").click();
    await page.getByTestId("ask-pin").waitFor({ state: "detached" });
    await page.getByTestId("next").click();
    await page.getByTestId("pin-without").click();
    await setCore(page, { delay: 60 });
    await page.getByTestId("field-warning_reason-0-40").pressSequentially("Forgotten", { delay: 10 });
    await page.getByTestId("pin-without-sign").click();
    await page.getByTestId("record").waitFor();
    assert.equal((await answers(page, "warning_reason")).at(-1).text, "Forgotten");
    assert.deepEqual(await pins(page), [{ by: "without" }]);
  },

  "a reason that could not be kept signs nothing, and stays": async (looked) => {
    const { page } = looked;
    await open(looked, "8-sign-pin");
    await page.getByTestId("next").click();
    await page.getByTestId("pin-without").click();
    await setCore(page, { fail: true });
    await page.getByTestId("field-warning_reason-0-40").fill("Forgotten");
    await page.getByTestId("ask-pin").getByTestId("message-store.full").waitFor();
    await page.getByTestId("pin-without-sign").click();
    // It is tried once more before anything is signed.
    await page.waitForTimeout(300);
    assert.deepEqual(await pins(page), []);
    assert.equal(await page.getByTestId("field-warning_reason-0-40").inputValue(), "Forgotten");
    await setCore(page, { fail: false });
    await page.getByTestId("pin-without-sign").click();
    await page.getByTestId("record").waitFor();
    assert.equal((await answers(page, "warning_reason")).at(-1).text, "Forgotten");
  },

  "while a wait runs no PIN is tried, and the core is asked how long it still is": async (looked) => {
    const { page } = looked;
    await open(looked, "8-sign-pin-waits");
    await page.getByTestId("next").click();
    await page.getByTestId("message-pin.waits").waitFor();
    assert.ok(await page.getByTestId("pin-sign").isDisabled());
    await press(page, ["4", "8", "1", "5", "1", "6"]);
    await page.getByTestId("pin").press("Enter");
    assert.deepEqual(await pins(page), []);
    // It is asked more than once.
    await page.waitForTimeout(1_500);
    await page.evaluate(() => window.look.waitOver());
    await page.getByTestId("message-pin.waits").waitFor({ state: "detached" });
    assert.equal(await page.getByTestId("pin").inputValue(), "481516");
    await page.getByTestId("pin-sign").click();
    await page.getByTestId("record").waitFor();
  },

  "where no PIN is set none is asked for": async (looked) => {
    const { page } = looked;
    await open(looked, "8-sign");
    assert.match(await page.getByTestId("signing").innerText(), /Asha Verma[^]*No PIN is set/);
    await page.getByTestId("next").click();
    await page.getByTestId("record").waitFor();
    assert.deepEqual(await pins(page), [{ by: "nothing" }]);
  },

  "a PIN is set, changed and taken off, each by its own keys": async (looked) => {
    const { page } = looked;
    await open(looked, "home");
    await page.getByTestId("pin-open").click();
    await page.getByTestId("pin-new").click();
    await press(page, ["4", "8", "1", "5", "next", "4", "8", "1", "5", "done"]);
    await page.getByTestId("pin-go").click();
    await page.getByTestId("message-pin.done").waitFor();
    await page.getByTestId("pin-change").click();
    assert.equal(await focused(page), "pin-old");
    await press(page, ["1", "1", "next", "2", "7", "1", "8", "next", "2", "7", "1", "8", "done"]);
    await page.getByTestId("pin-go").click();
    await page.getByTestId("message-pin.wrong").waitFor();
    assert.equal(await page.getByTestId("pin-new").inputValue(), "2718", "what was typed is still there");
    await page.getByTestId("pin-old").fill("4815");
    await press(page, ["next", "next", "done"]);
    await page.getByTestId("pin-go").click();
    await page.getByTestId("message-pin.done").waitFor();
    await page.getByTestId("pin-remove").click();
    await press(page, ["2", "7", "1", "8", "done"]);
    await page.getByTestId("pin-go").click();
    await page.getByTestId("pin-new").waitFor();
    const none = { old: "", pin: "", again: "" };
    assert.deepEqual(await pins(page), [
      { ...none, command: "pin_set", pin: "4815", again: "4815" },
      { command: "pin_change", old: "11", pin: "2718", again: "2718" },
      { command: "pin_change", old: "4815", pin: "2718", again: "2718" },
      { ...none, command: "pin_remove", old: "2718" },
    ]);
  },

  "a screen is asked for again when the core says so, not because it is shown, and no late answer undoes a newer one":
    async (looked) => {
      const { page } = looked;
      const tell = () => page.evaluate(() => window.look.tell());
      const asked = () => page.evaluate(() => window.look.homes.asked);
      for (const [screen, name] of [
        ["home", "technician-now"],
        ["record", "record-proof"],
      ]) {
        await open(looked, screen);
        await page.waitForFunction(() => document.querySelector("[data-testid=status]") || true);
        await page.waitForTimeout(150);
        assert.equal(await asked(), 0, `${screen} was given and is asked for all the same`);
        const late = [
          { delay: 400, technician: "An old answer" },
          { delay: 0, technician: "A new answer" },
        ];
        await page.evaluate((answers) => window.look.homes.late.push(...answers), late);
        await tell();
        await tell();
        await page.getByTestId(name).filter({ hasText: "A new answer" }).waitFor();
        await page.waitForTimeout(500);
        assert.match(await page.getByTestId(name).innerText(), /A new answer/);
        assert.equal(await asked(), 2);
      }
    },

  "what changed while a screen was asked for is asked for once more": async (looked) => {
    const { page } = looked;
    await open(looked, "send");
    await page.evaluate(() => window.look.homes.late.push({ delay: 300, technician: "Asked before" }));
    await page.getByTestId("home").click();
    await page.evaluate(() => window.look.tell());
    await page.getByTestId("home-screen").waitFor();
    await page.waitForFunction(() => window.look.homes.asked === 2);
    await page.getByTestId("technician-now").filter({ hasText: "Asha Verma" }).waitFor();
  },

  "sending begins and stops by the one main button, and says how far it has come": async (looked) => {
    const { page } = looked;
    await open(looked, "send");
    await page.getByTestId("send-main").click();
    await page.getByTestId("send-progress").waitFor();
    assert.match(await page.getByTestId("send-how-far").innerText(), /12 of 50 records/);
    await page.getByTestId("send-main").click();
    await page.getByTestId("send-progress").waitFor({ state: "detached" });
    assert.deepEqual(await page.evaluate(() => window.look.asks), ["exchange_now", "exchange_cancel"]);
  },

  "what waits opens as a record, and a setting is kept when it is turned": async (looked) => {
    const { page } = looked;
    await open(looked, "send");
    await page.getByTestId("send-metered").check();
    await page.waitForFunction(() => window.look.asks.includes("exchange_allow"));
    assert.ok(await page.getByTestId("send-metered").isChecked());
    await page.getByTestId("waiting-0").click();
    await page.getByTestId("record").waitFor();
  },

  "photos leave the phone only after a question, and what stays is said": async (looked) => {
    const { page } = looked;
    await open(looked, "send-photos");
    await page.getByTestId("space-free").click();
    await page.getByTestId("space-keep").click();
    await page.getByTestId("space-ask").waitFor({ state: "detached" });
    const asks = () => page.evaluate(() => window.look.asks);
    assert.deepEqual(await asks(), [], "nothing goes while it is only asked");
    await page.getByTestId("space-free").click();
    await page.getByTestId("space-yes").click();
    await page.getByTestId("space-freed").filter({ hasText: "2 photos" }).waitFor();
    await page.getByTestId("space-free").waitFor({ state: "detached" });
    assert.deepEqual(await asks(), ["photos_free"]);
    assert.match(await page.getByTestId("space-stays").innerText(), /^It stays until the hub says/);
  },

  "space that could not be freed is told, and can be tried again": async (looked) => {
    const { page } = looked;
    await open(looked, "send-photos");
    await setCore(page, { fail: true });
    await page.getByTestId("space-free").click();
    await page.getByTestId("space-yes").click();
    await page.getByTestId("trouble").first().waitFor();
    assert.equal(await page.getByTestId("space-freed").count(), 0);
    await page.getByTestId("space-free").waitFor();
  },

  "where nothing may go there is nothing to press": async (looked) => {
    const { page } = looked;
    await open(looked, "send");
    await page.getByTestId("space-takes").waitFor();
    assert.equal(await page.getByTestId("space-free").count(), 0);
  },

  "a hub's code leads to six digits, and giving up leads back": async (looked) => {
    const { page } = looked;
    await open(looked, "enrol");
    assert.ok(await page.getByTestId("enrol-use").isDisabled());
    await page.getByTestId("enrol-text").fill("headmark-enrol:1?hub=hub.marrowby.example");
    await page.getByTestId("enrol-use").click();
    const digits = page.getByTestId("enrol-digits");
    assert.match(await digits.getAttribute("data-digits"), /^[0-9]{6}$/);
    const { fontSize } = await digits.evaluate((part) => ({ fontSize: getComputedStyle(part).fontSize }));
    assert.ok(Number.parseFloat(fontSize) >= 56, `the digits are ${fontSize}`);
    await page.getByTestId("enrol-give-up").click();
    await page.getByTestId("enrol-text").waitFor();
  },

  "a photo goes to the visit in pieces and is counted": async (looked) => {
    const { page } = looked;
    await open(looked, "4-evidence");
    await page.getByTestId("photo-choose").setInputFiles({
      name: "plate.jpg",
      mimeType: "image/jpeg",
      buffer: Buffer.alloc(120_000, 7),
    });
    await page.waitForFunction(
      () => document.querySelector("[data-testid=photos-said]").innerText === "1 photo",
    );
    assert.equal(await page.evaluate(() => window.look.pieces), 3);
  },

  "of two labels of which one was not read, none is opened before the person says so": async (looked) => {
    const { page } = looked;
    await open(looked, "find");
    await setCore(page, { beside: true });
    await page.getByTestId("find-file").setInputFiles({
      name: "labels.jpg",
      mimeType: "image/jpeg",
      buffer: Buffer.alloc(60_000, 7),
    });
    await page.getByTestId("message-code.unread_beside").waitFor();
    assert.equal(await page.getByTestId("confirm").count(), 0);
    const { tag } = await given("confirm-unread");
    assert.match(await page.getByTestId("find-read").innerText(), new RegExp(tag));
    await page.getByTestId("find-read").click();
    await page.getByTestId("confirm").waitFor();
    assert.equal(await page.getByTestId("message-code.unread_beside").count(), 1);
  },

  "every screen says where all records are": async (looked) => {
    const { page } = looked;
    for (const [at, screen] of await oneOfEach(looked)) {
      await open(looked, screen);
      // Sending itself says it as its title.
      const line = page.locator(at === "send" ? "[data-testid=send-status]" : "[data-testid=status]");
      await line.waitFor({ timeout: 5_000 }).catch(() => assert.fail(`${screen} does not say it`));
      assert.equal(await line.count(), 1);
      assert.match(await line.innerText(), /\d+ records?: /, screen);
      if (at !== "send") assert.equal(await line.getAttribute("data-waits"), "true");
      assert.ok((await line.boundingBox()).y < 200, `${screen} says it out of sight`);
    }
  },
};

let failed = 0;
await withBrowser(async (looked) => {
  looked.page.setDefaultTimeout(30_000);
  for (const [promise, hold] of Object.entries(promises)) {
    try {
      await hold(looked);
      console.log(`kept    ${promise}`);
    } catch (error) {
      failed += 1;
      console.error(
        `BROKEN  ${promise}\n        ${error.message.split("\n").slice(0, 6).join("\n        ")}`,
      );
    }
  }
});
if (failed > 0) process.exitCode = 1;
