/**
 * Prints how `minutes: clouds` compares with real minutes, month by month: `npx tsx tests/tools/judge-clouds.ts [minutes of the means] [seeds]`.
 * Needs the folder of real data beside the project.
 */
import { charged, ksDistance, minuteFacts, mixedDays, quantile, realMonth, refined, SETTINGS } from '../sky/real-months.ts';

const minutesEach = Number(process.argv[2] ?? 60);
const seeds = Array.from({ length: Number(process.argv[3] ?? 10) }, (_, i) => i + 1);
const mean = (values: readonly number[]): number => values.reduce((a, b) => a + b, 0) / values.length;
const change = (found: number, real: number): string => `${((found / real - 1) * 100).toFixed(1)} %`.padStart(8);

for (const month of [3, 6, 9, 11].map(realMonth)) {
  const years = seeds.map((seed) => refined(month, seed, minutesEach));
  const runs = years.map((weather) => charged(month, weather));
  console.log(`month ${month.month}`);
  charged(month, month.minutes).forEach((real, i) => {
    const of = (name: keyof typeof real): number => mean(runs.map((run) => run[i]![name]));
    const { phases, share } = SETTINGS[i]!;
    console.log(
      `  ${`${phases}, share ${share}`.padEnd(22)} PV kWh ${real.pvKWh.toFixed(1).padStart(6)}${change(of('pvKWh'), real.pvKWh)}   hours ${real.solarH.toFixed(1).padStart(6)}${change(of('solarH'), real.solarH)}   starts ${String(real.starts).padStart(4)}${change(of('starts'), real.starts)}   switches ${String(real.switches).padStart(4)} → ${of('switches').toFixed(1)}`,
    );
  });
  const isMixed = mixedDays(month);
  const real = minuteFacts(month, month.minutes, isMixed);
  const all = years.map((weather) => minuteFacts(month, weather, isMixed));
  const row = (what: string, of: (facts: typeof real) => number): void =>
    console.log(
      `  ${what.padEnd(34)} real ${of(real).toFixed(3).padStart(8)}   clouds ${mean(all.map(of)).toFixed(3).padStart(8)}`,
    );
  console.log(
    `  KS distance of the index           all ${mean(all.map((f) => ksDistance(f.index, real.index))).toFixed(3)}, mixed days ${mean(all.map((f) => ksDistance(f.indexMixed, real.indexMixed))).toFixed(3)}`,
  );
  for (const share of [0.5, 0.95, 0.99]) row(`ramp a minute, ${share * 100}th percentile`, (f) => quantile(f.ramps, share));
  row('number of sunny spells', (f) => f.sunny.length);
  for (const share of [0.5, 0.9]) row(`sunny spell, min, ${share * 100}th percentile`, (f) => quantile(f.sunny, share));
  for (const share of [0.5, 0.9]) row(`cloudy spell, min, ${share * 100}th percentile`, (f) => quantile(f.cloudy, share));
  row('largest index', (f) => f.index.at(-1)!);
}
