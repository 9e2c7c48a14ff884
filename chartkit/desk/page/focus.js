// The focus stays where it was when a part of the desk is drawn anew.

/** Draws a part anew.  What had the focus in it has it again, known by its `data-focus`; where that is gone, `instead` has it. */
export function redrawn(part, draw, instead = () => null) {
  const active = document.activeElement, within = active !== part && part.contains(active);
  const name = active?.dataset.focus ?? "";
  draw();
  if (within) (part.querySelector(`[data-focus="${CSS.escape(name)}"]`) ?? instead())?.focus();
}
