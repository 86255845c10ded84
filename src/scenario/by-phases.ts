import type { ByPhases } from './scenario.ts';

/** A minimum as a value for one, two and three phases, however it was written. */
export const byPhases = (written: number | { 1: number; 2: number; 3: number }): ByPhases =>
  typeof written === 'number' ? [written, written, written] : [written[1], written[2], written[3]];
