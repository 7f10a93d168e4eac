// Where a page that its script fills was scrolled to. Browsers restore that
// before the script has shown anything, so the page keeps it in its entry of the
// browser's history and goes there once it stands.

/** How long, in milliseconds, scrolling must rest before the place is kept. */
const REST = 120;

/** Keeps the place as one scrolls, in the entry that is shown then. */
export function keepPlace() {
  history.scrollRestoration = "manual";
  let timer;
  const keep = () => history.replaceState({ ...history.state, y: Math.round(scrollY) }, "");
  window.addEventListener("scroll", () => {
    clearTimeout(timer);
    timer = setTimeout(keep, REST);
  }, { passive: true });
  window.addEventListener("pagehide", keep);
}

/** The place of the entry that is shown now, or null where nobody has scrolled in it. */
export const keptPlace = () => history.state?.y ?? null;

/** Goes back to a place. */
export function goTo(y) {
  if (y !== null) scrollTo({ top: y, behavior: "instant" });
}
