// node words.mjs ENGINE CASES: how the browser reads figures and words.
import { readFileSync } from "node:fs";
import { pathToFileURL } from "node:url";

const [, , path, file] = process.argv;
const engine = await import(pathToFileURL(path));
const cases = JSON.parse(readFileSync(file, "utf8"));
const folded = [];
for (const [from, to] of cases.folds) if (engine.fold(String.fromCodePoint(from)) !== to) folded.push(from);
process.stdout.write(JSON.stringify({
  ranges: cases.ranges.map((text) => engine.parseRange(text)),
  matches: cases.patterns.map((pattern) => cases.texts.map((text) => engine.matches([pattern], text)[0] === 0)),
  folded,
}));
