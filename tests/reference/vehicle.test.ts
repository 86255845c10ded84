import { describe, expect, test } from 'vitest';
import { CONVERSION_EFFICIENCY, STANDBY_W } from '../../src/scenario/defaults.ts';
import { COLD_TEST_C, consumptionFactor, dcPowerW, VEHICLE_KINDS, type VehicleKind } from '../../src/vehicle/index.ts';
import { MEASURED_LOSSES } from './published.ts';
import { TOLERANCE } from './tolerances.ts';
import { within, withinRange } from './within.ts';

/** Loss on the way into the battery, percent of what is drawn. */
const lossPercent = (acW: number, standbyW: number, efficiency: number): number =>
  100 * (1 - dcPowerW(acW, standbyW, efficiency) / acW);

/** I5: what the straight line says at the minimum, percent. Reckoned, not measured. */
const AT_6A = { A: [36, 16], B: [21, 11], C: [17, 11], D: [18, 9] } as const;

// Automobile club 2022, I1 to I5. The fit takes its share of all that is drawn, the model of what standby leaves: the same line, if written so.
describe('charging losses against the measurement of 2022', () => {
  test.each(MEASURED_LOSSES)('I1, I2, I5: car $car is reproduced at 10 A, 3 × 16 A, 6 A and 3 × 6 A', (car) => {
    const loss = (acW: number): number => lossPercent(acW, car.standbyW / (1 - car.share), 1 - car.share);
    within(loss(2300), car.at10A, TOLERANCE.chargingLossPercent);
    within(loss(11_040), car.at3x16A, TOLERANCE.chargingLossPercent);
    const [at6A, at3x6A] = AT_6A[car.car];
    within(loss(1380), at6A, TOLERANCE.chargingLossRoundedPercent);
    within(loss(4140), at3x6A, TOLERANCE.chargingLossRoundedPercent);
  });

  const kinds: readonly (readonly [string, Pick<VehicleKind, 'standbyW' | 'conversionEfficiency' | 'phases'>])[] = [
    ['the default car', { standbyW: STANDBY_W, conversionEfficiency: CONVERSION_EFFICIENCY, phases: 3 }],
    ...Object.entries(VEHICLE_KINDS),
  ];
  test.each(kinds)('I1, I2: %s lies within the measured range', (_name, { standbyW, conversionEfficiency, phases }) => {
    const loss = (acW: number): number => lossPercent(acW, standbyW, conversionEfficiency);
    withinRange(loss(2300), [12.7, 24.2], 0);
    if (phases < 3) return;
    withinRange(loss(11_040), [6.3, 9.7], 0);
    // I5: 3 × 6 A wastes less than 1 × 6 A, and both more than full power.
    expect(loss(1380)).toBeGreaterThan(loss(4140));
    expect(loss(4140)).toBeGreaterThan(loss(11_040));
  });
});

describe('consumption in the cold', () => {
  test.each(Object.entries(VEHICLE_KINDS))(
    'I12: %s at -6.7 °C against 22 °C takes 1.25 (fast) to 2.0 (town) times as much',
    (_name, kind) => {
      const ratio = consumptionFactor(COLD_TEST_C, kind.coldFactor) / consumptionFactor(22, kind.coldFactor);
      withinRange(ratio, [1.25, 2], 0);
    },
  );

  // I13: range up to 40 % shorter on the coldest and hottest days, that is up to 1.67 times as much for a mixed use.
  test('I13: a winter of central Europe takes 1.2 to 1.67 times what its summer takes, by the default', () => {
    // Monthly means of a lowland place, from memory, °C.
    const winter = [0, -1, 1].map((airC) => consumptionFactor(airC, 1.5));
    const summer = [17, 19, 19].map((airC) => consumptionFactor(airC, 1.5));
    const mean = (values: readonly number[]): number => values.reduce((a, b) => a + b, 0) / values.length;
    withinRange(mean(winter) / mean(summer), [1.2, 1.67], 0);
  });
});
