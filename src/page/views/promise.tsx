import { useMemo } from 'preact/hooks';
import { type Expectation, expectationOf, type Money, WH_PER_KWH } from '../../index.ts';
import { solarShare } from '../../report/browser.ts';
import { monthsSpec } from '../charts/months.ts';
import { per100Km, type Sums } from '../engine/answer.ts';
import { usePage } from '../parts/context.ts';
import { Figure, TableOf } from '../parts/figure.tsx';
import type { Speech } from '../words/index.ts';

/** What may be said at the table: the sentence, the spread of years, the months, and what nobody should promise. */
export function PromiseView() {
  const { found, speech } = usePage();
  const { answer, years, yearsOf, atOnce, withoutCars } = found;
  const { words, form } = speech;
  if (answer === null) return null;
  const complete = yearsOf > 1 && years.length === yearsOf;
  return (
    <section class="view promise" aria-labelledby="promise-heading">
      <h2 id="promise-heading">{words.promise.heading}</h2>
      <div class="said" aria-live="polite">
        <Sentence own={answer.total} years={complete ? years.map(({ total }) => total) : null} speech={speech} />
      </div>
      <p class="hint">
        {!answer.canVaryYears
          ? words.promise.cannotVary
          : complete
            ? words.promise.yearsDone(yearsOf)
            : words.promise.yearsRunning(years.length, yearsOf === 0 ? 10 : yearsOf)}
      </p>
      {answer.total.cars.missedKm >= 0.5 ? (
        <p class="mind">{words.promise.missed(form.n(answer.total.cars.missedKm), form.n(answer.total.cars.drivenKm))}</p>
      ) : null}
      <YearsTable
        own={answer.total}
        atOnce={atOnce?.total ?? null}
        years={years.map(({ total }) => total)}
        bare={withoutCars}
        speech={speech}
      />
      <p class="hint">{answer.total.money === null ? words.promise.noPrices : words.promise.costNote}</p>
      <Months />
      <div class="not">
        <h3>{words.promise.notHeading}</h3>
        <ul>
          {words.promise.not.map((line) => (
            <li key={line}>{line}</li>
          ))}
        </ul>
      </div>
    </section>
  );
}

const kWhOf = ({ cars }: Sums): number => cars.carPvWh / WH_PER_KWH;
const kmOf = ({ cars }: Sums): number => cars.pvKm;
type Reach = keyof Pick<Expectation, 'usual' | 'inNineOfTen' | 'inOneOfTen'>;

const hoursOf = ({ cars }: Sums): number => cars.solarChargingH;

function Sentence({ own, years, speech }: { own: Sums; years: readonly Sums[] | null; speech: Speech }) {
  const { words, form } = speech;
  if (own.cars.carPvWh === 0) return <p>{words.promise.nothing}</p>;
  if (years === null) return <p>{words.promise.sentenceOne(form.n(kWhOf(own)), form.n(kmOf(own)))}</p>;
  const part = (of: (sums: Sums) => number, at: Reach): string => form.n(expectationOf(years.map(of))[at]);
  return (
    <>
      <p>{words.promise.sentence(part(kWhOf, 'inNineOfTen'), part(kmOf, 'inNineOfTen'))}</p>
      <p class="usual">{words.promise.usual(part(kWhOf, 'usual'), part(kmOf, 'usual'), part(hoursOf, 'usual'))}</p>
    </>
  );
}

interface YearsProps {
  readonly own: Sums;
  readonly atOnce: Sums | null;
  readonly years: readonly Sums[];
  readonly bare: Money | null;
  readonly speech: Speech;
}

/** Years as rows. What a row of the spread says is said of each column by itself. */
function YearsTable({ own, atOnce, years, bare, speech }: YearsProps) {
  const { words, form } = speech;
  const { promise } = words;
  const currency = usePage().input?.tariff?.currency ?? '';
  const cost = (sums: Sums): string => {
    const per100 = per100Km(sums, bare);
    return per100 === null ? '–' : form.money(per100, currency, 2);
  };
  const row = (label: string, sums: Sums): string[] => [
    label,
    form.n(kWhOf(sums)),
    form.n(kmOf(sums)),
    form.n(hoursOf(sums)),
    form.percent(solarShare(sums.cars)),
    cost(sums),
  ];
  const part = (label: string, at: Reach): string[] => {
    const of = (value: (sums: Sums) => number): number => expectationOf(years.map(value))[at];
    return [
      label,
      form.n(of(kWhOf)),
      form.n(of(kmOf)),
      form.n(of(hoursOf)),
      form.percent(of(({ cars }) => solarShare(cars))),
      '–',
    ];
  };
  const spread =
    years.length < 2 ? [] : [part(promise.poor, 'inNineOfTen'), part(promise.mid, 'usual'), part(promise.good, 'inOneOfTen')];
  const rows = [...spread, row(promise.own, own), ...(atOnce === null ? [] : [row(promise.atOnce, atOnce)])];
  return (
    <TableOf
      label={promise.heading}
      table={{ heads: ['', promise.kWh, promise.km, promise.hours, promise.share, promise.per100], rows }}
    />
  );
}

function Months() {
  const { found, speech } = usePage();
  const { answer, years, atOnce } = found;
  const { words, form } = speech;
  const months = answer?.months ?? [];
  const data = useMemo(() => {
    const kWh = (sums: Sums | undefined): number => (sums === undefined ? 0 : kWhOf(sums));
    return months.map(({ month, sums }, i) => ({
      label: form.monthShort(month),
      name: form.monthLong(month),
      own: kWh(sums),
      km: sums.cars.pvKm,
      hours: sums.cars.solarChargingH,
      atOnce: atOnce === null ? null : kWh(atOnce.months[i]),
      low: years.length < 2 ? null : Math.min(...years.map((year) => kWh(year.months[i]))),
      high: years.length < 2 ? null : Math.max(...years.map((year) => kWh(year.months[i]))),
    }));
  }, [months, years, atOnce, form]);
  const spec = useMemo(() => monthsSpec(data, words), [data, words]);
  const { promise } = words;
  const dash = (value: number | null): string => (value === null ? '–' : form.n(value));
  return (
    <>
      <h3>{promise.months}</h3>
      <Figure
        label={promise.months}
        name="months"
        heightPx={260}
        spec={spec}
        look={`${speech.language} ${data.length}`}
        legend={[
          { label: promise.chartPv, colour: 'pv', shape: 'block' },
          { label: promise.chartAtOnce, colour: 'ink', shape: 'outline' },
          ...(years.length < 2 ? [] : [{ label: promise.chartSpread, colour: 'ink', shape: 'stick' } as const]),
        ]}
        table={() => ({
          heads: [promise.month, promise.kWh, promise.km, promise.hours, promise.low, promise.high, promise.chartAtOnce],
          rows: data.map((one) => [
            one.name,
            form.n(one.own),
            form.n(one.km),
            form.n(one.hours),
            dash(one.low),
            dash(one.high),
            dash(one.atOnce),
          ]),
        })}
      />
    </>
  );
}
