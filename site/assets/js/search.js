import { Loader } from "./dating/load.js";
import { Search } from "./find/search.js";
import { Attempt } from "./page/attempt.js";
import { load, loadBytes } from "./page/load.js";
import { open } from "./search/engine.js";

/** Begins the search of the page as it stands, also where the preview has put a newer one in its place. */
const begin = () => {
  const element = document.querySelector(".js-search");
  if (!element) return;
  const attempt = new Attempt(element, "What you typed is kept; the lists of the register need no further file.");
  attempt.make(async () => {
    const engine = await open(element.dataset.index, loadBytes);
    if (!element.isConnected) return;
    element.hidden = false;
    document.querySelector(".js-plain").open = false;
    const { tables, edition } = element.dataset;
    const loader = tables ? new Loader(tables, load) : null;
    new Search(element, engine, attempt, () => loader?.numbers(edition)).start();
  });
};
begin();
window.addEventListener("renewed", begin);
