/** Colours of the charts as the present light wants them. They are named in the stylesheet. */
export interface Paint {
  readonly ink: string;
  readonly faint: string;
  readonly line: string;
  readonly pv: string;
  readonly battery: string;
  readonly grid: string;
  readonly roof: string;
  readonly accent: string;
  readonly paper: string;
  readonly sheet: string;
}

const NAMES = ['ink', 'faint', 'line', 'pv', 'battery', 'grid', 'roof', 'accent', 'paper', 'sheet'] as const;

export function paintNow(): Paint {
  const style = getComputedStyle(document.documentElement);
  return Object.fromEntries(NAMES.map((name) => [name, style.getPropertyValue(`--${name}`).trim()])) as unknown as Paint;
}
