/** How many of the smaller unit go into the larger one. */
export const MS_PER_S = 1000;
export const S_PER_MIN = 60;
export const S_PER_H = 3600;
export const MS_PER_MIN = 60_000;
export const MS_PER_H = 3_600_000;
export const MS_PER_DAY = 86_400_000;
export const W_PER_KW = 1000;
export const WH_PER_KWH = 1000;
/** 0 degrees Celsius in kelvin. */
export const KELVIN_AT_0_C = 273.15;

/**
 * Zero, for a field that will hold fractions and is written at every step. The engine keeps whole numbers and fractions apart: a field
 * born as the whole number 0 changes its object's shape at the first fraction, and every later reader of that shape pays for it with a
 * fresh number a step (measured: 16 bytes and a quarter of the kernel's time). Minus zero is a fraction to it, and equals 0.
 */
export const FRACTION_0 = -0;
