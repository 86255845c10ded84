/** A point of a curve. */
export interface XY {
  readonly x: number;
  readonly y: number;
}

/** A bend less than this far from the straight line, in parts of the curve's height, is no knee. */
const LEAST_BEND = 0.05;

/**
 * The knee of a curve: the point farthest above or below the straight line between its ends, both axes scaled to 0 … 1.
 *
 * Good for curves that bend once. Where the curve rises and falls, it is the largest bulge.
 *
 * @param points  in order of x, two or more
 * @returns       index of the knee, or null where the curve is flat or straight
 * @see satopaa2011 (data/SOURCES.md)
 */
export function kneeOf(points: readonly XY[]): number | null {
  const first = points[0];
  const last = points[points.length - 1];
  if (first === undefined || last === undefined || last.x === first.x) return null;
  const ys = points.map(({ y }) => y);
  const height = Math.max(...ys) - Math.min(...ys);
  if (height === 0) return null;
  const bends = points.map(({ x, y }) => {
    const straight = first.y + ((last.y - first.y) * (x - first.x)) / (last.x - first.x);
    return Math.abs(y - straight) / height;
  });
  const most = Math.max(...bends);
  return most < LEAST_BEND ? null : bends.indexOf(most);
}
