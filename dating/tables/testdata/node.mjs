// node node.mjs ENGINE CASES: writes the answers as JSON to standard output.
import { readFileSync, writeSync } from "node:fs";
import { pathToFileURL } from "node:url";
import { answers } from "./cases.mjs";

const [, , engine, cases] = process.argv;
const text = JSON.stringify(await answers(await import(pathToFileURL(engine)), JSON.parse(readFileSync(cases, "utf8"))));
const bytes = Buffer.from(text);
for (let at = 0; at < bytes.length; ) at += writeSync(1, bytes, at);
