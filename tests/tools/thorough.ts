/** Whether everything is to be run at full length: wherever CI is set, as `.ci/run` does. */
export const isThorough = process.env.CI !== undefined && process.env.CI !== '';

/** Random cases of a long test: all of them, or in a plain `npm test` the first quarter. */
export const casesOf = (all: number): number => (isThorough ? all : Math.ceil(all / 4));
