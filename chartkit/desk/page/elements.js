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

/** Draws a part anew.  What had the focus in it has it again, known by its `data-focus`; where that is gone, `instead` has it. */
export function redrawn(part, draw, instead = () => null) {
  const active = document.activeElement, within = active !== part && part.contains(active);
  const name = active?.dataset.focus ?? "";
  draw();
  if (within) (part.querySelector(`[data-focus="${CSS.escape(name)}"]`) ?? instead())?.focus();
}

/** Calls `work` when Enter ends what is typed into a field. */
export function whenEntered(field, work) {
  field.addEventListener("keydown", (event) => {
    if (event.key !== "Enter") return;
    event.preventDefault();
    work();
  });
}

/** Calls `work` when something was typed into a field and finished, or chosen from its list of words. */
export function whenGiven(field, work) {
  field.addEventListener("change", work);
  // A word chosen from the list comes as one input that no key made.
  field.addEventListener("input", (event) => {
    if (event.inputType === undefined || event.inputType === "insertReplacementText") work();
  });
}
