import type { DayAnswer } from '../engine/day.ts';
import type { Words } from '../words/index.ts';
import { AXIS_PX, axis, fixedWidth, type Level, type Spec, STILL } from './chart-js.ts';
import type { Paint } from './paint.ts';
import type { Trace } from './traces.ts';

/** Room right of the plot, px: the ribbon under it leaves the same. */
export const RIGHT_PX = 10;
export const LEFT_PX = AXIS_PX;

/** A day: roof and house as lines, the car stacked by source, before a change as a dashed line. */
export const daySpec =
  (day: DayAnswer, before: DayAnswer | null, levels: readonly Level[], words: Words) =>
  (paint: Paint): Spec => {
    const traces = tracesOf(day, before, words, paint);
    const topKw = Math.max(5, ...traces.map(({ kW }) => kW.reduce((most, value) => Math.max(most, value), 0)));
    const { ticks } = day;
    return {
      type: 'line',
      data: { datasets: [] },
      options: {
        ...STILL,
        layout: { padding: { right: RIGHT_PX, top: 6 } },
        scales: {
          x: {
            type: 'linear',
            min: 0,
            max: day.hours,
            ...axis(paint, words.day.hour),
            afterBuildTicks: (scale: { ticks: { value: number }[] }) => {
              scale.ticks = ticks.map(({ atH }) => ({ value: atH }));
            },
            ticks: {
              ...axis(paint, '').ticks,
              autoSkip: false,
              callback: (value: number | string) => ticks.find(({ atH }) => atH === value)?.label ?? '',
            },
          },
          y: { type: 'linear', min: 0, max: Math.ceil(topKw), afterFit: fixedWidth, ...axis(paint, words.day.axis) },
        },
        plugins: {
          tooltip: { enabled: false },
          traces: { list: traces, hours: day.hours },
          levels: { list: levels, colour: paint.ink, paper: paint.sheet },
        },
      } as Spec['options'] & object,
    };
  };

function tracesOf(day: DayAnswer, before: DayAnswer | null, words: Words, paint: Paint): Trace[] {
  const { carPvKw, carBatteryKw } = day;
  const withBattery = carPvKw.map((kW, i) => kW + (carBatteryKw[i] ?? 0));
  const area = (label: string, kW: Float64Array, above: Float64Array, colour: string): Trace => ({
    label,
    kW,
    above,
    colour,
    widthPx: 0,
    dash: [],
  });
  const line = (label: string, kW: Float64Array, colour: string, widthPx: number, dash: number[] = []): Trace => ({
    label,
    kW,
    above: null,
    colour,
    widthPx,
    dash,
  });
  return [
    area(words.day.carPv, carPvKw, new Float64Array(carPvKw.length), paint.pv),
    area(words.day.carBattery, withBattery, carPvKw, paint.battery),
    area(words.day.carGrid, totalKw(day), withBattery, paint.grid),
    line(words.day.house, day.loadKw, paint.ink, 1),
    line(words.day.pv, day.pvKw, paint.roof, 1.75),
    ...(before === null ? [] : [line(words.day.carBefore, totalKw(before), paint.accent, 2, [4, 3])]),
  ];
}

/** All that goes into the cars, kW. */
const totalKw = ({ carPvKw, carBatteryKw, carGridKw }: DayAnswer): Float64Array =>
  carPvKw.map((kW, i) => kW + (carBatteryKw[i] ?? 0) + (carGridKw[i] ?? 0));
