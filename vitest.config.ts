import { defineConfig } from 'vitest/config';

const BROWSER = 'tests/browser/**/*.test.ts';
/** They time what a person would wait for, so nothing else runs beside them. */
const TIMED = ['keypad', 'pace'].map((name) => `tests/browser/${name}.test.ts`);
/** Many simulated surveys, searches that take a minute, and long walks through the page: `npm run test:long`. */
const LONG = [
  ...['cli/plan', 'ground/void-test'],
  ...['blind-appraise', 'plan', 'section', 'void-search'].map((name) => `studies/${name}`),
  ...[
    'backdrop',
    'compare',
    'figures',
    'import',
    'kept',
    'layout',
    'line-says',
    'many-surveys',
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
          exclude: [...TIMED, ...LONG],
          // Drawing in software takes every core: two at a time are no faster than one.
          maxWorkers: 1,
          sequence: { groupOrder: 1 },
          globalSetup: BUILD_ONCE,
        },
      },
      {
        extends: true,
        test: {
          name: 'timed',
          include: TIMED,
          maxWorkers: 1,
          sequence: { groupOrder: 2 },
          globalSetup: BUILD_ONCE,
        },
      },
      {
        extends: true,
        test: {
          name: 'long',
          include: LONG,
          maxWorkers: 1,
          sequence: { groupOrder: 3 },
          globalSetup: BUILD_ONCE,
        },
      },
    ],
  },
});
