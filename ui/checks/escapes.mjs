// Finds the ways out of the type checker (`any`, `as`, `!`, ts-ignore) that strict mode still allows.
// A type asserted is a type nobody checked, and the pages' types come from the core.
import { readFile } from "node:fs/promises";
import { glob } from "./files.mjs";
import { parse } from "svelte/compiler";
import ts from "typescript";

const forbidden = new Map([
  [ts.SyntaxKind.AsExpression, "`as`"],
  [ts.SyntaxKind.TypeAssertionExpression, "a type assertion"],
  [ts.SyntaxKind.AnyKeyword, "`any`"],
  [ts.SyntaxKind.NonNullExpression, "`!`"],
]);
const forbiddenInPages = new Map([
  ["TSAsExpression", "`as`"],
  ["TSTypeAssertion", "a type assertion"],
  ["TSAnyKeyword", "`any`"],
  ["TSNonNullExpression", "`!`"],
]);

function inScript(file, text, say) {
  const source = ts.createSourceFile(file, text, ts.ScriptTarget.Latest, true);
  const visit = (node) => {
    const what = forbidden.get(node.kind);
    if (what) say(node.getStart(), what);
    ts.forEachChild(node, visit);
  };
  visit(source);
}

function inPage(text, say) {
  const seen = new Set();
  const visit = (node) => {
    if (typeof node !== "object" || node === null || seen.has(node)) return;
    seen.add(node);
    const what = forbiddenInPages.get(node.type);
    if (what) say(node.start, what);
    for (const child of Object.values(node)) visit(child);
  };
  visit(parse(text, { modern: true }));
}

let found = 0;
for (const file of await glob(["src", "look"], [".ts", ".svelte"])) {
  const text = await readFile(file, "utf8");
  const say = (at, what) => {
    found += 1;
    console.error(`${file}:${text.slice(0, at).split("\n").length}: ${what} escapes the type checker`);
  };
  for (const hit of text.matchAll(/@ts-(ignore|nocheck|expect-error)/g)) say(hit.index, hit[0]);
  if (file.endsWith(".ts")) inScript(file, text, say);
  else inPage(text, say);
}
process.exitCode = found === 0 ? 0 : 1;
