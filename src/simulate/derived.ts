import { S_PER_H } from '../base/index.ts';
import { chargeLimitW, storedAfterWh } from '../house/index.ts';
import type { Buffers } from './columns.ts';
import type { Plan } from './plan.ts';
import type { MeterColumns, PointColumns } from './results.ts';

/** What the meter of a plain household counts in every step, and what is in its home battery: it follows from PV, house, battery and cars. */
export function fillMeter(plan: Plan, buffers: Buffers, points: readonly PointColumns[], meter: MeterColumns): MeterColumns {
  const { pvW, loadW, batteryW, batterySoc } = buffers;
  const { surplusW, gridImportW, gridExportW } = meter;
  const { battery } = plan;
  const stepH = plan.grid.stepS / S_PER_H;
  let batteryWh = battery?.startWh ?? 0;
  for (let k = 0; k < pvW.length; k++) {
    const netW = pvW[k]! - loadW[k]!;
    let spareW = Math.max(0, netW);
    let importW = spareW - netW;
    for (let i = 0; i < points.length; i++) {
      const car = points[i]!;
      if (car.phases[k] === 0) continue;
      spareW -= car.pvW[k]!;
      importW += car.powerW[k]! - car.pvW[k]!;
    }
    surplusW[k] = netW;
    if (battery !== null) {
      if (netW > 0) surplusW[k] = netW - Math.min(netW, chargeLimitW(battery, batteryWh, battery.firstToWh, stepH));
      const powerW = batteryW[k]!;
      if (powerW > 0) spareW -= powerW;
      else importW += powerW;
      if (powerW !== 0) batteryWh = storedAfterWh(battery, batteryWh, powerW, stepH);
      batterySoc[k] = batteryWh / battery.capacityWh;
    }
    gridImportW[k] = importW;
    gridExportW[k] = spareW;
  }
  return meter;
}
