// What panes are made of.

/** A new element with a class and a text. */
export function element(name, kind = "", text = "") {
  return made(name, { ...(kind && { className: kind }), ...(text && { textContent: text }) });
}

/** A new element with properties as the browser names them, `focus` its name for `redrawn`, and what stands in it. */
export function made(name, { focus, ...values } = {}, ...parts) {
  const one = Object.assign(document.createElement(name), values);
  if (focus) one.dataset.focus = focus;
  one.append(...parts);
  return one;
}

/** A button that does something. */
export function act(words, work, kind = "act", values = {}) {
  const button = made("button", { type: "button", className: kind, textContent: words, ...values });
  button.addEventListener("click", work);
  return button;
}

/** A word and its controls. */
export function labelled(words, ...controls) { return made("label", {}, words, ...controls); }

/** A choice among words, with words for none, each as `shown` says it. */
export function choice(label, focus, words, now, chosen, none = "–", shown = (one) => one) {
  const select = made("select", { ariaLabel: label, focus }, ...words.map((one) => made("option", { value: one }, one ? shown(one) : none)));
  select.value = now;
  select.addEventListener("change", () => chosen(select.value));
  return select;
}

/** The element of markup that the server made: every word in it is escaped. */
export function parsed(markup) {
  const holder = document.createElement("template");
  holder.innerHTML = markup;
  return holder.content.firstElementChild;
}

/** A new element of a drawing. */
export function stroke(name, kind, values) {
  const one = document.createElementNS("http://www.w3.org/2000/svg", name);
  for (const [key, value] of Object.entries({ class: kind, ...values })) one.setAttribute(key, value);
  return one;
}
