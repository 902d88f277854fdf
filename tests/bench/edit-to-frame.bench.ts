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
  /** What the map library alone takes for the same: its segments handed to it again, to the frame that shows them. */
  readonly libraryMs: readonly number[];
}

interface InspectedMap {
  on(event: string, heard: unknown): void;
  off(event: string, heard: unknown): void;
  getSource(name: string): { getData(): Promise<unknown>; setData(data: unknown): void };
}

declare global {
  interface Window {
    /** When the first frame comes that shows segments which were handed over from now on, once `isDue`. */
    segmentsShown(isDue: () => boolean): Promise<number>;
  }
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
    await watched.page.evaluate(() => {
      window.segmentsShown = (isDue) =>
        new Promise((resolve) => {
          const map = window.hollowline?.map as unknown as InspectedMap;
          let loaded = false;
          // An event with a type says that data came, one without that a tile was made of it.
          const onData = (event: { sourceId?: string; sourceDataType?: string; isSourceLoaded?: boolean }) => {
            if (event.sourceId !== 'segments' || event.sourceDataType || !isDue()) return;
            if (event.isSourceLoaded) loaded = true;
          };
          const onRender = () => {
            if (!loaded) return;
            map.off('sourcedata', onData);
            map.off('render', onRender);
            resolve(performance.now());
          };
          map.on('sourcedata', onData);
          map.on('render', onRender);
        });
    });
    const milliseconds: number[] = [];
    const libraryMs: number[] = [];
    for (let round = 0; round < rounds; round += 1) {
      const value = round % 2 === 0 ? 2000 + round : 300 + round;
      const change = correctReading(survey, reading.id, { value }, { by: 'bench', at: '2026-05-12T10:00:00Z' });
      if (!change.ok) throw new Error(change.sentence);
      milliseconds.push(
        await watched.page.evaluate(async (edit) => {
          const app = window.hollowline;
          if (!app) throw new Error('the page is not open to inspection');
          const before = app.store.get().drawn;
          const start = performance.now();
          const drawn = window.segmentsShown(() => app.store.get().drawn !== before);
          await app.commit(edit as never);
          return (await drawn) - start;
        }, change.value as unknown),
      );
      // The lists follow the map: the next is timed from rest, as one edit of a person is.
      await watched.page.waitForTimeout(1500);
      libraryMs.push(
        await watched.page.evaluate(async () => {
          const map = window.hollowline?.map as unknown as InspectedMap;
          const source = map.getSource('segments');
          const data = await source.getData();
          const start = performance.now();
          const drawn = window.segmentsShown(() => true);
          source.setData(data);
          return (await drawn) - start;
        }),
      );
      await watched.page.waitForTimeout(1500);
    }
    await watched.close();
    return { readings: survey.readings.length, milliseconds, libraryMs };
  } finally {
    await browser.close();
    await served.close();
    await app.remove();
  }
}
