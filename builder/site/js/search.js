import { open } from "./search/engine.js";
import { Search } from "./find/search.js";

const element = document.querySelector(".js-search");
if (element) {
  open(element.dataset.index).then((engine) => {
    element.hidden = false;
    document.querySelector(".js-plain").classList.add("plain-after");
    return new Search(element, engine).start();
  });
}
