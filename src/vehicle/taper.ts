/** Least part of its full current that a car still takes as it nears full. From memory. */
const END_SHARE = 0.2;

/**
 * Current that a car takes of what it is offered as it nears full: all of it up to `fromSoc`, then falling in a straight line to a
 * fifth of its own maximum when full, but never below its minimum.
 *
 * A shape for slow AC charging, from memory: most cars hold full AC power to 95 % or more. The real end of charge may lie below the
 * minimum current for some minutes; that is left out, as the law knows no such current.
 *
 * @param offeredA    current offered, A per phase
 * @param soc         state of charge, 0 … 1
 * @param fromSoc     where the taper begins; 1: there is none
 * @param maxCurrentA  of the car
 * @param minCurrentA  of the car on the phases that it draws on
 * @returns           A per phase, 0 … `offeredA`
 * @example taperedCurrentA(16, 0.95, 0.9, 16, 6) // 9.6
 * @example taperedCurrentA(16, 0.9, 0.9, 16, 6) // 16
 * @example taperedCurrentA(16, 1, 0.9, 16, 6) // 6
 */
export function taperedCurrentA(
  offeredA: number,
  soc: number,
  fromSoc: number,
  maxCurrentA: number,
  minCurrentA: number,
): number {
  if (soc <= fromSoc) return offeredA;
  const done = Math.min(1, (soc - fromSoc) / (1 - fromSoc));
  const acceptedA = maxCurrentA * (1 - (1 - END_SHARE) * done);
  return Math.min(offeredA, Math.max(minCurrentA, acceptedA));
}
