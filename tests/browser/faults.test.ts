import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { BrowserContext, Page } from 'playwright-core';
import { build } from 'vite';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { type Served, serveApp } from '../../src/cli/serve';
import { seeded } from '../helpers/made-survey';
import { afterEdit, FIRST, type Opened, randomEdit, sessionOf, textOf } from './keeper-page/random-edits';
import { type KillableBrowser, startKillable } from './killable-browser';

let folder: string;
let served: Served;

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'faults-'));
  const outDir = join(folder, 'page');
  const root = fileURLToPath(new URL('./keeper-page', import.meta.url));
  await build({ root, base: './', configFile: false, logLevel: 'error', build: { outDir, target: 'es2023' } });
  served = await serveApp({ distDir: outDir, port: 0, host: '127.0.0.1' });
});
afterAll(async () => {
  await served?.close();
  if (folder) await rm(folder, { recursive: true, force: true });
});

const NO_EDITS: Opened = { survey: FIRST, history: { undo: [], redo: [] } };

async function openedIn(context: BrowserContext): Promise<Page> {
  const page = await context.newPage();
  await page.goto(served.url);
  return page;
}

const openedOf = (text: string): Opened => {
  const [survey, history] = JSON.parse(text);
  return { survey, history };
};

/** Lets the page edit on and on. Gives, once so many are acknowledged, how many are by now. */
async function runUntilEnough(page: Page, seed: number, enough: number): Promise<() => number> {
  let acknowledged = 0;
  const reached = new Promise<void>((resolve) => {
    void page.exposeFunction('acknowledged', (count: number) => {
      acknowledged = Math.max(acknowledged, count);
      if (acknowledged >= enough) resolve();
    });
  });
  await page.waitForFunction(() => 'acknowledged' in window);
  page.evaluate((s) => window.keeperPage.run(s, 1000, window.acknowledged), seed).catch(() => undefined);
  await reached;
  return () => acknowledged;
}

/** Ends the page's own process; the browser goes on. */
async function crash(page: Page): Promise<void> {
  const tools = await page.context().newCDPSession(page);
  const crashed = page.waitForEvent('crash');
  tools.send('Page.crash').catch(() => undefined);
  await crashed;
  await page.close();
}

describe('a page that is killed', () => {
  it('at fifty random instants among random edits has everything that was acknowledged, and its undo', async () => {
    const random = seeded(8);
    const kinds = { renderer: 0, browser: 0, closed: 0 };
    const userFolder = join(folder, 'killed');
    let running: KillableBrowser = await startKillable(userFolder);
    let before = { text: textOf(NO_EDITS), seq: 0 };
    let [acknowledgedInAll, unacknowledged, deletedByBrowser] = [0, 0, 0];
    for (let kill = 0; kill < 50; kill += 1) {
      const context = running.browser.contexts()[0] as BrowserContext;
      const page = await openedIn(context);
      const { text, seq, damage } = await page.evaluate(() => window.keeperPage.begin());
      expect({ text, seq, damage }).toEqual({ ...before, damage: [] });
      const seed = 1000 + kill;
      const acknowledged = await runUntilEnough(page, seed, 1 + Math.floor(8 * random()));
      await new Promise((resolve) => setTimeout(resolve, 25 * random()));
      const roll = random();
      if (roll < 0.56) {
        kinds.renderer += 1;
        await crash(page);
      } else if (roll < 0.8) {
        kinds.browser += 1;
        await running.kill();
        running = await startKillable(userFolder);
      } else {
        kinds.closed += 1;
        await page.close({ runBeforeUnload: false });
      }

      const look = await openedIn(running.browser.contexts()[0] as BrowserContext);
      const after = await look.evaluate(() => window.keeperPage.begin());
      await look.close();
      // Chromium deletes a database that it finds damaged, which a kill in the middle of a write can do.
      if (after.restored) deletedByBrowser += 1;
      // Of this session's edits the first ones are there: all that were acknowledged, and perhaps some more.
      const kept = after.seq - seq;
      expect(kept).toBeGreaterThanOrEqual(acknowledged());
      const edits = sessionOf(seed);
      let expected = openedOf(text);
      for (let i = 0; i < kept; i += 1) expected = afterEdit(expected, randomEdit(expected, edits));
      const found = openedOf(after.text);
      expect(JSON.stringify(found.survey)).toBe(JSON.stringify(expected.survey));
      // A new base leaves the last 200 entries to be taken back.
      const { undo, redo } = found.history;
      expect(undo.length).toBeGreaterThanOrEqual(Math.min(80, expected.history.undo.length));
      expect(undo).toEqual(undo.length === 0 ? [] : expected.history.undo.slice(-undo.length));
      expect(redo).toEqual(redo.length === 0 ? [] : expected.history.redo.slice(-redo.length));
      before = { text: after.text, seq: after.seq };
      acknowledgedInAll += acknowledged();
      unacknowledged += kept - acknowledged();
    }
    await running.close();
    console.log('killed', { kinds, deletedByBrowser, acknowledgedInAll, unacknowledged, keptInAll: before.seq });
    expect(acknowledgedInAll).toBeGreaterThan(200);
  }, 120_000);
});

