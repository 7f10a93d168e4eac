import { Register } from "./find/register.js";

const begin = () => {
  const filter = document.querySelector(".js-filter");
  if (filter) new Register(filter, document.querySelector(".js-bows"));
};
begin();
window.addEventListener("renewed", begin);
