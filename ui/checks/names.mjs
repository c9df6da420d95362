// Holds the table of names in the README to the pages: a name for tests that is written out in a page stands in it.
import { readFile } from "node:fs/promises";
import { glob } from "./files.mjs";

const readme = await readFile("README.md", "utf8");
const missing = new Set();
let count = 0;
for (const file of await glob(["src"], [".svelte"])) {
  for (const [, name] of (await readFile(file, "utf8")).matchAll(/testid="([a-z0-9-]+)"/g)) {
    count += 1;
    if (!readme.includes(`\`${name}\``)) missing.add(`${name} (${file})`);
  }
}
for (const name of missing) console.error(`README.md does not name ${name}`);
if (missing.size > 0 || count === 0) process.exitCode = 1;
