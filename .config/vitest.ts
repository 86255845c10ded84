import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    root: new URL('..', import.meta.url).pathname,
    include: ['tests/**/*.test.ts'],
    globalSetup: '.config/fresh-build.mjs',
    // The command is started as a process of its own in some tests; a loaded machine needs a while for that.
    testTimeout: 60_000,
  },
});
