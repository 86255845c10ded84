import { S_PER_H, WH_PER_KWH } from '../base/index.ts';
import type { Price, Scenario, Tariff } from '../scenario/index.ts';
import type { Plan } from './plan.ts';
import type { Prices } from './prices.ts';
import type { Columns, Run } from './results.ts';

/** What a run costs, in the tariff's currency. Standing charges and the wear of batteries are left out. */
export interface Money {
  readonly importCost: number;
  readonly exportRevenue: number;
  /** Energy for trips that the battery could not cover, charged elsewhere: as much as the road took, without losses of a charger, Wh. */
  readonly publicWh: number;
  /** What that costs; null where something was charged elsewhere and no price is known. */
  readonly publicCost: number | null;
  /** Import and public charging less export; without public charging where its price is not known. */
  readonly totalCost: number;
}

/** A run's money beside the same days charged at once and the same days without a car. */
export interface MoneyBeside {
  readonly currency: string;
  readonly run: Money;
  readonly atOnce: Money;
  readonly withoutCars: Money;
  /** What the cars add to the household's cost, by the distance they drove; null where nothing was driven or a price is missing. */
  readonly per100Km: number | null;
  readonly atOncePer100Km: number | null;
  /** Energy in the cars at the end less that at the start, Wh: it was paid for and not driven, or driven and not paid for. */
  readonly storedChangeWh: number;
  readonly atOnceStoredChangeWh: number;
}

/** The same household without charge points: what the cars' cost is reckoned from. */
export const withoutCars = (scenario: Scenario): Scenario => ({ ...scenario, chargePoints: [] });

/**
 * What a run costs.
 *
 * Each step's import and export at the step's price. Where they are settled over longer intervals (counted from the first midnight on),
 * only their difference is priced, at the mean price of the interval.
 */
export function moneyOf(
  { plan, columns, ledger }: Pick<Run, 'plan' | 'columns' | 'ledger'>,
  tariff: Tariff,
  prices: Prices,
): Money {
  const settled = Math.max(1, Math.round(tariff.settlementS / plan.grid.stepS));
  const { importCost, exportRevenue } =
    settled > 1 ? settledCosts(plan, columns, prices, settled) : costsAsItFlows({ plan, columns, ledger }, tariff, prices);
  const publicWh = ledger.total.points.reduce((sum, point) => sum + point.publicWh, 0);
  const publicCost = publicWh === 0 ? 0 : tariff.publicPerKWh === null ? null : (publicWh / WH_PER_KWH) * tariff.publicPerKWh;
  return { importCost, exportRevenue, publicWh, publicCost, totalCost: importCost - exportRevenue + (publicCost ?? 0) };
}

/**
 * The money of three runs of one household.
 *
 * @param none  the run of `withoutCars`
 */
export function moneyBeside(run: Run, atOnce: Run, none: Run, tariff: Tariff, prices: Prices): MoneyBeside {
  const [here, fast, bare] = [run, atOnce, none].map((one) => moneyOf(one, tariff, prices)) as [Money, Money, Money];
  return {
    currency: tariff.currency,
    run: here,
    atOnce: fast,
    withoutCars: bare,
    per100Km: per100Km(here, bare, run),
    atOncePer100Km: per100Km(fast, bare, atOnce),
    storedChangeWh: storedChangeWh(run),
    atOnceStoredChangeWh: storedChangeWh(atOnce),
  };
}

function per100Km(withCars: Money, bare: Money, { ledger }: Run): number | null {
  const km = ledger.total.points.reduce((sum, { drivenKm }) => sum + drivenKm, 0);
  return km === 0 || withCars.publicCost === null ? null : (100 * (withCars.totalCost - bare.totalCost)) / km;
}

function storedChangeWh({ plan, columns }: Run): number {
  const last = plan.grid.steps - 1;
  return plan.points.reduce((sum, { car }, i) => sum + columns.points[i]!.soc[last]! * car.capacityWh - car.startWh, 0);
}

type Flow = Pick<Money, 'importCost' | 'exportRevenue'>;

/** A price that is always the same is paid on the sum, which the ledger holds already; another one step by step. */
function costsAsItFlows({ plan, columns, ledger }: Parameters<typeof moneyOf>[0], tariff: Tariff, prices: Prices): Flow {
  const { gridImportWh, gridExportWh } = ledger.total;
  // Columns are asked for only where they are needed: what the meter counts may not have been worked out yet.
  const cost = (price: Price, wh: number, powerW: 'gridImportW' | 'gridExportW', perKWh: Float64Array): number =>
    price.kind === 'flat' ? (wh / WH_PER_KWH) * price.perKWh : sumOfProducts(columns[powerW], perKWh) * kWhPerW(plan);
  return {
    importCost: cost(tariff.importPrice, gridImportWh, 'gridImportW', prices.importPerKWh),
    exportRevenue: cost(tariff.exportPrice, gridExportWh, 'gridExportW', prices.exportPerKWh),
  };
}

const kWhPerW = ({ grid }: Plan): number => grid.stepS / S_PER_H / WH_PER_KWH;

function sumOfProducts(powerW: Float64Array, perKWh: Float64Array): number {
  let sum = 0;
  for (let k = 0; k < powerW.length; k++) sum += powerW[k]! * perKWh[k]!;
  return sum;
}

/** Import and export that are settled against each other over so many steps. */
function settledCosts(
  plan: Plan,
  { gridImportW: importW, gridExportW: exportW }: Columns,
  { importPerKWh, exportPerKWh }: Prices,
  settled: number,
): Flow {
  let importSum = 0;
  let exportSum = 0;
  for (let from = 0; from < importW.length; from += settled) {
    const end = Math.min(from + settled, importW.length);
    let netW = 0;
    let importPrice = 0;
    let exportPrice = 0;
    for (let k = from; k < end; k++) {
      netW += importW[k]! - exportW[k]!;
      importPrice += importPerKWh[k]!;
      exportPrice += exportPerKWh[k]!;
    }
    if (netW > 0) importSum += (netW * importPrice) / (end - from);
    else exportSum -= (netW * exportPrice) / (end - from);
  }
  return { importCost: importSum * kWhPerW(plan), exportRevenue: exportSum * kWhPerW(plan) };
}
