import type { BrowserContextOptions, Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { expectNothingForAxe } from './axe';
import { DESK, PHONE } from './open-page';
import { setStage } from './stage';

const stage = setStage();

/** Slow studies on a busy machine. */
const PATIENCE_MS = 120_000;

const says = (page: Page) => page.getByRole('region', { name: 'What the whole line can say' });
const ground = (page: Page) => page.getByRole('region', { name: 'The ground under it' });
const hollow = (page: Page) => page.getByRole('region', { name: 'A void under it' });

async function opened(options: BrowserContextOptions = DESK): Promise<Page> {
  const page = await stage.open(options);
  page.setDefaultTimeout(PATIENCE_MS);
  await says(page).waitFor();
  return page;
}

describe('what a whole line can say', { timeout: 3 * PATIENCE_MS }, () => {
  it('is worked out when asked for, with a bar, and is still there after a look elsewhere', async () => {
    const page = await opened(PHONE);
    await says(page).getByRole('combobox', { name: 'Line' }).selectOption({ label: 'Line A' });
    await ground(page).getByRole('button', { name: 'Work out a section' }).tap();
    await ground(page).getByRole('progressbar', { name: 'Working it out' }).waitFor();
    await hollow(page).getByRole('button', { name: 'Search the line for a void' }).tap();
    await hollow(page).getByRole('progressbar', { name: 'Working it out' }).waitFor();

    await ground(page).getByRole('group', { name: 'Section under line A' }).waitFor();
    const section = (await ground(page).textContent()) ?? '';
    expect(section).toContain('Ω·m where the readings say enough');
    expect(section).toContain('Assumptions');
    await ground(page).getByText('The section as a table').tap();
    expect(await ground(page).getByRole('row').count()).toBeGreaterThan(4);

    await hollow(page).getByRole('group', { name: 'What a search of line A could have found' }).waitFor();
    const search = (await hollow(page).textContent()) ?? '';
    // The passage of the demo lies under line A at 18.8 m (demo-data/truth.json).
    expect(search).toMatch(/Passage under line A at 1[89](\.\d)? m/);
    expect(search).toContain('No candidate is no proof of sound ground.');
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(390);
    await expectNothingForAxe(page);

    await page.getByRole('button', { name: 'Record', exact: true }).tap();
    await page.getByRole('button', { name: 'Read', exact: true }).tap();
    await says(page).getByRole('combobox', { name: 'Line' }).selectOption({ label: 'Line A' });
    await ground(page).getByRole('group', { name: 'Section under line A' }).waitFor({ timeout: 5000 });
    await hollow(page)
      .getByRole('group', { name: 'What a search of line A could have found' })
      .waitFor({ timeout: 5000 });
  });

  it('can be cancelled, and can be asked for again', async () => {
    const page = await opened();
    const ask = ground(page).getByRole('button', { name: 'Work out a section' });
    await ask.click();
    await ground(page).getByRole('button', { name: 'Cancel' }).click();
    await ask.waitFor();
    expect(await ground(page).getByRole('progressbar').count()).toBe(0);
    await ask.click();
    await ground(page).getByRole('progressbar').waitFor();
    // Another line is another question.
    await says(page).getByRole('combobox', { name: 'Line' }).selectOption({ label: 'Line D' });
    await ask.waitFor();
    expect(await ground(page).getByRole('progressbar').count()).toBe(0);
  });

  it('is why it says nothing, for a line of two probes', async () => {
    const page = await opened();
    await says(page).getByRole('combobox', { name: 'Line' }).selectOption({ label: 'Line T' });
    await ground(page).getByText('No section can be made from two-probe readings').waitFor();
    await hollow(page).getByText('two-probe').waitFor();
    expect(await says(page).getByRole('button').count()).toBe(0);
  });
});
