/** What is looked at: the meter and the car, row by row. */
interface MeterAndCar {
  readonly gridW: Float64Array;
  readonly carW: Float64Array;
}

/** Clocks of two loggers may be apart by so many rows. */
const MOST_ROWS = 5;
/** So many starts and stops must show in another row, such a part of all, and at most such a part of them in their own. */
const LEAST_SHOWN = 4;
const SHOWN_SHARE = 0.5;
const OWN_SHARE = 0.4;
/** The meter shows a start or stop where it changes by as much as the car, within this part, to either side. */
const SHOWS = 0.25;
/** A car switches where it goes from below the one to above the other, W, or back. */
const OFF_W = 200;
const ON_W = 1000;

/**
 * Rows by which the car's columns run behind the meter's, as two loggers with clocks of their own do: the shift at which starts and
 * stops of the car show at the meter. 0 unless another one is clearly better.
 */
export function clockLagRows({ gridW, carW }: MeterAndCar): number {
  const switchings = switchingsIn(carW);
  const shown = (lag: number): number =>
    switchings.filter(({ row, w }) => {
      const at = row - lag;
      const change = (gridW[at] ?? Number.NaN) - (gridW[at - 1] ?? Number.NaN);
      return Math.abs(Math.abs(change) - w) < SHOWS * w;
    }).length;
  const own = shown(0);
  let best = { lag: 0, count: own };
  for (let lag = -MOST_ROWS; lag <= MOST_ROWS; lag++) {
    const count = shown(lag);
    if (count > best.count) best = { lag, count };
  }
  const isClear = best.count >= LEAST_SHOWN && best.count >= SHOWN_SHARE * switchings.length && own <= OWN_SHARE * best.count;
  return isClear ? best.lag : 0;
}

function switchingsIn(carW: Float64Array): { row: number; w: number }[] {
  const found: { row: number; w: number }[] = [];
  for (let row = 1; row < carW.length; row++) {
    const [before, now] = [carW[row - 1] ?? 0, carW[row] ?? 0];
    if ((before < OFF_W && now > ON_W) || (before > ON_W && now < OFF_W)) found.push({ row, w: Math.abs(now - before) });
  }
  return found;
}

/** A column as many rows earlier; NaN where nothing is left to stand there. */
export const earlier = (column: Float64Array, rows: number): Float64Array =>
  rows === 0 ? column : column.map((_, k) => column[k + rows] ?? Number.NaN);

/** No power of a house with a charging car stays below this in watts all the time; in kilowatts all of them do. */
const KILOWATTS = 60;
/** Nor is a column of zeros in either. */
const SOMETHING = 0.3;
/** A charger's own use is small too, but hardly changes; a car's draw comes and goes: this part of the most is nothing. */
const AT_REST = 0.1;

/** Whether a column of powers seems to hold kilowatts. */
export function seemsKilowatts(column: Float64Array): boolean {
  const sizes = column.map(Math.abs).filter(Number.isFinite).sort();
  const most = sizes[sizes.length - 1] ?? 0;
  return most > SOMETHING && most < KILOWATTS && (sizes[0] ?? 0) < AT_REST * most;
}
