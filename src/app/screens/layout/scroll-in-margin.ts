/** Scrolls the open margin, and nothing else, so that the end of a thing can be seen. */
export function showEnd(element: Element | null): void {
  const page = element?.closest('.keypad-middle, .margin-page');
  if (!element || !page) return;
  const below = element.getBoundingClientRect().bottom - page.getBoundingClientRect().bottom;
  const above = element.getBoundingClientRect().top - page.getBoundingClientRect().top;
  if (below > 0) page.scrollTop += below;
  else if (above < 0) page.scrollTop += above;
}
