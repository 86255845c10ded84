import { gridEndMs, isoLocal, WH_PER_KWH } from '../base/index.ts';
import { figuresOf, type MoneyBeside, type PointTally, type Run, type Tally } from '../simulate/index.ts';
import { type FiguresJson, figuresJson, type MoneyJson, moneyJson } from './figures-json.ts';
import { rounded } from './numbers.ts';
import { solarShare } from './sums.ts';

/** What a run is known by, besides its numbers. */
export interface RunFacts {
  /** The scenario's name. */
  readonly scenarioName: string;
  /** Sixamp's version. */
  readonly version: string;
  /** One name per charge point. */
  readonly pointNames: readonly string[];
  /** What was assumed, a sentence each. */
  readonly assumptions: readonly string[];
}

/** The sums of a run as plain data, units in the names; what summary.json and `--json` hold. */
export interface Summary {
  readonly tool: 'sixamp';
  readonly version: string;
  readonly scenario: string;
  readonly period: { from: string; to: string; days: number; stepS: number; timeZone: string };
  readonly run: SummarySums;
  /** The same weather, house and trips, with the car charged as soon as it is plugged in. */
  readonly chargedAtOnce: SummarySums;
  /** What limits, contactors, batteries and departures saw of it. */
  readonly figures: FiguresJson;
  /** Beside the same year charged at once and the same year without a car; null without a tariff. */
  readonly money: MoneyJson | null;
  readonly assumptions: readonly string[];
}

/** Sums of the house and of each charge point. */
export interface SummarySums {
  readonly pvKWh: number;
  readonly loadKWh: number;
  readonly importKWh: number;
  readonly exportKWh: number;
  readonly curtailedKWh: number;
  /** PV in the cars that would have been curtailed without them. */
  readonly rescuedKWh: number;
  readonly batteryInKWh: number;
  readonly batteryOutKWh: number;
  readonly chargePoints: readonly SummaryPoint[];
}

/** Sums of a charge point. Energies are AC at the charger but `storedKWh`, which reached the car's battery. */
export interface SummaryPoint {
  readonly name: string;
  readonly carKWh: number;
  readonly carPvKWh: number;
  readonly carBatteryKWh: number;
  readonly carGridKWh: number;
  /** Share of the energy into the car that came from PV, 0 … 1. */
  readonly solarFraction: number;
  readonly storedKWh: number;
  readonly storedPvKWh: number;
  readonly solarChargingH: number;
  readonly chargingH: number;
  readonly pvKm: number;
  readonly drivenKm: number;
  readonly missedKm: number;
  /** Energy that had to be charged elsewhere, into the battery. */
  readonly publicKWh: number;
  readonly starts: number;
  readonly stalls: number;
  readonly switches: number;
  readonly holds: number;
  readonly breakOffs: number;
}

/** The sums of a run beside those of the same days charged at once. */
export function summaryOf(run: Run, atOnce: Run, facts: RunFacts, money: MoneyBeside | null = null): Summary {
  const { grid } = run;
  return {
    tool: 'sixamp',
    version: facts.version,
    scenario: facts.scenarioName,
    period: {
      from: isoLocal(grid.zone, grid.startMs),
      to: isoLocal(grid.zone, gridEndMs(grid)),
      days: grid.dayMs.length,
      stepS: grid.stepS,
      timeZone: grid.zone.name,
    },
    run: sumsOf(run.ledger.total, facts.pointNames),
    chargedAtOnce: sumsOf(atOnce.ledger.total, facts.pointNames),
    figures: figuresJson(figuresOf(run), run, facts.pointNames),
    money: money === null ? null : moneyJson(money),
    assumptions: facts.assumptions,
  };
}

/** summary.json: a summary as text, keys always in the same order. */
export const summaryJson = (summary: Summary): string => `${JSON.stringify(summary, null, 2)}\n`;

/** A tally of the house and its charge points, in kWh, hours and km. */
export function sumsOf(tally: Tally, pointNames: readonly string[]): SummarySums {
  return {
    pvKWh: kWh(tally.pvWh),
    loadKWh: kWh(tally.loadWh),
    importKWh: kWh(tally.gridImportWh),
    exportKWh: kWh(tally.gridExportWh),
    curtailedKWh: kWh(tally.curtailedWh),
    rescuedKWh: kWh(tally.rescuedWh),
    batteryInKWh: kWh(tally.batteryInWh),
    batteryOutKWh: kWh(tally.batteryOutWh),
    chargePoints: tally.points.map((point, i) => pointSums(point, pointNames[i] ?? `car${i + 1}`)),
  };
}

function pointSums(point: PointTally, name: string): SummaryPoint {
  return {
    name,
    carKWh: kWh(point.carWh),
    carPvKWh: kWh(point.carPvWh),
    carBatteryKWh: kWh(point.carBatteryWh),
    carGridKWh: kWh(point.carGridWh),
    solarFraction: rounded(solarShare(point), 4),
    storedKWh: kWh(point.storedWh),
    storedPvKWh: kWh(point.storedPvWh),
    solarChargingH: rounded(point.solarChargingH, 3),
    chargingH: rounded(point.chargingH, 3),
    pvKm: rounded(point.pvKm, 3),
    drivenKm: rounded(point.drivenKm, 3),
    missedKm: rounded(point.missedKm, 3),
    publicKWh: kWh(point.publicWh),
    starts: point.starts,
    stalls: point.stalls,
    switches: point.switches,
    holds: point.holds,
    breakOffs: point.breakOffs,
  };
}

const kWh = (energyWh: number): number => rounded(energyWh / WH_PER_KWH, 3);
