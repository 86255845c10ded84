import { cosDeg, radOf, sinDeg, turn360 } from '../base/index.ts';

/**
 * Height of the skyline at an azimuth, degrees: linear between the given heights.
 *
 * @param horizonDeg  heights at even azimuths from north, clockwise, 2 or more (8 values: N, NE, E …)
 * @param azimuthDeg  clockwise from north
 * @throws RangeError  fewer than two heights
 * @example skylineDeg([0, 10, 20, 10], 135) // 15
 */
export function skylineDeg(horizonDeg: readonly number[], azimuthDeg: number): number {
  if (horizonDeg.length < 2) throw new RangeError(`horizonDeg has ${horizonDeg.length} heights: must have 2 or more`);
  const at = (turn360(azimuthDeg) / 360) * horizonDeg.length;
  const i = Math.floor(at);
  const here = horizonDeg[i] ?? 0;
  const next = horizonDeg[(i + 1) % horizonDeg.length] ?? 0;
  return here + (next - here) * (at - i);
}

/**
 * Part of the even sky's light on a plane that a skyline leaves: the light above it over the light without it.
 *
 * Sums the plane's cosine over the visible sky in patches of 2 by 1 degrees. The skyline itself is taken as black, and
 * the ground in front of the plane as unshaded.
 *
 * @param horizonDeg  as in `skylineDeg`
 * @returns  0 … 1
 * @example openSkyShare([0, 0], 30, 180) // 1
 */
export function openSkyShare(horizonDeg: readonly number[], tiltDeg: number, azimuthDeg: number): number {
  let all = 0;
  let open = 0;
  for (let a = 1; a < 360; a += 2) {
    const skyline = skylineDeg(horizonDeg, a);
    for (let h = 0.5; h < 90; h++) {
      const onPlane = cosDeg(tiltDeg) * sinDeg(h) + sinDeg(tiltDeg) * cosDeg(h) * cosDeg(a - azimuthDeg);
      const light = Math.max(0, onPlane) * cosDeg(h);
      all += light;
      if (h > skyline) open += light;
    }
  }
  return open / all;
}

/** Steps around the circle in which the skyline is tabulated for the loop. */
const TABLE = 720;

/** The skyline as tangents of its height, by half degrees of azimuth: the loop compares without a trigonometric call but one. */
export const skylineTangents = (horizonDeg: readonly number[]): Float64Array =>
  Float64Array.from({ length: TABLE }, (_, i) => Math.tan(radOf(skylineDeg(horizonDeg, ((i + 0.5) / TABLE) * 360))));

/**
 * Whether the sun stands behind the skyline, from the vector towards it.
 *
 * @param tangents  from `skylineTangents`
 */
export function behindSkyline(tangents: Float64Array, east: number, north: number, up: number): boolean {
  const turn = Math.atan2(east, north) / (2 * Math.PI);
  const i = Math.floor((turn < 0 ? turn + 1 : turn) * TABLE) % TABLE;
  return up < (tangents[i] ?? 0) * Math.sqrt(east * east + north * north);
}
