import type { TimeGrid } from '../base/index.ts';
import { onGrid, type Price, type Tariff } from '../scenario/index.ts';
import { eachStretchIn } from './day-windows.ts';

/** Prices of a kWh in each step, in the tariff's currency. */
export interface Prices {
  readonly importPerKWh: Float64Array;
  readonly exportPerKWh: Float64Array;
}

/**
 * A tariff laid on the steps of a run: variants of one household share it.
 *
 * A step has the price of the band in which it begins; prices from a file are means over the step.
 */
export function pricesOf(tariff: Tariff, grid: TimeGrid): Prices {
  return { importPerKWh: priceOn(tariff.importPrice, grid), exportPerKWh: priceOn(tariff.exportPrice, grid) };
}

function priceOn(price: Price, grid: TimeGrid): Float64Array {
  switch (price.kind) {
    case 'flat':
      return new Float64Array(grid.steps).fill(price.perKWh);
    case 'measured':
      return onGrid(price.series.atMs, price.series.intervalS, price.series.columns.perKWh, grid);
    case 'bands': {
      const perKWh = new Float64Array(grid.steps);
      eachStretchIn(price.bands, grid, (band, from, end) => perKWh.fill(band.perKWh, from, end));
      return perKWh;
    }
  }
}
