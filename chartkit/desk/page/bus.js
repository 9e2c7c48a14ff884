// Panes know nothing of each other: they tell what happened, and hear what they need.

const bus = new EventTarget();

/** Tells every pane that listens. @param {string} name @param {any} detail */
export function tell(name, detail = undefined) {
  bus.dispatchEvent(new CustomEvent(name, { detail }));
}

/** Calls back whenever one of the names (apart by spaces) is told. */
export function hear(names, callback) {
  for (const name of names.split(" ")) bus.addEventListener(name, (event) => callback(event.detail));
}
