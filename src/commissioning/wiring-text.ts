import type { ChargerFinding, Hindrance, TerminalFinding, WiringFinding, WiringVerdict } from './wiring.ts';
import { MAX_ERROR } from './wiring-orders.ts';

/** A finding on the order of conductors as sentences, by what they are about. */
export interface WiringText {
  readonly verdict: string;
  /** What is known and what is not, charger by charger, and of the meter's transformers. */
  readonly findings: readonly string[];
  /** Why the log tells little, and the draws that would settle what is open. */
  readonly open: readonly string[];
  /** Where an electrician looks. */
  readonly look: readonly string[];
  readonly basis: string;
}

/** The finding in words that an electrician accepts. */
export function wiringText(
  finding: WiringFinding,
  verdict: WiringVerdict,
  expected: readonly (readonly number[])[] | null,
): WiringText {
  return {
    verdict: verdictText(verdict, expected),
    findings: [
      ...finding.chargers.flatMap((charger, i) => chargerText(charger, nameOf(i, finding), finding)),
      ...transformerText(finding),
    ],
    open: openText(finding),
    look: lookText(finding, verdict),
    basis: basisText(finding),
  };
}

const nameOf = (i: number, { chargers }: WiringFinding): string => (chargers.length === 1 ? 'Charger' : `Charger ${i + 1}`);

function verdictText(verdict: WiringVerdict, expected: readonly (readonly number[])[] | null): string {
  const order = expected === null ? '' : ` (${expected.map((phases) => phases.join(', ')).join('; ')})`;
  switch (verdict) {
    case 'as-expected':
      return expected === null ? 'The order of conductors is known.' : `The order of conductors is as expected${order}.`;
    case 'not-as-expected':
      return expected === null ? 'The conductors are not in order.' : `The conductors are not as expected${order}.`;
    case 'cannot-tell':
      return expected === null
        ? 'The log does not tell the whole order.'
        : `The log cannot tell whether the order is as expected${order}.`;
  }
}

function chargerText(charger: ChargerFinding, name: string, finding: WiringFinding): string[] {
  const known = charger.terminals.flatMap((terminal, i) =>
    terminal.state === 'known' ? [{ terminal: i + 1, phase: terminal.phase, error: terminal.error }] : [],
  );
  const lines = known.length === 0 ? [] : [knownText(name, known, finding)];
  const open = charger.terminals.flatMap((terminal, i) =>
    terminal.state === 'one-of' ? [{ terminal: i + 1, phases: terminal.phases }] : [],
  );
  if (open.length > 0) lines.push(oneOfText(name, open, charger));
  lines.push(
    ...stateText(
      charger,
      name,
      'not-seen',
      'carried current that does not show at this meter: it is not behind the meter, or something balances it in the same moment',
    ),
  );
  lines.push(...stateText(charger, name, 'never-drew', 'carried no current while the log ran: nothing is known of it'));
  lines.push(...stateText(charger, name, 'not-told', 'cannot be told from this log'));
  if (charger.double === true) lines.push(`${name}: two terminals are on the same building phase.`);
  if (charger.double === false && known.length < 3 && open.length < 2)
    lines.push(`${name}: its terminals are on different building phases.`);
  return lines;
}

function knownText(
  name: string,
  known: readonly { terminal: number; phase: number; error: number }[],
  finding: WiringFinding,
): string {
  const terminals = listOf(known.map(({ terminal }) => terminal));
  const phases = listOf(known.map(({ phase }) => phase));
  const many = known.length > 1;
  const kind =
    known.length === 3
      ? turnText(
          known.map(({ phase }) => phase),
          finding.chargers.length,
        )
      : '';
  return `${name}: terminal${many ? 's' : ''} ${terminals} ${many ? 'are' : 'is'} on building phase${many ? 's' : ''} ${phases}${many ? ', in this order' : ''}${kind}.`;
}

/** What kind of order it is: straight, turned on by one or two, or two exchanged. */
function turnText(phases: readonly number[], chargers: number): string {
  const order = phases.join('');
  if (order === '123') return ': straight';
  if (order === '231' || order === '312') {
    return chargers > 1 ? ': rotated, as is usual with several chargers' : ': rotated; the phase sequence is kept';
  }
  return new Set(phases).size === 3 ? ': two are exchanged; against the meter the phase sequence is reversed' : '';
}

