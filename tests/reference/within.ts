import { expect } from 'vitest';

/** A value of ours against one from outside: no further apart than the tolerance, either way. */
export function within(found: number, wanted: number, tolerance: number): void {
  expect(Math.abs(found - wanted), `${found} against ${wanted}`).toBeLessThanOrEqual(tolerance);
}

/** The same for the ratio of the two. */
export const withinShare = (found: number, wanted: number, tolerance: number): void => within(found / wanted, 1, tolerance);

/** A value of ours inside a range that was found outside, and so much beyond it. */
export function withinRange(found: number, [least, most]: readonly [number, number], beyond: number): void {
  expect(found, `${found} in ${least} to ${most}`).toBeGreaterThanOrEqual(least - beyond);
  expect(found, `${found} in ${least} to ${most}`).toBeLessThanOrEqual(most + beyond);
}
