import { open } from "./search/engine.js";
import { Search } from "./find/search.js";

/** Begins the search of the page as it stands, also where the preview has put a newer one in its place. */
const begin = () => {
  const element = document.querySelector(".js-search");
  if (!element) return;
  open(element.dataset.index).then((engine) => {
    if (!element.isConnected) return undefined;
    element.hidden = false;
    document.querySelector(".js-plain").classList.add("plain-after");
    return new Search(element, engine).start();
  });
};
begin();
window.addEventListener("renewed", begin);
