// Holds the pages to their promises about typing, saving and sending, against a slow or failing stand-in.
import { withBrowser } from "./browser.mjs";
import { promises as evidence } from "./promises/evidence.mjs";
import { promises as fields } from "./promises/fields.mjs";
import { promises as finding } from "./promises/finding.mjs";
import { promises as screens } from "./promises/screens.mjs";
import { promises as sending } from "./promises/sending.mjs";
import { promises as signing } from "./promises/signing.mjs";
import { promises as typing } from "./promises/typing.mjs";

const promises = { ...typing, ...fields, ...evidence, ...finding, ...screens, ...signing, ...sending };
// Promises whose words are named behind the command are held alone: `npm run behaviour -- "two labels"`.
const only = process.argv[2] ?? "";

let failed = 0;
await withBrowser(async (looked) => {
  looked.page.setDefaultTimeout(30_000);
  for (const [promise, hold] of Object.entries(promises).filter(([name]) => name.includes(only))) {
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