describe('a device', () => {
  let running: KillableBrowser;
  let context: BrowserContext;
  let page: Page;

  beforeAll(async () => {
    running = await startKillable(join(folder, 'device'));
  });
  beforeEach(async () => {
    context = await running.browser.newContext();
    page = await openedIn(context);
  });
  afterEach(() => context.close());
  afterAll(() => running?.close());

  const begin = (on = page) => on.evaluate(() => window.keeperPage.begin());
  const state = (on = page) => on.evaluate(() => window.keeperPage.state());
  const enter = (value: number, on = page) => on.evaluate((v) => window.keeperPage.enter(v), value);
  const reopened = async (): Promise<Awaited<ReturnType<typeof begin>>> => {
    await page.close();
    page = await openedIn(context);
    return begin();
  };
  const nameIn = ({ text }: { text: string }): string => openedOf(text).survey.site.name;

  it('that is full says so, keeps what it could not write, and writes it when there is room', async () => {
    const tools = await context.newCDPSession(page);
    const { origin } = new URL(served.url);
    await tools.send('Storage.overrideQuotaForOrigin', { origin, quotaSize: 2_000_000 });
    await begin();
    let [value, acknowledged] = [0, 0];
    for (let kept = 'kept'; kept === 'kept' && value < 100; kept = (await state()).kept) {
      acknowledged = value;
      value += 1;
      await page.evaluate((v) => window.keeperPage.enter(v, 200_000), value);
    }
    await enter(value + 1);
    expect(await state()).toMatchObject({ kept: 'not_kept', name: String(value + 1) });
    expect((await state()).trouble).toContain('the space for this page is full');
    // What another page reads is what was acknowledged, and no more.
    const other = await openedIn(context);
    const found = await begin(other);
    expect([nameIn(found), found.seq]).toEqual([String(acknowledged), acknowledged]);
    expect(acknowledged).toBeGreaterThan(2);
    await other.close();
    await tools.send('Storage.overrideQuotaForOrigin', { origin });
    await enter(value + 2);
    expect(await state()).toMatchObject({ kept: 'kept', trouble: null });
    const after = await reopened();
    expect([nameIn(after), after.seq]).toEqual([String(value + 2), value + 2]);
  });

  const noSecondCopy = () =>
    page.evaluate(async () => {
      const root = await navigator.storage.getDirectory();
      await root.removeEntry('second-copy', { recursive: true });
    });
  /** Cuts off, alters and takes away entries 2, 3, 4 and 6. */
  const doHarm = () =>
    page.evaluate(
      () =>
        new Promise<void>((resolve, reject) => {
          const opening = indexedDB.open('hollowline');
          opening.onsuccess = () => {
            const transaction = opening.result.transaction(['journal', 'quarantine'], 'readwrite');
            const journal = transaction.objectStore('journal');
            const all = journal.getAll();
            all.onsuccess = () => {
              for (const row of all.result) {
                if (row.seq === 2) journal.put({ ...row, text: row.text.slice(0, -9) });
                if (row.seq === 3) journal.delete([row.of, row.seq]);
                if (row.seq === 4) journal.put({ ...row, digest: `x${row.digest.slice(1)}` });
                if (row.seq === 6) journal.delete([row.of, row.seq]);
              }
            };
            transaction.oncomplete = () => {
              opening.result.close();
              resolve();
            };
            transaction.onerror = reject;
          };
        }),
    );

  it('with damaged and missing records gives all the rest, and keeps the damaged ones aside', async () => {
    await begin();
    for (const value of [1, 2, 3, 4, 5, 6]) await enter(value);
    await noSecondCopy();
    await doHarm();
    const after = await reopened();
    expect([nameIn(after), after.seq]).toEqual(['5', 6]);
    expect(after.damage.map(({ what, seq }) => [what, seq])).toEqual([
      ['change', 2],
      ['missing_changes', 3],
      ['change', 4],
      ['missing_changes', 6],
    ]);
    await enter(7);
    expect(await state()).toMatchObject({ kept: 'kept', name: '7' });
    const aside = await page.evaluate(() => window.keeperPage.device.quarantined());
    expect(aside.map(({ what }) => what).sort()).toEqual(['change', 'change', 'missing_changes', 'missing_changes']);
    const again = await reopened();
    expect([nameIn(again), again.seq, again.damage]).toEqual(['7', 7, []]);
  });

  it('with damaged and missing records gives everything where its second copy is whole', async () => {
    await begin();
    for (const value of [1, 2, 3, 4, 5, 6]) await enter(value);
    const before = await page.evaluate(() => window.keeperPage.text());
    await doHarm();
    const after = await reopened();
    expect([after.text, after.seq, after.restored]).toEqual([before, 6, true]);
    expect(after.damage.length).toBe(4);
    const again = await reopened();
    expect([again.text, again.restored, again.damage]).toEqual([before, false, []]);
  });

  it('whose browser has thrown its database away has everything from its second copy', async () => {
    await begin();
    for (const value of [1, 2, 3]) await enter(value);
    await page.evaluate(() => window.keeperPage.undo());
    const before = await page.evaluate(() => window.keeperPage.text());
    const tools = await context.newCDPSession(page);
    await page.goto('about:blank');
    const { origin } = new URL(served.url);
    await tools.send('Storage.clearDataForOrigin', { origin, storageTypes: 'indexeddb' });
    const after = await reopened();
    expect([after.text, after.seq, after.restored]).toEqual([before, 4, true]);
    await enter(5);
    const again = await reopened();
    expect([nameIn(again), again.seq, again.restored]).toEqual(['5', 5, false]);
  });

  it('with a database of the first version opens it with all its changes', async () => {
    await page.evaluate((survey) => {
      const opening = indexedDB.open('hollowline', 1);
      opening.onupgradeneeded = () => {
        opening.result.createObjectStore('surveys', { keyPath: 'key' });
        opening.result.createObjectStore('changes', { autoIncrement: true }).createIndex('of', 'of');
        opening.result.createObjectStore('marks');
      };
      return new Promise<void>((resolve) => {
        opening.onsuccess = () => {
          const transaction = opening.result.transaction(['surveys', 'changes', 'marks'], 'readwrite');
          transaction.objectStore('surveys').put({ key: 'old', name: 'faults', survey });
          transaction.objectStore('marks').put('old', 'open');
          for (const name of ['a', 'b', 'c']) {
            const change = { label: name, site: { ...survey.site, name } };
            transaction.objectStore('changes').add({ of: 'old', change });
          }
          transaction.oncomplete = () => {
            opening.result.close();
            resolve();
          };
        };
      });
    }, FIRST);
    const { damage, ...opened } = await begin();
    expect([nameIn(opened), opened.seq, damage]).toEqual(['c', 3, []]);
    await enter(5);
    const after = await reopened();
    expect([nameIn(after), after.seq]).toEqual(['5', 4]);
    expect(openedOf(after.text).history.undo).toHaveLength(4);
  });

  it('whose store was deleted under an open page keeps the survey anew, whole', async () => {
    await begin();
    for (const value of [1, 2, 3]) await enter(value);
    const tools = await context.newCDPSession(page);
    const { origin } = new URL(served.url);
    await tools.send('Storage.clearDataForOrigin', { origin, storageTypes: 'all' });
    await enter(4);
    expect(await state()).toMatchObject({ kept: 'kept', trouble: expect.stringContaining('was deleted') });
    expect(nameIn(await reopened())).toBe('4');
  });

  it('has one tab that writes; when it crashes the other one writes, with all that was acknowledged', async () => {
    await begin();
    await enter(1);
    const other = await openedIn(context);
    await begin(other);
    expect([(await state()).tab, (await state(other)).tab]).toEqual(['writes', 'follows']);
    await enter(2);
    await expect.poll(async () => (await state(other)).name).toBe('2');
    expect(await enter(9, other)).toMatchObject({ ok: false, code: 'other_tab_writes' });

    expect(await other.evaluate(() => window.keeperPage.writeHere())).toMatchObject({ ok: true });
    expect([(await state()).tab, (await state(other)).tab]).toEqual(['follows', 'writes']);
    await enter(3, other);
    await expect.poll(async () => (await state()).name).toBe('3');
    await crash(other);
    await expect.poll(async () => (await state()).tab).toBe('writes');
    await page.evaluate(() => window.keeperPage.undo());
    expect(await state()).toMatchObject({ kept: 'kept', name: '2' });
    const after = await reopened();
    expect([nameIn(after), after.seq]).toEqual(['2', 4]);
  });
});
