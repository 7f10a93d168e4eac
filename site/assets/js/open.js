// Opens what an address leads to: the proof of a claim, and whatever folded
// part of the page holds the place. On a narrow screen long parts begin folded.
// The preview tells by the event "renewed" that newer words took the page's place.

const fold = (shut, parts = ".js-fold") => { for (const part of document.querySelectorAll(parts)) part.open = !shut; };
const begin = () => fold(true, matchMedia("(max-width: 47.99rem)").matches ? ".js-fold" : ".js-behind");
begin();
window.addEventListener("renewed", begin);
window.addEventListener("beforeprint", () => fold(false));

const open = () => {
  const place = document.getElementById(decodeURIComponent(location.hash.slice(1)));
  if (!place) return;
  const proof = place.querySelector(":scope > .proof");
  if (proof) proof.open = true;
  let shut = false;
  for (let part = place.closest("details"); part; part = part.parentElement?.closest("details")) {
    shut ||= !part.open;
    part.open = true;
  }
  if (shut) place.scrollIntoView();
};
window.addEventListener("hashchange", open);
open();
