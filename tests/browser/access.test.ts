import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { DESK, PHONE } from './open-page';
import { setStage } from './stage';

const stage = setStage();

/** The margins, each with something that is there once it is open. */
const MARGINS = [
  ['Lay out', '.lay-line'],
  ['Record', '[role=gridcell]'],
  ['Read', '#legend-head'],
  ['Karst', '.karst-part'],
  ['Hand over', '.share-form'],
] as const;
const PATIENCE_MS = 20_000;

const button = (page: Page, name: string | RegExp) => page.getByRole('button', { name, exact: true }).first();

/** By the keyboard alone. */
async function press(page: Page, name: string | RegExp): Promise<void> {
  await button(page, name).focus();
  await page.keyboard.press('Enter');
}

async function openMargin(page: Page, [name, sign]: (typeof MARGINS)[number]): Promise<void> {
  if ((await button(page, name).getAttribute('aria-current')) !== 'page') await press(page, name);
  await page.locator(sign).first().waitFor();
}

/** What the keyboard is at: the words of a control, or nothing. */
const at = (page: Page) =>
  page.evaluate(() => {
    const element = document.activeElement;
    if (!element || element === document.body) return '';
    const label = (element as HTMLInputElement).labels?.[0];
    return (element.getAttribute('aria-label') ?? label?.textContent ?? element.textContent ?? '').trim();
  });

interface Walk {
  readonly seen: Set<Element>;
  readonly noRing: string[];
  isRound: boolean;
}
type Walking = { readonly walk: Walk };

/** Tabs through the page once: which controls it does not come to, and which do not show that it is at them. */
async function tabThrough(page: Page) {
  await page.evaluate(() => {
    const walk: Walk = { seen: new Set(), noRing: [], isRound: false };
    const isRinged = (element: Element | null) => {
      const { outlineStyle, outlineWidth } = element
        ? getComputedStyle(element)
        : { outlineStyle: '', outlineWidth: '' };
      return element !== null && outlineStyle !== 'none' && Number.parseFloat(outlineWidth) >= 2;
    };
    // The browser goes on from where the keyboard was last.
    const start = document.querySelector<HTMLElement>('.wordmark');
    if (!start) throw new Error('the bar has no first word');
    start.tabIndex = -1;
    start.focus();
    start.removeAttribute('tabindex');
    document.addEventListener('focusin', ({ target }) => {
      const element = target as HTMLElement;
      if (walk.seen.has(element)) walk.isRound = true;
      walk.seen.add(element);
      // The ring of a chip is round its words.
      if (![element, element.nextElementSibling, element.closest('label')].some(isRinged))
        walk.noRing.push(element.outerHTML.slice(0, 120));
    });
    Object.assign(window, { walk });
  });
  for (let tabs = 0; tabs < 300; tabs += 10) {
    for (let i = 0; i < 10; i++) await page.keyboard.press('Tab');
    if (await page.evaluate(() => (window as unknown as Walking).walk.isRound)) break;
  }
  return page.evaluate(() => {
    const { seen, noRing } = (window as unknown as Walking).walk;
    const all = document.querySelectorAll<HTMLInputElement>(
      'button, input, select, textarea, summary, a[href], [tabindex="0"]',
    );
    const controls = [...all].filter(
      (each) => each.tabIndex >= 0 && !each.disabled && each.checkVisibility({ visibilityProperty: true }),
    );
    // Of a group of radio buttons the keyboard comes to one; the arrows go to the others.
    const groups = new Set([...seen].map((each) => each.getAttribute('name')));
    const missed = controls.filter((each) => !seen.has(each) && !(each.type === 'radio' && groups.has(each.name)));
    return { count: controls.length, missed: missed.map(({ outerHTML }) => outerHTML.slice(0, 120)), noRing };
  });
}

