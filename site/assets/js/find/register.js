/** Holds the register of examined bows to one model, to bows with papers, or to those at odds. */
export class Register {
  /** @param {HTMLElement} filter  @param {HTMLElement} list whose items tell of themselves in their data */
  constructor(filter, list) {
    const part = (name) => filter.querySelector(`.js-filter-${name}`);
    [this.model, this.papers, this.odd, this.said] = ["model", "papers", "odd", "said"].map(part);
    this.items = [...list.children];
    for (const input of [this.model, this.papers, this.odd]) input.addEventListener("change", () => this.hold());
    filter.hidden = false;
    this.hold();
  }

  hold() {
    let shown = 0;
    for (const item of this.items) {
      const { model, papers, odd } = item.dataset;
      const fits = (this.model.value === "" || (this.model.value === "-" ? model === "" : model === this.model.value)) &&
        (!this.papers.checked || papers !== "") && (!this.odd.checked || odd !== undefined);
      item.hidden = !fits;
      if (fits) shown++;
    }
    this.said.textContent = shown === this.items.length ? `${shown} bows.` : `${shown} of ${this.items.length} bows.`;
  }
}
