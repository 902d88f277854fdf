import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import type { Page } from 'playwright-core';
import { expect } from 'vitest';

const AXE = createRequire(import.meta.url).resolve('axe-core/axe.min.js');
const THEMES = ['light', 'dark', 'sunlight'] as const;

/** Everything that axe has to say against a page, or a part of it by its selector. */
export async function axeSays(page: Page, part: string | null = null): Promise<string[]> {
  await page.evaluate(await readFile(AXE, 'utf8'));
  return page.evaluate(async (selector) => {
    const { axe } = window as unknown as {
      axe: { run(on: string | Document): Promise<{ violations: { id: string; nodes: { html: string }[] }[] }> };
    };
    const { violations } = await axe.run(selector ?? document);
    return violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join(' ')}`);
  }, part);
}

/** The same in every theme of the app: there must be nothing. */
export async function expectNothingForAxe(
  page: Page,
  part: string | null = null,
  themes: readonly (typeof THEMES)[number][] = THEMES,
): Promise<void> {
  for (const theme of themes) {
    await page.evaluate((look) => {
      const store = window.hollowline?.store as unknown as { dispatch(action: unknown): void };
      store.dispatch({ type: 'theme', theme: look });
    }, theme);
    expect([theme, await axeSays(page, part)]).toEqual([theme, []]);
  }
}
