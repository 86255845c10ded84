import type { Command } from 'commander';
import type { ExitCode } from './exit-codes.ts';
import type { SurveyOptions } from './study.ts';
import { countOption, type YearsOptions } from './study-options.ts';
import type { PhasesOptions, SizeOptions } from './study-verdicts.ts';
import { TERMINAL } from './terminal.ts';

/** The commands that run many variants. */
export const STUDY_COMMANDS = ['phases', 'share', 'size', 'study'] as const;

/** Adds them to the command. */
export function studyCommands(root: Command, finish: (code: ExitCode) => void): void {
  addPhases(root, finish);
  addShare(root, finish);
  addSize(root, finish);
  addStudy(root, finish);
}

const FILE = ['<file>', 'the scenario, YAML or JSON'] as const;
const OUT = ['-o, --out <folder>', 'write a report, charts and tables into this folder'] as const;
const YEARS = ['--years <n>', 'years of chance: weather and habits differ'] as const;
const WORKERS = ['--workers <n>', 'threads (default: as many as the machine has cores)'] as const;
const JSON_OPTION = ['--json', 'print one JSON object, for machines'] as const;
const example = (line: string): string => `\nExample:\n  sixamp ${line}\n`;

function addPhases(root: Command, finish: (code: ExitCode) => void): void {
  root
    .command('phases')
    .description('one phase, three phases, or switchable: compared on the same years, with a verdict and what would turn it')
    .argument(...FILE)
    .option('--point <n>', 'which charge point, from 1', countOption, 1)
    .option(...YEARS, countOption, 5)
    .option(...OUT)
    .option(...WORKERS, countOption)
    .option(...JSON_OPTION)
    .addHelpText('after', example('phases scenarios/hillside-house.yaml --out out/phases'))
    .action(async (file: string, options: PhasesOptions) => {
      finish(await (await import('./study-verdicts.ts')).phases(file, options, TERMINAL));
    });
}

function addShare(root: Command, finish: (code: ExitCode) => void): void {
  root
    .command('share')
    .description('which surplus share to set: for the money, for PV, and never to be short of kilometres')
    .argument(...FILE)
    .option(...YEARS, countOption, 5)
    .option(...OUT)
    .option(...WORKERS, countOption)
    .option(...JSON_OPTION)
    .addHelpText('after', example('share scenarios/hillside-house.yaml --out out/share'))
    .action(async (file: string, options: YearsOptions) => {
      finish(await (await import('./study-verdicts.ts')).share(file, options, TERMINAL));
    });
}

function addSize(root: Command, finish: (code: ExitCode) => void): void {
  root
    .command('size')
    .description('the smallest roof or battery, or the highest minimum, that reaches a wish, with the proof')
    .argument(...FILE)
    .requiredOption('--want <wish>', 'solarFraction, pvKWh, kmOnPv or cost, then >= or <=, then a number')
    .option('--in <years>', 'usual, or nine-of-ten', 'usual')
    .option('--by <what>', 'roof, battery or minimum (default: each by itself)')
    .option(...YEARS, countOption, 10)
    .option(...OUT)
    .option(...WORKERS, countOption)
    .option(...JSON_OPTION)
    .addHelpText('after', example('size scenarios/hillside-house.yaml --want "solarFraction >= 0.8" --by roof'))
    .action(async (file: string, options: SizeOptions) => {
      finish(await (await import('./study-verdicts.ts')).size(file, options, TERMINAL));
    });
}

function addStudy(root: Command, finish: (code: ExitCode) => void): void {
  root
    .command('study')
    .description('any keys of a scenario as axes, any results as columns; goes on where it was stopped')
    .argument('<study>', 'the study, YAML or JSON')
    .option('-o, --out <folder>', 'where the files go (default: out/ and the name of the study file)')
    .option('--anew', 'forget what an interrupted run left in the folder')
    .option(...WORKERS, countOption)
    .option(...JSON_OPTION)
    .addHelpText('after', STUDY_HELP)
    .action(async (file: string, options: SurveyOptions) => {
      finish(await (await import('./study.ts')).study(file, options, TERMINAL));
    });
}

const STUDY_HELP = `
A whole study:
  name: Roof and share
  scenario: hillside-house.yaml           # relative to the study
  vary:                                   # each value meets each value of the other axes
    pv.arrays[0].kWp: { from: 4, to: 10, step: 2 }
    control.surplusShare: [1, 0.8, 0.6]
  zip:                                    # lists that are walked together
    - "chargePoints[0].vehicle.batteryKWh": [40, 60, 80]
      "chargePoints[0].vehicle.kWhPer100km": [15, 17, 19]
  years: 3
  sample: { count: 500, seed: 1 }         # left out: the full grid
  outputs: [pvKWh, solarFraction, cost, atOnce.cost]
  heatMap: { x: "pv.arrays[0].kWp", y: control.surplusShare, value: solarFraction }
  front: { less: cost, more: pvKWh }

Example:
  sixamp study scenarios/studies/roof-and-share.yaml
`;
