// Splits texts with the page's module, for the tests in Go: reads {module, texts}, or {module,
// stem: [words]}, or {module, fold: true} for every character that there is.

import { readFileSync } from "node:fs";
import { pathToFileURL } from "node:url";

const task = JSON.parse(readFileSync(0, "utf8"));
const from = (name) => import(pathToFileURL(`${task.module}/${name}.js`));
const out = [];
if (task.texts) {
  const { split } = await from("words");
  for (const text of task.texts) out.push(split(text).map((t) => ({ ...t, said: text.slice(t.start, t.end) })));
} else if (task.stem) {
  const { stem } = await from("stem");
  for (const word of task.stem) out.push(stem(word));
} else if (task.stops) {
  const { stops } = await from("stop");
  out.push(...stops);
} else if (task.distances) {
  const { distance, letters } = await from("distance");
  for (const [a, b, limit] of task.distances) out.push(distance(letters(a), letters(b), limit));
} else if (task.packed) {
  const { unpack } = await from("bits");
  for (const file of task.packed) out.push(Buffer.from(await unpack(new Uint8Array(Buffer.from(file, "base64")))).toString("base64"));
} else {
  const { fold, isLetter } = await from("fold");
  for (let c = 0x80; c <= 0x1ffff; c++) {
    if (c >= 0xd800 && c <= 0xdfff) continue;
    const { chars } = fold(String.fromCodePoint(c));
    out.push(chars.join("") + chars.map((f) => (isLetter(f) ? "L" : ".")).join(""));
  }
}
process.stdout.write(JSON.stringify(out));
