/**
 * The text of a figure as an element of this page. Its marks become buttons: one of them (the open one, else the
 * first) is in the order of the Tab key, the others are reached with the arrow keys.
 * Read as XML and adopted, never as markup of the page, so that a name can be nothing but text.
 */
export function figureElement(svg: string, selectedSid: string | null): SVGElement {
  const read = new DOMParser().parseFromString(svg, 'image/svg+xml');
  if (read.querySelector('parsererror')) throw new Error('A drawing is broken and cannot be shown.');
  const figure = document.importNode(read.documentElement, true) as unknown as SVGElement;
  // An image has no buttons in it; a group has.
  figure.setAttribute('role', 'group');
  figure.setAttribute('aria-label', figure.querySelector('title')?.textContent ?? '');
  // The page gives it its width.
  figure.removeAttribute('width');
  figure.removeAttribute('height');
  const marks = marksOf(figure);
  const open = marks.find((mark) => mark.dataset.sid === selectedSid) ?? marks[0];
  for (const mark of marks) {
    mark.setAttribute('role', 'button');
    mark.setAttribute('aria-label', mark.querySelector('title')?.textContent ?? '');
    mark.setAttribute('tabindex', mark === open ? '0' : '-1');
    if (mark.dataset.sid === selectedSid) mark.setAttribute('aria-current', 'true');
  }
  return figure;
}

/** The marks of a figure in the order in which they stand, from left to right. */
export function marksOf(figure: Element): SVGElement[] {
  const leftOf = (mark: SVGElement): number => Number(mark.querySelector('rect')?.getAttribute('x') ?? 0);
  return [...figure.querySelectorAll<SVGElement>('[data-sid]')].sort((p, q) => leftOf(p) - leftOf(q));
}
