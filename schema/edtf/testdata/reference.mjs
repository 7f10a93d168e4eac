// Reads a JSON list of expressions from standard input and writes what the
// npm library `edtf` makes of each: whether it parses, whether the object can
// be built, its level, and the years of its first and last instant. Run in the
// folder whose node_modules holds the library.
import { createRequire } from 'node:module'
import { join } from 'node:path'
import { readFileSync } from 'node:fs'

const require = createRequire(join(process.cwd(), 'package.json'))
const { default: edtf, parse } = require('edtf')

function year(bound) {
  if (bound === null || bound === undefined) return 'none'
  if (!Number.isFinite(bound)) return Number.isNaN(bound) ? 'NaN' : 'none'
  return String(new Date(bound).getUTCFullYear())
}

function read(text) {
  let level
  try {
    level = parse(text).level
  } catch {
    return { verdict: 'refuses' }
  }
  try {
    const date = edtf(text)
    return { verdict: 'reads', level, earliest: year(date.min), latest: year(date.max) }
  } catch {
    return { verdict: 'throws', level }
  }
}

const texts = JSON.parse(readFileSync(0, 'utf8'))
process.stdout.write(JSON.stringify(texts.map(read)))
