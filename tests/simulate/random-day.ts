import { type Chance, chance } from '../../src/base/index.ts';
import type { HandCase, HandPoint, Runs } from './hand.ts';

/** A household drawn by chance, with everything the law knows in it: for laws of any run, and for two implementations to agree on. */
export function randomDay(seed: number): HandCase {
  const draw = chance(seed, 'random day');
  const pick = <T>(...choices: T[]): T => choices[Math.floor(draw.uniform() * choices.length)]!;
  const often = (share: number): boolean => draw.uniform() < share;
  const stepS = pick(60, 300, 300, 900, 900, 10);
  const steps = stepS === 10 ? 600 : 86_400 / stepS;
  const onePhase = often(0.1);
  const delayS = pick(0, 60, 180, 180, 700);
  const points = Array.from({ length: pick(1, 1, 1, 2, 2, 3) }, () => randomPoint(draw, steps, onePhase));
  return {
    stepS,
    ...points[0],
    more: points.slice(1),
    supply: {
      phases: onePhase ? 1 : 3,
      metering: often(0.3) ? 'per-phase' : 'net',
      imbalanceLimitA: often(0.25) ? pick(10, 16, 20) : null,
      exportLimitW: often(0.3) ? pick(0, 500, 3000) : null,
      contractW: often(0.2) ? pick(2000, 5000, 9000) : null,
      dimming: often(0.2)
        ? { toW: pick(0, 2000, 4200), windows: [{ weekdays: [0, 1, 2, 3, 4, 5, 6], months: [1], fromS: 36_000, toS: 46_000 }] }
        : null,
    },
    mainFuseA: pick(10, 16, 25, 35),
    ...(often(0.5) ? { battery: randomBattery(draw, onePhase) } : {}),
    control: {
      strategy: often(0.12) ? 'at-once' : 'surplus',
      surplusShare: pick(0, 0.25, 0.5, 0.8, 1, 1),
      topUp: pick('minimum', 'proportional'),
      seesCurtailedPv: often(0.4),
      startDelayS: delayS,
      stopDelayS: pick(0, delayS),
      switchUpDelayS: 2 * delayS,
      switchDownDelayS: delayS,
      switchPauseS: pick(0, 60, 300),
      restartPauseS: pick(0, 60, 300),
    },
    smoothingS: pick(0, 30, 120),
    reserveW: pick(0, 50, 200),
    pv: cloudy(draw, steps, pick(0, 3000, 9000, 20_000)),
    pvPhases: onePhase ? [1] : pick([1, 2, 3], [1, 2, 3], [2], [1, 3]),
    houseByPhase: [cloudy(draw, steps, 3000), cloudy(draw, steps, onePhase ? 0 : 2000), cloudy(draw, steps, onePhase ? 0 : 1500)],
  };
}

function randomPoint(draw: Chance, steps: number, onePhase: boolean): HandPoint {
  const pick = <T>(...choices: T[]): T => choices[Math.floor(draw.uniform() * choices.length)]!;
  const often = (share: number): boolean => draw.uniform() < share;
  const wiring = onePhase ? [1] : pick([1, 2, 3], [2, 3, 1], [3, 1, 2], [1, 3, 2]);
  const phases = pick<1 | 2 | 3>(1, 2, 3, 3);
  const minA = pick(6, 6, 8, 10);
  return {
    charger: {
      phases: onePhase ? 1 : pick<1 | 3 | 'switchable'>(1, 3, 'switchable', 'switchable'),
      maxCurrentA: pick(10, 16, 16, 32),
      currentStepA: pick(0.1, 0.5, 1, 1),
      ...(often(0.3) && !onePhase ? { wiringAsBuilt: pick([2, 1, 3], [3, 2, 1], [2, 3, 1]) } : {}),
      checksPhases: often(0.3),
    },
    wiring,
    vehicle: {
      phases,
      maxCurrentA: pick(10, 16, 32),
      minCurrentA: [minA, 6, pick(6, 7)],
      batteryKWh: pick(3, 10, 60),
      startSoc: 0.3,
      standbyW: pick(0, 180),
      startLagS: pick(0, 60, 60, 400),
      givesUpAfter: often(0.15) ? pick(1, 3, 10) : null,
    },
    ...(often(0.25) ? { believes: { phases: pick<1 | 2 | 3>(1, 2, 3), minCurrentA: pick([6, 6, 6], [10, 10, 10]) } } : {}),
    ...(often(0.4) ? { needs: { floorKm: pick(0, 5, 20), departureKm: pick(0, 20, 100, 400) } } : {}),
    ...(often(0.2) ? {} : { stays: randomStays(draw, steps) }),
  };
}

function randomBattery(draw: Chance, onePhase: boolean): NonNullable<HandCase['battery']> {
  const pick = <T>(...choices: T[]): T => choices[Math.floor(draw.uniform() * choices.length)]!;
  const priority = pick<NonNullable<HandCase['battery']>['priority']>(
    { kind: 'battery' },
    { kind: 'car' },
    { kind: 'until', untilSoc: 0.4 },
  );
  return {
    capacityWh: pick(1000, 5000, 10_000),
    maxChargeW: pick(1000, 4000),
    maxDischargeW: pick(1000, 4000),
    roundTripShare: pick(0.8, 0.9, 1),
    startSoc: draw.uniform(),
    phases: onePhase ? [1] : pick([1, 2, 3], [3]),
    ...(priority === undefined ? {} : { priority }),
    dischargeToCar: draw.uniform() < 0.5,
  };
}

/** Stays of all lengths; now and then a departure meets an arrival. */
function randomStays(draw: Chance, steps: number): [number, number, number][] {
  const stays: [number, number, number][] = [];
  let from = Math.floor(draw.uniform() * 10);
  while (from < steps) {
    const to = Math.min(steps, from + 1 + Math.floor(draw.uniform() * 150));
    stays.push([from, to, draw.uniform() * 60]);
    from = to + (draw.uniform() < 0.2 ? 0 : Math.floor(draw.uniform() * 20));
  }
  return stays;
}

/** Watts that jump about, with spells of dark. */
function cloudy(draw: Chance, steps: number, peakW: number): Runs {
  const runs: [number, number][] = [];
  for (let k = 0; k < steps; ) {
    const count = Math.min(steps - k, 1 + Math.floor(draw.uniform() * 12));
    runs.push([count, draw.uniform() < 0.15 ? 0 : peakW * draw.uniform()]);
    k += count;
  }
  return runs;
}
