// What the desk's pages do while one types. All of it is help: without this
// script forms are sent and answered by whole pages.
'use strict';

const form = document.querySelector('.desk-form');

/** at finds an element by the path in one of its data attributes. */
function at(name, path) {
  return document.querySelector(`[data-${name}="${CSS.escape(path)}"]`);
}

/** note makes the element of one finding. */
function note(n) {
  const box = document.createElement('div');
  box.className = `desk-note desk-${n.Level}`;
  const say = (text, className) => {
    const p = document.createElement('p');
    p.textContent = text;
    if (className) p.className = className;
    box.append(p);
  };
  say(n.Text);
  if (!n.Choices) for (const why of n.Whens || []) say(why, 'desk-hint');
  if (n.Remedy) say(n.Remedy);
  return box;
}

let asked = 0;

/** check asks what is found in the form as it stands, and shows it at the fields. */
async function check() {
  const number = ++asked;
  const answer = await fetch(form.dataset.check, { method: 'POST', body: new URLSearchParams(new FormData(form)) }).catch(() => null);
  const status = form.querySelector('[data-status]');
  if (number !== asked) return;
  if (!answer || !answer.ok) {
    status.textContent = 'The desk does not answer. What you typed stays on this page; start the desk again to save it.';
    return;
  }
  const found = await answer.json();
  if (number !== asked) return;
  status.textContent = '';
  for (const box of form.querySelectorAll('[data-reading]')) {
    const words = found.readings[box.dataset.reading];
    box.textContent = words ? `= ${words}` : '';
  }
  for (const box of form.querySelectorAll('[data-words]')) box.textContent = found.words[box.dataset.words] || '';
  for (const box of form.querySelectorAll('[data-notes]')) {
    if (!box.querySelector('button')) box.replaceChildren(...(found.notes[box.dataset.notes] || []).filter((n) => !n.Choices).map(note));
  }
  form.querySelector('[data-said]').replaceChildren(...(found.said || []).map(note));
}

/** complete gives the box of a value the list of its feature's values. */
function complete(feature) {
  const path = feature.name.replace(/feature$/, '');
  for (const box of form.querySelectorAll('[data-value]')) {
    if (box.name.startsWith(path)) box.setAttribute('list', `values-${feature.value}`);
  }
}

if (form) {
  let pause;
  form.addEventListener('input', (event) => {
    if (event.target.matches('[data-feature]')) complete(event.target);
    clearTimeout(pause);
    pause = setTimeout(check, 150);
    window.onbeforeunload = () => true; // something is not saved
  });
  form.addEventListener('submit', () => { window.onbeforeunload = null; });
  form.addEventListener('click', (event) => {
    const choice = event.target.closest('[data-sets]');
    if (!choice) return;
    const box = document.getElementById(choice.dataset.sets);
    box.value = choice.dataset.to;
    choice.closest('[data-notes]').replaceChildren();
    box.focus();
    check();
  });
  if (location.hash === '#saved') {
    form.querySelector('[data-status]').textContent = 'Saved.';
    history.replaceState(null, '', location.pathname);
  }
  check();
}

for (const box of document.querySelectorAll('[data-filters]')) {
  const rows = document.getElementById(box.dataset.filters);
  box.addEventListener('input', () => {
    const words = box.value.toLowerCase().split(/\s+/);
    for (const row of rows.children) row.hidden = !words.every((w) => row.textContent.toLowerCase().includes(w));
  });
}
