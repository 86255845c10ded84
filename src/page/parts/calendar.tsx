import { useLayoutEffect, useMemo, useRef } from 'preact/hooks';
import { WH_PER_KWH } from '../../index.ts';
import type { DayCell, YearAnswer } from '../engine/answer.ts';
import { LEVELS, levelOf } from '../levels.ts';
import type { Speech } from '../words/index.ts';

/** Below this width months run across and days down, so that cells stay wide enough for a finger. */
const NARROW = '(max-width: 640px)';

interface CalendarProps {
  readonly answer: YearAnswer;
  readonly picked: number;
  readonly pick: (day: number) => void;
  readonly speech: Speech;
}

/** The year as a sheet: a row a month, a cell a day, coloured by what the roof put into the car. */
export function Calendar({ answer, picked, pick, speech }: CalendarProps) {
  const { words, form } = speech;
  const sheet = useRef<HTMLDivElement>(null);
  const topWh = Math.max(...answer.days.map(({ carPvWh }) => carPvWh), 1);
  const rows = answer.months.map(({ year, month, sums }) => ({
    year,
    month,
    kWh: sums.cars.carPvWh / WH_PER_KWH,
    days: answer.days.flatMap((day, i) => (day.year === year && day.month === month ? [{ day, i }] : [])),
  }));
  const moved = useRef(false);
  useLayoutEffect(() => {
    if (!moved.current) return;
    moved.current = false;
    sheet.current?.querySelector<HTMLElement>('[aria-selected="true"]')?.focus();
  });
  const onKeyDown = (event: KeyboardEvent): void => {
    const to = moveOf(event.key, picked, answer.days);
    if (to === null) return;
    event.preventDefault();
    moved.current = true;
    pick(to);
  };
  const onClick = (event: MouseEvent): void => {
    const cell = event.target instanceof HTMLElement ? event.target.dataset.day : undefined;
    if (cell !== undefined) pick(Number(cell));
  };
  return (
    <div class="calendar">
      {/* biome-ignore lint/a11y/useSemanticElements: a table can not change its rows into columns on a narrow screen */}
      <div role="grid" aria-label={words.day.calendar} class="sheet" ref={sheet} onKeyDown={onKeyDown} onClick={onClick}>
        {rows.map(({ year, month, kWh, days }, m) => (
          // biome-ignore lint/a11y/useSemanticElements: as above
          // biome-ignore lint/a11y/useFocusableInteractive: its cells take the focus
          <div role="row" key={`${year}-${month}`} style={{ '--month': m + 2 }}>
            {/* biome-ignore lint/a11y/useSemanticElements: as above */}
            {/* biome-ignore lint/a11y/useFocusableInteractive: it only names the row */}
            <span role="rowheader" class="month-name">
              {form.monthShort(month)}
            </span>
            {days.map(({ day, i }) => (
              <DayButton
                key={i}
                day={day}
                level={levelOf(day.carPvWh, topWh)}
                isPicked={i === picked}
                index={i}
                speech={speech}
              />
            ))}
            {/* biome-ignore lint/a11y/useSemanticElements: as above */}
            {/* biome-ignore lint/a11y/useFocusableInteractive: it holds a sum */}
            <span role="gridcell" class="month-sum">
              {form.n(kWh)}
            </span>
          </div>
        ))}
      </div>
      <p class="scale">
        <span class="ramp" aria-hidden="true">
          {Array.from({ length: LEVELS + 1 }, (_, level) => (
            <span class={`level-${level}`} key={level} />
          ))}
        </span>
        {words.day.scale(form.n(topWh / WH_PER_KWH, 1))}
      </p>
    </div>
  );
}

interface DayButtonProps {
  readonly day: DayCell;
  readonly level: number;
  readonly isPicked: boolean;
  readonly index: number;
  readonly speech: Speech;
}

/** A cell. It is drawn again only when what it shows has changed: a year has many. */
function DayButton({ day, level, isPicked, index, speech }: DayButtonProps) {
  const { words, form } = speech;
  const date = useMemo(() => form.longDay(day.year, day.month, day.day), [form, day.year, day.month, day.day]);
  const label = words.day.cell(date, form.n(day.carPvWh / WH_PER_KWH, 1));
  return useMemo(
    () => (
      // biome-ignore lint/a11y/useSemanticElements: a cell of the grid above
      <button
        type="button"
        role="gridcell"
        class={`day level-${level}`}
        style={{ '--day': day.day + 1 }}
        aria-label={label}
        aria-selected={isPicked}
        tabIndex={isPicked ? 0 : -1}
        title={label}
        data-day={index}
      />
    ),
    [label, level, isPicked, index, day.day],
  );
}

/** Where an arrow key leads: along the row a day on, across it the same day of the month beside. */
function moveOf(key: string, from: number, days: readonly DayCell[]): number | null {
  const isNarrow = matchMedia(NARROW).matches;
  const along = isNarrow ? ['ArrowUp', 'ArrowDown'] : ['ArrowLeft', 'ArrowRight'];
  const across = isNarrow ? ['ArrowLeft', 'ArrowRight'] : ['ArrowUp', 'ArrowDown'];
  const within = (to: number): number => Math.min(days.length - 1, Math.max(0, to));
  if (along.includes(key)) return within(from + (key === along[0] ? -1 : 1));
  if (across.includes(key)) return within(from + (key === across[0] ? -1 : 1) * 30);
  if (key === 'Home') return 0;
  return key === 'End' ? days.length - 1 : null;
}
