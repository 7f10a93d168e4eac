// Answers questions in SMT-LIB 2.6 (smt-lib.org) with z3, for z3_test.go: reads
// scripts from standard input, one to a line, and writes what z3 says to each,
// one line to a script. All share one context, so each puts back what it puts
// in: making a context anew takes z3 longer than any question here.
const { init } = require('z3-solver');

async function main() {
  let input = '';
  for await (const chunk of process.stdin) input += chunk;
  const { em, Z3 } = await init();
  const context = Z3.mk_context(Z3.mk_config());
  // Called directly: the library's own promise frees the text before its thread has read it.
  const say = (script) => em.ccall('Z3_eval_smtlib2_string', 'string', ['number', 'string'], [context, script]);
  say('(set-logic QF_IDL)'); // differences of whole numbers
  const answers = input.split('\n').filter(Boolean).map((script) => say(script).trim().replace(/\s+/g, ' '));
  process.stdout.write(answers.join('\n'), () => process.exit(0));
}

main().catch((error) => {
  console.error(error);
  process.exit(1);
});
