import { commissioning } from '../index.ts';
import { Exit, type ExitCode } from './exit-codes.ts';
import type { CommonOptions } from './options.ts';
import { InputProblem } from './problem.ts';
import { say, sayJson, styled, type Terminal } from './terminal.ts';

/** Options of `sixamp cable`. */
export interface CableOptions extends CommonOptions {
  readonly length: number;
  readonly area: number;
  readonly current: number;
  readonly phases: number;
  readonly metal: string;
  readonly voltage: number;
  readonly limit: number;
}

/** `sixamp cable`: voltage drop, loss, and the longest run by voltage drop alone. */
export async function cable(options: CableOptions, terminal: Terminal): Promise<ExitCode> {
  const answer = commissioning.cableAnswer(cableOf(options), options.limit);
  const cautions = [...commissioning.CABLE_CAUTION.en, ...commissioning.NOT_A_RELEASE.en];
  if (options.json) {
    sayJson(terminal, { ok: true, ...answer, reminders: commissioning.CIRCUIT_REMINDERS, cautions });
    return Exit.fine;
  }
  for (const line of lines(answer)) say(terminal, line);
  say(terminal, styled(terminal.out, 'bold', 'Cautions'));
  for (const caution of cautions) say(terminal, `  ${caution}`);
  return Exit.fine;
}

function cableOf({ length, area, current, phases, metal, voltage }: CableOptions): commissioning.Cable {
  if (phases !== 1 && phases !== 3)
    throw wrong('--phases', phases, 'A circuit to a charge point has one phase or three.', '1, 3');
  if (metal !== 'copper' && metal !== 'aluminium')
    throw wrong('--metal', metal, 'The resistivity of this metal is not known here.', 'copper, aluminium');
  return { metal, phases, areaMm2: area, lengthM: length, currentA: current, voltageV: voltage, powerFactor: 1 };
}

const wrong = (option: string, found: string | number, problem: string, allowed: string): InputProblem =>
  new InputProblem(option, { code: 'option-not-allowed', found: String(found), problem, allowed, fix: 'write one of them' });

function lines(answer: commissioning.CableAnswer): string[] {
  const { cable: c, dropV, dropPercent, lossW, lossPercent, longestRunM, limitPercent, withinLimit, byArea } = answer;
  const compared = withinLimit ? `within the ${limitPercent} % asked for` : `above the ${limitPercent} % asked for`;
  const rho = commissioning.RESISTIVITY_OHM_MM2_PER_M[c.metal];
  const how = commissioning.SURENESS_TEXT.en;
  return [
    `${c.phases === 1 ? 'One phase' : 'Three phases'}, ${c.metal}, ${c.areaMm2} mm², ${c.lengthM} m one way, ${c.currentA} A per phase at ${c.voltageV} V, for hours (diversity 1)`,
    `  Voltage drop   ${dropV.toFixed(2)} V, ${dropPercent.toFixed(2)} %: ${compared}`,
    `  Loss           ${lossW.toFixed(0)} W, ${lossPercent.toFixed(2)} % of what flows`,
    `  Longest run    ${longestRunM.toFixed(1)} m, by voltage drop alone: not ampacity, protection or loop impedance`,
    '',
    '  mm²    drop %   loss W   longest run m (by voltage drop alone)',
    ...byArea.map(
      (row) =>
        `  ${String(row.areaMm2).padEnd(5)} ${row.dropPercent.toFixed(2).padStart(7)} ${row.lossW.toFixed(0).padStart(8)} ${row.longestRunM.toFixed(1).padStart(15)}`,
    ),
    '',
    'The installation standard asks for (a reminder, not advice):',
    ...commissioning.CIRCUIT_REMINDERS.map(({ value, source, sure }) => `  ${value} [${source}; ${how[sure]}]`),
    '',
    `Resistivity ${rho.value} ohm mm²/m [${rho.source}; ${how[rho.sure]}]. The formula's wording is ${how['from-memory']}.`,
    `Limits in ${commissioning.DROP_LIMIT_PERCENT.source}: ${commissioning.CABLE_LIMITS_PERCENT.lighting} % for lighting, ${commissioning.CABLE_LIMITS_PERCENT.whole} % for other uses, from the public network on.`,
    '',
  ];
}
