// What the desk's pages do while one types. All of it is help: without this
// script forms are sent and answered by whole pages.
'use strict';

const form = document.querySelector('.desk-form');

/** at finds an element by the path in one of its data attributes. */
function at(name, path) {
  return document.querySelector(`[data-${name}="${CSS.escape(path)}"]`);
}

/** remedy makes the button that ends a finding, and the box for what it asks. */
function remedy(r) {
  const line = document.createElement('p');
  line.className = 'desk-choices';
  if (r.Asks) {
    const box = document.createElement('input');
    Object.assign(box, { name: `-why-${r.Key}`, placeholder: r.Asks, autocomplete: 'off' });
    box.setAttribute('aria-label', r.Asks);
    box.dataset.reason = '';
    line.append(box);
  }
  const button = document.createElement('button');
  Object.assign(button, { className: 'desk-quiet', name: '-do', value: `mend ${r.Key}`, textContent: r.Words });
  line.append(button);
  return line;
}

/** choices makes the buttons of a question about the years at a path. */
function choices(n, path) {
  const line = document.createElement('p');
  line.className = 'desk-choices';
  line.append(...n.Choices.map((to, i) => {
    const button = document.createElement('button');
    Object.assign(button, { type: 'button', className: 'desk-quiet', textContent: n.Whens[i] });
    Object.assign(button.dataset, { sets: path, to });
    return button;
  }));
  return line;
}

/** note makes the element of one finding at a path, or of the whole record. */
function note(n, path) {
  const box = document.createElement('div');
  box.className = `desk-note desk-${n.Level}`;
  const say = (text, className) => {
    const p = document.createElement('p');
    p.textContent = text;
    if (className) p.className = className;
    box.append(p);
  };
  say(n.Text);
  if (n.Choices) box.append(choices(n, path));
  else for (const why of n.Whens || []) say(why, 'desk-hint');
  if (n.Remedy) say(n.Remedy);
  for (const r of n.Remedies || []) box.append(remedy(r));
  return box;
}

let asked = 0;

/**
 * check asks what is found in the form as it stands, and shows it at the
 * fields. Of a page that has just come only years are read out: what was found
 * stands on it already.
 */
async function check(loaded) {
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
  if (!loaded) status.textContent = '';
  for (const box of form.querySelectorAll('[data-reading]')) {
    const words = found.readings[box.dataset.reading];
    box.textContent = words ? `= ${words}` : '';
  }
  for (const box of form.querySelectorAll('[data-words]')) box.textContent = found.words[box.dataset.words] || '';
  if (loaded) return;
  for (const box of form.querySelectorAll('[data-notes]')) {
    box.replaceChildren(...(found.notes[box.dataset.notes] || []).map((n) => note(n, box.dataset.notes)));
  }
  form.querySelector('[data-said]').replaceChildren(...(found.said || []).map((n) => note(n, '')));
}

/** complete gives the box of a value the list of its feature's values. */
function complete(feature) {
  const path = feature.name.replace(/feature$/, '');
  for (const box of form.querySelectorAll('[data-value]')) {
    if (box.name.startsWith(path)) box.setAttribute('list', `values-${feature.value}`);
  }
}

/** list finds the list of completions for a box, and makes it where there is none. */
function list(id) {
  let found = document.getElementById(id);
  if (!found) {
    found = document.createElement('datalist');
    found.id = id;
    document.body.append(found);
  }
  return found;
}

/** featureOf is the feature that stands beside a box, in the same entry. */
function featureOf(box) {
  const entry = box.closest('.desk-entry, form');
  return entry.querySelector('[data-feature]')?.value || '';
}

