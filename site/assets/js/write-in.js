import { el } from "./page/dom.js";
import { saveFile } from "./page/save.js";
import { addressed, fileOf, letterOf, makeKnowledge } from "./submission/knowledge.js";
import { dayOf } from "./submission/submission.js";

/** Begins the page on which a visitor writes what they know. */
const begin = () => {
  const home = document.querySelector(".js-write-in");
  if (!home) return;
  const text = (words, name, attributes = {}) => {
    const input = el("input", { type: "text", name, autocomplete: "off", ...attributes });
    return el("label", {}, words, " ", input);
  };
  const area = (words, name, rows, maxlength) => el("label", {}, words, " ", el("textarea", { name, rows, maxlength }));
  const stance = el("select", { name: "stance" },
    [["agrees", "It agrees with what stands there"], ["disagrees", "It disagrees"], ["adds", "It is something else"]].map(([value, words]) => el("option", { value }, words)));
  const trouble = el("div", { class: "trouble", role: "alert" });
  const said = el("p", { class: "small", role: "status" });
  const letter = el("textarea", { class: "letter", rows: 14, readonly: true, "aria-label": "The letter", hidden: true });
  const chooser = el("input", { type: "file", multiple: true, accept: "image/*" });
  const read = () => {
    const fields = Object.fromEntries([...home.querySelectorAll("[name]")].map((f) => [f.name, f.value]));
    return makeKnowledge({ reference: home.dataset.name, edition: home.dataset.edition, on: dayOf(new Date()) }, { ...fields, pictures: [...chooser.files].map((f) => f.name) });
  };
  const attempt = (use) => () => {
    const { knowledge, problems } = read();
    trouble.replaceChildren(...problems.map((p) => el("p", {}, p)));
    said.textContent = "";
    if (knowledge) use(knowledge);
  };
  const save = attempt((knowledge) => {
    const file = fileOf(knowledge);
    saveFile(file.name, file.text);
    said.textContent = `Saved as ${file.name}. Send that file, unchanged, with your pictures.`;
  });
  const write = attempt((knowledge) => {
    letter.value = letterOf(knowledge);
    letter.hidden = false;
    letter.focus();
    letter.select();
    said.textContent = "Copy the letter below into a message, or print it.";
  });
  home.replaceChildren(el("div", { class: "submission" },
    text("What it is about: the address on this site", "about", { maxlength: 300, value: addressed(location.hash) }),
    el("label", {}, "Does it agree? ", stance),
    area("What you know", "knows", 5, 4000),
    el("fieldset", {}, el("legend", {}, "Where it stands"),
      text("Paper, book or person", "sourceName", { maxlength: 300 }), text("Page or place", "sourcePlace", { maxlength: 200 }), area("The words, to the letter", "sourceWords", 3, 2000),
      el("label", {}, "Pictures: their names are noted, the pictures themselves are sent beside the file ", chooser)),
    text("Your name, if the site may show it", "by", { maxlength: 120 }),
    el("fieldset", {}, el("legend", {}, "For the editor alone, never published"), text("Your name", "name", { maxlength: 200, autocomplete: "name" }), text("How to reach you", "contact", { maxlength: 300 })),
    trouble,
    el("div", { class: "buttons" },
      el("button", { type: "button", class: "button", on: { click: save } }, "Save as a file"), " ",
      el("button", { type: "button", class: "button plain", on: { click: write } }, "Make a letter of it")),
    said, letter));
};
begin();
window.addEventListener("renewed", begin);
