// node exchanged.mjs MODULES CASES: exchanges every visible part of every bow in
// turn, answers the form as its owner would, and says where each is found.
import { readFileSync } from "node:fs";
import { pathToFileURL } from "node:url";
import { join } from "node:path";

const [, , modules, file] = process.argv;
const module = (name) => import(pathToFileURL(join(modules, name)));
const { open } = await module("dating/engine.js");
const { Sentences } = await module("dating/sentences.js");
const { nextStep, agreeing, differing } = await module("form/course.js");
const { State } = await module("form/state.js");
const { files, bows, chosen } = JSON.parse(readFileSync(file, "utf8"));
const data = (name) => files[name.replace(/\.json.*/, ".js")];
const dating = await open("", async (name) => JSON.parse(data(name).slice(data(name).indexOf("(") + 1, data(name).lastIndexOf(")"))));
await dating.need(dating.features.map((f) => f.id));
const { reference } = dating;

/** A random number below n; the same on every run. */
let seed = 20261201;
function random(n) {
  seed = (Math.imul(seed, 1664525) + 1013904223) >>> 0; // Numerical Recipes' linear congruential generator
  return Math.floor((seed / 2 ** 32) * n);
}

/**
 * Answers a bow's questions, then goes down the second look, each row a tap but
 * those of which nothing is recorded, which a visitor leaves alone. since is how
 * many taps had been made when the page first, and from then on to its end,
 * named the part before all others; null if it never did.
 */
async function examine(model, bow, part) {
  const state = new State();
  let taps = 0, since = null, asked = 0;
  if (chosen) state.model = model;
  for (let n = 0; n < 100; n++) {
    const question = state.question(), answer = dating.answer(question);
    const sentences = new Sentences(reference, question, answer);
    const claims = answer.best && sentences.likeliest() ? await dating.claims(sentences.likeliest()) : {};
    const step = nextStep(sentences, state, claims);
    if ((step.parts?.[0] ?? sentences.oddOnes()[0]?.feature) !== part) since = null;
    else since ??= taps;
    if (step.end) return { end: step.end, asked, taps, since };
    if (step.ask) {
      asked++;
      if (bow.has(step.ask)) state.say(step.ask, bow.get(step.ask), "sure");
      else state.skip(step.ask);
      continue;
    }
    const row = step.look[0];
    if (!bow.has(row.feature)) {
      state.skip(row.feature);
      continue;
    }
    taps++;
    const place = reference.featurePlace(row.feature);
    const is = bow.get(row.feature).flatMap((v) => reference.resolveValue(place, v));
    if (is.some((o) => row.outcomes.includes(o))) state.say(row.feature, agreeing(reference, row), "sure");
    else if (row.feature === part) return { end: "differs", asked, taps, since: taps };
    else state.say(row.feature, differing(reference, row), "sure");
  }
  throw new Error(`the form does not end for a ${model}`);
}

const results = [];
for (const { id, model, observed } of bows) {
  const whole = new Map(observed.map((o) => [o.feature, o.values]));
  for (const [part, values] of whole) {
    const feature = dating.features.find((f) => f.id === part);
    if (feature.effort !== "glance" || feature.kind === "number" || values.length > 1) continue;
    const others = feature.kind === "text" ? bows.flatMap((b) => b.observed.filter((o) => o.feature === part).flatMap((o) => o.values)) : feature.values.map((v) => v.id);
    const left = [...new Set(others)].filter((v) => !values.includes(v) && v !== "something-else");
    if (left.length === 0) continue;
    const bow = new Map(whole).set(part, [left[random(left.length)]]);
    results.push({ id, part, now: bow.get(part)[0], ...(await examine(model, bow, part)) });
  }
}
process.stdout.write(JSON.stringify(results));
