import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { fileLook, pageLook } from '../../src/figures/look';

const css = readFileSync(fileURLToPath(new URL('../../styles/tokens.css', import.meta.url)), 'utf8');
const light = /:root,\s*:root\[data-theme="light"\] \{([^}]*)\}/.exec(css)?.[1] ?? '';
const token = (text: string, name: string): string | undefined => new RegExp(`--${name}: ([^;]+);`).exec(text)?.[1];

describe('the look of a figure', () => {
  it('in a file has the very colours and type of the page by day', () => {
    const look = fileLook();
    expect([look.ink, look.inkSoft, look.rule, look.paper, look.accent, look.font]).toEqual([
      token(light, 'ink'),
      token(light, 'ink-soft'),
      token(light, 'rule-strong'),
      token(light, 'paper'),
      token(light, 'accent'),
      token(css, 'humanist'),
    ]);
    expect(look.paintPaper).toBe(true);
  });

  it('in the page takes them from the page, by names that the page has', () => {
    const { ink, inkSoft, rule, paper, accent, font } = pageLook('dark');
    for (const value of [ink, inkSoft, rule, paper, accent, font]) {
      const name = /^var\(--([a-z-]+)\)$/.exec(value)?.[1] ?? 'none';
      expect(token(css, name)).toBeDefined();
    }
  });

  it('has text that can be read on a phone', () => {
    for (const theme of ['light', 'dark', 'sunlight'] as const) {
      expect(pageLook(theme).textPx).toBeGreaterThanOrEqual(12);
      expect(pageLook(theme).widthPx).toBe(360);
    }
  });
});
