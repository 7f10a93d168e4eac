// Answers questions with the page's engine, for the tests in Go: reads
// {engine, folder, root, questions: [{find} | {suggest, limit} | {facets, names}]} and
// writes the answers, each with how long it took and what it loaded.

import { readFileSync } from "node:fs";
import { pathToFileURL } from "node:url";

const task = JSON.parse(readFileSync(0, "utf8"));
const { open } = await import(pathToFileURL(task.engine));
const load = async (name) => readFileSync(`${task.folder}/${name}`);

const answer = (engine, q) =>
  q.suggest !== undefined ? engine.suggest(q.suggest, q.limit) : q.facets ? engine.facets(q.facets, q.names) : engine.find(q.find);

let shared = await open(task.root, load);
const answers = [];
for (const q of task.questions) {
  // A visitor comes with nothing loaded but what every question needs.
  const engine = task.cold ? await open(task.root, load) : shared;
  const start = performance.now();
  const a = await answer(engine, q);
  answers.push({ ms: performance.now() - start, answer: a });
}
process.stdout.write(JSON.stringify(answers));
