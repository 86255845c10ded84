import { useMemo, useRef } from 'preact/hooks';
import { W_PER_KW, WH_PER_KWH } from '../../index.ts';
import { daySpec } from '../charts/day.ts';
import type { DayAnswer } from '../engine/day.ts';
import type { ChainLine } from '../engine/telling.ts';
import { Calendar } from '../parts/calendar.tsx';
import { usePage } from '../parts/context.ts';
import { Figure, type KeyEntry, TableBehind } from '../parts/figure.tsx';
import { clock, Ribbon, StateKey } from '../parts/ribbon.tsx';

/** The year as a sheet of days, and the day that is picked: its chart, its ribbon, its account, and what it was before a change. */
export function DayView() {
  const page = usePage();
  const { chosen, found, speech, choose } = page;
  const { words, form } = speech;
  const { answer, day, dayBefore } = found;
  const at = chosen.day < 0 ? (answer?.best ?? 0) : chosen.day;
  const last = (answer?.days.length ?? 1) - 1;
  const pick = (to: number): void => choose({ day: Math.min(last, Math.max(0, to)), before: page.chosen.draft });
  const latestPick = useRef(pick);
  latestPick.current = pick;
  // A year has many cells: they are gone through only for another answer or another day.
  const calendar = useMemo(
    () => answer && <Calendar answer={answer} picked={at} pick={(to) => latestPick.current(to)} speech={speech} />,
    [answer, at, speech],
  );
  if (answer === null) return null;
  return (
    <section class="days" aria-labelledby="days-heading">
      <h2 id="days-heading">{words.day.heading}</h2>
      <p class="hint">{words.day.calendarHelp}</p>
      {calendar}
      {day === null ? null : (
        <div class="one-day">
          <div class="day-head">
            <h3 aria-live="polite">{form.longDay(day.year, day.month, day.day)}</h3>
            <div class="buttons">
              <button type="button" class="quiet" onClick={() => pick(at - 1)}>
                {words.day.previous}
              </button>
              <button type="button" class="quiet" onClick={() => pick(at + 1)}>
                {words.day.next}
              </button>
              <button type="button" class="quiet" onClick={() => pick(answer.best)}>
                {words.day.best}
              </button>
              <button type="button" class="quiet" onClick={() => pick(answer.median)}>
                {words.day.median}
              </button>
            </div>
          </div>
          <OneDay day={day} before={dayBefore} />
        </div>
      )}
    </section>
  );
}

function OneDay({ day, before }: { day: DayAnswer; before: DayAnswer | null }) {
  const page = usePage();
  const { found, choose, speech } = page;
  const { words, form, core } = speech;
  const thresholds = found.answer?.thresholds ?? [];
  const spec = useMemo(() => {
    const levels = [...new Set(thresholds.flatMap(({ leastW, mostW }) => [leastW, mostW]))]
      .filter((powerW) => powerW > 0)
      .map((powerW) => ({ at: powerW / W_PER_KW, text: `${form.n(powerW / W_PER_KW, 2)} kW` }));
    return daySpec(day, before, levels, words);
    // By what they are: every answer brings them anew, most often the same, and the day that goes with it comes after it.
  }, [day, before, JSON.stringify(thresholds), words, form]);
  // Everything on this chart is an option of it.
  const looks = useRef(0);
  useMemo(() => looks.current++, [spec]);
  const read = (part: number): string => {
    const i = Math.min(day.pvKw.length - 1, Math.floor(part * day.pvKw.length));
    const states = day.ribbons.map(({ name, stretches }) => {
      const now = stretches.find(({ toH }) => part * day.hours < toH);
      return now === undefined ? '' : `${name && `${name}: `}${core.states[now.state]}`;
    });
    const kW = (label: string, values: Float64Array): string => `${label} ${form.n(values[i] ?? 0, 2)} kW`;
    const parts = [kW(words.day.pv, day.pvKw), kW(words.day.house, day.loadKw), kW(words.day.carPv, day.carPvKw)];
    if ((day.carGridKw[i] ?? 0) > 0.0005) parts.push(kW(words.day.carGrid, day.carGridKw));
    return [clock(part * day.hours), ...parts, ...states].join(' · ');
  };
  const legend: KeyEntry[] = [
    { label: words.day.pv, colour: 'roof', shape: 'line' },
    { label: words.day.house, colour: 'ink', shape: 'line' },
    { label: words.day.threshold, colour: 'ink', shape: 'dashed' },
    { label: words.day.carPv, colour: 'pv', shape: 'block' },
    ...(day.carBatteryKw.some((kW) => kW > 0)
      ? [{ label: words.day.carBattery, colour: 'battery', shape: 'block' } as const]
      : []),
    { label: words.day.carGrid, colour: 'grid', shape: 'block' },
    ...(before === null ? [] : [{ label: words.day.carBefore, colour: 'accent', shape: 'dashed' } as const]),
  ];
  return (
    <>
      {before === null ? null : <p class="small-caps">{words.day.after}</p>}
      <DaySums day={day} />
      <Figure
        label={`${words.day.heading}: ${form.longDay(day.year, day.month, day.day)}`}
        name={`day-${day.year}-${String(day.month).padStart(2, '0')}-${String(day.day).padStart(2, '0')}`}
        heightPx={280}
        spec={spec}
        look={String(looks.current)}
        read={read}
        legend={legend}
        table={() =>
          hoursTable(day, [words.day.time, words.day.pv, words.day.house, words.day.carPv, words.day.carGrid], (kW) =>
            form.n(kW, 2),
          )
        }
      />
      <Ribbons day={day} before={before} />
      <div class="pair">
        <Story title={before === null ? words.day.story : `${words.day.story}: ${words.day.after}`} day={day} />
        {before === null ? null : (
          <div>
            <DaySums day={before} />
            <Story title={`${words.day.story}: ${words.day.before}`} day={before} />
          </div>
        )}
        {before === null ? <Chain rows={day.told.chain} /> : null}
      </div>
      {before === null ? null : (
        <div class="pair">
          <Chain rows={day.told.chain} />
          <Chain rows={before.told.chain} />
        </div>
      )}
      {before === null ? (
        <p class="hint">{words.day.compare}</p>
      ) : (
        <p class="mind">
          {words.day.changed(signed(form.n, (day.sums.cars.carPvWh - before.sums.cars.carPvWh) / WH_PER_KWH))}{' '}
          <button type="button" class="quiet" onClick={() => choose({ before: page.chosen.draft })}>
            {words.day.keep}
          </button>
        </p>
      )}
    </>
  );
}

