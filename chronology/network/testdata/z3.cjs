// Solves networks of difference constraints with z3, for z3_test.go. Reads an
// array of questions as JSON from standard input, each
//
//   {"points": 5, "edges": [[from, to, max], ...], "tight": true}
//
// where point 0 is year zero, and writes an array of answers, each
//
//   {"sat": true, "years": [[earliest, latest], ...]}
//
// years for the points from 1 on where tight was asked: each is proved by two
// checks, the year itself can be and the year beyond it cannot. Null stands
// for a side that no year bounds. The question's own guesses, "years", are
// what is put to the proof; a guess that fails is answered with "wrong".
const { init } = require('z3-solver');

async function main() {
  let input = '';
  for await (const chunk of process.stdin) input += chunk;
  const { Context } = await init();
  const { Solver, Int } = Context('main');
  const x = [...Array(64).keys()].map((i) => Int.const('x' + i));
  // Years far beyond any stated one: a side that can pass it is not bounded.
  const beyond = 1 << 20;

  const answers = [];
  for (const q of JSON.parse(input)) {
    const solver = new Solver();
    solver.set('arith.solver', 1); // Bellman and Ford's method on differences of integers
    solver.add(x[0].eq(0));
    for (const [from, to, max] of q.edges) solver.add(x[to].sub(x[from]).le(max));
    const holds = async (...extra) => (await solver.check(...extra)) === 'sat';
    const answer = { sat: await holds() };
    if (q.tight && answer.sat) {
      answer.wrong = [];
      for (const [i, [earliest, latest]] of q.years.entries()) {
        const p = x[i + 1];
        const right = earliest === null
          ? await holds(p.le(-beyond))
          : (await holds(p.eq(earliest))) && !(await holds(p.lt(earliest)));
        const rightToo = latest === null
          ? await holds(p.ge(beyond))
          : (await holds(p.eq(latest))) && !(await holds(p.gt(latest)));
        if (!right || !rightToo) answer.wrong.push(i + 1);
      }
    }
    answers.push(answer);
  }
  process.stdout.write(JSON.stringify(answers), () => process.exit(0));
}

main().catch((error) => {
  console.error(error);
  process.exit(1);
});
