// node sentences.mjs ENGINE CASES: the answers in words as the browser says them.
import { readFileSync } from "node:fs";
import { pathToFileURL } from "node:url";
import { dirname, join } from "node:path";

const [, , path, file] = process.argv;
const { open } = await import(pathToFileURL(path));
const { Sentences, groundText } = await import(pathToFileURL(join(dirname(path), "sentences.js")));
const { files, questions } = JSON.parse(readFileSync(file, "utf8"));
const dating = await open("", async (name) => JSON.parse(files[name]));
await dating.need(dating.features.map((f) => f.id));

async function words(question) {
  const answer = dating.answer(question);
  const s = new Sentences(dating.reference, question, answer);
  const claims = answer.best ? await dating.claims(answer.best) : {};
  const reasons = answer.best ? s.reasons(dating.reasons(answer, claims), claims) : [];
  return {
    headline: s.headline(), advice: s.advice(), conflicts: s.conflicts(), balance: s.balance(),
    reasons: reasons.map(({ feature, seen, weight, notes, grounds }) => ({ feature, seen, weight, grounds: [...notes, ...grounds.map(groundText)] })),
    alike: s.alike(),
    second: answer.best && !s.asks() ? s.secondLook(s.likeliest() ? await dating.claims(s.likeliest()) : {}).map(({ feature, label }) => ({ feature, label })) : [],
  };
}

const list = [];
for (const question of questions) list.push(await words(question));
process.stdout.write(JSON.stringify(list));
