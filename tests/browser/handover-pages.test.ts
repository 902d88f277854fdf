import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Browser, BrowserContextOptions, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { AUDIENCES } from '../../src/discretion/audience';
import { plannerPage } from '../../src/handover/planner-page';
import { report } from '../../src/handover/report';
import { madeShare, TERMS } from '../handover/made-site';
import { startBrowser } from './browser';
import { DESK, PHONE } from './open-page';

/*
 * The files that a planner gets, opened from disk as by a double click, with no network to be had.
 */

const HOSTILE =
  '<img src=x onerror=alert(1)> </script><script>alert(1)</script> "><svg onload=alert(1)> \u202egpj.exe 🕳️ \u0000 ' +
  'x'.repeat(10_000);

let browser: Browser;
let folder: string;
const address = (name: string): string => pathToFileURL(join(folder, name)).href;

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'handover-'));
  for (const audience of AUDIENCES) {
    const share = madeShare(audience);
    writeFileSync(join(folder, `page-${audience}.html`), plannerPage(share, TERMS));
    writeFileSync(join(folder, `report-${audience}.html`), report(share, TERMS));
  }
  const hostile = madeShare('keeper', { names: HOSTILE });
  const terms = { ...TERMS, contact: HOSTILE, licence: HOSTILE, title: HOSTILE };
  writeFileSync(join(folder, 'page-hostile.html'), plannerPage(hostile, terms));
  writeFileSync(join(folder, 'report-hostile.html'), report(hostile, terms));
  browser = await startBrowser();
});
afterAll(async () => {
  await browser?.close();
  rmSync(folder, { recursive: true, force: true });
});

interface Opened {
  readonly page: Page;
  readonly complaints: string[];
}

/** A page of a context that gets files and nothing else. */
async function opened(options: BrowserContextOptions): Promise<Opened> {
  const context = await browser.newContext(options);
  const complaints: string[] = [];
  await context.route('**', (route) => {
    if (route.request().url().startsWith('file:')) return route.continue();
    complaints.push(`request going out: ${route.request().url()}`);
    return route.abort();
  });
  const page = await context.newPage();
  page.on('console', (message) => complaints.push(`console ${message.type()}: ${message.text()}`));
  page.on('pageerror', (error) => complaints.push(`exception: ${error.message}`));
  page.on('dialog', (dialog) => {
    complaints.push(`dialog: ${dialog.message()}`);
    void dialog.dismiss();
  });
  return { page, complaints };
}

const wordsInView = (page: Page): Promise<number> =>
  page.evaluate(() => {
    const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    let count = 0;
    for (let node = walker.nextNode(); node; node = walker.nextNode()) {
      const parent = node.parentElement;
      if (!parent || parent.closest('script, title, desc, [hidden]')) continue;
      const range = document.createRange();
      range.selectNodeContents(node);
      const box = range.getBoundingClientRect();
      const isSeen = box.width > 0 && box.bottom > 0 && box.top < innerHeight && box.right > 0 && box.left < innerWidth;
      if (isSeen) count += (node.textContent ?? '').split(/\s+/).filter((word) => /[\p{L}\p{N}]/u.test(word)).length;
    }
    return count;
  });

const AXE = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

