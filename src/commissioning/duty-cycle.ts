/** What the duty cycle of the pilot signal tells a vehicle. */
export type Offer =
  /** It may draw up to `currentA` per phase. */
  | { readonly kind: 'current'; readonly currentA: number }
  /** The current is agreed on by data (nominal duty cycle 5 %). */
  | { readonly kind: 'digital' }
  /** No square wave at all: a steady level. */
  | { readonly kind: 'steady' }
  /** It must not charge. */
  | { readonly kind: 'none' };

/**
 * What a duty cycle offers: 6 A from 8 %, 0.6 A per percent from 10 %, 2.5 A per percent above 64 % from 85 %, 80 A up to 97 %.
 *
 * At 85 % itself the branches differ by 1.5 A and texts differ on which holds; the lower one is taken here.
 *
 * @param dutyPercent  share of the time at the high level, 0 … 100
 * @throws RangeError  outside 0 … 100
 * @example offerOf(20) // { kind: 'current', currentA: 12 }
 * @example offerOf(96) // { kind: 'current', currentA: 80 }
 * @see iec61851 (data/SOURCES.md; IEC 61851-1 Annex A)
 */
export function offerOf(dutyPercent: number): Offer {
  if (!(dutyPercent >= 0 && dutyPercent <= 100)) throw new RangeError(`dutyPercent = ${dutyPercent}: must be 0 to 100`);
  if (dutyPercent === 100) return { kind: 'steady' };
  if (dutyPercent >= DIGITAL_PERCENT.min && dutyPercent <= DIGITAL_PERCENT.max) return { kind: 'digital' };
  if (dutyPercent < 8 || dutyPercent > 97) return { kind: 'none' };
  if (dutyPercent < 10) return { kind: 'current', currentA: 6 };
  if (dutyPercent <= 85) return { kind: 'current', currentA: 0.6 * dutyPercent };
  return { kind: 'current', currentA: dutyPercent <= 96 ? 2.5 * (dutyPercent - 64) : 80 };
}

/** Duty cycles that stand for data: nominal 5 %; texts give 4.5 to 5.5 % or 3 to 7 %, the wider is taken. */
export const DIGITAL_PERCENT = { min: 3, max: 7 } as const;

/**
 * The duty cycle at which a station offers a current.
 *
 * @param currentA  6 … 80
 * @throws RangeError  outside 6 … 80
 * @example dutyPercentFor(16) // 26.67
 * @example dutyPercentFor(63) // 89.20
 * @see iec61851 (data/SOURCES.md; IEC 61851-1 Annex A)
 */
export function dutyPercentFor(currentA: number): number {
  if (!(currentA >= 6 && currentA <= 80)) throw new RangeError(`currentA = ${currentA}: must be 6 to 80`);
  return currentA <= 51 ? currentA / 0.6 : currentA / 2.5 + 64;
}
