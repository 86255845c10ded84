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
