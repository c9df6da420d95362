// Evidence and the shift: proposals, ways out, a target that moves.
import assert from "node:assert/strict";
import { open } from "../browser.mjs";
import { sent, setCore } from "./hands.mjs";

export const promises = {
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
    const sizes = await page.evaluate(() =>
      ["target-to", "shift-to"].map((name) =>
        parseFloat(getComputedStyle(document.querySelector(`[data-testid=${name}]`)).fontSize),
      ),
    );
    assert.ok(sizes[0] > sizes[1], "what to trim to now is larger than what it should have shown");
    const [now, then] = await Promise.all(
      ["target-to", "shift-to"].map((name) => page.getByTestId(name).boundingBox()),
    );
    assert.ok(now.y < then.y, "and stands above it");
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
};
