import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['tests/**/*.test.ts', 'tests/**/*.test.tsx'],
    // The browser and GDAL start slowly on a busy machine.
    testTimeout: 60_000,
    hookTimeout: 120_000,
  },
});
