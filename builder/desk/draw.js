// Parts of a picture marked on it, by mouse, finger or keyboard: the region of
// a scan that holds the words, the point on a plate that a claim is seen at.
// What is marked is written into the form's own boxes; without this script
// the same is typed there.

const form = document.querySelector('form[data-shown]');
const dialog = document.getElementById('Draw');
const clamp = (n, least, most) => Math.min(Math.max(n, least), most);

/**
 * Reads a region as W3C Media Fragments write it ("xywh=percent:8,41,46,12").
 * @param {string} text
 * @param {HTMLImageElement} picture held upright; pixels are its own
 * @returns {number[]|null} left, top, width and height in per cent
 */
function regionOf(text, picture) {
  const m = /^xywh=(?:(pixel|percent):)?(\d+),(\d+),(\d+),(\d+)$/.exec(text.trim());
  if (!m) return null;
  const numbers = m.slice(2).map(Number);
  const across = m[1] === 'percent' ? 100 : picture.naturalWidth;
  const down = m[1] === 'percent' ? 100 : picture.naturalHeight;
  return numbers.map((n, i) => (n * 100) / (i % 2 ? down : across));
}

/** A point lies on tenths of a per cent. */
const tenth = (n) => Math.round(clamp(n, 0, 100) * 10) / 10;

/** Whole per cent within the picture, at least one wide and high. */
function bounded([left, top, width, height]) {
  const x = clamp(Math.round(left), 0, 99);
  const y = clamp(Math.round(top), 0, 99);
  return [x, y, clamp(Math.round(width), 1, 100 - x), clamp(Math.round(height), 1, 100 - y)];
}

/** box is the form's box for a value. */
const box = (path) => form.elements.namedItem(path);

/** put writes a value into the form as if it were typed. */
function put(path, text) {
  box(path).value = text;
  box(path).dispatchEvent(new Event('input', { bubbles: true }));
}

/** addressOf is where a picture that the form names is shown; empty of none. */
function addressOf(path) {
  const name = box(path)?.value.trim();
  return name ? form.dataset.shown + name.split('/').map(encodeURIComponent).join('/') : '';
}

/** pictureOf is the box that names the picture of a region or a point. */
function pictureOf(button) {
  if (button.dataset.draw === 'region') return button.dataset.at.replace(/[^/]*$/, 'scan');
  return `${button.dataset.at.split('/')[0]}/picture`;
}

/** The dialog in which one part of one picture is marked. */
class Drawing {
  constructor() {
    this.picture = dialog.querySelector('img');
    this.svg = dialog.querySelector('svg');
    this.canvas = this.svg.parentElement;
    this.rect = this.svg.querySelector('rect');
    this.grips = [...this.svg.querySelectorAll('g')];
    this.boxes = [...dialog.querySelectorAll('input[type=number]')];
    for (const [i, b] of this.boxes.entries()) {
      b.addEventListener('input', () => {
        if (b.value !== '') this.mark(this.part.map((n, k) => (k === i ? Number(b.value) : n)), b);
      });
    }
    this.svg.addEventListener('pointerdown', (event) => this.press(event));
    this.svg.addEventListener('keydown', (event) => this.key(event));
    this.picture.addEventListener('error', () => { dialog.querySelector('[data-unseen]').hidden = false; });
    dialog.querySelector('form').addEventListener('submit', (event) => {
      if (event.submitter?.value === 'use') this.use();
    });
  }

  open(button) {
    this.button = button;
    this.point = button.dataset.draw === 'point';
    dialog.classList.toggle('desk-point', this.point);
    dialog.querySelector('[data-unseen]').hidden = true;
    for (const b of this.boxes.slice(2)) b.closest('label').hidden = this.point;
    for (const b of this.boxes) b.step = this.point ? 0.1 : 1;
    this.others();
    this.picture.onload = () => this.begin();
    this.picture.loading = 'eager';
    this.picture.src = addressOf(pictureOf(button));
    dialog.showModal();
    if (this.picture.complete && this.picture.naturalWidth > 0) this.begin();
    this.svg.focus();
  }

  /** Shows where the other pointers of the plate are. */
  others() {
    for (const c of this.svg.querySelectorAll('.desk-other')) c.remove();
    if (!this.point) return;
    for (const b of form.querySelectorAll('[data-draw="point"]')) {
      const [x, y] = [0, 1].map((i) => box(`${b.dataset.at}/${i}`).value.trim());
      if (b === this.button || x === '' || y === '') continue;
      const circle = document.createElementNS(this.svg.namespaceURI, 'circle');
      for (const [name, value] of [['class', 'desk-other'], ['cx', `${x}%`], ['cy', `${y}%`], ['r', 4]]) circle.setAttribute(name, value);
      this.svg.prepend(circle);
    }
  }

  /** Marks what the form says by now, or the middle of the picture. */
  begin() {
    this.picture.onload = null; // once: a picture that was there already is said to load all the same
    this.canvas.style.inlineSize = `min(100% - 44px, ${(60 * this.picture.naturalWidth) / this.picture.naturalHeight}vh)`; // drawings have no size of their own
    const { at } = this.button.dataset;
    if (this.point) {
      const [x, y] = [0, 1].map((i) => box(`${at}/${i}`).value.trim());
      this.mark([x === '' ? 50 : Number(x), y === '' ? 50 : Number(y), 1, 1]);
    } else {
      this.mark(regionOf(box(at).value, this.picture) ?? [25, 25, 50, 50]);
    }
    this.changed = this.point && box(`${at}/0`).value.trim() === ''; // the middle is a place to begin
  }

