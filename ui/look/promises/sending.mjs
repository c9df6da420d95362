// Sending, the photos that may go, and the hub.
import assert from "node:assert/strict";
import { open } from "../browser.mjs";
import { setCore } from "./hands.mjs";

export const promises = {
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
};
