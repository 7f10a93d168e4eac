// Building elements. Text always enters as text, never as mark-up.

const SVG = "http://www.w3.org/2000/svg";

/**
 * Makes an element. Attributes that are null, undefined or false are left
 * out; `on` holds listeners by event; children are nodes, words, or lists of them.
 */
export function el(tag, attributes = {}, ...children) {
  return fill(document.createElement(tag), attributes, children);
}

/** Makes an SVG element. */
export function draw(tag, attributes = {}, ...children) {
  return fill(document.createElementNS(SVG, tag), attributes, children);
}

function fill(node, attributes, children) {
  for (const [name, value] of Object.entries(attributes)) {
    if (name === "on") {
      for (const [event, listen] of Object.entries(value)) node.addEventListener(event, listen);
    } else if (name.startsWith("aria-") && typeof value === "boolean") {
      node.setAttribute(name, String(value)); // where an empty text is not true
    } else if (value !== null && value !== undefined && value !== false) {
      node.setAttribute(name, value === true ? "" : String(value));
    }
  }
  node.append(...children.flat(Infinity).filter((c) => c !== null && c !== undefined && c !== false));
  return node;
}

/** A picture of the reference on its plate, which goes where the picture cannot be had. */
export function plate(address, words = "") {
  const picture = el("img", { src: address, alt: words, loading: "lazy" });
  const frame = el("span", { class: "plate" }, picture);
  picture.addEventListener("error", () => frame.remove());
  return frame;
}