  /** mark shows a part, in per cent; typed is the box that it was typed into. */
  mark(part, typed) {
    this.part = this.point ? [tenth(part[0]), tenth(part[1]), 1, 1] : bounded(part);
    this.changed = true;
    const [x, y, w, h] = this.part;
    for (const [name, n] of [['x', x], ['y', y], ['width', w], ['height', h]]) this.rect.setAttribute(name, `${n}%`);
    for (const [i, grip] of this.grips.entries()) {
      for (const circle of grip.children) {
        circle.setAttribute('cx', `${this.point || i % 2 === 0 ? x : x + w}%`);
        circle.setAttribute('cy', `${this.point || i < 2 ? y : y + h}%`);
      }
    }
    for (const [i, b] of this.boxes.entries()) if (b !== typed) b.value = this.part[i];
    dialog.querySelector('output').textContent = this.point ? `${x} % from the left, ${y} % from the top` : `From the left ${x} %, from the top ${y} %, ${w} % wide, ${h} % high`;
  }

  /** where a pointer is on the picture, in per cent. */
  where(event) {
    const frame = this.picture.getBoundingClientRect();
    return [clamp(((event.clientX - frame.left) * 100) / frame.width, 0, 100), clamp(((event.clientY - frame.top) * 100) / frame.height, 0, 100)];
  }

  /** press begins to draw a part anew, to move it, or to pull at one of its corners. */
  press(event) {
    if (event.button !== 0) return;
    event.preventDefault();
    this.svg.focus();
    const from = this.where(event);
    const [x, y, w, h] = this.part;
    const corner = this.grips.indexOf(event.target.closest('g'));
    const between = ([a, b], [c, d]) => this.mark([Math.min(a, c), Math.min(b, d), Math.abs(c - a), Math.abs(d - b)]);
    let pull = (to) => between(from, to);
    if (this.point) {
      pull = (to) => this.mark(to);
      pull(from);
    } else if (corner >= 0) {
      const fixed = [corner % 2 === 0 ? x + w : x, corner < 2 ? y + h : y];
      pull = (to) => between(fixed, to);
    } else if (event.target === this.rect) {
      pull = (to) => this.mark([clamp(x + to[0] - from[0], 0, 100 - w), clamp(y + to[1] - from[1], 0, 100 - h), w, h]);
    }
    this.svg.setPointerCapture(event.pointerId);
    this.svg.onpointermove = (e) => pull(this.where(e));
    this.svg.onpointerup = this.svg.onpointercancel = () => { this.svg.onpointermove = null; };
  }

  /** key moves a part by the arrow keys; Shift sizes a region, and moves a point in tenths. */
  key(event) {
    const [dx, dy] = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[event.key] ?? [0, 0];
    if (dx === 0 && dy === 0) return;
    event.preventDefault();
    const fine = this.point && event.shiftKey ? 0.1 : 1;
    const step = event.ctrlKey || event.metaKey ? 10 : fine;
    const [x, y, w, h] = this.part;
    if (event.shiftKey && !this.point) this.mark([x, y, w + dx * step, h + dy * step]);
    else this.mark([clamp(x + dx * step, 0, this.point ? 100 : 100 - w), clamp(y + dy * step, 0, this.point ? 100 : 100 - h), w, h]);
  }

  /** use writes what is marked into the form; what was only looked at stays as it is. */
  use() {
    const { at } = this.button.dataset;
    if (this.point && this.changed) {
      put(`${at}/0`, this.part[0]);
      put(`${at}/1`, this.part[1]);
    } else if (this.changed) {
      put(at, `xywh=percent:${this.part.join(',')}`);
    }
    this.button.focus();
  }
}

/** look shows the picture that a box names below it. */
function look(picture) {
  const address = addressOf(picture.dataset.look);
  picture.hidden = address === '';
  if (address !== picture.getAttribute('src')) picture.src = address;
}

/** cut shows the part of a scan that a region names. */
function cut(frame) {
  const picture = frame.querySelector('img');
  const path = frame.dataset.cut;
  const show = () => {
    const part = regionOf(box(path).value, picture);
    frame.hidden = part === null || picture.naturalWidth === 0 || part[2] === 0 || part[3] === 0;
    if (frame.hidden) return;
    const [x, y, w, h] = part;
    frame.style.aspectRatio = `${(w * picture.naturalWidth) / (h * picture.naturalHeight)}`;
    picture.style.inlineSize = `${10000 / w}%`;
    picture.style.insetInlineStart = `${(-100 * x) / w}%`;
    picture.style.insetBlockStart = `${(-100 * y) / h}%`;
  };
  const address = addressOf(path.replace(/[^/]*$/, 'scan'));
  if (address === '' || box(path).value.trim() === '') {
    frame.hidden = true;
    return;
  }
  picture.onload = show;
  if (address !== picture.getAttribute('src')) { picture.loading = 'eager'; picture.src = address; }
  else if (picture.complete) show();
}

if (form && dialog) {
  const drawing = new Drawing();
  const show = () => {
    for (const picture of form.querySelectorAll('[data-look]')) look(picture);
    for (const frame of form.querySelectorAll('[data-cut]')) cut(frame);
    for (const button of form.querySelectorAll('[data-draw]')) button.hidden = addressOf(pictureOf(button)) === '';
  };
  for (const picture of form.querySelectorAll('[data-look]')) picture.addEventListener('error', () => { picture.hidden = true; });
  form.addEventListener('input', show);
  form.addEventListener('click', (event) => {
    const button = event.target.closest('[data-draw]');
    if (button) drawing.open(button);
  });
  show();
}