const signed = (n: (value: number, decimals: number) => string, kWh: number): string => `${kWh > 0 ? '+' : ''}${n(kWh, 1)}`;

function DaySums({ day }: { day: DayAnswer }) {
  const { words, form } = usePage().speech;
  const { cars } = day.sums;
  return (
    <p class="sums">
      {words.day.sums(
        form.n(cars.carPvWh / WH_PER_KWH, 1),
        form.n(cars.carWh / WH_PER_KWH, 1),
        form.n(cars.pvKm),
        form.n(cars.solarChargingH, 1),
      )}
      {' · '}
      {words.day.counts(cars.starts, cars.stalls, cars.switches)}
    </p>
  );
}

function Ribbons({ day, before }: { day: DayAnswer; before: DayAnswer | null }) {
  const { words, core } = usePage().speech;
  const all = [...day.ribbons, ...(before?.ribbons ?? [])];
  const rows = (): string[][] =>
    day.ribbons.flatMap(({ name, stretches }) =>
      stretches.map(({ state, fromH, toH }) => [`${clock(fromH)}${name && ` (${name})`}`, clock(toH), core.states[state]]),
    );
  return (
    <div class="ribbons">
      {before?.ribbons.map(({ name, stretches }, i) => (
        <Ribbon key={`before ${i}`} name={`${words.day.before} ${name}`} stretches={stretches} hours={before.hours} />
      ))}
      {day.ribbons.map(({ name, stretches }, i) => (
        <Ribbon
          key={`now ${i}`}
          name={before === null ? name : `${words.day.after} ${name}`}
          stretches={stretches}
          hours={day.hours}
        />
      ))}
      <StateKey ribbons={all.map(({ stretches }) => stretches)} />
      <TableBehind
        label={words.day.ribbon}
        table={() => ({ heads: [words.day.from, words.day.to, words.day.state], rows: rows() })}
      />
    </div>
  );
}

function Story({ title, day }: { title: string; day: DayAnswer }) {
  const { words } = usePage().speech;
  return (
    <div class="story">
      <h4>{title}</h4>
      {day.told.sentences.length === 0 ? <p>{words.day.quiet}</p> : null}
      <ol>
        {day.told.sentences.map(({ at, text }, i) => (
          <li key={i}>
            {at === '' ? null : <time>{at}</time>} {text}
          </li>
        ))}
      </ol>
    </div>
  );
}

/** From daylight down to solar charging hours: what is taken off, and what is left. */
function Chain({ rows }: { rows: readonly ChainLine[] }) {
  const { words, form } = usePage().speech;
  const shown = rows.filter(({ less, hours, energyWh }) => !less || hours >= 0.01 || energyWh >= 5);
  const most = Math.max(...rows.map(({ energyWh }) => energyWh), 1);
  return (
    <div class="chain">
      <h4>{words.day.chain}</h4>
      <table>
        <thead>
          <tr>
            <td />
            <th scope="col">{words.day.hours}</th>
            <th scope="col">{words.day.energy}</th>
            <td class="wide" />
          </tr>
        </thead>
        <tbody>
          {shown.map(({ label, less, hours, energyWh }) => (
            <tr key={label} class={less ? 'less' : ''}>
              <th scope="row">{`${less ? '− ' : ''}${label}`}</th>
              <td>{hours < 0.01 ? '' : form.n(hours, 1)}</td>
              <td>{energyWh < 5 ? '' : form.n(energyWh / WH_PER_KWH, 1)}</td>
              <td class="wide">
                <span class="bar" style={{ width: `${(100 * Math.max(0, energyWh)) / most}%` }} />
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

/** Means over the hours of a day. */
function hoursTable(day: DayAnswer, heads: readonly string[], text: (kW: number) => string) {
  const hours = Math.round(day.hours);
  const mean = (kW: Float64Array, h: number): string => {
    const part = kW.subarray(Math.floor((kW.length * h) / hours), Math.floor((kW.length * (h + 1)) / hours));
    return text(part.reduce((sum, value) => sum + value, 0) / Math.max(1, part.length));
  };
  const columns = [day.pvKw, day.loadKw, day.carPvKw, day.carGridKw];
  return { heads, rows: Array.from({ length: hours }, (_, h) => [clock(h), ...columns.map((kW) => mean(kW, h))]) };
}
