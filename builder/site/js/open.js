// Opens what an address leads to: the proof of a claim, and whatever folded
// part of the page holds the place.
const open = () => {
  const place = document.getElementById(decodeURIComponent(location.hash.slice(1)));
  const proof = place?.querySelector(":scope > .proof");
  if (proof) proof.open = true;
  let shut = false;
  for (let part = place?.closest("details"); part; part = part.parentElement?.closest("details")) {
    shut ||= !part.open;
    part.open = true;
  }
  if (shut) place.scrollIntoView();
};
window.addEventListener("hashchange", open);
open();
