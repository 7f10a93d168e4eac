// Answers every case of a file with the browser's half of the engine. Given
// the tables before they are published, from memory.

/**
 * @param {object} engine  the module engine.js
 * @param {{tables: {files: {[name: string]: string}, questions: object[]}[]}} cases
 */
export async function answers(engine, cases) {
  const list = [];
  for (const { files, questions } of cases.tables) {
    const fetched = [];
    const dating = await engine.open("data/", async (address) => {
      const name = address.slice("data/".length);
      fetched.push(name);
      return JSON.parse(files[name]);
    });
    for (const question of questions) list.push(await answer(dating, question));
    const twice = fetched.filter((name, i) => fetched.indexOf(name) !== i);
    if (twice.length > 0) throw new Error(`fetched twice: ${twice}`);
  }
  return list;
}

async function answer(dating, question) {
  try {
    await dating.need(dating.features.map((f) => f.id));
    const answer = dating.answer(question, { odds: 1e6 });
    const [look] = answer.look;
    if (look && look.bits > 0) look.outcomes = dating.outcomes(question, look.feature);
    if (answer.best) answer.evidence = dating.reasons(answer, await dating.claims(answer.best));
    return answer;
  } catch (error) {
    if (error.name !== "Refusal") throw error;
    return { refused: error.message };
  }
}
