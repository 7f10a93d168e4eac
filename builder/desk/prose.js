// The tools above a text: headings, bold, lists, links and citations, written
// as the text's own signs, and how it will look beside it. Everything goes
// through the box as if it were typed, so that the browser's undo takes it back.

const part = document.querySelector('[data-prose]');

/** type puts words in place of what is between two points of a box, as if typed. */
function type(area, start, end, words) {
  area.focus();
  area.setSelectionRange(start, end);
  if (!document.execCommand('insertText', false, words)) area.setRangeText(words, start, end, 'end');
}

/** wrap sets signs around what is selected, or takes them away. */
function wrap(area, sign) {
  const { selectionStart: start, selectionEnd: end, value } = area;
  const words = value.slice(start, end);
  if (value.slice(start - sign.length, start) === sign && value.slice(end, end + sign.length) === sign) {
    type(area, start - sign.length, end + sign.length, words);
    area.setSelectionRange(start - sign.length, end - sign.length);
    return;
  }
  type(area, start, end, sign + words + sign);
  area.setSelectionRange(start + sign.length, end + sign.length);
}

/** lines changes every line that the selection touches. */
function lines(area, change) {
  const { value } = area;
  const start = value.lastIndexOf('\n', area.selectionStart - 1) + 1;
  let end = value.indexOf('\n', area.selectionEnd);
  if (end < 0) end = value.length;
  const words = change(value.slice(start, end).split('\n')).join('\n');
  type(area, start, end, words);
  area.setSelectionRange(start, start + words.length);
}

const TOOLS = {
  heading: (area) => lines(area, (all) => all.map((l) => (l.startsWith('### ') ? l.slice(4) : l.startsWith('## ') ? `#${l}` : `## ${l}`))),
  bold: (area) => wrap(area, '**'),
  list: (area) => lines(area, (all) => all.map((l) => (all.every((o) => o.startsWith('- ')) ? l.slice(2) : l.startsWith('- ') ? l : `- ${l}`))),
};

/** The dialog in which a record is picked that a link leads to. */
class Link {
  constructor(area) {
    this.area = area;
    this.dialog = document.getElementById('Link');
    this.kind = this.dialog.querySelector('[name=kind]');
    this.which = this.dialog.querySelector('[name=which]');
    this.place = this.dialog.querySelector('[name=place]');
    this.words = this.dialog.querySelector('[name=words]');
    this.kind.addEventListener('change', () => this.turn());
    this.dialog.querySelector('form').addEventListener('submit', (event) => this.done(event));
  }

  open(kind) {
    const { selectionStart: start, selectionEnd: end, value } = this.area;
    Object.assign(this, { start, end });
    this.dialog.querySelector('form').reset();
    this.kind.value = kind;
    this.words.value = value.slice(start, end);
    this.turn();
    this.dialog.querySelector('[data-wrong]').hidden = true;
    this.dialog.showModal();
    this.which.focus();
  }

  /** turn offers the records of the kind chosen. */
  turn() {
    this.which.setAttribute('list', `list-${this.kind.value}`);
    this.place.closest('div').hidden = this.kind.value !== 'source';
  }

  /** picked is the option that was picked or typed, by identifier or title. */
  picked() {
    const typed = this.which.value.trim();
    const all = [...(document.getElementById(`list-${this.kind.value}`)?.options ?? [])];
    return all.find((o) => o.value === typed) ?? all.find((o) => o.label.toLowerCase() === typed.toLowerCase());
  }

  done(event) {
    if (event.submitter?.value !== 'use') return;
    const found = this.picked();
    if (!found) {
      event.preventDefault();
      const wrong = this.dialog.querySelector('[data-wrong]');
      wrong.hidden = false;
      wrong.textContent = `“${this.which.value.trim()}” is none of those on record. Pick one from the list.`;
      return;
    }
    const place = this.kind.value === 'source' ? this.place.value.trim() : '';
    let words = this.words.value.trim() || found.label;
    if (place) words += `, ${place}`;
    const { area, start, end } = this;
    setTimeout(() => type(area, start, end, `[${words.replace(/[[\]]/g, '')}](${this.kind.value}:${found.value})`)); // once the dialog is closed
  }
}

let asked = 0;

/** preview shows how the text will look. */
async function preview(area) {
  const number = ++asked;
  const body = new URLSearchParams({ '-token': area.form.elements.namedItem('-token').value, '-text': area.value });
  const answer = await fetch(part.dataset.prose, { method: 'POST', body }).catch(() => null);
  if (!answer?.ok || number !== asked) return;
  const made = new DOMParser().parseFromString(await answer.text(), 'text/html');
  if (number !== asked) return;
  for (const link of made.querySelectorAll('a')) Object.assign(link, { target: '_blank', rel: 'noopener' });
  part.querySelector('[data-looks]').replaceChildren(...made.body.childNodes);
}

if (part) {
  const area = part.querySelector('textarea');
  const link = new Link(area);
  const use = (tool) => {
    if (tool === 'link') link.open('model');
    else if (tool === 'cite') link.open('source');
    else TOOLS[tool](area);
  };
  for (const hidden of part.querySelectorAll('[data-tools], .desk-looks')) hidden.hidden = false;
  part.addEventListener('click', (event) => {
    const tool = event.target.closest('[data-tool]');
    if (tool) use(tool.dataset.tool);
  });
  area.addEventListener('keydown', (event) => {
    const tool = (event.ctrlKey || event.metaKey) && !event.shiftKey && !event.altKey && { b: 'bold', k: 'link' }[event.key];
    if (!tool) return;
    event.preventDefault();
    use(tool);
  });
  let pause;
  area.addEventListener('input', () => {
    clearTimeout(pause);
    pause = setTimeout(() => preview(area), 200);
  });
  preview(area);
}
