import type { ScenarioInput } from './schema.ts';

type ArrayInput = Extract<ScenarioInput['pv'], { source: 'arrays' }>['arrays'][number];

/**
 * What decides how much each kWp of an array's modules gives: all of the array but its name, how many modules it has, and what is lost
 * behind them. Arrays that agree in it share that (`yieldsUnder` in simulate).
 *
 * @example modulesOf({ kWp: 5, tiltDeg: 30, azimuthDeg: 180 }) // { tiltDeg: 30, azimuthDeg: 180 }
 */
export function modulesOf(array: ArrayInput): Omit<ArrayInput, 'name' | 'kWp' | 'lossPercent' | 'monthlyLossPercent'> {
  const { name: _, kWp: __, lossPercent: ___, monthlyLossPercent: ____, ...modules } = array;
  return modules;
}
