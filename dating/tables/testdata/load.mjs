// node load.mjs ENGINE: what the loader does when the network misbehaves, and
// what the engine refuses. Fails with a message where it does otherwise.
import assert from "node:assert/strict";
import { pathToFileURL } from "node:url";

const { open, Refusal } = await import(pathToFileURL(process.argv[2]));

const header = {
  version: 1, temper: 1, sure: { sure: 0.98, fairly: 0.85, unsure: 0.6 }, makers: [{ id: "works", name: "The Works" }],
  models: [{ id: "m", name: "M", maker: 0, address: "models/m.html", years: [1951, 2], prior: [0.5, 2] }],
  features: [
    { id: "wood", name: "Wood", kind: "choice", effort: "glance", values: [{ id: "x", name: "X" }, { id: "y", name: "Y" }], bits: 1, shard: "wood-1.json" },
    { id: "brace", name: "Brace", kind: "number", effort: "measure", values: [], unit: "in", low: 6, high: 9, step: 0.125, bits: 0, shard: "brace-1.json" },
  ],
  claims: [{ file: "claims-1.json", models: 1 }],
};
const files = {
  "manifest.json": { version: 1, header: "header-1.json" },
  "header-1.json": header,
  "wood-1.json": [{ feature: "wood", outcomes: 2, rows: [[0, 0, 0, 0, 1, 1], [0, 0, 1, 1, 1, 1]], runs: [0, 1, 1, 1] }],
  "brace-1.json": [{ feature: "brace", outcomes: 25, rows: [[0.04, 1]], runs: [0, 2] }],
  "claims-1.json": { cites: [{ words: "List, p. 1", address: "sources/list.html#at-p-1" }], models: [{ wood: [{ anchor: "wood-x", value: "x", label: "X", span: "1951", cites: [0], from: 0, to: 0, years: [1951, 1] }] }] },
};
let down = new Set();
const asked = [];
const load = async (address) => {
  const name = address.replace("d/", "");
  asked.push(name);
  if (down.has(name)) throw new Error(`${name} is down`);
  return structuredClone(files[name]);
};

down = new Set(["header-1.json"]);
await assert.rejects(open("d/", load), /header-1.json is down/);
down = new Set(["wood-1.json"]);
const dating = await open("d/", load);
await assert.rejects(dating.need(["wood"]), /wood-1.json is down/);
assert.throws(() => dating.answer({ models: [], observed: [{ feature: "wood", values: ["x"] }] }), Refusal);
down = new Set();
await dating.need(["wood"]);
await dating.need(["wood"]);
assert.equal(asked.filter((name) => name === "wood-1.json").length, 2, "a failure is tried again, a success is not");
assert.ok(dating.features[0].loaded && !dating.features[1].loaded);

const answer = dating.answer({ models: ["m"], observed: [{ feature: "wood", values: ["x"] }] });
assert.deepEqual(answer.best, { model: "m", maker: "", year: 1951, chance: answer.best.chance });
assert.deepEqual(answer.strict.years, [{ model: "m", maker: "", years: [1951] }]);
assert.deepEqual(answer.look, [], "a feature whose table is not here is not proposed");
const [reason] = dating.reasons(answer, await dating.claims({ model: "m" }));
assert.deepEqual(reason.claims[0].cites, [{ words: "List, p. 1", address: "sources/list.html#at-p-1" }]);
assert.equal(reason.claims[0].address, "models/m.html#wood-x");
assert.equal(reason.claims[0].key, "m/wood-x");

await dating.need(["brace"]);
for (const [question, message] of [
  [{ observed: [{ feature: "wod", values: ["x"] }] }, /"wod" is not in the reference/],
  [{ models: ["n"] }, /model "n"/],
  [{ observed: [{ feature: "wood", values: ["z"] }] }, /"z" is not one of wood/],
  [{ observed: [{ feature: "wood", values: [] }] }, /without a value/],
  [{ observed: [{ feature: "wood", values: ["x"], sure: "quite" }] }, /how sure/],
  [{ observed: [{ feature: "wood", values: ["x"] }, { feature: "wood", values: ["y"] }] }, /observed twice/],
  [{ observed: [{ feature: "brace", values: ["12"] }] }, /"12" is not a figure from 6 to 9 in/],
  [{ observed: [{ feature: "brace", values: ["7,5"] }] }, /"7,5" is not a figure/],
]) {
  assert.throws(() => dating.answer(question), (e) => e instanceof Refusal && message.test(e.message), JSON.stringify(question));
}

files["manifest.json"] = { version: 2, header: "header-1.json" };
await assert.rejects(open("d/", load), /version 2, which this page does not know/);
