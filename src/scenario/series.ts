/** A measured quantity in columns. A value is the mean over the interval that starts at its instant. */
export interface MeasuredSeries<Name extends string> {
  /** The file as the scenario names it. */
  readonly file: string;
  /** Length of every interval, s. */
  readonly intervalS: number;
  /** Starts of the intervals, UTC ms, ascending, evenly spaced by `intervalS`. */
  readonly atMs: Float64Array;
  readonly columns: Readonly<Record<Name, Float64Array>>;
}

/** Measured weather at its own resolution; it covers the period. */
export interface WeatherSeries {
  readonly file: string;
  readonly intervalS: number;
  readonly atMs: Float64Array;
  /** Global horizontal irradiance, W/m²; small negative values are the instrument's own offset. */
  readonly ghiWPerM2: Float64Array;
  /** Beam on a plane facing the sun, and diffuse on the horizontal, W/m²; null where the file has none. */
  readonly dniWPerM2: Float64Array | null;
  readonly dhiWPerM2: Float64Array | null;
  readonly airC: Float64Array;
  /** Null where the file has none. */
  readonly windMPerS: Float64Array | null;
}
