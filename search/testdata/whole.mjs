// Weighs what a visitor would have to download before the first answer from
// libraries that load a whole index: reads {npm, docs: [{id, title, text}]} and writes
// the size of each index in bytes after gzip -9.

import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { gzipSync } from "node:zlib";

const task = JSON.parse(readFileSync(0, "utf8"));
const require = createRequire(task.npm + "/package.json");
const weigh = (text) => gzipSync(text, { level: 9 }).length;
const tokens = (text) => text.toLowerCase().match(/[\p{L}\p{N}]+/gu) ?? [];

function minisearch() {
  const { default: MiniSearch } = require("minisearch");
  const index = new (MiniSearch ?? require("minisearch"))({ fields: ["title", "text"], tokenize: tokens });
  index.addAll(task.docs);
  return weigh(JSON.stringify(index));
}

function lunr() {
  const lunr = require("lunr");
  const index = lunr(function () {
    this.ref("id");
    this.field("title");
    this.field("text");
    for (const d of task.docs) this.add(d);
  });
  return weigh(JSON.stringify(index));
}

async function flexsearch() {
  const { Document } = require("flexsearch");
  const index = new Document({ document: { id: "id", index: ["title", "text"] }, tokenize: "strict", encode: tokens });
  for (const d of task.docs) index.add(d);
  let all = "";
  await index.export((key, data) => {
    all += key + (data ?? "");
  });
  return weigh(all);
}

process.stdout.write(JSON.stringify({ minisearch: minisearch(), lunr: lunr(), flexsearch: await flexsearch() }));
