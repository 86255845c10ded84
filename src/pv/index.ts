/**
 * PV: light on a tilted plane, through the glass, into warm cells, out of an inverter.
 *
 * In: arrays and inverter; sun and weather by step, as numbers. Out: AC watts by step.
 * Models: Perez 1990; physical glass (De Soto); Faiman; PVWatts modules and inverter. Sources: data/SOURCES.md.
 * Left out: dim-light losses, partial shading within an array, snow, the module's heat capacity. Start reading at `pv-system.ts`.
 */
export * from './cell-temperature.ts';
export * from './defaults.ts';
export * from './incidence-loss.ts';
export * from './inverter.ts';
export * from './module.ts';
export * from './plane.ts';
export * from './pv-system.ts';
export * from './skyline.ts';