const AXE = await readFile(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

/** Lays the margin open, since axe judges no colour of what has to be scrolled to; or puts it back. */
const layOpen = (page: Page, overflow: 'visible' | '') =>
  page.evaluate((how) => {
    for (const each of document.querySelectorAll<HTMLElement>('body, .margin-page, .reading-grid'))
      each.style.overflow = how;
  }, overflow);

/** What axe finds in a theme; everything but the contrast is the same in all of them, and is asked once. */
function faults(page: Page, theme: 'light' | 'dark' | 'sunlight'): Promise<string[]> {
  return page.evaluate(async (look) => {
    const store = window.hollowline?.store as unknown as { dispatch(action: unknown): void };
    store.dispatch({ type: 'theme', theme: look });
    interface Found {
      readonly violations: readonly { readonly id: string; readonly nodes: readonly { readonly html: string }[] }[];
    }
    const { axe } = window as unknown as { axe: { run(on: Document, options: object): Promise<Found> } };
    const rules = look === 'light' ? {} : { runOnly: { type: 'rule', values: ['color-contrast'] } };
    const { violations } = await axe.run(document, { ...rules, resultTypes: ['violations'] });
    return violations.map(({ id, nodes }) => `${look} ${id}: ${nodes[0]?.html.slice(0, 120)}`);
  }, theme);
}

/** Controls too small for a thumb, and whether the page is wider than the screen. */
const tooSmall = (page: Page) =>
  page.evaluate(() => {
    const controls = [
      ...document.querySelectorAll<HTMLInputElement>('button, input, select, textarea, summary, a[href]'),
    ];
    const seen = controls.filter((each) => each.checkVisibility({ visibilityProperty: true }));
    const small = seen.filter((each) => {
      const touched = /^(radio|checkbox|file)$/.test(each.type) ? (each.labels?.[0] ?? each) : each;
      const { width, height } = touched.getBoundingClientRect();
      return width < 43.5 || height < 43.5;
    });
    return {
      count: seen.length,
      small: small.map(({ outerHTML }) => outerHTML.slice(0, 120)),
      beyondPx: document.documentElement.scrollWidth - innerWidth,
    };
  });

describe('by the keyboard alone', { timeout: 4 * PATIENCE_MS }, () => {
  it('every control of every margin is come to, named and legible in three themes', async () => {
    const page = await stage.open(DESK);
    page.setDefaultTimeout(PATIENCE_MS);
    await page.evaluate(AXE);
    for (const margin of MARGINS) {
      await openMargin(page, margin);
      const { count, missed, noRing } = await tabThrough(page);
      expect([margin[0], missed, noRing]).toEqual([margin[0], [], []]);
      expect(count).toBeGreaterThan(15);
      await layOpen(page, 'visible');
      for (const theme of ['light', 'dark', 'sunlight'] as const)
        expect([margin[0], await faults(page, theme)]).toEqual([margin[0], []]);
      await layOpen(page, '');
    }

    // The checks are shown to be able to fail.
    await page.evaluate(() => {
      const bad = document.createElement('div');
      bad.innerHTML = '<button></button><p>pale</p><input inert>';
      const [nameless, pale] = bad.children as unknown as [HTMLElement, HTMLElement];
      nameless.style.outline = 'none';
      Object.assign(pale.style, { color: '#aaa', background: '#bbb' });
      document.querySelector('.share-form')?.after(bad);
    });
    const planted = await tabThrough(page);
    expect([planted.missed.length, planted.noRing.length]).toEqual([1, 1]);
    await layOpen(page, 'visible');
    const ids = [...(await faults(page, 'light')), ...(await faults(page, 'sunlight'))].map(
      (found) => found.split(':')[0],
    );
    expect(ids).toEqual(
      expect.arrayContaining(['light button-name', 'light color-contrast', 'sunlight color-contrast']),
    );
  });

  it('the keyboard keeps its place when what it was at goes away', async () => {
    const page = await stage.open(DESK);
    page.setDefaultTimeout(PATIENCE_MS);
    /** Presses what the keyboard may be at already, and waits for where it goes. */
    const leads = async (name: string | RegExp, to: string | RegExp) => {
      await press(page, name);
      await expect.poll(() => at(page), { timeout: PATIENCE_MS }).toMatch(to);
    };
    await openMargin(page, MARGINS[0]);
    await leads('New line', /^Name$/);
    await page.keyboard.type('North');
    await page.getByLabel('To, m').fill('30');
    await leads('Begin the line', /^Line North$/);
    await leads('All lines', /^New line$/);
    await leads(/^Undo: Add line North/, /^Redo/);
    await leads('Draw a line on the map', /^Draw a line$/);
    await leads('Cancel', /^New line$/);

    await openMargin(page, MARGINS[2]);
    const row = page.locator('.row-button:visible').first();
    const words = await row.textContent();
    await row.focus();
    await page.keyboard.press('Enter');
    await button(page, 'Back').waitFor();
    expect(await page.evaluate(() => document.activeElement?.tagName)).toBe('H2');
    await leads('Back', words?.slice(0, 6) ?? '');

    await openMargin(page, MARGINS[1]);
    await page.locator('[role=gridcell][tabindex="0"]').focus();
    await page.keyboard.press('ArrowDown');
    await leads('Reject…', /^Why is the reading rejected/);
    await page.keyboard.press('Escape');
    await expect.poll(() => at(page)).toMatch(/^Reject…$/);

    await openMargin(page, MARGINS[3]);
    await page.locator('.karst-part summary').last().focus();
    await page.keyboard.press('Enter');
    await leads('Add a class', /^Name of the class$/);
    await leads('Cancel', /^Add a class$/);

    await openMargin(page, MARGINS[4]);
    await leads('Make the pack', /^Cancel$/);
    await leads('Cancel', /^Make the pack$/);

    // After a tap the keyboard is left alone: a phone would bring up its keys.
    await openMargin(page, MARGINS[3]);
    await page.locator('.karst-part summary').last().click();
    await button(page, 'Add a class').click();
    await page.getByRole('textbox', { name: 'Name of the class' }).waitFor();
    expect(await at(page)).toBe('');
  });
});

describe('on a small screen, or enlarged twofold', { timeout: 4 * PATIENCE_MS }, () => {
  it('every control is wide enough for a thumb, nothing lies beyond the edge, and nothing is covered', async () => {
    const page = await stage.open(PHONE);
    page.setDefaultTimeout(PATIENCE_MS);
    for (const margin of MARGINS) {
      await openMargin(page, margin);
      const { count, small, beyondPx } = await tooSmall(page);
      expect([margin[0], small, beyondPx]).toEqual([margin[0], [], 0]);
      expect(count).toBeGreaterThan(15);
    }
    const cutPx = await page.locator('.bar-names').evaluate((names) => names.scrollWidth - names.clientWidth);
    expect(cutPx).toBe(0);
    // 1440 × 900 at 200 %.
    await page.setViewportSize({ width: 720, height: 450 });
    for (const margin of MARGINS) {
      await openMargin(page, margin);
      const covered = await page.evaluate(() => {
        const controls = [...document.querySelectorAll('.map-tools :is(button, select), .bar button')];
        return controls
          .filter((each) => each.checkVisibility({ visibilityProperty: true }))
          .filter((each) => {
            const { left, right, top, bottom } = each.getBoundingClientRect();
            const seen = document.elementFromPoint((left + right) / 2, (top + bottom) / 2);
            return seen === null || !each.contains(seen) || bottom > innerHeight || right > innerWidth;
          })
          .map(({ outerHTML }) => outerHTML.slice(0, 120));
      });
      expect([margin[0], covered]).toEqual([margin[0], []]);
      expect((await tooSmall(page)).beyondPx).toBe(0);
    }
    await page.evaluate(() => {
      const narrow = document.createElement('button');
      narrow.style.width = '20px';
      document.querySelector('.share-form')?.append(narrow);
    });
    expect((await tooSmall(page)).small).toHaveLength(1);
  });
});
