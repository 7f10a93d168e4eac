import { Register } from "./find/register.js";

const filter = document.querySelector(".js-filter");
if (filter) new Register(filter, document.querySelector(".js-bows"));
