/** A hot-water rod that eats surplus. */
export interface Rod {
  /** Power, W; it can take any part of it. */
  readonly maxW: number;
  /** What the tank takes in a local day at most, Wh. */
  readonly dailyWh: number;
}

/** What the tank still takes today. */
export interface RodState {
  leftWh: number;
}

/** The tank at local midnight: it wants its day's energy anew, whatever it got the day before. */
export function beginRodDay(state: RodState, rod: Rod): void {
  state.leftWh = rod.dailyWh;
}

/**
 * What a hot-water rod takes in a step, and takes off what its tank still wants today.
 *
 * Good for rods with a power controller that follows the surplus; one that only switches takes less. Leaves out the tank's
 * temperature and losses: what the day's energy does not reach is heated some other way, which is no electricity here.
 *
 * @param surplusW  what is there for it, W; below 0 counts as 0
 * @param stepH     length of the step, h
 * @returns         mean power in the step, W, 0 … `maxW`
 * @example rodStepW({ leftWh: 6000 }, { maxW: 3000, dailyWh: 6000 }, 1200, 1 / 60) // 1200
 * @example rodStepW({ leftWh: 10 }, { maxW: 3000, dailyWh: 6000 }, 5000, 1 / 60) // 600
 */
export function rodStepW(state: RodState, rod: Rod, surplusW: number, stepH: number): number {
  const powerW = Math.max(0, Math.min(rod.maxW, surplusW, state.leftWh / stepH));
  state.leftWh = Math.max(0, state.leftWh - powerW * stepH);
  return powerW;
}
