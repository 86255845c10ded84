/** Total solar irradiance at 1 AU, W/m² (Kopp & Lean 2011: 1360.8 ± 0.5). */
export const SOLAR_CONSTANT_W_PER_M2 = 1361;

/** Linke turbidity at air mass 2 over the lowlands of central Europe, mean of the year (common practice; cities 4, high valleys 2.5). */
export const LINKE_TURBIDITY = 3.5;

/**
 * Linke turbidity at which clear days are as bright as they come on the mean: what a climate's clear days are made with. Clear-sky sums of
 * Copernicus CAMS at 55.8 N (January to April 2020) ask for 2 to 2.5 in the formula of Ineichen and Perez; hazier air in summer and inland.
 */
export const CLEAR_DAY_TURBIDITY = 2.75;

/** Wind where nothing is known, m/s at module height (common practice). */
export const WIND_M_PER_S = 2;
