import type { Browser, CDPSession, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Served } from '../../src/cli/serve';
import { startBrowser, type WatchedPage, watchedPage } from './browser';
import { type BuiltApp, buildApp, serveBuilt } from './built-app';
import { mapAtRest, PHONE } from './open-page';

/** A cheap phone beside a developer's machine; a choice. It slows the page, not its workers. */
const SLOWER = 6;

let browser: Browser;
let app: BuiltApp;
let served: Served;
let watched: WatchedPage;
let page: Page;
let tools: CDPSession;

beforeAll(async () => {
  app = await buildApp('production');
  served = await serveBuilt(app);
  browser = await startBrowser();
  watched = await watchedPage(browser, PHONE);
  page = watched.page;
  await page.addInitScript(() => localStorage.setItem('hollowline.cautions_read', 'yes'));
  await page.goto(`${served.url}?inspect`);
  await mapAtRest(page);
  tools = await page.context().newCDPSession(page);
});
afterAll(async () => {
  await browser?.close();
  await served?.close();
  await app?.remove();
});

const slowed = (rate: number) => tools.send('Emulation.setCPUThrottlingRate', { rate });
const press = (name: string) => page.getByRole('button', { name, exact: true }).click();

async function heapBytes(): Promise<number> {
  await tools.send('HeapProfiler.collectGarbage');
  const { metrics } = await tools.send('Performance.getMetrics');
  return metrics.find(({ name }) => name === 'JSHeapUsedSize')?.value ?? Number.NaN;
}

/** Readings like those of a day, one after the other. */
const record = (from: number, count: number) =>
  page.evaluate(
    async ([first, many]) => {
      for (let i = first; i < first + many; i += 1) {
        const { phase } = window.hollowline?.store.get() ?? {};
        if (phase?.kind !== 'ready') throw new Error('nothing is open');
        const [line] = phase.content.survey.lines;
        const like = phase.content.survey.readings.find((reading) => reading.line === line?.id);
        const reading = { ...like, id: `reading-${i}`, value: 300 + (i % 50) };
        const change = { label: 'Add a reading', put: { readings: [reading] } };
        await window.hollowline?.commit(change as never);
      }
    },
    [from, count] as const,
  );

describe('a phone six times slower', () => {
  it('answers a press of Keep in a tenth of a second', async () => {
    await press('Record');
    await press('Keypad');
    await page.getByRole('radio', { name: 'two', exact: true }).check();
    await page.getByLabel('to two more rods, left far away').check();
    await page.getByRole('radio', { name: 'Ω·m', exact: true }).check();
    await page.getByRole('combobox', { name: 'Line' }).selectOption({ label: 'C' });
    for (const [name, value] of [
      ['First station, m', '100'],
      ['Last station, m', '110'],
      ['A station every, m', '2'],
      ['Spacings, m, as they are read', '1 2 3'],
    ] as const) {
      await page.getByLabel(name).fill(value);
    }
    await press('Begin');
    await page.getByRole('region', { name: 'The reading to take' }).waitFor();
    await page.evaluate(() => {
      const timed = window as unknown as { answeredMs: number[] };
      timed.answeredMs = [];
      // From the press to the next picture on the screen (W3C Event Timing).
      new PerformanceObserver((list) => {
        for (const entry of list.getEntries() as PerformanceEventTiming[]) {
          if (entry.name === 'click' && entry.target?.textContent === 'Keep') timed.answeredMs.push(entry.duration);
        }
      }).observe({ type: 'event', durationThreshold: 16 } as PerformanceObserverInit);
    });
    const answered = () => page.evaluate(() => (window as unknown as { answeredMs: number[] }).answeredMs.splice(0));
    // The middle one of the best of three rounds: other work of the test machine lengthens some.
    let middleMs = Number.POSITIVE_INFINITY;
    for (let round = 0; round < 3 && middleMs >= 100; round += 1) {
      await slowed(SLOWER);
      const times: number[] = [];
      for (let i = 0; i < 11; i += 1) {
        for (const digit of String(350 + i)) await press(digit);
        await press('Keep');
        await page.waitForFunction(() => window.hollowline?.store.get().kept === 'kept');
      }
      await slowed(1);
      await expect
        .poll(async () => {
          times.push(...(await answered()));
          return times.length;
        })
        .toBeGreaterThan(8);
      times.sort((a, b) => a - b);
      console.log('Keep answered in ms', times);
      middleMs = Math.min(middleMs, times[Math.floor(times.length / 2)] as number);
    }
    expect(middleMs).toBeLessThan(100);
  });

  it('has the map of a survey that it keeps within five seconds', async () => {
    await slowed(SLOWER);
    let startMs = Number.POSITIVE_INFINITY;
    // The best of three: other work of the test machine lengthens some.
    for (let i = 0; i < 3 && startMs >= 5000; i += 1) {
      await page.reload();
      await mapAtRest(page);
      startMs = await page.evaluate(() => performance.now());
      console.log('warm start in ms', Math.round(startMs));
    }
    await slowed(1);
    expect(startMs).toBeLessThan(5000);
    expect(await page.evaluate(() => window.hollowline?.store.get().kept)).toBe('kept');
  });
});

describe('memory', () => {
  it('grows by no more than the readings themselves over hundreds of them', async () => {
    await tools.send('Performance.enable');
    // The list of what can be undone is full at 200.
    await record(0, 200);
    const before = await heapBytes();
    await record(200, 200);
    const bytesEach = ((await heapBytes()) - before) / 200;
    console.log('bytes of memory for a reading', Math.round(bytesEach));
    // A reading with its finding and its place on the map takes two or three thousand.
    expect(bytesEach).toBeLessThan(12_000);
    expect(watched.complaints).toEqual([]);
  });
});
