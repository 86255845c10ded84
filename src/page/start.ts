import type { Draft } from './draft.ts';
import type { WrittenAnswer } from './engine/first-answer.ts';
import type { DataFile } from './engine/protocol.ts';

/** What the command put into the file: a household, the files it names, the tool's version. */
export interface Start {
  readonly draft: Draft;
  readonly files: readonly DataFile[];
  readonly version: string;
  /** The household's year as the command worked it out: shown until the page has worked it out itself. */
  readonly answer: WrittenAnswer | null;
}

/** The household of a page made without a file. Invented. */
export const FIRST_DRAFT: Draft = {
  name: 'First look',
  site: { latitude: 48.14, longitude: 11.58, elevationM: 520, timeZone: 'Europe/Berlin' },
  period: { start: '2025-01-01' },
  grid: { mainFuseA: 35 },
  tariff: { currency: 'EUR', importPerKWh: 0.3, exportPerKWh: 0.07, publicPerKWh: 0.5 },
  weather: { source: 'synthetic', climate: 'munich', seed: 1 },
  pv: { source: 'arrays', arrays: [{ kWp: 8, tiltDeg: 35, azimuthDeg: 180 }] },
  household: { source: 'synthetic', annualKWh: 3600, people: 3 },
  chargePoints: [
    {
      charger: { phases: 'switchable', maxCurrentA: 16 },
      vehicle: { kind: 'compact' },
      usage: { source: 'weekly', habit: 'three-day-commuter', floorKm: 80 },
    },
  ],
  control: { surplusShare: 1 },
};
