import type { StateName } from '../charging/index.ts';

/**
 * Colours that people with any kind of colour vision can tell apart. Which colour means what is our own choice.
 *
 * @see okabe2008 (data/SOURCES.md)
 */
export const OKABE_ITO = {
  black: '#000000',
  orange: '#E69F00',
  skyBlue: '#56B4E9',
  bluishGreen: '#009E73',
  yellow: '#F0E442',
  blue: '#0072B2',
  vermillion: '#D55E00',
  reddishPurple: '#CC79A7',
} as const;

/** Where energy into the car comes from. */
export const SOURCE_COLOUR = {
  pv: OKABE_ITO.orange,
  battery: OKABE_ITO.bluishGreen,
  grid: OKABE_ITO.blue,
} as const;

export const INK = '#222222';
export const FAINT_INK = '#5A5A5A';
export const GRID_LINE = '#E4E4E4';
export const PAPER = '#FFFFFF';

/** How a state is painted: a colour, and strokes across it where a colour alone would not do. */
export interface StatePaint {
  readonly fill: string;
  readonly strokes?: 'rising' | 'falling' | 'upright';
}

/** Greys: no wish to charge. White to purple: waiting. Green: charging from surplus. Blue: the grid helps. Vermillion: held. */
export const STATE_PAINT: Readonly<Record<StateName, StatePaint>> = {
  away: { fill: '#D9D9D9' },
  full: { fill: '#8C8C8C' },
  short: { fill: PAPER },
  proving: { fill: OKABE_ITO.yellow },
  resting: { fill: OKABE_ITO.reddishPurple },
  waking: { fill: OKABE_ITO.skyBlue },
  surplus: { fill: OKABE_ITO.bluishGreen },
  topped: { fill: OKABE_ITO.bluishGreen, strokes: 'rising' },
  ceiling: { fill: OKABE_ITO.bluishGreen, strokes: 'upright' },
  bridging: { fill: OKABE_ITO.blue },
  switching: { fill: OKABE_ITO.black },
  'held-fuse': { fill: OKABE_ITO.vermillion },
  'held-imbalance': { fill: OKABE_ITO.vermillion, strokes: 'rising' },
  'held-contract': { fill: OKABE_ITO.vermillion, strokes: 'falling' },
  'held-dimmed': { fill: OKABE_ITO.vermillion, strokes: 'upright' },
  must: { fill: OKABE_ITO.orange },
  'at-once': { fill: OKABE_ITO.orange, strokes: 'rising' },
  refusing: { fill: OKABE_ITO.skyBlue, strokes: 'falling' },
  'gave-up': { fill: '#8C8C8C', strokes: 'falling' },
};

/**
 * A colour mixed with white.
 *
 * @param colour  `#RRGGBB`
 * @param share   0 … 1, the part of the colour that is left
 * @example paler('#000000', 0.4) // '#999999'
 */
export function paler(colour: string, share: number): string {
  const channel = (at: number): string => {
    const value = Number.parseInt(colour.slice(at, at + 2), 16);
    return Math.round(255 - (255 - value) * share)
      .toString(16)
      .padStart(2, '0');
  };
  return `#${channel(1)}${channel(3)}${channel(5)}`.toUpperCase();
}
