// Follows the records: loads the page anew when a newer state is ready, and
// says so when the records hold errors.
const shown = new URL(import.meta.url).search.slice(1); // the state that this page is of
const news = new EventSource("/-preview/changes");

news.addEventListener("message", (event) => {
  if (event.lastEventId !== shown) {
    news.close();
    location.reload();
    return;
  }
  tell(event.data);
});

/** Shows or takes away the strip that says what is wrong. */
function tell(trouble) {
  document.querySelector(".js-preview-trouble")?.remove();
  if (trouble === "") return;
  const strip = document.createElement("p");
  strip.className = "Notice js-preview-trouble";
  strip.setAttribute("role", "status");
  const link = document.createElement("a");
  link.href = "/-preview/findings";
  link.textContent = trouble;
  strip.append(link);
  document.body.prepend(strip);
}
