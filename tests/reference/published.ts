/**
 * Figures from outside that more than one place holds the models against: tests here, and notebooks/validation.ipynb, which shows them.
 * Each with its source; collected November 2026. Figures that one test alone uses stand in that test.
 */
import type { PvSystem } from '../../src/pv/index.ts';

/** A position of the sun, degrees; azimuth clockwise from north. */
export interface PublishedSun {
  readonly name: string;
  readonly latitude: number;
  readonly longitude: number;
  readonly atMs: number;
  readonly zenithDeg: number;
  readonly apparentZenithDeg: number;
  readonly azimuthDeg: number;
}

const sun = (
  name: string,
  [latitude, longitude]: readonly [number, number],
  atMs: number,
  [zenithDeg, apparentZenithDeg, azimuthDeg]: readonly [number, number, number],
): PublishedSun => ({ name, latitude, longitude, atMs, zenithDeg, apparentZenithDeg, azimuthDeg });

const VIENNA_AT = [48.2082, 16.3738] as const;
const BERLIN_AT = [52.52, 13.405] as const;

/**
 * NREL's algorithm SPA (Reda, Andreas 2008, NREL/TP-560-34302) for European places in 2025, as pvlib-python runs it at 1013.25 hPa and 12 °C;
 * the same program gives the example of the report's table A5.1 to a hundred-millionth of a degree.
 */
export const SPA_2025: readonly PublishedSun[] = [
  sun('Vienna 03-20 12:00', VIENNA_AT, Date.UTC(2025, 2, 20, 12), [49.7811, 49.7612, 199.1873]),
  sun('Vienna 06-21 10:00', VIENNA_AT, Date.UTC(2025, 5, 21, 10), [27.1767, 27.1681, 150.7306]),
  sun('Vienna 06-21 18:00', VIENNA_AT, Date.UTC(2025, 5, 21, 18), [82.5861, 82.4691, 297.1445]),
  sun('Vienna 12-21 11:00', VIENNA_AT, Date.UTC(2025, 11, 21, 11), [71.6676, 71.6177, 181.7716]),
  sun('Vienna 09-23 15:30', VIENNA_AT, Date.UTC(2025, 8, 23, 15, 30), [77.6146, 77.5411, 255.2299]),
  sun('Berlin 06-21 10:00', BERLIN_AT, Date.UTC(2025, 5, 21, 10), [31.8575, 31.847, 149.3469]),
  sun('Berlin 12-21 11:00', BERLIN_AT, Date.UTC(2025, 11, 21, 11), [75.967, 75.9019, 178.9258]),
  sun('London 03-20 12:00', [51.5074, -0.1278], Date.UTC(2025, 2, 20, 12), [51.4874, 51.4663, 177.4847]),
];

/** Three skies of the tests of pvlib-python (BSD-3), I0 1321.16558 W/m²: light in W/m², angles of the sun in degrees, air mass. */
export const SET_T = [
  { ghi: 79.73860422, dni: 316.1949056, dhi: 40.46149818, z: 82.85457044, az: 66.71410338, am: 7.58831596 },
  { ghi: 1042.48031487, dni: 939.95469881, dhi: 118.45831879, z: 10.56413562, az: 144.76567754, am: 1.01688136 },
  { ghi: 257.20751138, dni: 646.22886049, dhi: 62.03376265, z: 72.41687122, az: 287.04104128, am: 3.27930443 },
] as const;

/** What pvlib-python gives for them: light of the sky on a plane tilted 40° to the south, W/m². */
export const SET_T_DIFFUSE = {
  isotropic: [35.728402, 104.601328, 54.777191],
  hayDavies: [27.1775, 102.9949, 33.1909],
  reindl: [27.9412, 104.1317, 34.1663],
  perez: [31.4635, 109.0843, 45.4598],
} as const;

/** A typical year of a place, and what pvlib-python makes of it by the hour: a plane tilted 30° to the south, Perez 1990, albedo 0.2. */
export interface TypicalYear {
  readonly name: string;
  /** Of the months, the plane and the yield. */
  readonly source: string;
  readonly site: { readonly latitudeDeg: number; readonly longitudeDeg: number; readonly elevationM: number };
  /** Global irradiation on the level by month, kWh/m². */
  readonly ghiKWhM2: readonly number[];
  readonly planeKWhM2: number;
  readonly yieldKWhPerKWp: number;
}

/** Yield with -0.4 %/K, Faiman's cells and 14 % for all other losses. The files themselves are not part of the project. */
export const VIENNA: TypicalYear & { readonly yieldByMonth: readonly number[] } = {
  name: 'Vienna',
  source:
    'ASHRAE IWEC typical year, Vienna-Schwechat, as carried in christiankral/PhotoVoltaics; plane and yield by pvlib-python',
  site: { latitudeDeg: 48.12, longitudeDeg: 16.57, elevationM: 190 },
  ghiKWhM2: [25.9, 44.7, 83.3, 120.3, 155.7, 161.5, 172.8, 154.8, 97.2, 59.4, 27.8, 19],
  planeKWhM2: 1269,
  yieldKWhPerKWp: 1082,
  yieldByMonth: [33, 59, 93, 116, 136, 134, 146, 141, 98, 68, 34, 24],
};

export const PIEDMONT: TypicalYear = {
  name: 'Piedmont',
  source:
    'EC-JRC satellite typical year 2005-2023, 45.0 N 8.0 E, as carried in the tests of pvlib-python; plane and yield by the same',
  site: { latitudeDeg: 45, longitudeDeg: 8, elevationM: 250 },
  ghiKWhM2: [47.8, 67, 118.6, 121.4, 149.8, 216.2, 205.2, 178.5, 135.5, 89, 60.6, 46.2],
  planeKWhM2: 1736,
  yieldKWhPerKWp: 1408,
};

/**
 * Charging losses of four cars, percent of what is drawn: automobile-club measurement of 2022 (ADAC, 23 °C; five press reports agree) at
 * 10 A on one phase and 16 A on three. Beside it the straight line through the two, loss = standby + share · power.
 */
export const MEASURED_LOSSES = [
  { car: 'A', at10A: 24.2, at3x16A: 9.7, standbyW: 422, share: 0.059 },
  { car: 'B', at10A: 15.2, at3x16A: 7.7, standbyW: 218, share: 0.057 },
  { car: 'C', at10A: 13.6, at3x16A: 9.0, standbyW: 134, share: 0.078 },
  { car: 'D', at10A: 12.7, at3x16A: 6.3, standbyW: 186, share: 0.046 },
] as const;

/** Hourly means overstate what a house without a battery uses of its own PV by so many percent of it, on average of three homes. */
export const HOURLY_OVERSTATES_PERCENT = 8;

/**
 * The roof of the typical years: one kilowatt-peak, 30 degrees to the south. "All other losses 14 %": glass (about 3 %) and inverter
 * (about 4 %) are steps of their own here, 7.5 % are left.
 */
export const ROOF_30_SOUTH: PvSystem = {
  arrays: [
    {
      kWp: 1,
      tiltDeg: 30,
      azimuthDeg: 180,
      temperatureCoefficientPerK: -0.004,
      lossPercent: 7.5,
      mounting: 'open',
      horizonDeg: [],
      monthlyLossPercent: [],
    },
  ],
  inverter: { ratedW: 1000, efficiency: 0.965 },
};
