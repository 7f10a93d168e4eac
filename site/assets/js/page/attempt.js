import { el } from "./dom.js";
import { isOutdated, takeNewest } from "./edition.js";
import { Missing } from "./load.js";

/** How long, in milliseconds, a load may take before the page says that it is going on. */
const PAUSE = 500;

/** The one place of a page where loads are waited for, and their failures said, with a button that tries again. */
export class Attempt {
  /**
   * @param {HTMLElement} element  the words stand before it
   * @param {string} kept  what is not lost by a failure, as a sentence
   */
  constructor(element, kept) {
    this.kept = kept;
    this.said = el("div", { class: "caution attempt no-print", role: "alert", hidden: true });
    this.latest = 0;
    this.address = null; // gives the address at which a page loaded anew holds what the visitor said last
    element.before(this.said);
  }

  /**
   * Does what may need a load. Only the latest call speaks on the page: an
   * earlier one has been overtaken.
   * @param {(overtaken: () => boolean) => Promise<void>} act  does nothing more once it is overtaken
   */
  async make(act) {
    const number = ++this.latest;
    const overtaken = () => number !== this.latest;
    const slow = setTimeout(() => { if (!overtaken()) this.say(el("p", {}, "Fetching what this needs …")); }, PAUSE);
    try {
      await act(overtaken);
      if (!overtaken()) this.say();
    } catch (e) {
      if (!(e instanceof Missing)) reportError(e);
      const gone = e instanceof Missing && await isOutdated();
      if (!overtaken()) {
        if (gone) this.renew();
        else this.fail(e, act);
      }
    } finally {
      clearTimeout(slow);
    }
  }

  fail(e, act) {
    const words = e instanceof Missing
      ? [el("strong", {}, "A file did not arrive."), ` The connection may be gone, or the register was published anew: then load the page again. ${this.kept}`]
      : [el("strong", {}, "Something went wrong on this page."), ` If it does so again, load the page anew. ${this.kept}`];
    this.say(el("p", {}, words), el("p", {}, el("button", { type: "button", class: "button", on: { click: () => this.make(act) } }, "Try again")));
  }

  /** Says that the register was published anew, and loads the page anew where the visitor says so. */
  renew() {
    const load = async () => {
      try {
        await takeNewest();
        if (this.address) history.replaceState(null, "", this.address());
        location.reload();
      } catch {
        this.say(el("p", {}, `The newer edition could not be fetched. ${this.kept}`), again());
      }
    };
    const again = () => el("p", {}, el("button", { type: "button", class: "button", on: { click: load } }, "Load the newer edition"));
    this.say(el("p", {}, el("strong", {}, "A newer edition is here."), ` The register was published anew while this page was open, and a file of the older edition is gone. ${this.kept}`), again());
  }

  say(...parts) {
    this.said.replaceChildren(...parts);
    this.said.hidden = parts.length === 0;
  }
}
