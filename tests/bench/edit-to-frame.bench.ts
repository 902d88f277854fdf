import type { Browser } from 'playwright-core';
import { correctReading } from '../../src/survey/edits';
import type { Reading } from '../../src/survey/survey';
import { startBrowser } from '../browser/browser';
import { buildOwnApp, serveBuilt } from '../browser/built-app';
import { DESK, openedPage } from '../browser/open-page';
import { bigSurvey } from './appraise.bench';

export interface EditToFrame {
  readonly readings: number;
  readonly milliseconds: readonly number[];
}

/** From the commit of one edit to the first frame that shows its colour, in a survey of 2,000 readings. */
export async function benchEditToFrame(rounds = 7): Promise<EditToFrame> {
  const survey = bigSurvey(20);
  // On a line of its own: an edit of the reference would change every ratio of the site.
  const reading = survey.readings[550] as Reading;
  const app = await buildOwnApp('production');
  const served = await serveBuilt(app, JSON.stringify(survey));
  const browser: Browser = await startBrowser();
  try {
    const watched = await openedPage(browser, served, DESK);
    // tsx names functions through a helper that the page does not have.
    await watched.page.evaluate('globalThis.__name = (named) => named');
    const milliseconds: number[] = [];
    for (let round = 0; round < rounds; round += 1) {
      const value = round % 2 === 0 ? 2000 + round : 300 + round;
      const change = correctReading(survey, reading.id, { value }, { by: 'bench', at: '2026-05-12T10:00:00Z' });
      if (!change.ok) throw new Error(change.sentence);
      milliseconds.push(
        await watched.page.evaluate(async (edit) => {
          const app = window.hollowline;
          if (!app) throw new Error('the page is not open to inspection');
          const map = app.map as unknown as {
            on(event: string, heard: (event: { sourceId?: string; isSourceLoaded?: boolean }) => void): void;
            off(event: string, heard: unknown): void;
          };
          const before = app.store.get().drawn;
          const start = performance.now();
          const drawn = new Promise<number>((resolve) => {
            let loaded = false;
            const onData = (event: { sourceId?: string; isSourceLoaded?: boolean }) => {
              if (event.sourceId === 'segments' && event.isSourceLoaded && app.store.get().drawn !== before)
                loaded = true;
            };
            const onRender = () => {
              if (!loaded) return;
              map.off('sourcedata', onData);
              map.off('render', onRender);
              resolve(performance.now() - start);
            };
            map.on('sourcedata', onData);
            map.on('render', onRender);
          });
          await app.commit(edit as never);
          const milliseconds = await drawn;
          // The lists follow the map: the next edit is timed from rest, as one edit of a person is.
          await new Promise((resolve) => setTimeout(resolve, 1000));
          return milliseconds;
        }, change.value as unknown),
      );
    }
    await watched.close();
    return { readings: survey.readings.length, milliseconds };
  } finally {
    await browser.close();
    await served.close();
    await app.remove();
  }
}
