/** What a size is to reach: an output of the usual year, or of nine years of ten, at least or at most so much. */
export interface Want {
  readonly output: WantedOutput;
  readonly atLeast: boolean;
  readonly value: number;
}

/** Outputs that a size may be asked for. Hours are not among them: they flatter slow charging. */
export const WANTED_OUTPUTS = ['solarFraction', 'pvKWh', 'kmOnPv', 'cost'] as const;
/** One of them. */
export type WantedOutput = (typeof WANTED_OUTPUTS)[number];

/**
 * A wish as people write it; null where it is none.
 *
 * @example parseWant('solarFraction >= 0.6') // { output: 'solarFraction', atLeast: true, value: 0.6 }
 * @example parseWant('cost <= 900') // { output: 'cost', atLeast: false, value: 900 }
 * @example parseWant('solarChargingH >= 900') // null
 */
export function parseWant(text: string): Want | null {
  const [, name, sign, number] = /^\s*(\w+)\s*(>=|<=)\s*(-?\d+(?:\.\d+)?)\s*$/.exec(text) ?? [];
  const output = WANTED_OUTPUTS.find((known) => known === name);
  return output === undefined || number === undefined ? null : { output, atLeast: sign === '>=', value: Number(number) };
}
