// Signing, with a PIN and without.
import assert from "node:assert/strict";
import { open } from "../browser.mjs";
import { answers, focused, paste, pins, press, setCore } from "./hands.mjs";

export const promises = {
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
};
