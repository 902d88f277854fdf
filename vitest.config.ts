import { defineConfig } from 'vitest/config';

const BROWSER = 'tests/browser/**/*.test.ts';
/**
 * Many simulated surveys, searches that take a minute, long walks through the page, and what a person would wait for on a slow
 * phone: `npm run test:long`.
 */
const LONG = [
  'ground/void-test',
  ...['blind-appraise', 'plan', 'section', 'void-search'].map((name) => `studies/${name}`),
  ...[
    'backdrop',
    'compare',
    'figures',
    'import',
    'kept',
    'keypad',
    'layout',
    'line-says',
    'many-surveys',
    'pace',
    'page',
    'record',
    'sounding',
    'zones',
  ].map((name) => `browser/${name}`),
].map((name) => `tests/${name}.test.ts`);
const BUILD_ONCE = 'tests/browser/build-once.ts';

export default defineConfig({
  test: {
    // The browser and GDAL start slowly on a busy machine.
    testTimeout: 120_000,
    hookTimeout: 120_000,
    projects: [
      {
        extends: true,
        test: {
          name: 'core',
          include: ['tests/**/*.test.ts', 'tests/**/*.test.tsx'],
          exclude: [BROWSER, ...LONG],
          maxWorkers: 2,
        },
      },
      {
        extends: true,
        test: {
          name: 'browser',
          include: [BROWSER],
          exclude: LONG,
          // Drawing in software takes every core: two at a time are no faster than one.
          maxWorkers: 1,
          sequence: { groupOrder: 1 },
          globalSetup: BUILD_ONCE,
        },
      },
      {
        extends: true,
        test: {
          name: 'long',
          include: LONG,
          maxWorkers: 1,
          sequence: { groupOrder: 2 },
          globalSetup: BUILD_ONCE,
        },
      },
    ],
  },
});
