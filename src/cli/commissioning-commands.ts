import { type Command, InvalidArgumentError } from 'commander';
import type { CableOptions } from './cable.ts';
import type { ExitCode } from './exit-codes.ts';
import type { HandoverOptions } from './handover.ts';
import type { LogOptions } from './log.ts';
import type { PageOptions } from './pilot.ts';
import { TERMINAL } from './terminal.ts';
import type { WiringOptions } from './wiring.ts';

/** The commands of whoever connects a station, tests it, and is called when it does not charge. */
export const COMMISSIONING_COMMANDS = ['wiring', 'log', 'pilot', 'cable', 'handover'] as const;

/** Adds them to the command. */
export function commissioningCommands(root: Command, finish: (code: ExitCode) => void): void {
  addWiring(root, finish);
  addLog(root, finish);
  addPilot(root, finish);
  addCable(root, finish);
  addHandover(root, finish);
}

const JSON_OPTION = ['--json', 'print one JSON object, for machines'] as const;
const example = (line: string): string => `\nExample:\n  sixamp ${line}\n`;

function addWiring(root: Command, finish: (code: ExitCode) => void): void {
  root
    .command('wiring')
    .description('find out from a log which building phase each terminal of a charger is on')
    .argument('<log>', 'CSV: time,meter_l1_a..l3_a and charger_l1_a..l3_a (or charger_on), charger2_ and charger3_ for more')
    .option('--expect <order>', 'building phases on the terminals, such as 2,3,1; once for each charger', collect, [])
    .option(...JSON_OPTION)
    .addHelpText('after', example('wiring data/demo/invented-wiring.csv --expect 1,2,3'))
    .action(async (file: string, options: WiringOptions) => {
      finish(await (await import('./wiring.ts')).wiring(file, options, TERMINAL));
    });
}

function addLog(root: Command, finish: (code: ExitCode) => void): void {
  root
    .command('log')
    .description('find out from the log of a running system how it is set, and where it departs from a scenario')
    .argument('<log>', 'CSV: time and any of pv_w,house_w,grid_w,car_w,car_l1_a,car_l2_a,car_l3_a,offered_a')
    .argument('[scenario]', 'the scenario that it should follow')
    .option('-o, --out <file>', 'write the report as an HTML page')
    .option('--reserve <W>', 'what the controller keeps back from the surplus, watts, where it is known', zeroOrMore)
    .option(...JSON_OPTION)
    .addHelpText('after', example('log data/demo/invented-log.csv scenarios/hillside-house.yaml'))
    .action(async (file: string, scenario: string | undefined, options: LogOptions) => {
      finish(await (await import('./log.ts')).log(file, scenario, options, TERMINAL));
    });
}

function addPilot(root: Command, finish: (code: ExitCode) => void): void {
  root
    .command('pilot')
    .description('hold measured pilot values against the published levels, line by line')
    .argument('<record>', 'the record, YAML or JSON')
    .option('-o, --out <file>', 'write the record as an HTML page to print and sign')
    .option('--lang <language>', 'en or de', 'en')
    .option(...JSON_OPTION)
    .addHelpText('after', example('pilot data/demo/pilot-record.yaml --out record.html'))
    .action(async (file: string, options: PageOptions) => {
      finish(await (await import('./pilot.ts')).pilot(file, options, TERMINAL));
    });
}

function addCable(root: Command, finish: (code: ExitCode) => void): void {
  root
    .command('cable')
    .description('voltage drop and loss of a cable to a charge point, and the longest run by voltage drop alone')
    .requiredOption('--length <m>', 'one way, metres', positive)
    .requiredOption('--area <mm2>', 'cross-section, mm²', positive)
    .option('--current <A>', 'amperes per phase', positive, 16)
    .option('--phases <n>', '1 or 3', positive, 3)
    .option('--metal <metal>', 'copper or aluminium', 'copper')
    .option('--voltage <V>', 'phase to neutral, volts', positive, 230)
    .option('--limit <percent>', 'voltage drop at most', positive, 3)
    .option(...JSON_OPTION)
    .addHelpText('after', example('cable --length 30 --area 2.5 --current 16 --phases 3'))
    .action(async (options: CableOptions) => {
      finish(await (await import('./cable.ts')).cable(options, TERMINAL));
    });
}

function addHandover(root: Command, finish: (code: ExitCode) => void): void {
  root
    .command('handover')
    .description('write the sheet that stays with the customer, as one HTML page to print')
    .argument('<file>', 'the scenario, YAML or JSON')
    .option('-o, --out <file>', 'where the page goes (default: out/ and the name of the scenario file)')
    .option('--lang <language>', 'en or de', 'en')
    .option('--pilot <record>', 'a record of pilot values to put in')
    .option('--wiring <log>', 'a log of currents to put the order of conductors in from')
    .option(...JSON_OPTION)
    .addHelpText('after', example('handover scenarios/hillside-house.yaml --out handover.html'))
    .action(async (file: string, options: HandoverOptions) => {
      finish(await (await import('./handover.ts')).handover(file, options, TERMINAL));
    });
}

const collect = (value: string, before: string[]): string[] => [...before, value];

/** A number of 0 or more, with a point. */
const zeroOrMore = (text: string): number => (/^0+(\.0+)?$/.test(text.trim()) ? 0 : positive(text));

/** A number above 0, with a point. */
function positive(text: string): number {
  const value = /^\d+(\.\d+)?$/.test(text.trim()) ? Number(text) : Number.NaN;
  if (!(value > 0)) throw new InvalidArgumentError('It must be a number above 0, with a decimal point');
  return value;
}
