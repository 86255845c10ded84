import type { ColumnSpec } from './csv-header.ts';

const column = (name: string, min: number, max: number, unit: string, required: boolean): ColumnSpec => ({
  name,
  kind: 'number',
  required,
  min,
  max,
  unit,
});

const time = (name: string): ColumnSpec => ({ name, kind: 'time', required: true, min: -Infinity, max: Infinity, unit: '' });

/**
 * Layouts of the files that a scenario can name. The ranges are wide: they catch codes for missing values and wrong units, not odd
 * weather. Below zero: an irradiance by the offset of its instrument, a roof by what its inverter uses at night, a load by the
 * noise of a current clamp.
 */
export const WEATHER_COLUMNS: readonly (readonly ColumnSpec[])[] = [
  [
    time('time'),
    column('ghi_w_m2', -50, 2000, 'W/m²', true),
    column('dni_w_m2', -50, 1600, 'W/m²', false),
    column('dhi_w_m2', -50, 1500, 'W/m²', false),
    column('temp_c', -70, 60, '°C', true),
    column('wind_m_s', -1, 100, 'm/s', false),
  ],
];

export const PV_COLUMNS: readonly (readonly ColumnSpec[])[] = [[time('time'), column('pv_w', -500, 2_000_000, 'W', true)]];

export const HOUSEHOLD_COLUMNS: readonly (readonly ColumnSpec[])[] = [
  [
    time('time'),
    column('l1_w', -100, 1_000_000, 'W', true),
    column('l2_w', -100, 1_000_000, 'W', true),
    column('l3_w', -100, 1_000_000, 'W', true),
  ],
  [time('time'), column('load_w', -100, 1_000_000, 'W', true)],
];

/** Signed, so that a wrong sign in the export can be found out. */
export const METER_COLUMNS: readonly (readonly ColumnSpec[])[] = [
  [
    time('time'),
    column('import_w', -1_000_000, 1_000_000, 'W', true),
    column('export_w', -1_000_000, 1_000_000, 'W', true),
    column('car_w', -500, 1_000_000, 'W', false),
    column('battery_w', -1_000_000, 1_000_000, 'W', false),
  ],
];

/** Days of a standard profile, `winter_workday` to `summer_sunday`. */
export const PROFILE_DAYS = ['winter', 'transition', 'summer'].flatMap((season) =>
  ['workday', 'saturday', 'sunday'].map((kind) => `${season}_${kind}`),
);

export const PROFILE_COLUMNS: readonly (readonly ColumnSpec[])[] = [
  [column('hour', 0, 24, 'hours', true), ...PROFILE_DAYS.map((name) => column(name, 0, 1_000_000_000, 'any unit', true))],
];

/** Wide enough for any currency per kWh; what looks like a price per MWh is found out where the currency is known. */
export const PRICE_COLUMNS: readonly (readonly ColumnSpec[])[] = [
  [time('time'), column('price', -1000, 1000, 'currency per kWh', true)],
];

export const STAY_COLUMNS: readonly (readonly ColumnSpec[])[] = [
  [time('arrive'), time('depart'), column('km', 0, 5000, 'km', true)],
];
