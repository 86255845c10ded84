import { describe, expect, test } from 'vitest';
import { lineCurrentA, type Run } from '../../src/simulate/index.ts';
import { type HandCase, type Row, rowsOf, runHand, tidy } from './hand.ts';

/**
 * Worked by hand from the text of the control law: limits, several charge points, batteries, must-charge, beliefs, per-phase metering and
 * wiring as it was really done. Rows as in control-cases: step, code, phases, A per phase, W, import W, export W of the house. No
 * reserve, no smoothing, 230 V; delays: 3 steps to start and to stall, 10 up, 3 down, 1 pause, 5 rest, 1 lag.
 */
interface Case {
  readonly hand: HandCase;
  readonly rows: Row[];
  /** Rows of the second charge point. */
  readonly second?: Row[];
  readonly also?: (run: Run) => void;
}

const one = { phases: 1 } as const;
const big = { charger: { phases: 1, maxCurrentA: 32 }, vehicle: { maxCurrentA: 32 } } as const;
/** A car without losses, so that watts and watt-hours can be followed in the head. */
const lossless = { standbyW: 0, conversionShare: 1, batteryKWh: 10 } as const;
const atOnce = { strategy: 'at-once' } as const;
/** The run begins on Thursday, 1 January, at midnight. */
const dimmed = (toW: number, fromS: number, toS: number) => ({ toW, windows: [{ weekdays: [3], months: [1], fromS, toS }] });

