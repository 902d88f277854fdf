import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startBrowser, watchedPage } from './browser';
import { type BuiltApp, buildApp, serveBuilt } from './built-app';
import { DESK, openedPage } from './open-page';

let app: BuiltApp;
let browser: Browser;

beforeAll(async () => {
  [app, browser] = await Promise.all([buildApp('production'), startBrowser()]);
});

afterAll(async () => {
  await browser?.close();
  await app?.remove();
});

/** What the page says when it cannot show the survey at `?survey=`. */
async function alertOf(survey: string | undefined, search = ''): Promise<{ said: string; complaints: string[] }> {
  const served = await serveBuilt(app, survey);
  const { page, complaints, close } = await watchedPage(browser, DESK);
  try {
    await page.goto(`${served.url}${search}`);
    return { said: (await page.getByRole('alert').textContent()) ?? '', complaints };
  } finally {
    await close();
    await served.close();
  }
}

describe('a page that cannot show its survey', () => {
  it('says that the document is no survey, and what was wrong with it', async () => {
    const { said, complaints } = await alertOf('{"format":"something else"}');
    expect(said).toContain('“survey.json” is not a survey that this program can read.');
    expect(said).toContain('Open the survey that comes with the program');
    expect(complaints).toEqual([]);
  });

  it('says so for noise', async () => {
    const { said, complaints } = await alertOf('\u0000not json at all');
    expect(said).toContain('is not a survey');
    expect(complaints).toEqual([]);
  });

  it('says that the file is not there', async () => {
    const { said, complaints } = await alertOf(undefined, '?survey=gone.survey.json');
    expect(said).toContain('“gone.survey.json” could not be fetched (404).');
    expect(complaints.filter((complaint) => !complaint.includes('404'))).toEqual([]);
  });

  it('does not fetch from elsewhere', async () => {
    const { said, complaints } = await alertOf(undefined, '?survey=https%3A%2F%2Felsewhere.example%2Fs.survey.json');
    expect(said).toContain('opens surveys only from its own address');
    expect(complaints).toEqual([]);
  });
});

describe('a browser without WebGL', () => {
  it('says so, and the lists, cards and files still work', async () => {
    const served = await serveBuilt(app);
    const { page, complaints, close } = await watchedPage(browser, DESK);
    await page.addInitScript(() => {
      const original = HTMLCanvasElement.prototype.getContext;
      HTMLCanvasElement.prototype.getContext = function (this: HTMLCanvasElement, kind: string, ...given: unknown[]) {
        return kind === 'webgl2' ? null : Reflect.apply(original, this, [kind, ...given]);
      } as typeof original;
    });
    await page.goto(served.url);
    await page.getByText('cannot draw the map').waitFor();
    await page
      .getByRole('region', { name: 'Strongest differences' })
      .getByRole('list')
      .filter({ hasText: 'Line C' })
      .getByRole('button')
      .first()
      .click();
    expect(await page.getByRole('article').getByRole('heading').textContent()).toMatch(/^Line C/);
    await page.getByRole('button', { name: 'Hand over' }).click();
    const download = page.waitForEvent('download');
    await page.getByRole('button', { name: 'segments.geojson' }).click();
    expect((await download).suggestedFilename()).toBe('segments.geojson');
    expect(complaints.filter((complaint) => !complaint.startsWith('console error: map:'))).toEqual([]);
    expect(complaints.length).toBeGreaterThan(0);
    await close();
    await served.close();
  });
});

describe('trouble on a page that goes on', () => {
  it('from the map is said on the page and in the console', async () => {
    const served = await serveBuilt(app);
    const { page, complaints, close } = await openedPage(browser, served, DESK);
    await page.evaluate(() => window.hollowline?.map.setFilter('segments', ['no such filter'] as never));
    await page.getByText('The map could not draw something').waitFor();
    await page.getByRole('button', { name: 'Close', exact: true }).click();
    expect(await page.getByText('The map could not draw something').count()).toBe(0);
    expect(complaints.length).toBeGreaterThan(0);
    expect(complaints.every((complaint) => complaint.startsWith('console error: map:'))).toBe(true);
    await close();
    await served.close();
  });
});

describe('the policy of the page', () => {
  it('refuses scripts made from text, blob workers, inline styles and other addresses', async () => {
    const served = await serveBuilt(app);
    const { page, complaints, close } = await openedPage(browser, served, DESK);
    expect(complaints).toEqual([]);
    await page.evaluate(() => {
      const blob = URL.createObjectURL(new Blob(['postMessage(1)'], { type: 'text/javascript' }));
      new Worker(blob).onerror = () => {};
      setTimeout('document.title = "made from text"', 0);
      document.body.insertAdjacentHTML('beforeend', '<p style="color: red">inline</p>');
      fetch('http://127.0.0.1:9/').catch(() => {});
    });
    await page.waitForTimeout(300);
    const refused = complaints.flatMap((complaint) => complaint.match(/policy: (\S+) refused/)?.[1] ?? []);
    expect(new Set(refused)).toEqual(new Set(['worker-src', 'script-src', 'style-src-attr', 'connect-src']));
    expect(await page.title()).toBe('Brackamore Slade · Hollowline');
    await close();
    await served.close();
  });

  it('stands in the page itself too, for servers that send no headers', async () => {
    const served = await serveBuilt(app);
    const html = await (await fetch(served.url)).text();
    expect(html).toMatch(/<meta http-equiv="Content-Security-Policy" content="default-src (&#39;|')self/);
    expect(html).not.toMatch(/<script(?![^>]*src=)[^>]*>|<style|style=/);
    await served.close();
  });
});
