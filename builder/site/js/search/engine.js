// The search engine of the site: answers a visitor's words from the small
// files that `yearmark publish` wrote, with the same hits, in the same order
// and with the same scores as `yearmark find`. It touches no page: the page
// that imports it draws what it returns.
//
//     import { open } from "./engine.js";
//     const engine = await open("search/6b1f09c2a4d7/root.bin");
//     const answer = await engine.find({ words: "padauk riser", typing: true });
//
// open(root, load) -> Promise<Engine>
//     root  Address of the index's root file: the first file that Go's
//           Index.Shards() gives. Its folder carries the index's content hash;
//           every other file is found beside it. The page takes it from its
//           own mark-up (data-index="…").
//     load  Optional. (address) -> Promise<Uint8Array | ArrayBuffer>; by
//           default the browser's fetch. Every file is asked for once.
//
// engine.find(query) -> Promise<Answer>
//     query.words     What the visitor typed; no character is an error.
//                     "several words" in quotation marks must stand together;
//                     a word that ends in * stands for its beginning.
//     query.typing    true while the visitor types: the last word may be unfinished.
//     query.kinds     ["model", "era", …]: any of maker, model, era, feature,
//                     value, source, example, page. Absent or empty: all.
//     query.maker     A maker's identifier, or absent.
//     query.model     A model's identifier, or absent.
//     query.features  ["riser-wood=padauk", …]: all of them, in one and the
//                     same year. A figure stands for the ranges that hold it:
//                     "draw-weight=45".
//     query.years     [first, last], both counted in; either may be null.
//     query.limit     How many hits (10), and query.offset: after how many (0).
//
// Answer
//     total      How many documents match in all.
//     hits       [{kind, id, title, about, address, score, claims, marks}], best first, equal
//                scores in order of address. address is relative to the
//                site's root. claims: [{feature, address}], the claims by which a
//                hit has the features asked for. marks: {title, about}, each [[start, end], …]
//                of the words that matched, in UTF-16 units.
//     corrected  [{word, used: [words]}]: words that no document has, and the near words
//                that were searched for in their place.
//     near       Words near to those that were not found, best first; only where total is 0.
//     ignored    Words left out because the query was too long.
//     bytes      How many bytes were loaded for this answer.
//
// engine.suggest(start, limit = 8) -> Promise<[word, …]>
//     Words of the reference that begin as the last word of start does,
//     the commonest first.
//
// engine.facets(query, names) -> Promise<{total, kinds, makers, features}>
//     How many of the documents that match the query have each choice. kinds and
//     makers are {identifier: count}; features is {name: {value: count}} for the features named.
//     A choice's own filter is left out while it is counted, so that the
//     count says what choosing it instead would give.
