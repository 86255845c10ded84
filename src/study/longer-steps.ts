import type { ProfilesWithWeather } from '../simulate/index.ts';

/**
 * The same sun and the same house in longer steps: means, so that energy is kept and all that happens within a step is lost.
 *
 * @param times  steps that become one; must divide their number
 * @throws RangeError  it does not
 */
export function longerSteps({ pvW, loadW, loadByPhaseW, weather }: ProfilesWithWeather, times: number): ProfilesWithWeather {
  if (!Number.isInteger(times) || times < 1 || pvW.length % times !== 0)
    throw new RangeError(`times = ${times}: must divide the ${pvW.length} steps`);
  const means = (values: Float64Array): Float64Array => meansOf(values, times);
  const [one, two, three] = loadByPhaseW;
  return {
    pvW: means(pvW),
    loadW: means(loadW),
    loadByPhaseW: [means(one), means(two), means(three)],
    weather: weather && {
      ghiWPerM2: means(weather.ghiWPerM2),
      dniWPerM2: means(weather.dniWPerM2),
      dhiWPerM2: means(weather.dhiWPerM2),
      airC: means(weather.airC),
      windMPerS: means(weather.windMPerS),
    },
  };
}

function meansOf(values: Float64Array, times: number): Float64Array {
  return Float64Array.from({ length: values.length / times }, (_, i) => {
    let sum = 0;
    for (let k = i * times; k < (i + 1) * times; k++) sum += values[k] ?? 0;
    return sum / times;
  });
}
