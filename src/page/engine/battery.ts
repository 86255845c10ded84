import { type Draft, valueAt, withValue } from '../draft.ts';

/** Power in and out that goes with a size where none is written: half an hour more than an hour to fill, as is common. */
const wattsFor = (kWh: number): number => Math.round((kWh * 1000) / 1.5 / 100) * 100;

/** A draft with a home battery of a size, or without one. */
export function withBattery(draft: Draft, kWh: number): Draft {
  if (kWh === 0) return withValue(draft, ['battery'], undefined);
  const written = valueAt(draft, ['battery']);
  const kept = typeof written === 'object' && written !== null && !Array.isArray(written) ? written : { dischargeToCar: false };
  const watts = wattsFor(kWh);
  return withValue(draft, ['battery'], { ...kept, capacityKWh: kWh, maxChargeW: watts, maxDischargeW: watts });
}
