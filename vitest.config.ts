import { defineConfig } from 'vitest/config';

const BROWSER = 'tests/browser/**/*.test.ts';

export default defineConfig({
  test: {
    // The browser and GDAL start slowly on a busy machine.
    testTimeout: 60_000,
    hookTimeout: 120_000,
    projects: [
      {
        extends: true,
        test: {
          name: 'core',
          include: ['tests/**/*.test.ts', 'tests/**/*.test.tsx'],
          exclude: [BROWSER],
          maxWorkers: 2,
        },
      },
      {
        // One after the other: some of them time what a person would wait for.
        extends: true,
        test: {
          name: 'browser',
          include: [BROWSER],
          maxWorkers: 1,
          sequence: { groupOrder: 1 },
          globalSetup: 'tests/browser/build-once.ts',
        },
      },
    ],
  },
});
