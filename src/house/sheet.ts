/** A year of minutes, and the sum of what stands on them: kept while it is written, since reading a year again takes longer. W. */
export interface Sheet {
  readonly valuesW: Float64Array;
  sumW: number;
}
