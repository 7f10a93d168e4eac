/**
 * Tables as the engine works on them: typed arrays, decoded once from the
 * run-length coded files that dating/tables writes.
 */

/**
 * @typedef {object} Table  the pairs of model and year that a bow can be
 * @property {number} pairs
 * @property {number} recorded     how many of them are of models on record, which come first
 * @property {Int32Array} starts   where each model's pairs begin; one more entry than models
 * @property {Int32Array} years    the year of each pair
 * @property {Float64Array} prior  the chance of each pair before anything is seen
 * @property {Float64Array} logPrior  its logarithm
 * @property {number} temper       power on the joint likelihood
 *
 * @typedef {object} Chances  one feature's chances: many pairs share a row
 * @property {string} id
 * @property {number} outcomes       how many values there are
 * @property {Uint32Array} runRow    the pairs in runs of one row: its row,
 * @property {Uint32Array} runEnd    and the pair after its last
 * @property {Uint16Array|Uint32Array} rowOf  by pair: its row
 * @property {{row: Uint32Array, from: Uint32Array, to: Uint32Array}} pieces  the runs cut where a model
 *   ends: their rows, and where they begin and end in sums that run model by model (see runningSums)
 * @property {Float64Array} rest     by row: the chance of every outcome that no cell holds,
 * @property {Float64Array} restLog  temper times its logarithm,
 * @property {Float64Array} restW    and the chance to the power of the temper
 * @property {Uint8Array} silent     by row: 1 if nobody speaks, so that all is possible
 * @property {Uint32Array} cells     by row: where its cells begin; one more entry than rows
 * @property {Int32Array} from       by cell: the first outcome
 * @property {Int32Array} to         by cell: the last outcome
 * @property {Float64Array} chance   by cell: the chance of each of its outcomes, and as for rest
 * @property {Float64Array} chanceLog
 * @property {Float64Array} chanceW
 * @property {Uint8Array} possible   by cell: 1 if some statement holds them possible
 * @property {Float64Array|null} priorMass  what the prior of all pairs holds on each row, once asked for
 */

/**
 * Decodes the pairs of the models file.
 * @param {{temper: number, models: {years: number[], prior: number[]}[]}} header
 * @returns {Table}
 */
export function decodePairs(header) {
  const starts = new Int32Array(header.models.length + 1);
  header.models.forEach((model, i) => {
    starts[i + 1] = starts[i] + countRuns(model.years);
  });
  const pairs = starts[header.models.length];
  const years = new Int32Array(pairs);
  const prior = new Float64Array(pairs);
  header.models.forEach((model, i) => {
    let at = starts[i];
    for (let k = 0; k < model.years.length; k += 2) {
      for (let n = 0; n < model.years[k + 1]; n++) years[at++] = model.years[k] + n;
    }
    unroll(model.prior, prior, starts[i]);
  });
  const unrecorded = header.models.findIndex((model) => model.id === "");
  return { pairs, recorded: unrecorded < 0 ? pairs : starts[unrecorded], starts, years, prior, logPrior: prior.map(Math.log), temper: header.temper };
}

/**
 * Decodes one feature's file.
 * @param {{feature: string, outcomes: number, rows: number[][], runs: number[]}} shard
 * @param {Table} table
 * @returns {Chances}
 */
export function decodeChances(shard, table) {
  const rows = shard.rows.length;
  const cells = new Uint32Array(rows + 1);
  shard.rows.forEach((row, r) => {
    cells[r + 1] = cells[r] + (row.length - 2) / 4;
  });
  const f = {
    id: shard.feature,
    outcomes: shard.outcomes,
    ...decodeRuns(shard.runs, table, rows),
    rest: new Float64Array(rows),
    silent: new Uint8Array(rows),
    cells,
    from: new Int32Array(cells[rows]),
    to: new Int32Array(cells[rows]),
    chance: new Float64Array(cells[rows]),
    possible: new Uint8Array(cells[rows]),
    priorMass: null,
  };
  shard.rows.forEach((row, r) => decodeRow(f, r, row));
  f.restLog = f.rest.map((x) => (x > 0 ? table.temper * Math.log(x) : 0));
  f.restW = f.rest.map((x) => power(x, table.temper));
  f.chanceLog = f.chance.map((x) => (x > 0 ? table.temper * Math.log(x) : 0));
  f.chanceW = f.chance.map((x) => power(x, table.temper));
  return f;
}

