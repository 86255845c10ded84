/**
 * A quantile of a few values, on the straight line between the two nearest in order.
 *
 * @param values  one or more
 * @param part    0 … 1
 */
export function quantile(values: readonly number[], part: number): number {
  const sorted = [...values].sort((a, b) => a - b);
  const at = part * (sorted.length - 1);
  const below = sorted[Math.floor(at)] ?? Number.NaN;
  const above = sorted[Math.ceil(at)] ?? below;
  return below + (above - below) * (at - Math.floor(at));
}
