import { defineConfig } from 'vitest/config';
import { tests } from './mutation.mjs';
import config from './vitest.ts';

/** The tests that mutants of a folder have to pass. */
export default defineConfig({ test: { ...config.test, include: tests, globalSetup: [] } });