function oneOfText(
  name: string,
  open: readonly { terminal: number; phases: readonly number[] }[],
  charger: ChargerFinding,
): string {
  const terminals = listOf(open.map(({ terminal }) => terminal));
  const phases = [...new Set(open.flatMap((one) => one.phases))].sort();
  const verb = open.length > 1 ? 's' : '';
  if (open.length > 1 && open.length === phases.length && charger.double === false) {
    return `${name}: terminals ${terminals} are on building phases ${listOf(phases)}, one each; which is on which the log cannot tell, since they always drew alike.`;
  }
  const each = open.map((one) => `${one.terminal} on ${orOf(one.phases)}`).join('; ');
  return `${name}: terminal${verb} ${terminals} not settled: ${each}.`;
}

function stateText({ terminals }: ChargerFinding, name: string, state: TerminalFinding['state'], words: string): string[] {
  const found = terminals.flatMap((terminal, i) => (terminal.state === state ? [i + 1] : []));
  if (found.length === 0) return [];
  const many = found.length > 1;
  const agreed = many
    ? words.replace(': it is', ': they are').replace('of it', 'of them').replace('balances it', 'balances them')
    : words;
  return [`${name}: terminal${many ? 's' : ''} ${listOf(found)} ${agreed}.`];
}

function transformerText({ transformers, amountsOnly }: WiringFinding): string[] {
  const reversed = phasesThat(transformers, 'reversed');
  const upright = phasesThat(transformers, 'upright');
  const lines: string[] = [];
  if (reversed.length > 0 && upright.length === 0) {
    lines.push(
      `The meter counts backwards against the chargers on ${phasesOf(reversed)}, and forwards on none: it may count export up, or its transformers are reversed.`,
    );
  } else if (reversed.length > 0) {
    lines.push(
      `The meter counts backwards on ${phasesOf(reversed)}: its transformer there is reversed, unless a home battery on this phase answers the car in the same moment (then switch the battery off and log again).`,
    );
  }
  if (upright.length > 0) lines.push(`The meter's transformers count the right way on ${phasesOf(upright)}.`);
  if (amountsOnly)
    lines.push('The meter’s columns hold no negative value: it may log amounts only, and a reversed transformer would not show.');
  return lines;
}

const phasesThat = (transformers: WiringFinding['transformers'], state: string): number[] =>
  transformers.flatMap((sign, p) => (sign === state ? [p + 1] : []));

/** What stands in the way, and what would settle it. */
function openText(finding: WiringFinding): string[] {
  return [...finding.hindrances.map(hindranceText), ...settling(finding)];
}

function hindranceText(hindrance: Hindrance): string {
  switch (hindrance.kind) {
    case 'no-switching':
      return 'No charger was switched on or off while the log ran.';
    case 'household-unknown':
      return `The log has too few quiet stretches beside the switchings to know the household by (${hindrance.watched}).`;
    case 'household-loud':
      return `The household changes too much by itself (usually by ${hindrance.usualA.toFixed(1)} A) for anything to be told.`;
    case 'does-not-follow':
      return `The meter follows only ${percent(hindrance.share)} of the switchings, whatever the order: clocks that differ, a home battery or load control that answers, or columns of another meter.`;
    case 'amount-off':
      return `On phase ${hindrance.phase} the meter sees ${percent(hindrance.share)} of what the charger draws: a transformer ratio set wrong, clocks that differ by part of a row, or something that balances it. Nothing is concluded.`;
    case 'answered':
      return `On phase ${hindrance.phase} the meter changes at the switchings as no terminal does: something answers the car in the same moment, such as a home battery (switch it off and log again), or the meter sees only part of the current (look at its transformer ratio). Nothing is concluded.`;
    case 'clocks-differ':
      return `The clocks of meter and charger seem ${hindrance.rows} row${hindrance.rows === 1 ? '' : 's'} apart, and the meter then moves backwards: nothing is concluded. Set both clocks, or log both with one logger.`;
    case 'backwards':
      return `On phase ${hindrance.phase} the meter moves against the switchings: a reversed transformer, or a home battery that answers. On and off alone cannot tell the two apart: log the currents at the terminals.`;
  }
}

const SETTLED_SAFELY = 'only on a station that has been tested and released';

function settling(finding: WiringFinding): string[] {
  const lines = finding.chargers.flatMap((charger, i) => draws(charger, nameOf(i, finding), finding));
  return lines.length === 0 ? [] : [...lines, `Any of this ${SETTLED_SAFELY}.`];
}

