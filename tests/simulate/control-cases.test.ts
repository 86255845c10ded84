import { describe, expect, test } from 'vitest';
import { type HandCase, type Row, rowsOf, runHand } from './hand.ts';

/**
 * Worked by hand from the text of the control law, minute by minute. A row says what the point does from its step on: step, code,
 * phases, A per phase, W, import W, export W. 230 V, no reserve and no smoothing unless the case says otherwise; delays at their
 * defaults: 3 steps to start, 3 to stall, 10 up, 3 down, 1 pause, 5 rest, 1 lag.
 */
const CASES: Record<string, { hand: HandCase; rows: Row[] }> = {
  'starts at exactly the threshold of six amperes on one phase': {
    hand: { charger: { phases: 1 }, pv: [[8, 1380]] },
    rows: [
      [0, 'proving', 0, 0, 0, 0, 1380],
      [3, 'waking', 0, 0, 0, 0, 1380],
      [4, 'surplus', 1, 6, 1380, 0, 0],
    ],
  },
  'a tenth of a watt below the threshold never starts': {
    hand: { charger: { phases: 1 }, pv: [[10, 1379.9]] },
    rows: [[0, 'short', 0, 0, 0, 0, 1379.9]],
  },
  'a shortfall below a millionth of a watt counts as reached': {
    hand: { charger: { phases: 1 }, pv: [[4, 1380 - 5e-7]] },
    rows: [
      [0, 'proving', 0, 0, 0, 0, 1380],
      [3, 'waking', 0, 0, 0, 0, 1380],
    ],
  },
  'the reserve is kept back before the threshold': {
    hand: {
      charger: { phases: 1 },
      reserveW: 50,
      pv: [
        [5, 1429],
        [5, 1430],
      ],
    },
    rows: [
      [0, 'short', 0, 0, 0, 0, 1429],
      [5, 'proving', 0, 0, 0, 0, 1430],
      [8, 'waking', 0, 0, 0, 0, 1430],
      [9, 'surplus', 1, 6, 1380, 0, 50],
    ],
  },
  'a gap in the start delay starts it anew': {
    hand: {
      charger: { phases: 1 },
      pv: [
        [3, 1500],
        [1, 1300],
        [6, 1500],
      ],
    },
    rows: [
      [0, 'proving', 0, 0, 0, 0, 1500],
      [3, 'short', 0, 0, 0, 0, 1300],
      [4, 'proving', 0, 0, 0, 0, 1500],
      [7, 'waking', 0, 0, 0, 0, 1500],
      [8, 'surplus', 1, 6, 1380, 0, 120],
    ],
  },
  'a dip as long as the stop delay is bridged by the grid': {
    hand: {
      charger: { phases: 1 },
      pv: [
        [8, 2000],
        [3, 1000],
        [4, 2000],
      ],
    },
    rows: [
      [0, 'proving', 0, 0, 0, 0, 2000],
      [3, 'waking', 0, 0, 0, 0, 2000],
      [4, 'surplus', 1, 8, 1840, 0, 160],
      [8, 'bridging', 1, 6, 1380, 380, 0],
      [11, 'surplus', 1, 8, 1840, 0, 160],
    ],
  },
  'a dip one step longer stalls; the delay ripens during the rest': {
    hand: {
      charger: { phases: 1 },
      pv: [
        [8, 2000],
        [4, 1000],
        [8, 2000],
      ],
    },
    rows: [
      [0, 'proving', 0, 0, 0, 0, 2000],
      [3, 'waking', 0, 0, 0, 0, 2000],
      [4, 'surplus', 1, 8, 1840, 0, 160],
      [8, 'bridging', 1, 6, 1380, 380, 0],
      [11, 'resting', 0, 0, 0, 0, 1000],
      [12, 'resting', 0, 0, 0, 0, 2000],
      [16, 'waking', 0, 0, 0, 0, 2000],
      [17, 'surplus', 1, 8, 1840, 0, 160],
    ],
  },
  'sun that comes back after the rest has to stand the start delay': {
    hand: {
      charger: { phases: 1 },
      pv: [
        [8, 2000],
        [9, 1000],
        [6, 2000],
      ],
    },
    rows: [
      [0, 'proving', 0, 0, 0, 0, 2000],
      [3, 'waking', 0, 0, 0, 0, 2000],
      [4, 'surplus', 1, 8, 1840, 0, 160],
      [8, 'bridging', 1, 6, 1380, 380, 0],
      [11, 'resting', 0, 0, 0, 0, 1000],
      [16, 'short', 0, 0, 0, 0, 1000],
      [17, 'proving', 0, 0, 0, 0, 2000],
      [20, 'waking', 0, 0, 0, 0, 2000],
      [21, 'surplus', 1, 8, 1840, 0, 160],
    ],
  },
  'enough sun from the first step starts on three phases at once': {
    hand: { pv: [[7, 5000]] },
    rows: [
      [0, 'proving', 0, 0, 0, 0, 5000],
      [3, 'waking', 0, 0, 0, 0, 5000],
      [4, 'surplus', 3, 7, 4830, 0, 170],
    ],
  },
  'enough for three phases, but not for as long as the start delay, starts on one': {
    hand: {
      pv: [
        [2, 2000],
        [4, 5000],
      ],
    },
    rows: [
      [0, 'proving', 0, 0, 0, 0, 2000],
      [2, 'proving', 0, 0, 0, 0, 5000],
      [3, 'waking', 0, 0, 0, 0, 5000],
      [4, 'ceiling', 1, 16, 3680, 0, 1320],
    ],
  },
  'switches up after ten minutes above 4.14 kW': {
    hand: {
      pv: [
        [10, 2000],
        [14, 5000],
      ],
    },
    rows: [
      [0, 'proving', 0, 0, 0, 0, 2000],
      [3, 'waking', 0, 0, 0, 0, 2000],
      [4, 'surplus', 1, 8, 1840, 0, 160],
      [10, 'ceiling', 1, 16, 3680, 0, 1320],
      [20, 'switching', 0, 0, 0, 0, 5000],
      [21, 'waking', 0, 0, 0, 0, 5000],
      [22, 'surplus', 3, 7, 4830, 0, 170],
    ],
  },
  'one cloud in the tenth minute starts the switch-up delay anew': {
    hand: {
      pv: [
        [10, 2000],
        [9, 5000],
        [1, 4000],
        [12, 5000],
      ],
    },
    rows: [
      [0, 'proving', 0, 0, 0, 0, 2000],
      [3, 'waking', 0, 0, 0, 0, 2000],
      [4, 'surplus', 1, 8, 1840, 0, 160],
      [10, 'ceiling', 1, 16, 3680, 0, 1320],
      [19, 'ceiling', 1, 16, 3680, 0, 320],
      [20, 'ceiling', 1, 16, 3680, 0, 1320],
      [30, 'switching', 0, 0, 0, 0, 5000],
      [31, 'waking', 0, 0, 0, 0, 5000],
    ],
  },
  'switches down after three minutes below 4.14 kW': {
    hand: {
      pv: [
        [10, 5000],
        [8, 2000],
      ],
    },
    rows: [
      [0, 'proving', 0, 0, 0, 0, 5000],
      [3, 'waking', 0, 0, 0, 0, 5000],
      [4, 'surplus', 3, 7, 4830, 0, 170],
      [10, 'bridging', 3, 6, 4140, 2140, 0],
      [13, 'switching', 0, 0, 0, 0, 2000],
      [14, 'waking', 0, 0, 0, 0, 2000],
      [15, 'surplus', 1, 8, 1840, 0, 160],
    ],
  },
  'waits with switching down until one phase would be covered': {
    hand: {
      control: { stopDelayS: 600 },
      pv: [
        [10, 5000],
        [5, 1000],
        [4, 2000],
      ],
    },
    rows: [
      [0, 'proving', 0, 0, 0, 0, 5000],
      [3, 'waking', 0, 0, 0, 0, 5000],
      [4, 'surplus', 3, 7, 4830, 0, 170],
      [10, 'bridging', 3, 6, 4140, 3140, 0],
      [15, 'switching', 0, 0, 0, 0, 2000],
      [16, 'waking', 0, 0, 0, 0, 2000],
      [17, 'surplus', 1, 8, 1840, 0, 160],
    ],
  },
  'a collapse on three phases stalls instead of switching down': {
    hand: {
      pv: [
        [10, 5000],
        [9, 500],
      ],
    },
    rows: [
      [0, 'proving', 0, 0, 0, 0, 5000],
      [3, 'waking', 0, 0, 0, 0, 5000],
      [4, 'surplus', 3, 7, 4830, 0, 170],
      [10, 'bridging', 3, 6, 4140, 3640, 0],
      [13, 'resting', 0, 0, 0, 0, 500],
      [18, 'short', 0, 0, 0, 0, 500],
    ],
  },
  'between 3.68 and 4.14 kW one phase is full and three are out of reach': {
    hand: {
      pv: [
        [20, 3900],
        [3, 3679],
      ],
    },
    rows: [
      [0, 'proving', 0, 0, 0, 0, 3900],
      [3, 'waking', 0, 0, 0, 0, 3900],
      [4, 'ceiling', 1, 16, 3680, 0, 220],
      [20, 'surplus', 1, 15, 3450, 0, 229],
    ],
  },
  'a one-phase charger of 32 A follows through that band': {
    hand: { charger: { phases: 1, maxCurrentA: 32 }, vehicle: { maxCurrentA: 32 }, pv: [[6, 3900]] },
    rows: [
      [0, 'proving', 0, 0, 0, 0, 3900],
      [3, 'waking', 0, 0, 0, 0, 3900],
      [4, 'surplus', 1, 16, 3680, 0, 220],
    ],
  },
  'a two-phase car on a switchable charger takes 2.76 kW on two': {
    hand: { vehicle: { phases: 2 }, pv: [[6, 3000]] },
    rows: [
      [0, 'proving', 0, 0, 0, 0, 3000],
      [3, 'waking', 0, 0, 0, 0, 3000],
      [4, 'surplus', 2, 6, 2760, 0, 240],
    ],
  },
  'a two-phase car on a three-phase charger waits for 2.76 kW': {
    hand: {
      charger: { phases: 3 },
      vehicle: { phases: 2 },
      pv: [
        [5, 2759],
        [5, 2760],
      ],
    },
    rows: [
      [0, 'short', 0, 0, 0, 0, 2759],
      [5, 'proving', 0, 0, 0, 0, 2760],
      [8, 'waking', 0, 0, 0, 0, 2760],
      [9, 'surplus', 2, 6, 2760, 0, 0],
    ],
  },
  'share 0.5, minimum: three phases from 2.07 kW, the grid tops up to six amperes': {
    hand: { charger: { phases: 3 }, control: { surplusShare: 0.5 }, pv: [[6, 2500]] },
    rows: [
      [0, 'proving', 0, 0, 0, 0, 2500],
      [3, 'waking', 0, 0, 0, 0, 2500],
      [4, 'topped', 3, 6, 4140, 1640, 0],
    ],
  },
  'share 0.5, minimum, switchable: the share does not lower the way to three phases': {
    hand: { control: { surplusShare: 0.5 }, pv: [[20, 2500]] },
    rows: [
      [0, 'proving', 0, 0, 0, 0, 2500],
      [3, 'waking', 0, 0, 0, 0, 2500],
      [4, 'surplus', 1, 10, 2300, 0, 200],
    ],
  },
  'share 0.5, proportional, switchable: three phases from 2.07 kW': {
    hand: { control: { surplusShare: 0.5, topUp: 'proportional' }, pv: [[6, 2500]] },
    rows: [
      [0, 'proving', 0, 0, 0, 0, 2500],
      [3, 'waking', 0, 0, 0, 0, 2500],
      [4, 'topped', 3, 7, 4830, 2330, 0],
    ],
  },
  'share 0.5, proportional, one phase: twice the surplus, up to the ceiling': {
    hand: {
      charger: { phases: 1 },
      control: { surplusShare: 0.5, topUp: 'proportional' },
      pv: [
        [8, 1000],
        [4, 3000],
        [4, 4000],
        [3, 600],
        [2, 1000],
      ],
    },
    rows: [
      [0, 'proving', 0, 0, 0, 0, 1000],
      [3, 'waking', 0, 0, 0, 0, 1000],
      [4, 'topped', 1, 8, 1840, 840, 0],
      [8, 'topped', 1, 16, 3680, 680, 0],
      [12, 'ceiling', 1, 16, 3680, 0, 320],
      [16, 'bridging', 1, 6, 1380, 780, 0],
      [19, 'topped', 1, 8, 1840, 840, 0],
    ],
  },
  'share 0, minimum: never waits, six amperes from the grid at night': {
    hand: { charger: { phases: 1 }, control: { surplusShare: 0 }, pv: [[6, 0]] },
    rows: [
      [0, 'proving', 0, 0, 0, 0, 0],
      [3, 'waking', 0, 0, 0, 0, 0],
      [4, 'topped', 1, 6, 1380, 1380, 0],
    ],
  },
  'share 0, proportional: no bound, full current at night': {
    hand: { charger: { phases: 1 }, control: { surplusShare: 0, topUp: 'proportional' }, pv: [[6, 0]] },
    rows: [
      [0, 'proving', 0, 0, 0, 0, 0],
      [3, 'waking', 0, 0, 0, 0, 0],
      [4, 'topped', 1, 16, 3680, 3680, 0],
    ],
  },
  'a car that starts at ten amperes waits for 2.3 kW and bridges at ten': {
    hand: {
      charger: { phases: 1 },
      vehicle: { minCurrentA: [10, 10, 10] },
      pv: [
        [4, 2000],
        [6, 2400],
        [2, 2000],
      ],
    },
    rows: [
      [0, 'short', 0, 0, 0, 0, 2000],
      [4, 'proving', 0, 0, 0, 0, 2400],
      [7, 'waking', 0, 0, 0, 0, 2400],
      [8, 'surplus', 1, 10, 2300, 0, 100],
      [10, 'bridging', 1, 10, 2300, 300, 0],
    ],
  },
  'a charger that sets tenths of an ampere wastes less': {
    hand: { charger: { phases: 1, currentStepA: 0.1 }, pv: [[6, 1500]] },
    rows: [
      [0, 'proving', 0, 0, 0, 0, 1500],
      [3, 'waking', 0, 0, 0, 0, 1500],
      [4, 'surplus', 1, 6.5, 1495, 0, 5],
    ],
  },
  'the house takes its share of the fuse: less current, no hold': {
    hand: { charger: { phases: 1 }, mainFuseA: 16, pvPhases: [2], house: [[6, 1380]], pv: [[6, 8000]] },
    rows: [
      [0, 'proving', 0, 0, 0, 0, 6620],
      [3, 'waking', 0, 0, 0, 0, 6620],
      [4, 'ceiling', 1, 10, 2300, 0, 4320],
    ],
  },
  'a fuse hold ends charging at once and begins a rest': {
    hand: {
      charger: { phases: 1 },
      mainFuseA: 16,
      pvPhases: [2],
      house: [
        [8, 0],
        [3, 2530],
        [5, 0],
      ],
      pv: [[16, 8000]],
    },
    rows: [
      [0, 'proving', 0, 0, 0, 0, 8000],
      [3, 'waking', 0, 0, 0, 0, 8000],
      [4, 'ceiling', 1, 16, 3680, 0, 4320],
      [8, 'held-fuse', 0, 0, 0, 0, 5470],
      [9, 'resting', 0, 0, 0, 0, 5470],
      [11, 'resting', 0, 0, 0, 0, 8000],
      [13, 'waking', 0, 0, 0, 0, 8000],
      [14, 'ceiling', 1, 16, 3680, 0, 4320],
    ],
  },
  'a fuse hold before the start begins no rest, and the count goes on': {
    hand: {
      charger: { phases: 1 },
      mainFuseA: 16,
      pvPhases: [2],
      house: [
        [10, 2530],
        [4, 0],
      ],
      pv: [[14, 8000]],
    },
    rows: [
      [0, 'proving', 0, 0, 0, 0, 5470],
      [3, 'held-fuse', 0, 0, 0, 0, 5470],
      [10, 'waking', 0, 0, 0, 0, 8000],
      [11, 'ceiling', 1, 16, 3680, 0, 4320],
    ],
  },
  'a full phase of the fuse leaves one phase where three were wanted': {
    hand: { mainFuseA: 16, pvPhases: [1], houseByPhase: [[[6, 0]], [[6, 2530]], [[6, 0]]], pv: [[6, 8000]] },
    rows: [
      [0, 'proving', 0, 0, 0, 0, 5470],
      [3, 'waking', 0, 0, 0, 0, 5470],
      [4, 'ceiling', 1, 16, 3680, 0, 1790],
    ],
  },
  'PV on a phase covers the house there, but lends the fuse nothing beyond': {
    hand: {
      charger: { phases: 1, maxCurrentA: 32 },
      vehicle: { maxCurrentA: 32 },
      mainFuseA: 16,
      pvPhases: [1],
      house: [[6, 2300]],
      pv: [[6, 9000]],
    },
    rows: [
      [0, 'proving', 0, 0, 0, 0, 6700],
      [3, 'waking', 0, 0, 0, 0, 6700],
      [4, 'ceiling', 1, 16, 3680, 0, 3020],
    ],
  },
  'terminals wired from phase 3 on meet the house there': {
    hand: {
      charger: { phases: 1 },
      mainFuseA: 16,
      pvPhases: [1],
      wiring: [3, 1, 2],
      houseByPhase: [[[6, 0]], [[6, 0]], [[6, 1840]]],
      pv: [[6, 8000]],
    },
    rows: [
      [0, 'proving', 0, 0, 0, 0, 6160],
      [3, 'waking', 0, 0, 0, 0, 6160],
      [4, 'ceiling', 1, 8, 1840, 0, 4320],
    ],
  },
  'full in mid-step: the last step draws for the part that it needs': {
    hand: {
      charger: { phases: 1 },
      vehicle: { batteryKWh: 10, startSoc: 0.5, targetSoc: 0.50345, standbyW: 0, conversionShare: 1 },
      pv: [[8, 1380]],
    },
    rows: [
      [0, 'proving', 0, 0, 0, 0, 1380],
      [3, 'waking', 0, 0, 0, 0, 1380],
      [4, 'surplus', 1, 6, 1380, 0, 0],
      [5, 'surplus', 1, 3, 690, 0, 690],
      [6, 'full', 0, 0, 0, 0, 1380],
    ],
  },
  'full until the next plug-in, which comes home with less': {
    hand: {
      charger: { phases: 1 },
      vehicle: { batteryKWh: 10, startSoc: 0.5, targetSoc: 0.5, standbyW: 0, conversionShare: 1, whPerKm: 170 },
      stays: [
        [0, 4, 0],
        [6, 14, 0.2],
      ],
      pv: [[14, 1380]],
    },
    rows: [
      [0, 'full', 0, 0, 0, 0, 1380],
      [4, 'away', 0, 0, 0, 0, 1380],
      [6, 'proving', 0, 0, 0, 0, 1380],
      [9, 'waking', 0, 0, 0, 0, 1380],
      // 34 Wh are missing: 23 Wh in step 10, 11 Wh in step 11, which is 660 W of its 1380.
      [10, 'surplus', 1, 6, 1380, 0, 0],
      [11, 'surplus', 1, 2.869565, 660, 0, 720],
      [12, 'full', 0, 0, 0, 0, 1380],
    ],
  },
  'a departure that meets an arrival clears the rest and the counts': {
    hand: {
      charger: { phases: 1 },
      stays: [
        [0, 12, 0],
        [12, 20, 0],
      ],
      pv: [
        [8, 2000],
        [4, 1000],
        [8, 2000],
      ],
    },
    rows: [
      [0, 'proving', 0, 0, 0, 0, 2000],
      [3, 'waking', 0, 0, 0, 0, 2000],
      [4, 'surplus', 1, 8, 1840, 0, 160],
      [8, 'bridging', 1, 6, 1380, 380, 0],
      [11, 'resting', 0, 0, 0, 0, 1000],
      [12, 'proving', 0, 0, 0, 0, 2000],
      [15, 'waking', 0, 0, 0, 0, 2000],
      [16, 'surplus', 1, 8, 1840, 0, 160],
    ],
  },
  'a car that comes later begins the start delay then': {
    hand: { charger: { phases: 1 }, stays: [[5, 12, 0]], pv: [[14, 2000]] },
    rows: [
      [0, 'away', 0, 0, 0, 0, 2000],
      [5, 'proving', 0, 0, 0, 0, 2000],
      [8, 'waking', 0, 0, 0, 0, 2000],
      [9, 'surplus', 1, 8, 1840, 0, 160],
      [12, 'away', 0, 0, 0, 0, 2000],
    ],
  },
  'no delay and no lag: charges in the step in which the sun comes': {
    hand: {
      charger: { phases: 1 },
      vehicle: { startLagS: 0 },
      control: { startDelayS: 0 },
      pv: [
        [2, 0],
        [3, 2000],
      ],
    },
    rows: [
      [0, 'short', 0, 0, 0, 0, 0],
      [2, 'surplus', 1, 8, 1840, 0, 160],
    ],
  },
  'a sleeping car: the lag counts nothing, so the stop delay begins when it draws': {
    hand: {
      charger: { phases: 1 },
      vehicle: { startLagS: 300 },
      pv: [
        [4, 2000],
        [10, 500],
      ],
    },
    rows: [
      [0, 'proving', 0, 0, 0, 0, 2000],
      [3, 'waking', 0, 0, 0, 0, 2000],
      [4, 'waking', 0, 0, 0, 0, 500],
      [8, 'bridging', 1, 6, 1380, 880, 0],
      [11, 'resting', 0, 0, 0, 0, 500],
    ],
  },
  'steps of 900 s: every delay but the switch-up is shorter than half a step': {
    hand: {
      stepS: 900,
      pv: [
        [2, 2000],
        [4, 5000],
        [2, 1000],
      ],
    },
    rows: [
      [0, 'surplus', 1, 8, 1840, 0, 160],
      [2, 'ceiling', 1, 16, 3680, 0, 1320],
      [3, 'switching', 0, 0, 0, 0, 5000],
      [4, 'surplus', 3, 7, 4830, 0, 170],
      [6, 'short', 0, 0, 0, 0, 1000],
    ],
  },
  'steps of 10 s: eighteen to start, six to wake, eighteen to stall, thirty to rest': {
    hand: {
      stepS: 10,
      charger: { phases: 1 },
      pv: [
        [30, 2000],
        [50, 1000],
      ],
    },
    rows: [
      [0, 'proving', 0, 0, 0, 0, 2000],
      [18, 'waking', 0, 0, 0, 0, 2000],
      [24, 'surplus', 1, 8, 1840, 0, 160],
      [30, 'bridging', 1, 6, 1380, 380, 0],
      [48, 'resting', 0, 0, 0, 0, 1000],
      [78, 'short', 0, 0, 0, 0, 1000],
    ],
  },
  'smoothing of one step: the surplus is believed bit by bit': {
    // f = 3000 · (1 − e^−j) after j steps: 1896.4, 2594.0, 2850.6, 2945.1, 2979.8, 2992.6.
    hand: {
      charger: { phases: 1 },
      smoothingS: 60,
      pv: [
        [1, 0],
        [6, 3000],
      ],
    },
    rows: [
      [0, 'short', 0, 0, 0, 0, 0],
      [1, 'proving', 0, 0, 0, 0, 3000],
      [4, 'waking', 0, 0, 0, 0, 3000],
      [5, 'surplus', 1, 12, 2760, 0, 240],
      [6, 'surplus', 1, 13, 2990, 0, 10],
    ],
  },
  'charged at once: full current on three phases, sun or not': {
    hand: { control: { strategy: 'at-once' }, pv: [[4, 0]] },
    rows: [
      [0, 'waking', 0, 0, 0, 0, 0],
      [1, 'at-once', 3, 16, 11040, 11040, 0],
    ],
  },
  'charged at once on one phase while only that is allowed, then on three at once': {
    hand: {
      control: { strategy: 'at-once' },
      mainFuseA: 16,
      houseByPhase: [
        [[9, 0]],
        [
          [5, 2530],
          [4, 0],
        ],
        [[9, 0]],
      ],
      pv: [[9, 0]],
    },
    rows: [
      [0, 'waking', 0, 0, 0, 2530, 0],
      [1, 'at-once', 1, 16, 3680, 6210, 0],
      [5, 'switching', 0, 0, 0, 0, 0],
      [6, 'waking', 0, 0, 0, 0, 0],
      [7, 'at-once', 3, 16, 11040, 11040, 0],
    ],
  },
  'charged at once: a hold ends charging, and no rest follows': {
    hand: {
      charger: { phases: 1 },
      control: { strategy: 'at-once' },
      mainFuseA: 16,
      house: [
        [3, 0],
        [2, 2530],
        [3, 0],
      ],
      pv: [[8, 0]],
    },
    rows: [
      [0, 'waking', 0, 0, 0, 0, 0],
      [1, 'at-once', 1, 16, 3680, 3680, 0],
      [3, 'held-fuse', 0, 0, 0, 2530, 0],
      [5, 'waking', 0, 0, 0, 0, 0],
      [6, 'at-once', 1, 16, 3680, 3680, 0],
    ],
  },
};

describe('control law, worked by hand', () => {
  test.each(Object.entries(CASES))('%s', (_, { hand, rows }) => {
    expect(rowsOf(runHand({ reserveW: 0, ...hand }))).toEqual(rows);
  });
});
