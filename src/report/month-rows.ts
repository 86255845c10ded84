import { WH_PER_KWH } from '../base/index.ts';
import type { DatedTally, PointTally } from '../simulate/index.ts';
import { rounded } from './numbers.ts';

/** Decimals of kWh, hours and kilometres: to a watt-hour, four seconds, a metre. */
const DECIMALS = 3;

type Row = Record<string, number>;

/** A month's sums under the names that the file uses, in the file's order. */
export function monthRow(dated: DatedTally): Row {
  const { tally } = dated;
  const row: Row = {
    year: dated.year,
    month: dated.month,
    pv_kwh: kWh(tally.pvWh),
    load_kwh: kWh(tally.loadWh),
    import_kwh: kWh(tally.gridImportWh),
    export_kwh: kWh(tally.gridExportWh),
  };
  tally.points.forEach((point, i) => {
    for (const [name, value] of Object.entries(pointCells(point))) row[`car${i + 1}_${name}`] = value;
  });
  return row;
}

function pointCells(point: PointTally): Row {
  return {
    kwh: kWh(point.carWh),
    pv_kwh: kWh(point.carPvWh),
    battery_kwh: kWh(point.carBatteryWh),
    grid_kwh: kWh(point.carGridWh),
    stored_kwh: kWh(point.storedWh),
    solar_charging_h: rounded(point.solarChargingH, DECIMALS),
    charging_h: rounded(point.chargingH, DECIMALS),
    pv_km: rounded(point.pvKm, DECIMALS),
    driven_km: rounded(point.drivenKm, DECIMALS),
    missed_km: rounded(point.missedKm, DECIMALS),
    starts: point.starts,
    stalls: point.stalls,
    switches: point.switches,
    holds: point.holds,
  };
}

const kWh = (energyWh: number): number => rounded(energyWh / WH_PER_KWH, DECIMALS);