function draws(charger: ChargerFinding, name: string, { neededSwitchings, enough, hindrances }: WiringFinding): string[] {
  const [first, second, third] = charger.terminals;
  if (first === undefined || second === undefined || third === undefined) return [];
  if (charger.onOnly) {
    const log = `${name}: log the currents at its terminals to tell terminals 2 and 3`;
    return [first.state === 'known' ? `${log}.` : `${log}, and start and stop it on one phase to tell terminal 1.`];
  }
  const lines: string[] = [];
  const many = `${neededSwitchings ?? 'several'} starts and stops or more while the house is quiet`;
  if (first.state === 'never-drew') lines.push(`${name}: charge a car, ${many}.`);
  else if (first.state !== 'known') {
    const alike = first.state === 'one-of' && charger.ofOneTerminal === 0;
    lines.push(
      `${name}: ${alike ? 'to tell terminal 1, charge on one phase' : 'to tell terminal 1, start and stop more often on one phase'}, ${many}.`,
    );
  }
  if (second.state === 'never-drew' && third.state === 'never-drew') {
    lines.push(
      `${name}: charge on three phases (${many}) to tell that terminals 2 and 3 are on phases of their own; which is which takes a car that draws on two phases, or a load on single terminals.`,
    );
  } else if (second.state === 'one-of' && third.state === 'one-of') {
    lines.push(
      `${name}: to tell terminals 2 and 3 apart, charge a car that draws on two phases, or put a load on single terminals: a balanced three-phase draw shows no difference.`,
    );
  } else if (third.state === 'never-drew' && first.state !== 'never-drew') {
    lines.push(`${name}: charge a car that draws on three phases to tell terminal 3.`);
  }
  const loose = [first, second, third].some(({ state }) => state === 'not-told');
  if (loose && !enough && hindrances.length === 0)
    lines.push(
      `${name}: more starts and stops of this charger alone; this household asks for about ${neededSwitchings ?? 'many'}.`,
    );
  return lines;
}

function lookText(finding: WiringFinding, verdict: WiringVerdict): string[] {
  if (verdict !== 'not-as-expected') return [];
  const lines = [
    'The log shows the order of the charger relative to the meter, not which of the two is wrong. Places to look: the terminals of the charger, the sub-distribution board, the meter’s transformers and their leads, and the names of the columns in both loggers.',
  ];
  if (finding.transformers.includes('reversed')) {
    lines.push(
      'For a phase that counts backwards: the direction of the transformer on its conductor, and its two secondary leads.',
    );
  }
  if (finding.chargers.some(({ double }) => double === true)) {
    lines.push(
      'For two terminals on one phase: bridges and links in the board, and a conductor moved to a one-phase breaker. The neutral may carry more than one phase’s current: have it looked at before charging goes on.',
    );
  }
  return lines;
}

function basisText({ switchings, householdA, lagRows }: WiringFinding): string {
  const house = householdA.map((a) => (Number.isFinite(a) ? `${a.toFixed(1)} A` : 'unknown')).join(', ');
  const lag =
    lagRows === 0
      ? ''
      : ` The chargers’ columns run ${Math.abs(lagRows)} row${Math.abs(lagRows) === 1 ? '' : 's'} ${lagRows > 0 ? 'behind' : 'ahead of'} the meter’s; taken off.`;
  return `Told from ${switchings} switchings against a household that usually changes by ${house} on phases 1, 2, 3 in the same time. What is called known has a chance of error below 1 in ${ONE_IN}, by a bound that takes the household as it was seen in this log.${lag}`;
}

/** 1 in 10,000 */
const ONE_IN = String(Math.round(1 / MAX_ERROR)).replace(/(?=(\d{3})+$)/, ',');
const percent = (share: number): string => `${Math.round(100 * share)} %`;
const listOf = (items: readonly number[]): string =>
  items.length < 2 ? items.join('') : `${items.slice(0, -1).join(', ')} and ${items[items.length - 1]}`;
const phasesOf = (phases: readonly number[]): string => `phase${phases.length > 1 ? 's' : ''} ${listOf(phases)}`;
const orOf = (items: readonly number[]): string =>
  items.length < 2 ? items.join('') : `${items.slice(0, -1).join(', ')} or ${items[items.length - 1]}`;
