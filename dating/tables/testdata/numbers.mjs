// node numbers.mjs LOOKUP CASES: what the browser says of numbers.
import { readFileSync } from "node:fs";
import { pathToFileURL } from "node:url";

const [, , path, file] = process.argv;
const { Numbers } = await import(pathToFileURL(path));
const { numbers, texts } = JSON.parse(readFileSync(file, "utf8"));
const known = new Numbers(numbers);
process.stdout.write(JSON.stringify(texts.map((text) => ({ lines: known.answer(text).map((l) => l.text), looks: known.looksLike(text) }))));
