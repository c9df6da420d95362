// Holds the find screen to its promises about the camera, in a browser whose camera plays a made video.
import assert from "node:assert/strict";
import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import path from "node:path";
import { open, withBrowser } from "./browser.mjs";

const WIDTH = 640;
const HEIGHT = 480;

/** A video of one still picture as YUV4MPEG2, which Chromium plays as a camera: brightness, and colour left out. */
function video(brightness) {
  const frame = Buffer.alloc(WIDTH * HEIGHT * 1.5, 128);
  for (let y = 0; y < HEIGHT; y += 1) {
    for (let x = 0; x < WIDTH; x += 1) frame[y * WIDTH + x] = brightness(x, y);
  }
  const header = Buffer.from(`YUV4MPEG2 W${WIDTH} H${HEIGHT} F20:1 Ip A1:1 C420jpeg\n`);
  const frames = Array.from({ length: 10 }, () => [Buffer.from("FRAME\n"), frame]).flat();
  return Buffer.concat([header, ...frames]);
}

/** A white plate with black squares in the middle of a gray wall. */
function label(x, y) {
  const isPlate = Math.abs(x - WIDTH / 2) < 100 && Math.abs(y - HEIGHT / 2) < 100;
  if (!isPlate) return 120;
  return ((x >> 4) + (y >> 4)) % 2 === 0 ? 16 : 235;
}

/** A plate that lies outside the guide, at the picture's left edge. */
const aside = (x, y) => (x < 60 ? (((x >> 4) + (y >> 4)) % 2 === 0 ? 16 : 235) : 120);

const blank = () => 120;

const state = (page, wanted) => page.locator(`[data-testid=camera][data-state=${wanted}]`).waitFor();
const framesSent = (page) => page.evaluate(() => window.look.frames.length);

/** Counts cameras given back and shakes, notes when a camera is asked for, and changes what else is asked. */
async function counted(page, change = () => undefined) {
  await page.addInitScript(`(${change})()`);
  await page.addInitScript(() => {
    window.stopped = 0;
    window.shakes = [];
    const stop = MediaStreamTrack.prototype.stop;
    MediaStreamTrack.prototype.stop = function () {
      window.stopped += 1;
      stop.call(this);
    };
    navigator.vibrate = (how) => window.shakes.push(how) > 0;
    const ask = navigator.mediaDevices.getUserMedia;
    navigator.mediaDevices.getUserMedia = function (...how) {
      window.asked = performance.now();
      return ask.apply(this, how);
    };
  });
}

async function withCamera(folder, name, picture, look) {
  const file = path.join(folder, `${name}.y4m`);
  await writeFile(file, video(picture));
  await withBrowser(look, [
    "--use-fake-ui-for-media-stream",
    "--use-fake-device-for-media-stream",
    `--use-file-for-fake-video-capture=${file}`,
  ]);
}

