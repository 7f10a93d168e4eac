// Picks the first documents: highest score first, equal scores in order of kind, then address.

import { Bits } from "./bits.js";
import { kinds } from "./files.js";
import { compareText } from "./order.js";

// Up to so many equal documents are ordered by loading their addresses.
const few = 40;

/** How many documents match, and the numbers of the first count of them. */
export async function first(scores, matched, count, files, meter) {
  const { total, least } = threshold(scores, matched, count);
  const docs = [];
  for (let n = 0; n < matched.length; n++) if (matched[n] && scores[n] >= least) docs.push(n);
  docs.sort((a, b) => scores[b] - scores[a] || a - b);
  const out = [];
  for (let from = 0; from < docs.length && out.length < count; ) {
    let to = from + 1;
    while (to < docs.length && scores[docs[to]] === scores[docs[from]]) to++;
    out.push(...(await inOrder(docs.slice(from, to), count - out.length, files, meter)));
    from = to;
  }
  return { total, docs: out.slice(0, count) };
}

// threshold gives how many documents match and the count-th highest score among them.
function threshold(scores, matched, count) {
  const best = []; // a heap, the least first
  let total = 0;
  for (let n = 0; n < matched.length; n++) {
    if (!matched[n]) continue;
    total++;
    if (best.length < count) {
      best.push(scores[n]);
      rise(best);
    } else if (count > 0 && scores[n] > best[0]) {
      best[0] = scores[n];
      sink(best);
    }
  }
  return { total, least: best.length < count || count === 0 ? -Infinity : best[0] };
}

function rise(heap) {
  for (let i = heap.length - 1; i > 0; ) {
    const up = (i - 1) >> 1;
    if (heap[up] <= heap[i]) return;
    [heap[up], heap[i]] = [heap[i], heap[up]];
    i = up;
  }
}

function sink(heap) {
  for (let i = 0; ; ) {
    let least = i;
    for (const down of [2 * i + 1, 2 * i + 2]) if (down < heap.length && heap[down] < heap[least]) least = down;
    if (least === i) return;
    [heap[least], heap[i]] = [heap[i], heap[least]];
    i = least;
  }
}

// inOrder gives the first count of some documents in order of kind and address. Documents
// of one length are numbered in that order.
async function inOrder(docs, count, files, meter) {
  const { lengths, docsPerOrder, total } = files.root;
  if (docs.length === 1 || lengths[docs[0]] === lengths[docs[docs.length - 1]]) return docs;
  if (docs.length <= few) {
    const shown = await Promise.all(docs.map((n) => files.document(n, meter)));
    const order = docs.map((n, i) => ({ n, kind: kinds.indexOf(shown[i].kind), address: shown[i].address }));
    return order.sort((a, b) => a.kind - b.kind || compareText(a.address, b.address)).map((d) => d.n);
  }
  const wanted = new Set(docs);
  const out = [];
  const width = total > 1 ? 32 - Math.clz32(total - 1) : 0;
  for (let file = 0; file * docsPerOrder < total && out.length < count; file++) {
    const b = new Bits(await files.order(file, meter));
    for (let i = file * docsPerOrder; i < Math.min((file + 1) * docsPerOrder, total); i++) {
      const n = b.wide(width);
      if (wanted.has(n)) out.push(n);
    }
  }
  return out;
}
