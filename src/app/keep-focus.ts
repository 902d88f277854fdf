/** What the keyboard can be taken to. */
const FOCUSABLE = 'a[href], button, input, select, textarea, summary, [tabindex="0"]';
/** Within these the next place is looked for first. */
const NEAR = 'form, section, article, details, dialog';
/** Where the keyboard is looked after: the margin and what opens over the page. */
const LOOKED_AFTER = '.margin, dialog';
/** A button that is disabled while it works is waited for so long; a choice. */
const WORK_MS = 300;

interface Trail {
  readonly at: HTMLElement;
  /** From the element outwards: in which parent it stood, and as which of its children. */
  readonly stood: readonly { readonly parent: Element; readonly index: number }[];
}

/**
 * Keeps the keyboard in its place: when what it was at goes off the page, is hidden or disabled, it goes to what follows
 * there, and not to the top of the page. A screen that takes the keyboard somewhere by itself is not overruled, and after a
 * tap nothing is focused: on a phone that would bring up the keys.
 *
 * An element with `data-focus-home` takes the keyboard for everything in it.
 */
export function keepFocus(page: Document): () => void {
  let byKeys = false;
  let trail: Trail | null = null;
  let asked: ReturnType<typeof setTimeout> | undefined;

  const onPointer = () => {
    byKeys = false;
  };
  const onKey = () => {
    byKeys = true;
  };
  const onFocus = ({ target }: FocusEvent) => {
    trail = target instanceof HTMLElement && target.closest(LOOKED_AFTER) ? trailOf(target) : null;
  };
  const isLost = () => byKeys && trail !== null && page.activeElement === page.body;
  const look = () => {
    asked = undefined;
    if (!trail || !isLost()) return;
    if (isUsable(trail.at)) trail.at.focus();
    else nextTo(trail)?.focus();
  };
  // After the screens have had their own say; what is only disabled may come back in a moment.
  const observer = new MutationObserver(() => {
    if (isLost()) asked ??= setTimeout(look, trail?.at.isConnected ? WORK_MS : 0);
  });

  page.addEventListener('pointerdown', onPointer, true);
  page.addEventListener('keydown', onKey, true);
  page.addEventListener('focusin', onFocus);
  observer.observe(page.body, { subtree: true, childList: true, attributeFilter: ['disabled', 'hidden', 'open'] });
  return () => {
    observer.disconnect();
    clearTimeout(asked);
    page.removeEventListener('pointerdown', onPointer, true);
    page.removeEventListener('keydown', onKey, true);
    page.removeEventListener('focusin', onFocus);
  };
}

function trailOf(at: HTMLElement): Trail {
  const stood: { parent: Element; index: number }[] = [];
  for (let each: Element = at; each.parentElement; each = each.parentElement) {
    const parent = each.parentElement;
    stood.push({ parent, index: [...parent.children].indexOf(each) });
  }
  return { at, stood };
}

const isUsable = (element: HTMLElement): boolean =>
  element.isConnected && !element.matches(':disabled') && element.checkVisibility({ visibilityProperty: true });

/** What follows the place where the keyboard was: near it, else what stands before it there, else farther out. */
function nextTo({ at, stood }: Trail): HTMLElement | null {
  const left = stood.find(({ parent }) => parent.isConnected);
  if (!left) return null;
  // What took its place counts as following it.
  const mark = at.isConnected ? at : left.parent.children[left.index];
  const follows = (element: Element): boolean =>
    mark
      ? mark.contains(element) || (mark.compareDocumentPosition(element) & Node.DOCUMENT_POSITION_FOLLOWING) !== 0
      : (left.parent.compareDocumentPosition(element) & Node.DOCUMENT_POSITION_CONTAINED_BY) === 0 &&
        (left.parent.compareDocumentPosition(element) & Node.DOCUMENT_POSITION_FOLLOWING) !== 0;

  for (let scope: Element | null = left.parent; scope; scope = outside(scope)) {
    const usable = [...scope.querySelectorAll<HTMLElement>(FOCUSABLE)].filter(isUsable);
    const found = usable.find(follows) ?? (scope.matches('form') ? undefined : usable.at(-1));
    if (found) return found.closest<HTMLElement>('[data-focus-home]') ?? chosenOf(found, usable);
    if (scope.matches(LOOKED_AFTER)) return null;
  }
  return null;
}

const outside = (scope: Element): Element | null => scope.parentElement?.closest(`${NEAR}, ${LOOKED_AFTER}`) ?? null;

/** Of a group of choices the keyboard is at the one that is chosen. */
function chosenOf(found: HTMLElement, usable: readonly HTMLElement[]): HTMLElement {
  if (!(found instanceof HTMLInputElement) || found.type !== 'radio') return found;
  const chosen = usable.find(
    (each) => each instanceof HTMLInputElement && each.type === 'radio' && each.name === found.name && each.checked,
  );
  return chosen ?? found;
}
