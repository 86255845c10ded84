import { useMemo } from 'preact/hooks';
import { W_PER_KW } from '../../index.ts';
import { solarShare } from '../../report/browser.ts';
import { shareSpec } from '../charts/curve.ts';
import type { Paint } from '../charts/paint.ts';
import type { CurvePoint } from '../engine/protocol.ts';
import { kneeOf } from '../knee.ts';
import { usePage } from '../parts/context.ts';
import { NumberField, PickField } from '../parts/fields.tsx';
import { Figure } from '../parts/figure.tsx';

const SHARE = ['control', 'surplusShare'] as const;
const TOP_UP = ['control', 'topUp'] as const;

/** The surplus share: what it means in kilowatts, and what it costs and brings from one end to the other. */
export function SettingView() {
  const { input, set, speech, found } = usePage();
  const { words } = speech;
  const topUp = input?.control.topUp ?? 'minimum';
  return (
    <section class="view setting" aria-labelledby="setting-heading">
      <h2 id="setting-heading">{words.setting.heading}</h2>
      <NumberField
        path={SHARE}
        label={words.fields.share}
        unit="%"
        times={100}
        slider={{ min: 0, max: 100, step: 1 }}
        about={words.sources.practiceRange('100 %', '0…100 %')}
      />
      <Means />
      <PickField
        path={TOP_UP}
        label={words.fields.topUp}
        choices={(['minimum', 'proportional'] as const).map((key) => ({ key, label: words.fields.topUps[key] }))}
        value={topUp}
        onChoice={(key) => set(TOP_UP, key)}
      />
      {found.curve === null ? <p class="hint">{words.setting.computing}</p> : <Curve points={found.curve[topUp]} />}
      <details class="section" open>
        <summary>
          <h3>{words.setting.delays}</h3>
        </summary>
        <Delays />
      </details>
    </section>
  );
}

/** The share in kilowatts: what the first charge point waits for. */
function Means() {
  const { found, input, speech } = usePage();
  const { words, form } = speech;
  const threshold = found.answer?.thresholds[0];
  const share = input?.control.surplusShare;
  if (threshold === undefined || share === undefined) return null;
  const kW = (powerW: number): string => `${form.n(powerW / W_PER_KW, 2)} kW`;
  const { leastW, mostW } = threshold;
  return (
    <p class="said small" aria-live="polite">
      {share === 0
        ? words.setting.zero
        : leastW === mostW
          ? words.setting.meansOne(form.percent(share), kW(leastW))
          : words.setting.means(form.percent(share), kW(leastW), kW(mostW))}
    </p>
  );
}

/** Money that moves less than this over the whole curve, in the tariff's currency a year, is next to nothing. */
const FLAT_MONEY = 10;

function Curve({ points }: { points: readonly CurvePoint[] }) {
  const { input, speech } = usePage();
  const { words, form } = speech;
  const currency = input?.tariff?.currency ?? '';
  const share = input?.control.surplusShare ?? 1;
  const knee = useMemo(() => kneeOf(points.map(({ at, sums }) => ({ x: at, y: solarShare(sums.cars) }))), [points]);
  const kneePoint = knee === null ? undefined : points[knee];
  const costs = points.flatMap(({ at, sums }) => (sums.money === null ? [] : [{ at, cost: sums.money.totalCost }]));
  const cheapest = costs.reduce<(typeof costs)[number] | null>(
    (best, one) => (best === null || one.cost < best.cost ? one : best),
    null,
  );
  const movesBy = costs.length === 0 ? 0 : Math.max(...costs.map(({ cost }) => cost)) - (cheapest?.cost ?? 0);
  const spec = useMemo(() => {
    const marks = (paint: Paint) => [
      { at: share * 100, text: words.setting.now, colour: paint.ink, dash: [2, 3] },
      ...(kneePoint === undefined ? [] : [{ at: kneePoint.at * 100, text: words.setting.knee, colour: paint.pv, dash: [] }]),
    ];
    return shareSpec(points, marks, currency, words);
  }, [points, kneePoint, share, currency, words]);
  return (
    <>
      <h3>{words.setting.curve}</h3>
      <Figure
        label={words.setting.curve}
        name="share"
        heightPx={300}
        spec={spec}
        look={`${speech.language} ${share} ${kneePoint?.at} ${currency}`}
        legend={[
          { label: words.setting.fraction, colour: 'pv', shape: 'line' },
          ...(costs.length === 0
            ? []
            : [{ label: `${words.setting.costPer}, ${currency}`, colour: 'accent', shape: 'dashed' } as const]),
        ]}
        table={() => ({
          heads: [
            words.setting.axisShare,
            words.setting.fraction,
            words.setting.cost,
            words.setting.starts,
            words.setting.missed,
          ],
          rows: points.map(({ at, sums }) => [
            form.n(at * 100),
            form.n(solarShare(sums.cars) * 100, 1),
            sums.money === null ? '–' : form.money(sums.money.totalCost, currency),
            form.n(sums.cars.starts),
            form.n(sums.cars.missedKm),
          ]),
        })}
      />
      <ul class="notes">
        <li>
          {kneePoint === undefined
            ? words.setting.noKnee
            : words.setting.kneeSaid(form.percent(kneePoint.at), form.percent(solarShare(kneePoint.sums.cars)))}
        </li>
        {cheapest === null ? null : (
          <li>
            {movesBy < FLAT_MONEY
              ? words.setting.flat(form.money(movesBy, currency))
              : words.setting.cheapest(form.percent(cheapest.at), form.money(cheapest.cost, currency))}
          </li>
        )}
      </ul>
    </>
  );
}

/** Seconds of the law, with the range in which installations are found. */
const DELAYS = [
  { key: 'startDelayS', label: 'startDelay', standard: '180 s', range: '60…300 s' },
  { key: 'stopDelayS', label: 'stopDelay', standard: '180 s', range: '60…600 s' },
  { key: 'switchUpDelayS', label: 'switchUpDelay', standard: '600 s', range: '60…900 s' },
  { key: 'switchDownDelayS', label: 'switchDownDelay', standard: '180 s', range: '60…600 s' },
  { key: 'restartPauseS', label: 'restartPause', standard: '300 s', range: '60…900 s' },
] as const;

function Delays() {
  const { words } = usePage().speech;
  return (
    <div class="grid">
      {DELAYS.map(({ key, label, standard, range }) => (
        <NumberField
          key={key}
          path={['control', key]}
          label={words.fields[label]}
          unit="s"
          about={words.sources.practiceRange(standard, range)}
        />
      ))}
      <NumberField
        path={['control', 'reserveW']}
        label={words.fields.reserve}
        unit="W"
        about={words.sources.practiceRange('50 W', '0…200 W')}
      />
    </div>
  );
}
