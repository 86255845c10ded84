import { stateName } from '../../src/charging/index.ts';
import type { Scenario } from '../../src/scenario/index.ts';
import { carCurrentA, carGridW, lineCurrentA, type Profiles, planOf, type Run } from '../../src/simulate/index.ts';
import type { PlainCase, PlainStep } from './plain-law.ts';

/** The same household in the terms of the plain implementation. */
export function plainCase(scenario: Scenario, profiles: Profiles): PlainCase {
  const { supply, control, battery, grid } = scenario;
  const plan = planOf(scenario);
  return {
    stepS: grid.stepS,
    voltageV: supply.voltageV,
    buildingPhases: supply.phases,
    mainFuseA: supply.mainFuseA,
    imbalanceLimitA: supply.imbalanceLimitA,
    exportLimitW: supply.exportLimitW,
    metering: supply.metering,
    contractW: supply.contractW,
    dimmedToW: Array.from({ length: grid.steps }, (_, k) => {
      const toW = plan.dimmedToW?.[k] ?? Infinity;
      return toW === Infinity ? null : toW;
    }),
    pvW: [...profiles.pvW],
    pvPhases: [...scenario.pv.phases],
    houseW: profiles.loadByPhaseW.map((load) => [...load]) as [number[], number[], number[]],
    battery:
      battery === null
        ? null
        : {
            ...battery,
            phases: [...battery.phases],
            roundTripEfficiency: battery.roundTripShare,
            priority: battery.priority.kind === 'until' ? { batteryUntilSoc: battery.priority.untilSoc } : battery.priority.kind,
          },
    control,
    points: scenario.chargePoints.map(({ charger, vehicle, believes, needs }, i) => {
      const { presence } = plan.points[i]!;
      return {
        charger: { ...charger, wiring: [...charger.wiring], wiringAsBuilt: [...charger.wiringAsBuilt] },
        vehicle: {
          ...vehicle,
          minCurrentA: [...vehicle.minCurrentA],
          capacityWh: vehicle.batteryWh,
          conversionEfficiency: vehicle.conversionShare,
        },
        believes: { phases: believes.phases, minCurrentA: [...believes.minCurrentA] },
        stays: Array.from(presence.stayStart, (from, s) => ({
          from,
          to: presence.stayEnd[s]!,
          km: presence.km[s]!,
          departS: presence.departS[s]!,
        })),
        ...needs,
      };
    }),
  };
}

/** The first step at which the two differ, in words; null where they agree throughout. */
export function firstDifference(run: Run, plain: readonly PlainStep[]): string | null {
  const { columns, plan, profiles } = run;
  const lines = ([1, 2, 3] as const).map((phase) => lineCurrentA(plan, profiles, columns, phase));
  for (let k = 0; k < plain.length; k++) {
    const want = plain[k]!;
    const pairs: [string, number | string, number | string][] = [
      ['surplusW', columns.surplusW[k]!, want.surplusW],
      ['batteryW', columns.batteryW[k]!, want.batteryW],
      ['batterySoc', columns.batterySoc[k]!, want.batterySoc],
      ['importW', columns.gridImportW[k]!, want.importW],
      ['exportW', columns.gridExportW[k]!, want.exportW],
      ['curtailedW', columns.curtailedW[k]!, want.curtailedW],
      ...lines.map((line, p): [string, number, number] => [`l${p + 1}A`, line[k]!, want.lineA[p]!]),
      ...columns.points.flatMap((car, i): [string, number | string, number | string][] => {
        const other = want.points[i]!;
        return [
          [`car ${i + 1} state`, stateName(car.state[k]!), other.state],
          [`car ${i + 1} phases`, car.phases[k]!, other.phases],
          [`car ${i + 1} currentA`, carCurrentA(plan, car, k), other.currentA],
          [`car ${i + 1} powerW`, car.powerW[k]!, other.powerW],
          [`car ${i + 1} pvW`, car.pvW[k]!, other.pvW],
          [`car ${i + 1} batteryW`, car.batteryW[k]!, other.batteryW],
          [`car ${i + 1} gridW`, carGridW(car, k), other.gridW],
          [`car ${i + 1} soc`, car.soc[k]!, other.soc],
        ];
      }),
    ];
    for (const [what, got, expected] of pairs) {
      const same = typeof got === 'string' ? got === expected : Math.abs(got - Number(expected)) < 1e-6;
      if (!same) return `step ${k}: ${what} is ${got}, the plain law says ${expected}`;
    }
  }
  return null;
}
