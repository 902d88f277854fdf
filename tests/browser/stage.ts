import type { Browser, BrowserContextOptions, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, expect } from 'vitest';
import type { Served } from '../../src/cli/serve';
import { startBrowser, type WatchedPage } from './browser';
import { type BuiltApp, buildApp, serveBuilt } from './built-app';
import { DESK, type Opening, openedPage } from './open-page';

/** What a file of browser tests stands on: the built app, served, and a browser. */
export interface Stage {
  readonly browser: Browser;
  /** The app as built, with the survey of the stage. */
  readonly served: Served;
  /** Opens the page and waits until the map is at rest; what was open before it is closed without being judged. */
  open(options?: BrowserContextOptions, from?: Served, opening?: Opening): Promise<Page>;
  /** Serves the app once more, with a survey of the test's own if it wants one. */
  serve(surveyJson?: string): Promise<Served>;
  /** The page that is open. */
  readonly watched: WatchedPage | null;
}

/**
 * Sets the stage for a file of tests, with the demo or a survey of the file's own: after each of them the page that was
 * opened must have had nothing to complain of.
 */
export function setStage(surveyJson?: string): Stage {
  let app: BuiltApp | undefined;
  let browser: Browser | undefined;
  let served: Served | undefined;
  let watched: WatchedPage | null = null;

  beforeAll(async () => {
    [app, browser] = await Promise.all([buildApp('production'), startBrowser()]);
    served = await serveBuilt(app, surveyJson);
  });
  afterEach(async () => {
    const complaints = watched?.complaints ?? [];
    await watched?.close();
    watched = null;
    expect(complaints).toEqual([]);
  });
  afterAll(async () => {
    await browser?.close();
    await served?.close();
    await app?.remove();
  });

  const set = <T>(part: T | undefined): T => {
    if (!part) throw new Error('The stage is set before the first test of a file, and not earlier.');
    return part;
  };
  return {
    get browser() {
      return set(browser);
    },
    get served() {
      return set(served);
    },
    get watched() {
      return watched;
    },
    async open(options = DESK, from = set(served), opening = {}) {
      await watched?.close();
      watched = await openedPage(set(browser), from, options, opening);
      return watched.page;
    },
    serve: (own) => serveBuilt(set(app), own),
  };
}
