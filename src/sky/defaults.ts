/** Total solar irradiance at 1 AU, W/m² (Kopp & Lean 2011: 1360.8 ± 0.5). */
export const SOLAR_CONSTANT_W_PER_M2 = 1361;

/** Linke turbidity at air mass 2 over the lowlands of central Europe, mean of the year (common practice; cities 4, high valleys 2.5). */
export const LINKE_TURBIDITY = 3.5;

/** Wind where nothing is known, m/s at module height (common practice). */
export const WIND_M_PER_S = 2;
