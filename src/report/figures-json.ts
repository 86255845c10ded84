import { isoLocal, S_PER_H, S_PER_MIN, stepStartMs, W_PER_KW, WH_PER_KWH } from '../base/index.ts';
import type { Figures, Money, MoneyBeside, PerDay, PointFigures, Run } from '../simulate/index.ts';
import { rounded } from './numbers.ts';

/** What a run means for the installation, as plain data with units in the names. */
export interface FiguresJson {
  readonly carKWh: number;
  readonly carPvKWh: number;
  readonly carBatteryKWh: number;
  readonly carGridKWh: number;
  /** PV in the cars that would have been curtailed without them. */
  readonly rescuedKWh: number;
  /** Hours in which a phase carried nine tenths of the main fuse or more; minutes above the fuse. */
  readonly nearFuseH: number;
  readonly overFuseMin: number;
  /** Building phases 1, 2, 3. */
  readonly peakImportA: readonly number[];
  readonly peakImportKW: readonly number[];
  readonly worstImbalanceA: number;
  readonly ratedKVA: number;
  /** Null without a home battery. */
  readonly batteryCycles: number | null;
  readonly missedKm: number;
  readonly chargePoints: readonly PointFiguresJson[];
}

/** The same for a charge point. */
export interface PointFiguresJson {
  readonly name: string;
  readonly ratedKVA: number;
  readonly startsPerDay: PerDay;
  readonly contactorClosingsPerDay: PerDay;
  readonly breakOffs: number;
  readonly departures: number;
  readonly missedDepartures: readonly { readonly at: string; readonly shortKWh: number; readonly shortKm: number }[];
}

/** The money of a run, of the same days charged at once, and without a car; `currency` is the unit of all of it. */
export interface MoneyJson {
  readonly currency: string;
  readonly run: MoneyPartsJson;
  readonly chargedAtOnce: MoneyPartsJson;
  readonly withoutCars: MoneyPartsJson;
  /** Null where nothing was driven, or where kWh were charged elsewhere at an unknown price. */
  readonly per100Km: number | null;
  readonly chargedAtOncePer100Km: number | null;
  /** Energy in the cars at the end less that at the start. */
  readonly storedChangeKWh: number;
  readonly chargedAtOnceStoredChangeKWh: number;
}

/** Import and public charging less export. */
export interface MoneyPartsJson {
  readonly importCost: number;
  readonly exportRevenue: number;
  readonly publicKWh: number;
  readonly publicCost: number | null;
  readonly totalCost: number;
}

/**
 * Figures as they stand in summary.json.
 *
 * @param pointNames  one name per charge point
 */
export function figuresJson(figures: Figures, run: Run, pointNames: readonly string[]): FiguresJson {
  const { voltageV } = run.plan;
  return {
    carKWh: kWh(figures.carWh),
    carPvKWh: kWh(figures.carPvWh),
    carBatteryKWh: kWh(figures.carBatteryWh),
    carGridKWh: kWh(figures.carGridWh),
    rescuedKWh: kWh(figures.rescuedWh),
    nearFuseH: rounded(figures.nearFuseH, 3),
    overFuseMin: rounded((figures.overFuseH * S_PER_H) / S_PER_MIN, 2),
    peakImportA: figures.peakImportA.map((currentA) => rounded(currentA, 2)),
    peakImportKW: figures.peakImportA.map((currentA) => rounded((currentA * voltageV) / W_PER_KW, 3)),
    worstImbalanceA: rounded(figures.imbalanceA, 2),
    ratedKVA: rounded(figures.ratedVA / W_PER_KW, 3),
    batteryCycles: figures.batteryCycles === null ? null : rounded(figures.batteryCycles, 1),
    missedKm: rounded(figures.missedKm, 3),
    chargePoints: figures.points.map((point, i) => pointJson(point, run, pointNames[i] ?? `car${i + 1}`)),
  };
}

function pointJson(point: PointFigures, { grid }: Run, name: string): PointFiguresJson {
  return {
    name,
    ratedKVA: rounded(point.ratedVA / W_PER_KW, 3),
    startsPerDay: perDayJson(point.startsPerDay),
    contactorClosingsPerDay: perDayJson(point.closingsPerDay),
    breakOffs: point.breakOffs,
    departures: point.departures,
    missedDepartures: point.missedDepartures.map(({ step, shortWh, shortKm }) => ({
      at: isoLocal(grid.zone, stepStartMs(grid, step)),
      shortKWh: kWh(shortWh),
      shortKm: rounded(shortKm, 1),
    })),
  };
}

const perDayJson = ({ mean, p95, worst }: PerDay): PerDay => ({ mean: rounded(mean, 3), p95, worst });

/** Money as it stands in summary.json. */
export function moneyJson(money: MoneyBeside): MoneyJson {
  return {
    currency: money.currency,
    run: partsJson(money.run),
    chargedAtOnce: partsJson(money.atOnce),
    withoutCars: partsJson(money.withoutCars),
    per100Km: orNull(money.per100Km, 3),
    chargedAtOncePer100Km: orNull(money.atOncePer100Km, 3),
    storedChangeKWh: kWh(money.storedChangeWh),
    chargedAtOnceStoredChangeKWh: kWh(money.atOnceStoredChangeWh),
  };
}

function partsJson({ importCost, exportRevenue, publicWh, publicCost, totalCost }: Money): MoneyPartsJson {
  return {
    importCost: rounded(importCost, 2),
    exportRevenue: rounded(exportRevenue, 2),
    publicKWh: kWh(publicWh),
    publicCost: orNull(publicCost, 2),
    totalCost: rounded(totalCost, 2),
  };
}

const orNull = (value: number | null, decimals: number): number | null => (value === null ? null : rounded(value, decimals));
const kWh = (energyWh: number): number => rounded(energyWh / WH_PER_KWH, 3);
