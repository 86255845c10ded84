import { WH_PER_KWH } from '../../index.ts';
import { solarShare } from '../../report/browser.ts';
import type { CurvePoint } from '../engine/protocol.ts';
import type { Words } from '../words/index.ts';
import { axis, type Mark, type Spec, STILL } from './chart-js.ts';
import type { Paint } from './paint.ts';

/** What the share does: the part from the roof (left) and what the household pays (right), with marks at shares of interest. */
export const shareSpec =
  (points: readonly CurvePoint[], marks: (paint: Paint) => readonly Mark[], currency: string, words: Words) =>
  (paint: Paint): Spec => {
    const hasMoney = points.some(({ sums }) => sums.money !== null);
    return {
      type: 'line',
      data: {
        datasets: [
          {
            ...LINE,
            label: words.setting.fraction,
            data: points.map(({ at, sums }) => ({ x: at * 100, y: solarShare(sums.cars) * 100 })),
            borderColor: paint.pv,
            backgroundColor: paint.pv,
            yAxisID: 'y',
          },
          ...(hasMoney
            ? [
                {
                  ...LINE,
                  label: words.setting.cost,
                  data: points.map(({ at, sums }) => ({ x: at * 100, y: sums.money?.totalCost ?? 0 })),
                  borderColor: paint.accent,
                  backgroundColor: paint.accent,
                  borderDash: [6, 4],
                  yAxisID: 'money',
                },
              ]
            : []),
        ],
      },
      options: {
        ...STILL,
        scales: {
          x: { type: 'linear', min: 0, max: 100, ...axis(paint, words.setting.axisShare) },
          y: { type: 'linear', min: 0, max: 100, ...axis(paint, words.setting.fraction) },
          ...(hasMoney
            ? {
                money: {
                  type: 'linear',
                  position: 'right',
                  ...axis(paint, `${words.setting.costPer}, ${currency}`),
                  grid: { display: false },
                },
              }
            : {}),
        },
        plugins: { tooltip: { mode: 'index', intersect: false }, marks: { list: marks(paint) } },
      } as Spec['options'] & object,
    };
  };

const LINE = { borderWidth: 2.25, pointRadius: 0, pointHitRadius: 8, tension: 0 } as const;

/** Energy from the roof by the size of something. */
export const sizeSpec =
  (points: readonly CurvePoint[], text: string, now: number | null, words: Words) =>
  (paint: Paint): Spec => ({
    type: 'line',
    data: {
      datasets: [
        {
          ...LINE,
          label: words.choice.sizeY,
          data: points.map(({ at, sums }) => ({ x: at, y: sums.cars.carPvWh / WH_PER_KWH })),
          borderColor: paint.pv,
          backgroundColor: paint.pv,
          pointRadius: 3,
        },
      ],
    },
    options: {
      ...STILL,
      scales: {
        x: { type: 'linear', ...axis(paint, text) },
        y: { type: 'linear', beginAtZero: true, ...axis(paint, 'kWh') },
      },
      plugins: {
        tooltip: { mode: 'index', intersect: false },
        marks: { list: now === null ? [] : [{ at: now, text: words.choice.sizeNow, colour: paint.ink, dash: [2, 3] }] },
      },
    } as Spec['options'] & object,
  });
