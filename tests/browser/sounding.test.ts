import type { BrowserContextOptions, Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { demoContent } from '../app/demo-content';
import { DESK, PHONE } from './open-page';
import { setStage } from './stage';

const { findings } = demoContent();

function keyOf(lineName: string, chainageM: number, spacingM: number): string {
  const found = findings.lines
    .find(({ name }) => name === lineName)
    ?.midpoints.find((one) => Math.abs(one.chainageM - chainageM) < 0.01 && one.spacingM === spacingM);
  if (!found) throw new Error(`the demo has no reading at ${lineName} ${chainageM} m, ${spacingM} m`);
  return found.key;
}

const stage = setStage();

async function select(page: Page, sid: string): Promise<void> {
  await page.evaluate((key) => {
    const store = window.hollowline?.store as unknown as { dispatch(action: object): void };
    store.dispatch({ type: 'select', selection: { kind: 'midpoint', sid: key } });
  }, sid);
  await page.getByRole('article').waitFor();
}

async function opened(sid: string, options: BrowserContextOptions = DESK): Promise<Page> {
  const page = await stage.open(options);
  await select(page, sid);
  return page;
}

const section = (page: Page) => page.getByRole('region', { name: 'What this ladder can say' });

describe('what a ladder can say, on the card of a reading', () => {
  it('is worked out when asked for: contact, layers and void in words with figures', async () => {
    const page = await opened(keyOf('A', 19, 2));
    await section(page).getByRole('button', { name: 'Work it out' }).click();
    const answer = section(page).getByRole('status');
    await answer.waitFor();
    const text = (await answer.textContent()) ?? '';
    expect(text).toContain('contact');
    expect(text).toMatch(/Layer 1: [\d.]+ Ω·m/);
    expect(text).toMatch(/void/);
    expect(text).toContain('Assumptions');
    expect(await section(page).getByRole('button', { name: 'Work it out' }).count()).toBe(0);
  });

  it('calls a two-probe ladder mostly contact, and gives it no resistivity and no cave', async () => {
    const page = await opened(keyOf('T', 18, 5), PHONE);
    await section(page).getByRole('button', { name: 'Work it out' }).tap();
    const answer = section(page).getByRole('status');
    await answer.waitFor();
    const text = (await answer.textContent()) ?? '';
    expect(text).toContain('Mostly contact.');
    expect(text).not.toContain('If it is a void');
    expect(text).not.toMatch(/\d Ω·m/);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(390);
  });

  it('is asked anew for another ladder', async () => {
    const page = await opened(keyOf('A', 19, 2));
    await section(page).getByRole('button', { name: 'Work it out' }).click();
    await section(page).getByRole('status').waitFor();
    await section(page)
      .getByRole('group', { name: /^The ground under line/ })
      .waitFor();
    await select(page, keyOf('D', 19, 2));
    await section(page).getByRole('button', { name: 'Work it out' }).waitFor();
    expect(await section(page).getByRole('status').count()).toBe(0);
  });

  it('can be cancelled: the worker ends and the question stands as before', async () => {
    const page = await stage.open(DESK);
    // A worker that never answers: what is tested is that a person gets away from it.
    await page.evaluate(() => {
      const ended: string[] = [];
      Object.assign(window, { endedWorkers: ended });
      const Real = window.Worker;
      window.Worker = class extends Real {
        readonly #named: string;
        constructor(url: string | URL, options?: WorkerOptions) {
          super(url, options);
          this.#named = options?.name ?? '';
        }
        override postMessage(message: unknown, transferred?: StructuredSerializeOptions | Transferable[]): void {
          if (this.#named !== 'studies') super.postMessage(message, transferred as Transferable[]);
        }
        override terminate(): void {
          ended.push(this.#named);
          super.terminate();
        }
      };
    });
    await select(page, keyOf('A', 19, 2));
    await section(page).getByRole('button', { name: 'Work it out' }).click();
    await section(page).getByRole('progressbar', { name: 'Working it out' }).waitFor();
    await section(page).getByRole('button', { name: 'Cancel' }).click();
    await section(page).getByRole('button', { name: 'Work it out' }).waitFor();
    expect(await page.evaluate(() => (window as unknown as { endedWorkers: string[] }).endedWorkers)).toEqual([
      'studies',
    ]);
  });
});
