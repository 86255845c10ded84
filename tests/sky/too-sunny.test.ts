import { expect, test } from 'vitest';
import { clearDaysKWhPerM2, clearSkyOf, daysIn, middleOfMonth, monthOfSun, tooSunnyMonths } from '../../src/sky/index.ts';

const LATITUDES_DEG = [-89, -66, -45, -20, 0, 30, 48, 60, 67, 72, 80, 89];
const MONTHS = Array.from({ length: 12 }, (_, month) => month);

test('a clear day in the middle of a month brings at most 1.05 times the mean day of that month, at any latitude and height', () => {
  for (const latitudeDeg of LATITUDES_DEG) {
    for (const elevationM of [0, 3000]) {
      const site = { latitudeDeg, longitudeDeg: 0, elevationM };
      const sum = (sun: ReturnType<typeof monthOfSun>): number =>
        clearDaysKWhPerM2(sun, clearSkyOf(elevationM, 2), elevationM).reduce((a, b) => a + b, 0);
      for (const month of MONTHS) {
        const whole = sum(monthOfSun(2025, month, site));
        const asMiddle = daysIn(2025, month) * sum(middleOfMonth(2025, month, site));
        expect(asMiddle, `${latitudeDeg}° month ${month}`).toBeLessThanOrEqual(1.05 * whole + 1);
      }
    }
  }
});

test('months beyond 1.03 times the clearest are found at every latitude, and those just below are not', () => {
  for (const latitudeDeg of LATITUDES_DEG) {
    const site = { latitudeDeg, longitudeDeg: 15, elevationM: 300 };
    const clear = MONTHS.map((month) =>
      clearDaysKWhPerM2(monthOfSun(2025, month, site), clearSkyOf(300, 2), 300).reduce((a, b) => a + b, 0),
    );
    const sunny = clear.flatMap((sum, month) => (sum > 1 ? [month] : []));
    const found = (share: number): number[] =>
      tooSunnyMonths(
        clear.map((sum) => share * sum),
        site,
      ).map(({ month }) => month);
    expect(found(1.031)).toEqual(sunny);
    expect(found(1.029)).toEqual([]);
  }
});