const CASES: Record<string, Case> = {
  // Imbalance
  'one phase of 32 A under a limit of 20 A ends at 20 A': {
    hand: { ...big, supply: { imbalanceLimitA: 20 }, pv: [[6, 8000]] },
    rows: [
      [0, 'proving', 0, 0, 0, 0, 8000],
      [3, 'waking', 0, 0, 0, 0, 8000],
      [4, 'ceiling', 1, 20, 4600, 0, 3400],
    ],
  },
  'two one-phase cars on the same phase: the second is held by the imbalance of the first': {
    hand: { ...big, more: [big], supply: { imbalanceLimitA: 16 }, pv: [[12, 8000]] },
    rows: [
      [0, 'proving', 0, 0, 0, 0, 8000],
      [3, 'waking', 0, 0, 0, 0, 8000],
      [4, 'ceiling', 1, 16, 3680, 0, 4320],
    ],
    second: [
      [0, 'proving', 0, 0, 0, 0, 8000],
      [3, 'waking', 0, 0, 0, 0, 8000],
      [4, 'held-imbalance', 0, 0, 0, 0, 4320],
      [5, 'resting', 0, 0, 0, 0, 4320],
      [9, 'held-imbalance', 0, 0, 0, 0, 4320],
    ],
  },
  'two one-phase cars on rotated phases: both charge': {
    hand: { ...big, more: [{ ...big, wiring: [2, 3, 1] }], supply: { imbalanceLimitA: 16 }, pv: [[6, 8000]] },
    rows: [
      [0, 'proving', 0, 0, 0, 0, 8000],
      [3, 'waking', 0, 0, 0, 0, 8000],
      [4, 'ceiling', 1, 16, 3680, 0, 640],
    ],
    second: [
      [0, 'proving', 0, 0, 0, 0, 8000],
      [3, 'waking', 0, 0, 0, 0, 8000],
      [4, 'ceiling', 1, 16, 3680, 0, 640],
    ],
  },
  'a limit below six amperes forbids one phase': {
    hand: { supply: { imbalanceLimitA: 5 }, pv: [[6, 2000]] },
    rows: [
      [0, 'proving', 0, 0, 0, 0, 2000],
      [3, 'held-imbalance', 0, 0, 0, 0, 2000],
    ],
  },
  'the same limit does not bind on all three phases': {
    hand: { supply: { imbalanceLimitA: 5 }, pv: [[6, 8000]] },
    rows: [
      [0, 'proving', 0, 0, 0, 0, 8000],
      [3, 'waking', 0, 0, 0, 0, 8000],
      [4, 'surplus', 3, 11, 7590, 0, 410],
    ],
  },
  'a one-phase supply knows no imbalance': {
    hand: { charger: one, wiring: [1], supply: { phases: 1, imbalanceLimitA: 10 }, pv: [[6, 8000]] },
    rows: [
      [0, 'proving', 0, 0, 0, 0, 8000],
      [3, 'waking', 0, 0, 0, 0, 8000],
      [4, 'ceiling', 1, 16, 3680, 0, 4320],
    ],
  },

  // Contract and dimming
  'contracted power leaves thirteen amperes beside the house': {
    hand: { charger: one, control: atOnce, supply: { contractW: 5000 }, house: [[4, 2000]], pv: [[4, 0]] },
    rows: [
      [0, 'waking', 0, 0, 0, 2000, 0],
      [1, 'at-once', 1, 13, 2990, 4990, 0],
    ],
  },
  'a house that needs the contracted power holds the car': {
    hand: {
      charger: one,
      control: atOnce,
      supply: { contractW: 5000 },
      house: [
        [4, 2000],
        [2, 4000],
        [3, 2000],
      ],
      pv: [[9, 0]],
    },
    rows: [
      [0, 'waking', 0, 0, 0, 2000, 0],
      [1, 'at-once', 1, 13, 2990, 4990, 0],
      [4, 'held-contract', 0, 0, 0, 4000, 0],
      [6, 'waking', 0, 0, 0, 2000, 0],
      [7, 'at-once', 1, 13, 2990, 4990, 0],
    ],
  },
  'PV makes room under the contract, as far as the house goes': {
    hand: { charger: one, control: atOnce, supply: { contractW: 5000 }, house: [[3, 2000]], pv: [[3, 1500]] },
    rows: [
      [0, 'waking', 0, 0, 0, 500, 0],
      [1, 'at-once', 1, 16, 3680, 4180, 0],
    ],
  },
  'dimmed to 4.2 kW for two minutes: six amperes on three phases': {
    hand: { control: atOnce, supply: { dimming: dimmed(4200, 120, 240) }, pv: [[6, 0]] },
    rows: [
      [0, 'waking', 0, 0, 0, 0, 0],
      [1, 'at-once', 3, 16, 11040, 11040, 0],
      [2, 'at-once', 3, 6, 4140, 4140, 0],
      [4, 'at-once', 3, 16, 11040, 11040, 0],
    ],
  },
  'dimmed to nothing: held, and started again afterwards': {
    hand: { control: atOnce, supply: { dimming: dimmed(0, 120, 240) }, pv: [[7, 0]] },
    rows: [
      [0, 'waking', 0, 0, 0, 0, 0],
      [1, 'at-once', 3, 16, 11040, 11040, 0],
      [2, 'held-dimmed', 0, 0, 0, 0, 0],
      [4, 'waking', 0, 0, 0, 0, 0],
      [5, 'at-once', 3, 16, 11040, 11040, 0],
    ],
  },
  'a window on another weekday does not dim': {
    hand: {
      control: atOnce,
      supply: { dimming: { toW: 0, windows: [{ weekdays: [0, 1, 2], months: [1], fromS: 0, toS: 0 }] } },
      pv: [[4, 0]],
    },
    rows: [
      [0, 'waking', 0, 0, 0, 0, 0],
      [1, 'at-once', 3, 16, 11040, 11040, 0],
    ],
  },
  'a window over midnight that began on Wednesday dims Thursday morning': {
    hand: {
      charger: one,
      control: atOnce,
      supply: { dimming: { toW: 2000, windows: [{ weekdays: [2], months: [12], fromS: 79_200, toS: 180 }] } },
      pv: [[5, 0]],
    },
    rows: [
      [0, 'waking', 0, 0, 0, 0, 0],
      [1, 'at-once', 1, 8, 1840, 1840, 0],
      [3, 'at-once', 1, 16, 3680, 3680, 0],
    ],
  },
  'two chargers share the dimmed power in list order': {
    hand: {
      charger: one,
      more: [{ charger: one }],
      control: atOnce,
      supply: { dimming: dimmed(4200, 0, 3600) },
      pv: [[4, 0]],
    },
    rows: [
      [0, 'waking', 0, 0, 0, 0, 0],
      [1, 'at-once', 1, 16, 3680, 3680, 0],
    ],
    second: [
      [0, 'waking', 0, 0, 0, 0, 0],
      [1, 'held-dimmed', 0, 0, 0, 3680, 0],
    ],
  },
  'limits that bind equally are named in order: the fuse first': {
    hand: { charger: one, control: atOnce, mainFuseA: 16, supply: { contractW: 3680 }, house: [[3, 3680]], pv: [[3, 0]] },
    rows: [[0, 'held-fuse', 0, 0, 0, 3680, 0]],
  },

  // Several charge points
  'two one-phase cars on one phase share its fuse in list order': {
    hand: { charger: one, more: [{ charger: one }], control: atOnce, mainFuseA: 25, pv: [[4, 0]] },
    rows: [
      [0, 'waking', 0, 0, 0, 0, 0],
      [1, 'at-once', 1, 16, 3680, 5750, 0],
    ],
    second: [
      [0, 'waking', 0, 0, 0, 0, 0],
      [1, 'at-once', 1, 9, 2070, 5750, 0],
    ],
  },
  'on rotated phases each has a fuse of its own': {
    hand: { charger: one, more: [{ charger: one, wiring: [2, 3, 1] }], control: atOnce, mainFuseA: 25, pv: [[4, 0]] },
    rows: [
      [0, 'waking', 0, 0, 0, 0, 0],
      [1, 'at-once', 1, 16, 3680, 7360, 0],
    ],
    second: [
      [0, 'waking', 0, 0, 0, 0, 0],
      [1, 'at-once', 1, 16, 3680, 7360, 0],
    ],
  },
  'the second sees what the first leaves of the surplus, and stalls': {
    hand: { charger: one, more: [{ charger: one }], pv: [[14, 5000]] },
    rows: [
      [0, 'proving', 0, 0, 0, 0, 5000],
      [3, 'waking', 0, 0, 0, 0, 5000],
      [4, 'ceiling', 1, 16, 3680, 60, 0],
      [7, 'ceiling', 1, 16, 3680, 0, 1320],
    ],
    second: [
      [0, 'proving', 0, 0, 0, 0, 5000],
      [3, 'waking', 0, 0, 0, 0, 5000],
      [4, 'bridging', 1, 6, 1380, 60, 0],
      [7, 'resting', 0, 0, 0, 0, 1320],
      [12, 'short', 0, 0, 0, 0, 1320],
    ],
  },

  // Home battery
  'battery first: what it takes is no surplus': {
    hand: { charger: one, battery: {}, pv: [[6, 5000]] },
    rows: [[0, 'short', 0, 0, 0, 0, 1000]],
    also: ({ columns }) => expect([...columns.batteryW]).toEqual([4000, 4000, 4000, 4000, 4000, 4000]),
  },
  'battery first, and full: all is surplus': {
    hand: { charger: one, battery: { startSoc: 1 }, pv: [[6, 5000]] },
    rows: [
      [0, 'proving', 0, 0, 0, 0, 5000],
      [3, 'waking', 0, 0, 0, 0, 5000],
      [4, 'ceiling', 1, 16, 3680, 0, 1320],
    ],
  },
  'car first: the battery has what the car leaves': {
    hand: { charger: one, battery: { priority: { kind: 'car' } }, pv: [[6, 5000]] },
    rows: [
      [0, 'proving', 0, 0, 0, 0, 1000],
      [3, 'waking', 0, 0, 0, 0, 1000],
      [4, 'ceiling', 1, 16, 3680, 0, 0],
    ],
    also: ({ columns }) => expect([...columns.batteryW]).toEqual([4000, 4000, 4000, 4000, 1320, 1320]),
  },
  'battery first until 40 %: then the car': {
    // 100 Wh to go: all 4 kW in the first minute, 2 kW of them in the second, none from the third on.
    hand: {
      charger: one,
      battery: { capacityWh: 1000, startSoc: 0.3, priority: { kind: 'until', untilSoc: 0.4 } },
      pv: [[8, 5000]],
    },
    rows: [
      [0, 'short', 0, 0, 0, 0, 1000],
      [1, 'proving', 0, 0, 0, 0, 1000],
      [4, 'waking', 0, 0, 0, 0, 1000],
      [5, 'ceiling', 1, 16, 3680, 0, 0],
    ],
    also: ({ columns }) =>
      expect([...columns.surplusW.map(Math.round)]).toEqual([1000, 3000, 5000, 5000, 5000, 5000, 5000, 5000]),
  },
  'a car that draws more than the surplus leaves the battery less': {
    hand: { charger: one, battery: {}, control: { surplusShare: 0.5 }, pv: [[6, 5000]] },
    rows: [
      [0, 'proving', 0, 0, 0, 0, 1000],
      [3, 'waking', 0, 0, 0, 0, 1000],
      [4, 'topped', 1, 6, 1380, 0, 0],
    ],
    also: ({ columns }) => {
      expect(columns.batteryW[4]).toBe(3620);
      expect(columns.points[0]!.pvW[4]).toBe(1380);
    },
  },
  'a battery kept from the car covers the house only': {
    hand: { charger: one, battery: {}, control: atOnce, house: [[3, 1000]], pv: [[3, 0]] },
    rows: [
      [0, 'waking', 0, 0, 0, 0, 0],
      [1, 'at-once', 1, 16, 3680, 3680, 0],
    ],
  },
  'a battery that may feeds the car after the house': {
    hand: { charger: one, battery: { dischargeToCar: true }, control: atOnce, house: [[3, 1000]], pv: [[3, 0]] },
    rows: [
      [0, 'waking', 0, 0, 0, 0, 0],
      [1, 'at-once', 1, 16, 3680, 680, 0],
    ],
    also: ({ columns }) => expect(columns.points[0]!.batteryW[1]).toBe(3000),
  },
  'an empty battery gives what is left, less its loss on the way out': {
    // 50 Wh, nine tenths of them in a minute: 2700 W.
    hand: { stays: [], battery: { capacityWh: 100, startSoc: 0.5, roundTripShare: 0.81 }, house: [[3, 3000]], pv: [[3, 0]] },
    rows: [
      [0, 'away', 0, 0, 0, 300, 0],
      [1, 'away', 0, 0, 0, 3000, 0],
    ],
  },
  'a nearly full battery takes what it has room for, and the loss on the way in': {
    // 30 Wh of room are 33.3 Wh at the meter: 2000 W for a minute.
    hand: { stays: [], battery: { capacityWh: 1000, startSoc: 0.97, roundTripShare: 0.81 }, pv: [[3, 5000]] },
    rows: [
      [0, 'away', 0, 0, 0, 0, 3000],
      [1, 'away', 0, 0, 0, 0, 5000],
    ],
  },

  // Export limit
  'behind an export limit the car finds hidden sun step by step': {
    hand: { charger: one, supply: { exportLimitW: 3000 }, pv: [[7, 8000]] },
    rows: [
      [0, 'proving', 0, 0, 0, 0, 3000],
      [3, 'waking', 0, 0, 0, 0, 3000],
      [4, 'surplus', 1, 13, 2990, 0, 3000],
      [5, 'ceiling', 1, 16, 3680, 0, 3000],
    ],
    also: ({ columns }) => expect([...columns.curtailedW]).toEqual([5000, 5000, 5000, 5000, 2010, 1320, 1320]),
  },
  'behind an export limit below the threshold nothing is ever seen': {
    hand: { charger: one, supply: { exportLimitW: 1000 }, pv: [[20, 8000]] },
    rows: [[0, 'short', 0, 0, 0, 0, 1000]],
  },
  'a controller that knows what PV could give starts all the same, and saves what would be curtailed': {
    hand: { charger: one, supply: { exportLimitW: 1000 }, control: { seesCurtailedPv: true }, pv: [[7, 8000]] },
    rows: [
      [0, 'proving', 0, 0, 0, 0, 1000],
      [3, 'waking', 0, 0, 0, 0, 1000],
      [4, 'ceiling', 1, 16, 3680, 0, 1000],
    ],
    // Three minutes at 3680 W, all of it sun that would have been lost.
    also: ({ ledger }) => expect(ledger.total.rescuedWh).toBeCloseTo(184, 9),
  },
  'no export at all: the sun shows by what the battery took in the step before': {
    hand: { charger: one, supply: { exportLimitW: 0 }, battery: { priority: { kind: 'car' } }, pv: [[8, 5000]] },
    rows: [
      [0, 'short', 0, 0, 0, 0, 0],
      [1, 'proving', 0, 0, 0, 0, 0],
      [4, 'waking', 0, 0, 0, 0, 0],
      [5, 'ceiling', 1, 16, 3680, 0, 0],
    ],
  },

  // Hot-water rod
  'a rod that comes first leaves the car what it does not take': {
    // 2 kW of rod off 5 kW of sun leave 3 kW: thirteen amperes.
    hand: { charger: one, diverter: { maxW: 2000, dailyWh: 6000, priority: 'diverter' }, pv: [[6, 5000]] },
    rows: [
      [0, 'proving', 0, 0, 0, 0, 3000],
      [3, 'waking', 0, 0, 0, 0, 3000],
      [4, 'surplus', 1, 13, 2990, 0, 10],
    ],
    also: ({ columns }) => expect([...columns.loadW]).toEqual([2000, 2000, 2000, 2000, 2000, 2000]),
  },
  'a rod that comes last takes what the car leaves, until the tank is hot': {
    // 100 Wh a day: 2 kW for three minutes.
    hand: { charger: one, diverter: { maxW: 2000, dailyWh: 100, priority: 'car' }, pv: [[6, 5000]] },
    rows: [
      [0, 'proving', 0, 0, 0, 0, 3000],
      [3, 'waking', 0, 0, 0, 0, 5000],
      [4, 'ceiling', 1, 16, 3680, 0, 1320],
    ],
    also: ({ columns }) => expect([...columns.loadW].map(tidy)).toEqual([2000, 2000, 2000, 0, 0, 0]),
  },

  // Must-charge
  'below the floor it charges at once, and goes on by the ordinary rules when the floor is reached': {
    // 700 Wh at 61.3 Wh a minute: twelve minutes.
    hand: {
      charger: one,
      vehicle: { ...lossless, startSoc: 0.1, whPerKm: 170 },
      needs: { floorKm: 10 },
      pv: [[24, 0]],
    },
    rows: [
      [0, 'waking', 0, 0, 0, 0, 0],
      [1, 'must', 1, 16, 3680, 3680, 0],
      [13, 'bridging', 1, 6, 1380, 1380, 0],
      [16, 'resting', 0, 0, 0, 0, 0],
      [21, 'short', 0, 0, 0, 0, 0],
    ],
  },
  'before a departure it begins when the time grows short': {
    // 1850 Wh take 1810 s at 3680 W; with a tenth in hand and two minutes of delays 2111 s: from minute 25 of 60 on.
    hand: {
      charger: one,
      vehicle: { ...lossless, whPerKm: 185 },
      needs: { departureKm: 10 },
      stays: [[0, 60, 0]],
      pv: [[62, 0]],
    },
    rows: [
      [0, 'short', 0, 0, 0, 0, 0],
      [25, 'waking', 0, 0, 0, 0, 0],
      [26, 'must', 1, 16, 3680, 3680, 0],
      [57, 'bridging', 1, 6, 1380, 1380, 0],
      [60, 'away', 0, 0, 0, 0, 0],
    ],
  },
  'it never charges above the target, and the last minute is a part of one': {
    // 100 Wh to the target: 61.3 Wh, then 38.7 Wh.
    hand: {
      charger: one,
      vehicle: { ...lossless, startSoc: 0.19, targetSoc: 0.2 },
      needs: { departureKm: 1000 },
      stays: [[0, 60, 0]],
      pv: [[62, 0]],
    },
    rows: [
      [0, 'short', 0, 0, 0, 0, 0],
      [57, 'waking', 0, 0, 0, 0, 0],
      [58, 'must', 1, 16, 3680, 3680, 0],
      [59, 'must', 1, 10.086957, 2320, 2320, 0],
      [60, 'away', 0, 0, 0, 0, 0],
    ],
  },
  'must-charge that finds the car on one phase and needs three pauses at once': {
    // At minute 19 the car has 460 of 3680 Wh: 3220 Wh take 1050 s on three phases, 1275 s with what is kept in hand; 1260 s are left.
    hand: {
      vehicle: { ...lossless, whPerKm: 184 },
      needs: { departureKm: 20 },
      stays: [[0, 40, 0]],
      pv: [[42, 2000]],
    },
    rows: [
      [0, 'proving', 0, 0, 0, 0, 2000],
      [3, 'waking', 0, 0, 0, 0, 2000],
      [4, 'surplus', 1, 8, 1840, 0, 160],
      [19, 'switching', 0, 0, 0, 0, 2000],
      [20, 'waking', 0, 0, 0, 0, 2000],
      [21, 'must', 3, 16, 11040, 9040, 0],
      [39, 'bridging', 3, 6, 4140, 2140, 0],
      [40, 'away', 0, 0, 0, 0, 2000],
    ],
  },
  'must-charge knows no rest': {
    // At minute 13 the car has 191.7 of 1190 Wh: 998 Wh take 1074 s with a tenth in hand, and two minutes; 1140 s are left.
    hand: {
      charger: one,
      vehicle: { ...lossless, whPerKm: 1000 },
      needs: { departureKm: 1.19 },
      stays: [[0, 32, 0]],
      pv: [
        [8, 2000],
        [26, 0],
      ],
    },
    rows: [
      [0, 'proving', 0, 0, 0, 0, 2000],
      [3, 'waking', 0, 0, 0, 0, 2000],
      [4, 'surplus', 1, 8, 1840, 0, 160],
      [8, 'bridging', 1, 6, 1380, 1380, 0],
      [11, 'resting', 0, 0, 0, 0, 0],
      [13, 'waking', 0, 0, 0, 0, 0],
      [14, 'must', 1, 16, 3680, 3680, 0],
      [31, 'bridging', 1, 6, 1380, 1380, 0],
      [32, 'away', 0, 0, 0, 0, 0],
    ],
  },
  'a departure missed by the fuse': {
    hand: {
      charger: one,
      vehicle: { ...lossless, whPerKm: 185 },
      needs: { departureKm: 10 },
      mainFuseA: 16,
      house: [[62, 2530]],
      stays: [[0, 60, 0]],
      pv: [[62, 0]],
    },
    rows: [
      [0, 'short', 0, 0, 0, 2530, 0],
      [25, 'held-fuse', 0, 0, 0, 2530, 0],
      [60, 'away', 0, 0, 0, 2530, 0],
    ],
  },

  // What the controller believes
  'a three-phase charger waits for 4.14 kW for a one-phase car': {
    hand: {
      charger: { phases: 3 },
      vehicle: { phases: 1 },
      believes: { phases: 3 },
      pv: [
        [5, 4000],
        [6, 5000],
      ],
    },
    rows: [
      [0, 'short', 0, 0, 0, 0, 4000],
      [5, 'proving', 0, 0, 0, 0, 5000],
      [8, 'waking', 0, 0, 0, 0, 5000],
      [9, 'surplus', 1, 7, 1610, 0, 3390],
    ],
  },
  'six amperes offered to a car that wants ten': {
    hand: {
      charger: one,
      vehicle: { minCurrentA: [10, 10, 10] },
      believes: { minCurrentA: [6, 6, 6] },
      pv: [
        [8, 1500],
        [3, 2400],
      ],
    },
    rows: [
      [0, 'proving', 0, 0, 0, 0, 1500],
      [3, 'waking', 0, 0, 0, 0, 1500],
      [4, 'refusing', 0, 0, 0, 0, 1500],
      [8, 'surplus', 1, 10, 2300, 0, 100],
    ],
  },
  'a controller none the wiser stalls a car that never drew': {
    hand: {
      charger: one,
      vehicle: { minCurrentA: [10, 10, 10] },
      believes: { minCurrentA: [6, 6, 6] },
      pv: [
        [8, 1500],
        [5, 500],
      ],
    },
    rows: [
      [0, 'proving', 0, 0, 0, 0, 1500],
      [3, 'waking', 0, 0, 0, 0, 1500],
      [4, 'refusing', 0, 0, 0, 0, 1500],
      [8, 'refusing', 0, 0, 0, 0, 500],
      [11, 'resting', 0, 0, 0, 0, 500],
    ],
  },
  'a car gives up at its second interruption, until it is plugged in anew': {
    hand: {
      charger: one,
      vehicle: { givesUpAfter: 2, startLagS: 0 },
      control: { startDelayS: 0, stopDelayS: 0, restartPauseS: 0 },
      stays: [
        [0, 7, 0],
        [7, 9, 0],
      ],
      pv: [
        [1, 2000],
        [1, 1000],
        [1, 2000],
        [1, 1000],
        [5, 2000],
      ],
    },
    rows: [
      [0, 'surplus', 1, 8, 1840, 0, 160],
      [1, 'short', 0, 0, 0, 0, 1000],
      [2, 'surplus', 1, 8, 1840, 0, 160],
      [3, 'short', 0, 0, 0, 0, 1000],
      [4, 'gave-up', 0, 0, 0, 0, 2000],
      [7, 'surplus', 1, 8, 1840, 0, 160],
    ],
  },

  // A meter that counts each phase for itself
  'net surplus on one phase is no surplus on another': {
    hand: { charger: one, supply: { metering: 'per-phase' }, pvPhases: [2], pv: [[6, 5000]] },
    rows: [[0, 'short', 0, 0, 0, 0, 5000]],
  },
  'on a phase where the sun is left over it starts': {
    hand: { charger: one, wiring: [2, 3, 1], supply: { metering: 'per-phase' }, house: [[6, 1000]], pv: [[6, 6000]] },
    rows: [
      [0, 'proving', 0, 0, 0, 0, 5000],
      [3, 'waking', 0, 0, 0, 0, 5000],
      [4, 'surplus', 1, 8, 1840, 0, 3160],
    ],
  },
  'three phases have three times the least of theirs': {
    // 2000, 3000 and 3000 W: three times 2000.
    hand: { charger: { phases: 3 }, supply: { metering: 'per-phase' }, house: [[6, 1000]], pv: [[6, 9000]] },
    rows: [
      [0, 'proving', 0, 0, 0, 0, 8000],
      [3, 'waking', 0, 0, 0, 0, 8000],
      [4, 'surplus', 3, 8, 5520, 0, 2480],
    ],
  },
  'import and export in the same step, each phase for itself': {
    hand: { charger: one, supply: { metering: 'per-phase' }, control: { surplusShare: 0.5 }, pv: [[6, 3000]] },
    rows: [
      [0, 'proving', 0, 0, 0, 0, 3000],
      [3, 'waking', 0, 0, 0, 0, 3000],
      [4, 'topped', 1, 6, 1380, 380, 2000],
    ],
    also: ({ columns }) => expect(columns.points[0]!.pvW[4]).toBe(1000),
  },
  'a one-phase battery follows the sum and draws from the grid on its own phase': {
    hand: { stays: [], battery: { phases: [3] }, supply: { metering: 'per-phase' }, pv: [[3, 3000]] },
    rows: [[0, 'away', 0, 0, 0, 2000, 2000]],
  },

  // Wiring as it was really done
  'a swapped charger that checks its phases breaks off again and again': {
    hand: { charger: { phases: 1, wiringAsBuilt: [2, 1, 3], checksPhases: true }, pv: [[14, 3000]] },
    rows: [
      [0, 'proving', 0, 0, 0, 0, 3000],
      [3, 'waking', 0, 0, 0, 0, 3000],
      [4, 'surplus', 1, 13, 2990, 0, 10],
      [5, 'resting', 0, 0, 0, 0, 3000],
      [10, 'waking', 0, 0, 0, 0, 3000],
      [11, 'surplus', 1, 13, 2990, 0, 10],
      [12, 'resting', 0, 0, 0, 0, 3000],
    ],
    also: ({ ledger }) => expect(ledger.total.points[0]!.breakOffs).toBe(2),
  },
  'on all three phases the same swap does not show': {
    hand: { charger: { wiringAsBuilt: [2, 1, 3], checksPhases: true }, pv: [[6, 8000]] },
    rows: [
      [0, 'proving', 0, 0, 0, 0, 8000],
      [3, 'waking', 0, 0, 0, 0, 8000],
      [4, 'surplus', 3, 11, 7590, 0, 410],
    ],
  },
  'a rotated charger that is meant to rotate is no fault': {
    hand: { charger: { phases: 1, checksPhases: true }, wiring: [2, 3, 1], pv: [[6, 3000]] },
    rows: [
      [0, 'proving', 0, 0, 0, 0, 3000],
      [3, 'waking', 0, 0, 0, 0, 3000],
      [4, 'surplus', 1, 13, 2990, 0, 10],
    ],
  },
  'a swap that nobody checks overloads a phase that nobody watches': {
    hand: {
      charger: { phases: 1, wiringAsBuilt: [2, 1, 3] },
      mainFuseA: 16,
      pvPhases: [3],
      houseByPhase: [[[6, 0]], [[6, 2300]], [[6, 0]]],
      pv: [[6, 8000]],
    },
    rows: [
      [0, 'proving', 0, 0, 0, 0, 5700],
      [3, 'waking', 0, 0, 0, 0, 5700],
      [4, 'ceiling', 1, 16, 3680, 0, 2020],
    ],
    also: ({ plan, profiles, columns }) => expect(lineCurrentA(plan, profiles, columns, 2)[4]).toBe(26),
  },
};

describe('the whole law, worked by hand', () => {
  test.each(Object.entries(CASES))('%s', (_, { hand, rows, second, also }) => {
    const run = runHand({ reserveW: 0, ...hand });
    expect(rowsOf(run)).toEqual(rows);
    if (second !== undefined) expect(rowsOf(run, 1)).toEqual(second);
    also?.(run);
  });
});
