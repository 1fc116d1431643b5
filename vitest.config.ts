import { defineConfig } from 'vitest/config';

export default defineConfig({
  // The command line has its version from its bundle.
  define: { NITBOOK_VERSION: '"0.0.0"' },
  test: {
    include: ['test/**/*.test.ts'],
    exclude: ['test/host/**', 'node_modules/**'],
    setupFiles: ['test/seed.ts'],
    testTimeout: 60_000,
  },
});
