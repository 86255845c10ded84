/**
 * Sun and weather: where the sun stands, what a clear sky gives, what a file or a climate table says arrives on the level.
 *
 * In: instants, a place, measured columns or twelve monthly sums and a seed. Out: sun and weather per step, as numbers.
 * Models: sun by suncalc (Meeus) without refraction; Kasten & Young; Ineichen & Perez and Haurwitz; Erbs. Sources: data/SOURCES.md.
 * Left out: planes other than the level (pv), snow, spectrum, and how clouds really move. Start reading at `weather.ts`.
 */
export * from './air-mass.ts';
export * from './clear-days.ts';
export * from './clear-minutes.ts';
export * from './clear-sky.ts';
export * from './climate-sky.ts';
export * from './climates.ts';
export * from './clock-check.ts';
export * from './cloud-minutes.ts';
export * from './cloud-noise.ts';
export * from './daily-clearness.ts';
export * from './days.ts';
export * from './defaults.ts';
export * from './diffuse.ts';
export * from './extraterrestrial.ts';
export * from './hours.ts';
export * from './luck.ts';
export * from './place.ts';
export { spreadFlat } from './spread.ts';
export * from './spread-clouds.ts';
export * from './sun.ts';
export * from './synthetic.ts';
export * from './weather.ts';
