import { Loader } from "./dating/load.js";
import { NumberBox } from "./number/box.js";
import { Attempt } from "./page/attempt.js";
import { load } from "./page/load.js";

/** Begins the number box of the page as it stands. */
const begin = () => {
  const element = document.querySelector(".js-number");
  if (!element) return;
  const { tables, root, edition } = element.dataset;
  const loader = new Loader(tables, load);
  new NumberBox(element, { root, numbers: () => loader.numbers(edition), attempt: new Attempt(element, "What you typed is kept.") });
};
begin();
window.addEventListener("renewed", begin);