const promises = {
  "a label inside the frame is read, and the camera is given back": (folder) =>
    withCamera(folder, "label", label, async (looked) => {
      const { page } = looked;
      await counted(page);
      await open(looked, "find-live");
      await page.getByTestId("confirm").waitFor();
      assert.equal(await page.getByTestId("confirm-tag").textContent(), "LT-2041");
      assert.ok((await page.evaluate(() => window.look.frames.at(-1))) > 180, "the picture came dull");
      assert.equal(await page.evaluate(() => window.stopped), 1);
      assert.deepEqual(await page.evaluate(() => window.shakes), [[80]]);
    }),

  "what lies outside the frame is not sent": (folder) =>
    withCamera(folder, "aside", aside, async (looked) => {
      await open(looked, "find-live");
      await state(looked.page, "looking");
      await looked.page.waitForTimeout(800);
      const ranges = await looked.page.evaluate(() => window.look.frames);
      assert.ok(ranges.length > 2 && ranges.every((range) => range < 40), `${ranges}`);
    }),

  "after four seconds without a code the other ways are offered, and not before": (folder) =>
    withCamera(folder, "blank", blank, async (looked) => {
      const { page } = looked;
      await counted(page);
      await open(looked, "find-live");
      await state(page, "looking");
      await page.getByTestId("offers").waitFor();
      const waited = await page.evaluate(() => performance.now() - window.asked);
      assert.ok(waited > 3900 && waited < 6000, `they came after ${waited} ms`);
      for (const offer of ["find-photo", "offer-type", "offer-near"]) {
        const box = await page
          .getByTestId(offer)
          .locator("xpath=ancestor-or-self::*[self::label or self::button]")
          .boundingBox();
        assert.ok(box.height >= 56, `${offer} is ${box.height} px high`);
      }
      await page.getByTestId("offer-type").click();
      assert.equal(await page.evaluate(() => document.activeElement.dataset.testid), "find-text");
      assert.ok((await framesSent(page)) > 10, "few frames were looked at");
      assert.equal(await page.getByTestId("torch").count(), 0, "a lamp is offered that is not there");
    }),

  "a hidden or left screen looks at nothing": (folder) =>
    withCamera(folder, "blank", blank, async (looked) => {
      const { page } = looked;
      await open(looked, "find-live");
      await state(page, "looking");
      const turn = (how) =>
        page.evaluate((value) => {
          Object.defineProperty(document, "visibilityState", { configurable: true, get: () => value });
          document.dispatchEvent(new Event("visibilitychange"));
        }, how);
      await turn("hidden");
      await state(page, "resting");
      await page.waitForTimeout(300);
      const before = await framesSent(page);
      await page.waitForTimeout(500);
      assert.equal(await framesSent(page), before);
      await turn("visible");
      await state(page, "looking");
      await page.getByTestId("home").click();
      await page.getByTestId("home-screen").waitFor();
      await page.waitForTimeout(300);
      const left = await framesSent(page);
      await page.waitForTimeout(500);
      assert.equal(await framesSent(page), left);
    }),

  "a lamp that is there can be turned on and off": (folder) =>
    withCamera(folder, "blank", blank, async (looked) => {
      const { page } = looked;
      await page.addInitScript(() => {
        window.lamp = [];
        const told = MediaStreamTrack.prototype.getCapabilities;
        MediaStreamTrack.prototype.getCapabilities = function () {
          return { ...told.call(this), torch: true };
        };
        MediaStreamTrack.prototype.applyConstraints = (wanted) => {
          window.lamp.push(wanted.advanced[0].torch);
          return Promise.resolve();
        };
      });
      await open(looked, "find-live");
      await page.getByTestId("torch").click();
      await page.getByTestId("torch").click();
      await page.waitForTimeout(100);
      assert.deepEqual(await page.evaluate(() => window.lamp), [true, false]);
    }),

  "a camera that may not be used is told, and the other ways are there at once": () =>
    withBrowser(
      async (looked) => {
        const { page } = looked;
        await open(looked, "find-live");
        await page.getByTestId("message-camera.refused").waitFor();
        await page.getByTestId("find-text").fill("101");
        await page.getByTestId("hit-LT-2041").waitFor();
        assert.equal(await page.getByTestId("find-photo").isEnabled(), true);
      },
      ["--use-fake-device-for-media-stream"],
    ),

  "the position is asked for at the tap, and told or not": () =>
    withBrowser(async (looked) => {
      const { page } = looked;
      await page.addInitScript(() => {
        window.places = 0;
        const ask = Geolocation.prototype.getCurrentPosition;
        Geolocation.prototype.getCurrentPosition = function (...how) {
          window.places += 1;
          ask.apply(this, how);
        };
      });
      await open(looked, "find");
      await page.waitForTimeout(200);
      assert.equal(await page.evaluate(() => window.places), 0);
      await page.getByTestId("list-near").click();
      await page.getByTestId("message-near.no_position").waitFor();
      await page.context().grantPermissions(["geolocation"]);
      await page.context().setGeolocation({ latitude: 54.3, longitude: -104.9 });
      await page.getByTestId("list-near").click();
      await page.getByTestId("message-near.position").waitFor();
      assert.equal(await page.evaluate(() => window.places), 2);
      await page.getByTestId("near-0").getByTestId("hit-LT-4012").click();
      await page.getByTestId("confirm").waitFor();
    }),

  "a camera that is asked for and does not come keeps nobody from the other ways": () =>
    withBrowser(async (looked) => {
      const { page } = looked;
      await counted(page, () => (navigator.mediaDevices.getUserMedia = () => new Promise(() => undefined)));
      await open(looked, "find-live");
      await state(page, "opening");
      await page.getByTestId("offers").waitFor();
      await page.getByTestId("offer-type").click();
      assert.equal(await page.evaluate(() => document.activeElement.dataset.testid), "find-text");
    }),

  "a picture that does not begin keeps nobody either, and the camera is given back": (folder) =>
    withCamera(folder, "blank", blank, async (looked) => {
      const { page } = looked;
      await counted(page, () => (HTMLMediaElement.prototype.play = () => new Promise(() => undefined)));
      await open(looked, "find-live");
      await state(page, "opening");
      await page.getByTestId("offers").waitFor();
      assert.equal(await page.evaluate(() => window.stopped), 0);
      await page.getByTestId("home").click();
      await page.waitForFunction(() => window.stopped === 1);
    }),

  "a webview whose camera tells nothing of itself is looked through without a lamp": (folder) =>
    withCamera(folder, "blank", blank, async (looked) => {
      const { page } = looked;
      await counted(page, () => delete MediaStreamTrack.prototype.getCapabilities);
      await open(looked, "find-live");
      await state(page, "looking");
      assert.equal(await page.getByTestId("torch").count(), 0);
    }),

  "a camera that fails after it was opened is given back": (folder) =>
    withCamera(folder, "blank", blank, async (looked) => {
      const { page } = looked;
      await counted(page, () => {
        MediaStreamTrack.prototype.getCapabilities = () => {
          throw new Error("not now");
        };
      });
      await open(looked, "find-live");
      await state(page, "absent");
      assert.equal(await page.evaluate(() => window.stopped), 1);
    }),

  "a device without a camera says so": () =>
    withBrowser(async (looked) => {
      await looked.page.addInitScript(() => {
        navigator.mediaDevices.getUserMedia = () => Promise.reject(new DOMException("none", "NotFoundError"));
      });
      await open(looked, "find-live");
      await looked.page.getByTestId("message-camera.absent").waitFor();
    }),
};

const asked = process.argv[2] ?? "";
const folder = await mkdtemp(path.join(tmpdir(), "headmark-camera-"));
let kept = 0;
let broken = 0;
try {
  for (const [promise, check] of Object.entries(promises).filter(([name]) => name.includes(asked))) {
    try {
      await check(folder);
      kept += 1;
    } catch (error) {
      broken += 1;
      console.error(`${promise}:\n  ${error.message}`);
    }
  }
} finally {
  await rm(folder, { recursive: true });
}
console.log(`${kept} promises about the camera kept, ${broken} broken`);
if (broken > 0 || kept === 0) process.exitCode = 1;
