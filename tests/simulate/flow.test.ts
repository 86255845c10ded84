import { describe, expect, test } from 'vitest';
import { planOf, type Run, runPlan } from '../../src/simulate/index.ts';
import { type HandCase, profilesOf, runHand, scenarioOf } from './hand.ts';

const ONE: Pick<HandCase, 'charger' | 'vehicle'> = { charger: { phases: 1 }, vehicle: { phases: 1 } };
/** What the columns say of a step. */
const at = ({ columns }: Run, k: number) => ({
  load: columns.loadW[k]!,
  surplus: columns.surplusW[k]!,
  export: columns.gridExportW[k]!,
  import: columns.gridImportW[k]!,
  curtailed: columns.curtailedW[k]!,
  rescued: columns.rescuedW[k]!,
  battery: columns.batteryW[k]!,
  car: (columns.points[0]?.powerW[k] ?? 0) + 0,
});

describe('a hot-water rod', () => {
  const rod = (priority: 'car' | 'diverter', changes: object = {}) => ({ maxW: 1500, dailyWh: 6000, priority, ...changes });
  const sunny: HandCase = { ...ONE, pv: [[10, 5000]], house: [[10, 500]] };

  test('that comes first is a part of the house: the car has what is left', () => {
    // 5000 W less 500 W and 1500 W, 50 W in reserve: 12 A.
    expect(at(runHand({ ...sunny, diverter: rod('diverter') }), 5)).toMatchObject({
      load: 2000,
      surplus: 3000,
      car: 2760,
      export: 240,
      import: 0,
    });
  });

  test('that comes last takes what cars and battery leave', () => {
    expect(at(runHand({ ...sunny, diverter: rod('car') }), 5)).toMatchObject({ load: 1320, surplus: 4500, car: 3680, export: 0 });
    const battery = { maxChargeW: 600, priority: { kind: 'car' } } as const;
    expect(at(runHand({ ...sunny, battery, diverter: rod('car') }), 5)).toMatchObject({ load: 720, battery: 600, export: 0 });
  });

  test('takes no more than its tank wants in a day, and every day anew', () => {
    // 20 Wh are a minute of 1200 W.
    const hand: HandCase = { pv: [[20, 5000]], stays: [], diverter: rod('diverter', { dailyWh: 20 }) };
    const scenario = scenarioOf(hand);
    const grid = { ...scenario.grid, dayStart: Int32Array.of(0, 12, 20), dayMs: Float64Array.of(0, 86_400_000) };
    const { columns } = runPlan(planOf({ ...scenario, grid }), profilesOf(hand, 20));
    const taken = [...columns.loadW.keys()].filter((k) => columns.loadW[k]! > 1e-6);
    expect(taken).toEqual([0, 12]);
    expect([columns.loadW[0], columns.loadW[12]]).toEqual([expect.closeTo(1200, 9), expect.closeTo(1200, 9)]);
  });

  test('that comes first lies on all phases of the building alike', () => {
    // 2000 W of sun on each phase, less 500 W of rod on each, and 500 W of house on phase 1.
    const hand: HandCase = {
      ...ONE,
      pv: [[10, 6000]],
      house: [[10, 500]],
      supply: { metering: 'per-phase' },
      diverter: rod('diverter'),
    };
    expect(at(runHand(hand), 5)).toMatchObject({ car: 0, export: 4000 });
    expect(at(runHand({ ...hand, wiring: [2, 3, 1] }), 5)).toMatchObject({ car: 1380, export: 2620, import: 0 });
    const lone: HandCase = { ...hand, pv: [[10, 4000]], supply: { phases: 1, metering: 'per-phase' }, wiring: [1] };
    // 4000 W less 500 W and 1500 W, a third of 50 W in reserve: 8 A.
    expect(at(runHand(lone), 5)).toMatchObject({ car: 1840, export: 160 });
  });
});

describe('what cars save from being curtailed', () => {
  const limited: HandCase = { ...ONE, pv: [[10, 5000]], supply: { exportLimitW: 1000 }, control: { seesCurtailedPv: true } };

  test('all that the car takes of it', () => {
    expect(at(runHand(limited), 2)).toMatchObject({ curtailed: 4000, rescued: 0, export: 1000 });
    expect(at(runHand(limited), 5)).toMatchObject({ car: 3680, curtailed: 320, rescued: 3680, export: 1000 });
    // A smaller sun: what the car takes beyond the 1500 W would have been exported.
    expect(at(runHand({ ...limited, pv: [[10, 2500]] }), 5)).toMatchObject({
      car: 2300,
      curtailed: 0,
      rescued: 1500,
      export: 200,
    });
    expect(at(runHand({ ...limited, supply: {} }), 5).rescued).toBe(0);
  });

  test('not what battery and rod would have taken without it', () => {
    const battery = { maxChargeW: 2000 };
    // Without a car: 2000 W in the battery, 1000 W exported, 2000 W curtailed.
    expect(at(runHand({ ...limited, battery }), 5)).toMatchObject({ car: 2760, battery: 2000, curtailed: 0, rescued: 2000 });
    const diverter = { maxW: 1500, dailyWh: 6000, priority: 'car' } as const;
    expect(at(runHand({ ...limited, diverter }), 5)).toMatchObject({ car: 3680, load: 1320, curtailed: 0, rescued: 2500 });
    // A tank that wants 5 Wh, 300 W for a minute: they are in before the car begins.
    expect(at(runHand({ ...limited, diverter: { ...diverter, dailyWh: 5 } }), 5)).toMatchObject({ rescued: 3680 });
    // One that comes first is a part of the house: 3500 W are left, 15 A.
    const first = { ...diverter, priority: 'diverter' } as const;
    expect(at(runHand({ ...limited, diverter: first }), 5)).toMatchObject({ car: 3450, rescued: 2500 });
    // A battery that is full takes nothing.
    expect(at(runHand({ ...limited, battery: { startSoc: 1 } }), 5)).toMatchObject({ rescued: 3680 });
  });

  test('phase by phase, where the meter counts so: what one phase has to spare does not feed the other', () => {
    const byPhase: HandCase = {
      ...limited,
      pv: [[10, 6000]],
      pvPhases: [1],
      houseByPhase: [[[10, 0]], [[10, 3000]], [[10, 0]]],
      supply: { exportLimitW: 1000, metering: 'per-phase' },
    };
    expect(at(runHand(byPhase), 2)).toMatchObject({ curtailed: 5000, import: 3000 });
    expect(at(runHand(byPhase), 5)).toMatchObject({ car: 3680, curtailed: 1320, rescued: 3680, export: 1000 });
    // The battery would take 2000 W of the 3000 W that the phases have together, all on phase 1; beside the car there is nothing for it.
    const battery = { maxChargeW: 2000, phases: [1], priority: { kind: 'car' } } as const;
    expect(at(runHand({ ...byPhase, battery }), 5)).toMatchObject({ battery: 0, curtailed: 1320, rescued: 1680 });
  });
});
