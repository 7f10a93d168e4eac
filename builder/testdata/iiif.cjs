// Reads IIIF Presentation 3 documents, by path, from standard input with
// @iiif/parser, and writes what its strict reading complains of and what its
// normal form holds, canvas by canvas.
const { normalize } = require('@iiif/parser');
const { presentation3StrictUpgrade } = require('@iiif/parser/strict');

const documents = JSON.parse(require('fs').readFileSync(0, 'utf8'));
const read = {};
for (const [path, document] of Object.entries(documents)) {
  const texts = JSON.stringify(document).split('"TextualBody"').length - 1;
  const state = { warnings: [] };
  if (document.type === 'Manifest') presentation3StrictUpgrade(structuredClone(document), state);
  const { entities, resource } = normalize(document);
  const noted = (annotation) => {
    const target = annotation.target;
    const bodies = annotation.body.map((b) => entities.ContentResource[b.id]);
    return {
      motivation: annotation.motivation[0],
      canvas: target.source.id ?? target.source,
      fragment: target.selector?.value ?? '',
      words: bodies.filter((b) => b.type === 'TextualBody').map((b) => `${b.language}: ${b.value}`).join('\n'),
      link: bodies.find((b) => b.type !== 'TextualBody')?.id ?? '',
    };
  };
  const within = (pages) => pages.flatMap((p) => entities.AnnotationPage[p.id].items).map((a) => noted(entities.Annotation[a.id]));
  const top = entities[resource.type][resource.id];
  read[path] = {
    warnings: state.warnings,
    id: resource.id,
    type: resource.type,
    label: Object.values(top.label)[0][0],
    rights: top.rights ?? '',
    statement: top.requiredStatement ? Object.values(top.requiredStatement.value)[0][0] : '',
    seeAlso: top.seeAlso.map((r) => r.id),
    items: top.items.map((i) => i.id),
    texts,
    canvases: Object.values(entities.Canvas).map((c) => ({
      id: c.id, label: Object.values(c.label)[0][0], width: c.width ?? 0, height: c.height ?? 0, duration: c.duration ?? 0,
      painted: within(c.items), notes: within(c.annotations),
    })),
  };
}
process.stdout.write(JSON.stringify(read));
