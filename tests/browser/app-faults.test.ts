import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { DESK, mapAtRest, strokesDrawn } from './open-page';
import { setStage } from './stage';

const stage = setStage();

/** What the site is called now, and whether that is kept. */
const looked = (page: Page) =>
  page.evaluate(() => {
    const state = window.hollowline?.store.get();
    return { name: state?.phase.kind === 'ready' ? state.phase.content.survey.site.name : null, kept: state?.kept };
  });

/** An edit as a screen makes it: another name of the site, which all of the page follows. */
const rename = (page: Page, name: string) =>
  page.evaluate(async (said) => {
    const phase = window.hollowline?.store.get().phase;
    if (phase?.kind !== 'ready') throw new Error('no survey is open');
    await window.hollowline?.commit({ label: 'rename', site: { ...phase.content.survey.site, name: said } });
  }, name);

describe('a page that loses a part of itself', { timeout: 120_000 }, () => {
  it('goes on, says so, and has the part again', async () => {
    // Without the page's own copy of itself, which would stand in for the worker that cannot be fetched.
    const page = await stage.open({ ...DESK, serviceWorkers: 'block' });
    const strokes = await strokesDrawn(page);
    const worker = page.workers().find((each) => each.url().includes('findings.worker'));
    await worker?.evaluate(() => self.close());
    await page.getByText('was begun anew. Nothing that was entered is missing.').waitFor();
    await rename(page, 'after the worker ended');
    expect(await looked(page)).toEqual({ name: 'after the worker ended', kept: 'kept' });

    await page.evaluate(() => {
      const map = window.hollowline?.map as unknown as { getCanvas(): HTMLCanvasElement };
      const gl = map.getCanvas().getContext('webgl2')?.getExtension('WEBGL_lose_context');
      Object.assign(window, { surface: gl });
      gl?.loseContext();
    });
    await page.getByText('took the drawing surface away').waitFor();
    await rename(page, 'without a surface');
    await page.evaluate(() => (window as unknown as { surface: WEBGL_lose_context }).surface.restoreContext());
    await page.getByText('took the drawing surface away').waitFor({ state: 'detached' });
    await mapAtRest(page);
    expect([await strokesDrawn(page), await looked(page)]).toEqual([
      strokes,
      { name: 'without a surface', kept: 'kept' },
    ]);

    await page.context().route(/share\.worker/, (route) => route.abort());
    await page.getByRole('button', { name: 'Hand over' }).click();
    await page.getByRole('button', { name: 'Make the pack' }).click();
    await page.getByText('The pack could not be made: the worker could not be started').waitFor();
    await page.context().unroute(/share\.worker/);
    await page.getByRole('button', { name: /^Make (the pack|it again)/ }).click();
    await page.getByRole('button', { name: 'Save the pack' }).waitFor();
    // Wanted: the worker that could not be fetched, and a registration that the browser's driver answers with nothing.
    const wanted = /share\.worker|Service Worker registration blocked|undefined \(reading 'active'\)/;
    const complaints = stage.watched?.complaints ?? [];
    expect(complaints.splice(0).filter((each) => !wanted.test(each))).toEqual([]);
  });
});
