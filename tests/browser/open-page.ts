import type { Browser, BrowserContextOptions, Page } from 'playwright-core';
import type { Served } from '../../src/cli/serve';
import { type WatchedPage, watchedPage } from './browser';

export const PHONE: BrowserContextOptions = {
  viewport: { width: 390, height: 844 },
  hasTouch: true,
  isMobile: true,
  colorScheme: 'light',
};
export const DESK: BrowserContextOptions = { viewport: { width: 1440, height: 900 }, colorScheme: 'light' };

export interface Opening {
  /** Said in the address. */
  readonly asked?: string;
  /** Done to the page before it loads. */
  readonly before?: (page: Page) => Promise<unknown>;
}

/** Opens the page and waits until the map has drawn the survey's strokes and stands still. */
export async function openedPage(
  browser: Browser,
  served: Served,
  options: BrowserContextOptions,
  { asked, before }: Opening = {},
): Promise<WatchedPage> {
  const watched = await watchedPage(browser, options);
  // The cautions were read before, so that the lists are where a daily user finds them.
  await watched.page.addInitScript(() => localStorage.setItem('hollowline.cautions_read', 'yes'));
  await before?.(watched.page);
  await watched.page.goto(`${served.url}${served.url.includes('?') ? '&' : '?'}inspect${asked ? `&${asked}` : ''}`);
  await mapAtRest(watched.page);
  await watched.page.waitForTimeout(100);
  await mapAtRest(watched.page);
  return watched;
}

/** Waits until nothing is left to be drawn. */
export async function mapAtRest(page: Page): Promise<void> {
  await page.waitForFunction(
    () => {
      const map = window.hollowline?.map as unknown as { loaded(): boolean; isMoving(): boolean } | undefined;
      return window.hollowline?.store.get().phase.kind === 'ready' && map?.loaded() === true && !map.isMoving();
    },
    undefined,
    { polling: 50 },
  );
}

/** How many strokes the map has drawn. */
export function strokesDrawn(page: Page): Promise<number> {
  return page.evaluate(() => {
    const map = window.hollowline?.map as unknown as {
      queryRenderedFeatures(options: { layers: string[] }): unknown[];
    };
    return map.queryRenderedFeatures({ layers: ['segments'] }).length;
  });
}