/** A chance to the power of the temper. */
function power(chance, temper) {
  return temper === 1 || chance === 0 ? chance : Math.exp(temper * Math.log(chance));
}

/** Decodes [row, count, …], and refuses runs that are not as long as the table. */
function decodeRuns(runs, table, rows) {
  const { pairs } = table;
  const runRow = new Uint32Array(runs.length / 2);
  const runEnd = new Uint32Array(runs.length / 2);
  let end = 0;
  for (let k = 0; k < runRow.length; k++) {
    runRow[k] = runs[2 * k];
    end += runs[2 * k + 1];
    runEnd[k] = end;
  }
  if (end !== pairs) throw new Error(`a table has ${end} pairs and the models have ${pairs}: the files are of two editions`);
  const rowOf = rows < 1 << 16 ? new Uint16Array(pairs) : new Uint32Array(pairs);
  runRow.forEach((row, k) => rowOf.fill(row, k === 0 ? 0 : runEnd[k - 1], runEnd[k]));
  return { runRow, runEnd, rowOf, pieces: piecesOf(runRow, runEnd, table.starts) };
}

/** Cuts runs where models end. */
function piecesOf(runRow, runEnd, starts) {
  const row = [];
  const from = [];
  const to = [];
  let h = 0;
  for (let k = 0, m = 0; k < runRow.length; k++) {
    while (h < runEnd[k]) {
      while (starts[m + 1] <= h) m++;
      const end = Math.min(runEnd[k], starts[m + 1]);
      row.push(runRow[k]);
      from.push(h + m);
      to.push(end + m);
      h = end;
    }
  }
  return { row: Uint32Array.from(row), from: Uint32Array.from(from), to: Uint32Array.from(to) };
}

/**
 * The run that a pair belongs to.
 * @param {Chances} f
 * @param {number} pair
 */
export function runOf(f, pair) {
  let low = 0;
  let high = f.runEnd.length;
  while (low < high) {
    const mid = (low + high) >> 1;
    if (f.runEnd[mid] <= pair) low = mid + 1;
    else high = mid;
  }
  return low;
}

function decodeRow(f, r, row) {
  f.rest[r] = row[0];
  f.silent[r] = row[1];
  for (let k = 2, c = f.cells[r]; k < row.length; k += 4, c++) {
    f.from[c] = row[k];
    f.to[c] = row[k + 1];
    f.chance[c] = row[k + 2];
    f.possible[c] = row[k + 3];
  }
}

function countRuns(runs) {
  let n = 0;
  for (let k = 1; k < runs.length; k += 2) n += runs[k];
  return n;
}

function unroll(runs, into, at) {
  for (let k = 0; k < runs.length; k += 2) {
    into.fill(runs[k], at, at + runs[k + 1]);
    at += runs[k + 1];
  }
}

/**
 * The chance, under a row, of being one of the outcomes, which rise without repeats.
 * @param {Chances} f
 * @param {number} r
 * @param {number[]} outcomes
 */
export function rowChance(f, r, outcomes) {
  let sum = 0;
  let c = f.cells[r];
  const end = f.cells[r + 1];
  for (const v of outcomes) {
    while (c < end && f.to[c] < v) c++;
    sum += c < end && f.from[c] <= v ? f.chance[c] : f.rest[r];
  }
  return sum;
}

/**
 * Whether, taken strictly, one of the outcomes is possible under a row.
 * @param {Chances} f
 * @param {number} r
 * @param {number[]} outcomes
 */
export function rowAllows(f, r, outcomes) {
  if (f.silent[r]) return true;
  let c = f.cells[r];
  const end = f.cells[r + 1];
  for (const v of outcomes) {
    while (c < end && f.to[c] < v) c++;
    if (c < end && f.from[c] <= v && f.possible[c]) return true;
  }
  return false;
}
