// From screen to screen, and what every screen says.
import assert from "node:assert/strict";
import { open } from "../browser.mjs";
import { oneOfEach } from "./hands.mjs";

export const promises = {
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

  "the phone's own back button leads home": async (looked) => {
    const { page } = looked;
    await open(looked, "home");
    await page.getByTestId("continue").click();
    await page.getByTestId("visit").waitFor();
    await page.goBack();
    await page.getByTestId("home-screen").waitFor();
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
