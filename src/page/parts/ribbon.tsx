import { STATE_PAINT, type Stretch } from '../../report/browser.ts';
import { LEFT_PX, RIGHT_PX } from '../charts/day.ts';
import { useSpeech } from './context.ts';

interface RibbonProps {
  readonly name: string;
  readonly stretches: readonly Stretch[];
  readonly hours: number;
}

/** What a charge point did over a day, a box a stretch, under the chart of the same day. */
export function Ribbon({ name, stretches, hours }: RibbonProps) {
  const { core } = useSpeech();
  return (
    <div class="ribbon-row">
      <span class="ribbon-name">{name}</span>
      <div class="ribbon" aria-hidden="true" style={{ marginLeft: `${LEFT_PX}px`, marginRight: `${RIGHT_PX}px` }}>
        {stretches.map(({ state, fromH, toH }) => (
          <span
            key={fromH}
            class={`state ${strokesOf(state)}`}
            title={`${clock(fromH)}–${clock(toH)} ${core.states[state]}`}
            style={{
              left: `${(100 * fromH) / hours}%`,
              width: `${(100 * (toH - fromH)) / hours}%`,
              backgroundColor: STATE_PAINT[state].fill,
            }}
          />
        ))}
      </div>
    </div>
  );
}

const strokesOf = (state: Stretch['state']): string => STATE_PAINT[state].strokes ?? '';

/** Hours since midnight as `14:05`. On a day on which the clocks change this is off by an hour after the change. */
export function clock(hours: number): string {
  const minutes = Math.round(hours * 60);
  return `${String(Math.floor(minutes / 60)).padStart(2, '0')}:${String(minutes % 60).padStart(2, '0')}`;
}

/** The states that occur, with how each is painted. */
export function StateKey({ ribbons }: { readonly ribbons: readonly (readonly Stretch[])[] }) {
  const { core } = useSpeech();
  const states = [...new Set(ribbons.flatMap((stretches) => stretches.map(({ state }) => state)))];
  return (
    <ul class="key states" aria-hidden="true">
      {states.map((state) => (
        <li key={state}>
          <span class={`swatch block state ${strokesOf(state)}`} style={{ '--swatch': STATE_PAINT[state].fill }} />
          {core.states[state]}
        </li>
      ))}
    </ul>
  );
}