/** Everything that axe has to say against a page. */
async function faults(page: Page): Promise<string[]> {
  await page.evaluate(() => {
    for (const each of document.querySelectorAll('details')) each.open = true;
  });
  await page.evaluate(AXE);
  return page.evaluate(async () => {
    const { axe } = window as unknown as {
      axe: { run(): Promise<{ violations: { id: string; nodes: { html: string }[] }[] }> };
    };
    const { violations } = await axe.run();
    return violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html.slice(0, 120)).join(' | ')}`);
  });
}

describe('the planner’s page, opened from disk', () => {
  it('fits a screen of at most 150 words that answers all questions, at a desk and on a phone', async () => {
    for (const [name, options] of [
      ['desk', DESK],
      ['phone', PHONE],
    ] as const) {
      const { page, complaints } = await opened(options);
      await page.goto(address('page-planner.html'));
      const words = await wordsInView(page);
      expect(words, name).toBeLessThanOrEqual(150);
      expect(words, name).toBeGreaterThan(40);
      for (const key of ['what', 'where', 'smallest', 'found', 'unknown', 'whom']) {
        const box = await page.locator(`[data-answer=${key}]`).boundingBox();
        expect((box?.y ?? 9999) + (box?.height ?? 0), `${name} ${key}`).toBeLessThanOrEqual(
          options.viewport?.height ?? 0,
        );
      }
      expect(await page.evaluate(() => document.documentElement.scrollWidth <= innerWidth)).toBe(true);
      if (name === 'phone') expect(await faults(page)).toEqual([]);
      expect(complaints).toEqual([]);
      await page.context().close();
    }
  });

  it('tells meanings, measures, searches, and hatches what is not surveyed', async () => {
    const { page, complaints } = await opened(DESK);
    await page.goto(address('page-planner.html'));
    const meaning = page.locator('#meaning');

    await page.getByRole('button', { name: 'Show on the map: Zone 3' }).click();
    await expect.poll(() => meaning.textContent()).toContain('Zone 3, line B');
    await page.keyboard.press('Escape');
    expect(await meaning.textContent()).toBe('');
    // The zone lies in the middle now: the cross is over it.
    await page.keyboard.press('Enter');
    expect(await meaning.textContent()).toContain('Zone 3, line B');

    await page.locator('.layer-zones [data-ask]').first().focus();
    await page.keyboard.press('Enter');
    expect(await meaning.textContent()).toContain('Zone 1, line A');

    await page.locator('#whole').click();
    const lines = await page.locator('.layer-lines path').evaluateAll((paths) =>
      paths.map((path) => {
        const shape = path as SVGPathElement;
        const matrix = shape.getScreenCTM();
        const place = (at: number): [number, number] => {
          const { x, y } = shape.getPointAtLength(at).matrixTransform(matrix ?? undefined);
          return [x, y];
        };
        const words = shape.querySelector('title')?.textContent ?? '';
        return { words, from: place(0), to: place(shape.getTotalLength()) };
      }),
    );
    const straight = lines.find(({ words }) => words.startsWith('Line E,'));
    if (!straight) throw new Error('line E is not drawn');
    await page.locator('#measure').click();
    await page.mouse.click(...straight.from);
    await page.mouse.click(...straight.to);
    const said = (await meaning.textContent()) ?? '';
    // Line E was taped 60 m long over sloping ground and is drawn flat.
    expect(Number(/Measured: ([\d.]+) m/.exec(said)?.[1])).toBeGreaterThan(58);
    expect(Number(/Measured: ([\d.]+) m/.exec(said)?.[1])).toBeLessThan(61);
    expect(said).toMatch(/± \d+\.\d m/);
    await page.locator('#measure').click();

    await page.getByRole('searchbox').fill('zone 4');
    expect(await page.locator('article.zone:visible').count()).toBe(1);
    expect(await page.locator('#zone-count').textContent()).toBe('1 of 5');

    const hatch = page.locator('.layer-unsurveyed');
    expect(await hatch.evaluate((layer) => getComputedStyle(layer).display)).not.toBe('none');
    await page.locator('#show-unsurveyed').click();
    expect(await hatch.evaluate((layer) => getComputedStyle(layer).display)).toBe('none');

    const before = await page.locator('.ground').getAttribute('transform');
    await page.locator('#map').focus();
    await page.keyboard.press('+');
    await page.keyboard.press('ArrowRight');
    const byKey = await page.locator('.ground').getAttribute('transform');
    expect(byKey).not.toBe(before);
    await page.mouse.move(900, 400);
    await page.mouse.wheel(0, -200);
    await expect.poll(() => page.locator('.ground').getAttribute('transform')).not.toBe(byKey);
    const byWheel = await page.locator('.ground').getAttribute('transform');
    await page.mouse.down();
    await page.mouse.move(960, 430, { steps: 4 });
    await page.mouse.up();
    expect(await page.locator('.ground').getAttribute('transform')).not.toBe(byWheel);
    expect(complaints).toEqual([]);
    await page.context().close();
  });

  it('says the same without its script, and in the dark', async () => {
    const { page } = await opened({ ...DESK, javaScriptEnabled: false, colorScheme: 'dark' });
    await page.goto(address('page-public.html'));
    expect(await page.locator('article.zone').count()).toBe(5);
    expect(await page.locator('#map svg').boundingBox()).toMatchObject({ width: expect.any(Number) });
    expect(await page.locator('button:visible, .search:visible').count()).toBe(0);
    expect(await page.locator('#unknown + p').textContent()).toContain(
      'Outside the corridors the ground is not surveyed',
    );
    await page.context().close();
  });
});

describe('pages and reports', () => {
  it('open for every audience without a complaint, and pass axe by night', async () => {
    const { page, complaints } = await opened({ ...DESK, colorScheme: 'dark' });
    for (const audience of AUDIENCES) {
      for (const kind of ['page', 'report']) {
        await page.goto(address(`${kind}-${audience}.html`));
        expect(await page.locator('.invented').textContent()).toContain('An invented site');
      }
    }
    expect(await faults(page)).toEqual([]);
    await page.goto(address('page-keeper.html'));
    expect(await faults(page)).toEqual([]);
    expect(complaints).toEqual([]);
    await page.context().close();
  });

  it('keep hostile names inert', async () => {
    const { page, complaints } = await opened(PHONE);
    for (const kind of ['page', 'report']) {
      await page.goto(address(`${kind}-hostile.html`));
      expect(await page.locator('img, script:not(body > script)').count(), kind).toBe(0);
      expect(await page.evaluate(() => document.documentElement.scrollWidth <= innerWidth), kind).toBe(true);
    }
    await page.goto(address('page-hostile.html'));
    await page.locator('.zone .show').first().click();
    expect(await page.locator('#meaning').textContent()).toContain('<img src=x');
    expect(await page.locator('#meaning img').count()).toBe(0);
    expect(complaints).toEqual([]);
    await page.context().close();
  });
});

describe('the report on paper', () => {
  it('prints on A4 and on Letter with the map and its scale on the first page', async () => {
    const { page, complaints } = await opened({ viewport: { width: 665, height: 979 } });
    await page.goto(address('report-planner.html'));
    for (const format of ['A4', 'Letter']) {
      const pdf = (await page.pdf({ format })).toString('latin1');
      expect(pdf.startsWith('%PDF-')).toBe(true);
      const pages = pdf.match(/\/Type\s*\/Page[^s]/g)?.length ?? 0;
      expect(pages, format).toBeGreaterThan(3);
      expect(pages, format).toBeLessThan(16);
    }
    // A4 less its margins is 979 px high, Letter 912.
    await page.emulateMedia({ media: 'print' });
    const box = await page.locator('figure.map > figcaption').boundingBox();
    expect((box?.y ?? 9999) + (box?.height ?? 0)).toBeLessThan(912);
    expect(await page.evaluate(() => document.documentElement.scrollWidth <= innerWidth)).toBe(true);
    expect(complaints).toEqual([]);
    await page.context().close();
  });
});
