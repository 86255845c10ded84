/** A year of minutes, and the sum of what stands on them: kept while it is written, since reading a year again takes longer. W. */
export interface Sheet {
  readonly valuesW: Float64Array;
  sumW: number;
}

/** Hands out the sheet that was made before under the same key, or makes it; `used` is one that nobody needs any more. */
export type KeepSheet = (key: string, make: (used?: Float64Array) => Sheet) => Sheet;
