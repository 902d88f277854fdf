import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import type { BrowserContextOptions, Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import type { Served } from '../../src/cli/serve';
import { DEMO_FILE, demoContent } from '../app/demo-content';
import { readXml } from '../figures/read-xml';
import { DESK, PHONE } from './open-page';
import { setStage } from './stage';

const HOSTILE = '<img src=x onerror="document.title=1"> & C';
const { findings } = demoContent();

/** The midpoint key of a reading of the demo. */
function keyOf(lineName: string, chainageM: number, spacingM: number): string {
  const line = findings.lines.find(({ name }) => name === lineName);
  const found = line?.midpoints.find(
    (finding) => Math.abs(finding.chainageM - chainageM) < 0.01 && finding.spacingM === spacingM,
  );
  if (!found) throw new Error(`the demo has no reading at ${lineName} ${chainageM} m, ${spacingM} m`);
  return found.key;
}

const stage = setStage();

async function opened(sid: string, options: BrowserContextOptions = DESK, from?: Served): Promise<Page> {
  const page = await stage.open(options, from);
  await page.evaluate((key) => {
    const store = window.hollowline?.store as unknown as { dispatch(action: object): void };
    store.dispatch({ type: 'select', selection: { kind: 'midpoint', sid: key } });
  }, sid);
  await page.getByRole('article').waitFor();
  return page;
}

const mark = (page: Page, sid: string) => page.locator(`.figure-place [data-sid="${sid}"]`);
const head = (page: Page) => page.locator('#card-head').textContent();

describe('the figures on a card', () => {
  it('are a ladder, a profile and all readings as tiles, each with a name and with its marks as buttons', async () => {
    const page = await opened(keyOf('C', 14, 2));
    expect(await page.getByRole('group', { name: 'Ladder, line C at 14 m, pole-pole' }).count()).toBe(1);
    expect(await page.getByRole('group', { name: 'Profile, line C, pole-pole, spacing 2 m' }).count()).toBe(1);
    expect(await page.getByRole('button', { name: /^5 m: \d+ Ω·m, like the reference/ }).count()).toBe(1);
    const current = page.locator('.figure-place [aria-current="true"]');
    expect(await current.evaluateAll((marks) => marks.map((one) => one.getAttribute('data-sid')))).toEqual([
      keyOf('C', 14, 2),
      keyOf('C', 14, 2),
      keyOf('C', 14, 2),
    ]);
    expect(await page.getByRole('group', { name: 'All readings, line C, pole-pole' }).count()).toBe(1);
  });

  it('lead to the reading of a mark that is clicked, anywhere in its column', async () => {
    const page = await opened(keyOf('C', 14, 2));
    const box = await mark(page, keyOf('C', 14, 5))
      .locator('rect')
      .first()
      .boundingBox();
    if (!box) throw new Error('the column has a place');
    await page.mouse.click(box.x + box.width / 2, box.y + box.height - 8);
    expect(await head(page)).toBe('Line C, 14\u00a0m, spacing 5\u00a0m');
    expect(
      await mark(page, keyOf('C', 14, 5))
        .first()
        .getAttribute('aria-current'),
    ).toBe('true');
    await mark(page, keyOf('C', 20, 5))
      .first()
      .click();
    expect(await head(page)).toBe('Line C, 20\u00a0m, spacing 5\u00a0m');
  });

  it('can be gone through with the arrow keys and opened with Enter', async () => {
    const page = await opened(keyOf('C', 14, 2));
    await mark(page, keyOf('C', 14, 2))
      .first()
      .focus();
    await page.keyboard.press('ArrowRight');
    await page.keyboard.press('ArrowRight');
    await page.keyboard.press('ArrowLeft');
    expect(await page.evaluate(() => document.activeElement?.getAttribute('data-sid'))).toBe(keyOf('C', 14, 3));
    await page.keyboard.press('Enter');
    expect(await head(page)).toBe('Line C, 14\u00a0m, spacing 3\u00a0m');
    // One stop for the Tab key in each figure.
    expect(await page.locator('.figure-place [tabindex="0"]').count()).toBe(3);
  });

  it('have columns for a thumb on a phone, and text of 12 px and more', async () => {
    const page = await opened(keyOf('C', 14, 2), PHONE);
    await mark(page, keyOf('C', 14, 8))
      .first()
      .tap();
    expect(await head(page)).toBe('Line C, 14\u00a0m, spacing 8\u00a0m');
    const seen = await page.evaluate(() => {
      const [ladder] = document.querySelectorAll('.figure-place svg');
      const widths = [...(ladder?.querySelectorAll('[data-sid] rect') ?? [])].map(
        (rect) => rect.getBoundingClientRect().width,
      );
      const scale = (ladder?.getBoundingClientRect().width ?? 0) / 360;
      const sizes = [...(ladder?.querySelectorAll('text') ?? [])].map(
        (text) => Number.parseFloat(text.getAttribute('font-size') ?? '0') * scale,
      );
      return {
        narrowest: Math.min(...widths),
        smallest: Math.min(...sizes),
        wide: document.documentElement.scrollWidth,
      };
    });
    expect(seen.narrowest).toBeGreaterThanOrEqual(30);
    expect(seen.smallest).toBeGreaterThanOrEqual(12);
    expect(seen.wide).toBe(390);
  });

  it('are saved as pictures too', async () => {
    const page = await opened(keyOf('C', 14, 2));
    const saved = page.waitForEvent('download');
    await page.getByRole('button', { name: 'Download this ladder as PNG' }).click();
    const download = await saved;
    expect(download.suggestedFilename()).toMatch(/^ladder.*\.png$/);
    const bytes = await readFile(await download.path());
    // Signature and, in the header, the width: three dots for each of the file's 520.
    expect([...bytes.subarray(0, 8)]).toEqual([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]);
    expect(bytes.readUInt32BE(16)).toBe(3 * 520);
  });

  it('never call a two-probe figure a resistivity', async () => {
    const page = await opened(keyOf('T', 12, 5));
    const text = await page
      .locator('.figure-place')
      .evaluateAll((places) => places.map((place) => place.innerHTML).join());
    expect(text).toContain('mostly contact');
    expect(text).not.toMatch(/resistivity/i);
  });

  it('are given as files that stand alone: a browser shows them as images', async () => {
    const page = await opened(keyOf('C', 14, 2));
    for (const [button, name] of [
      ['Download this ladder (SVG)', 'ladder-c-14-m.svg'],
      ['Download this profile (SVG)', 'profile-c-spacing-2-m.svg'],
    ] as const) {
      const download = page.waitForEvent('download');
      await page.getByRole('button', { name: button }).click();
      const file = await download;
      expect(file.suggestedFilename()).toBe(name);
      const text = await readFile(await file.path(), 'utf8');
      expect(readXml(text).attributes.role).toBe('img');
      expect(text).not.toContain('var(--');
      const blank = await stage.browser.newPage();
      try {
        const size = await blank.evaluate(async (svg) => {
          const image = new Image();
          image.src = `data:image/svg+xml;charset=utf-8,${encodeURIComponent(svg)}`;
          await image.decode();
          return image.naturalWidth;
        }, text);
        expect(size).toBe(520);
      } finally {
        await blank.close();
      }
    }
  });

  it('keep a line that is called like markup as text', async () => {
    const survey = JSON.parse(await readFile(DEMO_FILE, 'utf8')) as { lines: { name: string }[] };
    const line = survey.lines.find(({ name }) => name === 'C');
    if (!line) throw new Error('the demo has a line C');
    line.name = HOSTILE;
    const own = await stage.serve(JSON.stringify(survey));
    try {
      const page = await opened(keyOf('C', 14, 2), DESK, own);
      expect(await page.locator('.figure-place svg').first().getAttribute('aria-label')).toContain(HOSTILE);
      expect(await page.locator('.figure-place img').count()).toBe(0);
      expect(await page.title()).not.toBe('1');
    } finally {
      await own.close();
    }
  });

  it('have nothing serious for axe in any theme', async () => {
    const page = await opened(keyOf('C', 14, 2));
    await page.evaluate(await readFile(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8'));
    for (const theme of ['light', 'dark', 'sunlight']) {
      await page.getByRole('combobox').first().selectOption(theme);
      const found = await page.evaluate(async () => {
        const { axe } = window as unknown as {
          axe: { run(on: string): Promise<{ violations: { id: string; impact: string }[] }> };
        };
        const { violations } = await axe.run('.card');
        return violations.filter(({ impact }) => impact === 'serious' || impact === 'critical').map(({ id }) => id);
      });
      expect(found).toEqual([]);
    }
  });
});
