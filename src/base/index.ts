/**
 * What every folder stands on: units, angles, the time grid, zones, seeded chance, records of issues.
 *
 * In: plain numbers. Out: plain numbers and small records. Models: none but the random generator (sfc32).
 * Left out: any clock, zone, file or locale of the machine. Start reading at `time-grid.ts`.
 */
export * from './angles.ts';
export * from './chance.ts';
export * from './issues.ts';
export * from './once.ts';
export * from './room.ts';
export * from './stages.ts';
export * from './time-grid.ts';
export * from './units.ts';
export * from './zone.ts';
