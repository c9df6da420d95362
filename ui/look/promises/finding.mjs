// Finding an instrument: by a photo of its label, and by its site.
import assert from "node:assert/strict";
import { open } from "../browser.mjs";
import { given, setCore } from "./hands.mjs";

async function photograph(page) {
  const buffer = Buffer.alloc(60_000, 7);
  await page.getByTestId("find-file").setInputFiles({ name: "label.jpg", mimeType: "image/jpeg", buffer });
}

/** Opens the find screen on a phone whose shakes are counted. */
async function openFind(looked) {
  await looked.page.addInitScript(() => {
    window.shakes = [];
    navigator.vibrate = (how) => window.shakes.push(how) > 0;
  });
  await open(looked, "find");
}

export const promises = {
  "a file travels in pieces": async (looked) => {
    const { page } = looked;
    await open(looked, "find");
    const buffer = Buffer.alloc(48 * 1024 * 2 + 5, 7);
    await page.getByTestId("find-photo").setInputFiles({ name: "label.jpg", mimeType: "image/jpeg", buffer });
    await page.getByTestId("message-code.not_read").waitFor();
    assert.equal(await page.evaluate(() => window.look.pieces), 3);
  },

  "of two labels of which one was not read, none is opened before the person says so": async (looked) => {
    const { page } = looked;
    await open(looked, "find");
    await setCore(page, { photo: "beside" });
    await photograph(page);
    await page.getByTestId("message-code.unread_beside").waitFor();
    assert.equal(await page.getByTestId("confirm").count(), 0);
    const { tag } = await given("confirm-unread");
    assert.match(await page.getByTestId("find-read").innerText(), new RegExp(tag));
    await page.getByTestId("find-read").click();
    await page.getByTestId("confirm").waitFor();
    assert.equal(await page.getByTestId("message-code.unread_beside").count(), 1);
  },

  "a label that leads to one instrument is felt, and what the screen has to say first is felt otherwise":
    async (looked) => {
      const { page } = looked;
      for (const [photo, shows, felt] of [
        ["found", "confirm", [80]],
        ["beside", "message-code.unread_beside", [40, 80, 40]],
        ["several", "message-code.several", [40, 80, 40]],
        ["not_read", "message-code.not_read", [40, 80, 40]],
      ]) {
        await openFind(looked);
        await setCore(page, { photo });
        await photograph(page);
        await page.getByTestId(shows).waitFor();
        assert.deepEqual(await page.evaluate(() => window.shakes), [felt], photo);
      }
    },

  "of instruments that claim one code, the one that is chosen is visited with that code": async (looked) => {
    const { page } = looked;
    await open(looked, "find");
    await setCore(page, { photo: "several" });
    await photograph(page);
    await page.getByTestId("message-code.several").waitFor();
    const code = await page.getByTestId("code").locator("strong").innerText();
    assert.match(code, /^MDW\/ASSET\/40117/);
    await page.getByTestId("hit-LT-3107").click();
    await page.getByTestId("link-elsewhere").waitFor();
    await page.getByTestId("visit-begin").click();
    await page.getByTestId("visit").waitFor();
    const [begun] = await page.evaluate(() => window.look.begun);
    assert.deepEqual([begun.foundBy, begun.code], ["by_code", code]);
  },

  "of many sites each stands in the list, and opens in its place": async (looked) => {
    const { page } = looked;
    await open(looked, "find");
    await setCore(page, { closed: true });
    await page.getByTestId("list-near").click();
    await page.getByTestId("near-site-0").waitFor();
    assert.match(await page.getByTestId("near-site-1").innerText(), /Sedge Hill\s+\d+ instruments/);
    const sites = await page.locator("[data-testid^=near-site-]").count();
    await page.getByTestId("near-site-1").click();
    await page.getByTestId("near-1").getByTestId("hit-LT-2041").waitFor();
    assert.match(await page.getByTestId("near-rest-1").innerText(), /^60 more/);
    assert.equal(await page.locator("[data-testid^=near-site-]").count(), sites - 1);
  },
};
