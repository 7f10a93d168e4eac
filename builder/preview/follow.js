// Follows the records: loads the page anew when a newer state is ready, and
// says so when the records hold errors.
const news = new EventSource("/-preview/changes");
let seen = null;

news.addEventListener("message", (event) => {
  const number = event.lastEventId;
  if (seen !== null && seen !== number) {
    location.reload();
    return;
  }
  seen = number;
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
