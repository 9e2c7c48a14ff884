// Fields with a list of words: what is chosen counts at once, what is typed when it is finished.

/** Calls `work` when something was typed into a field and finished, or chosen from its list. */
export function whenGiven(field, work) {
  field.addEventListener("change", work);
  // A word chosen from the list comes as one input that no key made.
  field.addEventListener("input", (event) => {
    if (event.inputType === undefined || event.inputType === "insertReplacementText") work();
  });
}