/** makeFor shows the short form of what a box names, and puts in what was made. */
function makeFor(button) {
  const dialog = document.getElementById(`make-${button.dataset.make}`);
  const short = dialog.querySelector('form');
  const box = document.getElementById(button.dataset.for);
  const wrong = short.querySelector('[data-wrong]');
  short.reset();
  wrong.hidden = true;
  const name = short.querySelector('[name=name]');
  name.value = box.value;
  dialog.showModal();
  short.onsubmit = async (event) => {
    if (event.submitter && event.submitter.value !== 'make') return;
    event.preventDefault();
    const body = new URLSearchParams(new FormData(short));
    body.set('feature', featureOf(box));
    const answer = await fetch(short.dataset.action, { method: 'POST', body }).catch(() => null);
    const made = answer ? await answer.json().catch(() => ({})) : {};
    if (!made.id) {
      wrong.textContent = made.error || 'The desk does not answer. Nothing was made.';
      wrong.hidden = false;
      return;
    }
    const option = document.createElement('option');
    option.value = made.id;
    option.textContent = made.title;
    list(button.dataset.make === 'value' ? `values-${featureOf(box)}` : `list-${button.dataset.make}`).append(option);
    box.value = made.id;
    dialog.close();
    box.dispatchEvent(new Event('input', { bubbles: true }));
    box.focus();
  };
}

/** citeAgain puts the nearest citation above a box into it. */
function citeAgain(button) {
  const all = [...form.querySelectorAll('[list="list-source"]')].filter((box) => box.name.includes('cites/'));
  const box = document.getElementById(button.dataset.again);
  const above = all.slice(0, all.indexOf(box)).reverse().find((b) => b.value);
  if (!above) return;
  box.value = above.value;
  box.nextElementSibling.value = above.nextElementSibling.value;
  box.dispatchEvent(new Event('input', { bubbles: true }));
}

/** takePicture sends a picture and puts the path that it was given into its box. */
async function takePicture(path, file) {
  const said = at('picture-said', path);
  said.textContent = `Taking in ${file.name} …`;
  const body = new FormData();
  body.set('-token', form.querySelector('[name="-token"]').value);
  body.set('picture', file);
  const answer = await fetch(form.dataset.pictures, { method: 'POST', body }).catch(() => null);
  const taken = answer ? await answer.json().catch(() => ({})) : {};
  said.textContent = taken.id ? 'Taken in: upright, and without what the camera wrote into it.' : taken.error || 'The desk does not answer. Nothing was taken in.';
  if (!taken.id) return;
  const box = document.getElementById(path);
  box.value = taken.id;
  box.dispatchEvent(new Event('input', { bubbles: true }));
}

if (form) {
  let pause;
  for (const place of form.querySelectorAll('[data-picture]')) {
    place.hidden = false;
    place.querySelector('input').addEventListener('change', (event) => {
      if (event.target.files[0]) takePicture(place.dataset.picture, event.target.files[0]);
    });
    const field = place.closest('.desk-field') || place;
    field.addEventListener('dragover', (event) => event.preventDefault());
    field.addEventListener('drop', (event) => {
      event.preventDefault();
      if (event.dataTransfer.files[0]) takePicture(place.dataset.picture, event.dataTransfer.files[0]);
    });
  }
  for (const button of form.querySelectorAll('[data-make], [data-again]')) button.hidden = false;
  form.addEventListener('input', (event) => {
    if (event.target.matches('[data-reason]')) return;
    if (event.target.matches('[data-feature]')) complete(event.target);
    clearTimeout(pause);
    pause = setTimeout(() => check(false), 150);
    window.onbeforeunload = () => true; // something is not saved
  });
  form.addEventListener('keydown', (event) => { // Enter in a reason is its own button, not "Save"
    if (event.key !== 'Enter' || !event.target.matches('[data-reason]')) return;
    event.preventDefault();
    event.target.nextElementSibling.click();
  });
  form.addEventListener('submit', () => {
    window.onbeforeunload = null;
    sessionStorage.setItem('desk-place', scrollY);
  });
  form.addEventListener('click', (event) => {
    const make = event.target.closest('[data-make]');
    if (make) return makeFor(make);
    const again = event.target.closest('[data-again]');
    if (again) return citeAgain(again);
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
    scrollTo(0, Number(sessionStorage.getItem('desk-place'))); // where one was
  }
  check(true);
}

for (const box of document.querySelectorAll('[data-filters]')) {
  const rows = document.getElementById(box.dataset.filters);
  box.addEventListener('input', () => {
    const words = box.value.toLowerCase().split(/\s+/);
    for (const row of rows.children) row.hidden = !words.every((w) => row.textContent.toLowerCase().includes(w));
  });
}
