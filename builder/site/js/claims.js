// Opens the proof of the claim that an address leads to.
const open = () => {
  const claim = document.getElementById(decodeURIComponent(location.hash.slice(1)));
  const proof = claim?.querySelector(".proof");
  if (proof) proof.open = true;
};
window.addEventListener("hashchange", open);
open();
