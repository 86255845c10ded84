import type { Published } from './sureness.ts';

/** What a conductor is made of. */
export type Metal = 'copper' | 'aluminium';

/** Resistivity at working temperature, ohm · mm² / m. @see iec60364-drop (data/SOURCES.md) */
export const RESISTIVITY_OHM_MM2_PER_M: Readonly<Record<Metal, Published<number>>> = {
  copper: { value: 0.0225, source: 'IEC 60364-5-52 Annex G', sure: 'second-hand' },
  aluminium: { value: 0.036, source: 'IEC 60364-5-52 Annex G', sure: 'second-hand' },
};

/** Reactance of a conductor, ohm / m; without effect at a power factor of 1, where cars charge. @see iec60364-drop (data/SOURCES.md) */
export const REACTANCE_OHM_PER_M: Published<number> = {
  value: 0.00008,
  source: 'IEC 60364-5-52 Annex G',
  sure: 'second-hand',
};

/** Voltage drop that the standard recommends at most from the public network to a socket or machine, percent. */
export const DROP_LIMIT_PERCENT: Published<number> = { value: 5, source: 'IEC 60364-5-52 Annex G', sure: 'read' };
/** What it recommends for lighting; often kept for charge points too, so that something is left for the rest of the way. */
export const LIGHTING_LIMIT_PERCENT: Published<number> = { value: 3, source: 'IEC 60364-5-52 Annex G', sure: 'read' };

/** A cable to a charge point. */
export interface Cable {
  readonly metal: Metal;
  readonly phases: 1 | 3;
  /** Cross-section of a conductor, mm². */
  readonly areaMm2: number;
  /** One way, m. */
  readonly lengthM: number;
  /** Per phase, A, for hours: a charge point has diversity 1. */
  readonly currentA: number;
  /** Phase to neutral, V. */
  readonly voltageV: number;
  /** 0 … 1; 1 for a car. */
  readonly powerFactor: number;
}

/**
 * Voltage drop along a cable, V, phase to neutral: `u = b (ρ L / S · cos φ + λ L · sin φ) I`, with b = 2 on one phase (out and back)
 * and b = 1 on three balanced phases.
 *
 * Good for final circuits. Leaves out heating beyond the working temperature that ρ stands for, and an unbalanced load.
 *
 * @throws RangeError  a quantity not above 0, or the power factor outside 0 … 1
 * @example voltageDropV({ metal: 'copper', phases: 1, areaMm2: 2.5, lengthM: 20, currentA: 16, voltageV: 230, powerFactor: 1 }) // 5.760
 * @see iec60364-drop (data/SOURCES.md)
 */
export function voltageDropV(cable: Cable): number {
  return dropPerMV(cable) * cable.lengthM;
}

/**
 * The same in percent of the voltage.
 *
 * @example voltageDropPercent({ metal: 'copper', phases: 3, areaMm2: 6, lengthM: 30, currentA: 32, voltageV: 230, powerFactor: 1 }) // 1.565
 */
export const voltageDropPercent = (cable: Cable): number => (100 * voltageDropV(cable)) / cable.voltageV;

/**
 * Heat in the conductors, W: `n ρ L / S · I²` with n = 2 on one phase and n = 3 on three (the neutral carries nothing).
 *
 * @example cableLossW({ metal: 'copper', phases: 1, areaMm2: 2.5, lengthM: 30, currentA: 16, voltageV: 230, powerFactor: 1 }) // 138.2
 */
export function cableLossW(cable: Cable): number {
  checkCable(cable);
  const conductors = cable.phases === 1 ? 2 : 3;
  return ((conductors * RESISTIVITY_OHM_MM2_PER_M[cable.metal].value * cable.lengthM) / cable.areaMm2) * cable.currentA ** 2;
}

/**
 * The longest run at which the voltage drop stays within a limit, m: by voltage drop alone, not by ampacity, protection or loop
 * impedance.
 *
 * @param limitPercent  above 0
 * @example longestRunM({ metal: 'copper', phases: 1, areaMm2: 2.5, lengthM: 1, currentA: 16, voltageV: 230, powerFactor: 1 }, 3) // 23.96
 */
export function longestRunM(cable: Cable, limitPercent: number): number {
  if (!(limitPercent > 0)) throw new RangeError(`limitPercent = ${limitPercent}: must be above 0`);
  return ((limitPercent / 100) * cable.voltageV) / dropPerMV(cable);
}

function dropPerMV(cable: Cable): number {
  checkCable(cable);
  const b = cable.phases === 1 ? 2 : 1;
  const resistance = RESISTIVITY_OHM_MM2_PER_M[cable.metal].value / cable.areaMm2;
  const sinPhi = Math.sqrt(1 - cable.powerFactor ** 2);
  return b * (resistance * cable.powerFactor + REACTANCE_OHM_PER_M.value * sinPhi) * cable.currentA;
}

function checkCable({ areaMm2, lengthM, currentA, voltageV, powerFactor }: Cable): void {
  for (const [name, value] of Object.entries({ areaMm2, lengthM, currentA, voltageV })) {
    if (!(value > 0 && Number.isFinite(value))) throw new RangeError(`${name} = ${value}: must be above 0`);
  }
  if (!(powerFactor >= 0 && powerFactor <= 1)) throw new RangeError(`powerFactor = ${powerFactor}: must be 0 to 1`);
}

/** Cross-sections that are made, mm². */
export const AREAS_MM2 = [1.5, 2.5, 4, 6, 10, 16, 25, 35] as const;

/** What the installation standard asks for at a charge point: a reminder, not advice. @see iec60364-722 (data/SOURCES.md) */
export const CIRCUIT_REMINDERS: readonly Published<string>[] = [
  {
    value:
      'Each connecting point has a residual-current device of its own: type B, or type A or F with detection of direct current above 6 mA (IEC 62955).',
    source: 'IEC 60364-7-722 (DIN VDE 0100-722:2019-06, 722.531.3.101)',
    sure: 'second-hand',
  },
  {
    value: 'Simultaneity factor 1 for each connecting point, unless the load is controlled: diversity is not assumed.',
    source: 'IEC 60364-7-722',
    sure: 'second-hand',
  },
  { value: 'A final circuit supplies one connecting point only.', source: 'IEC 60364-7-722', sure: 'from-memory' },
];
