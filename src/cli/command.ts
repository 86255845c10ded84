import { Command, CommanderError } from 'commander';
import { COMMISSIONING_COMMANDS, commissioningCommands } from './commissioning-commands.ts';
import { Exit, type ExitCode } from './exit-codes.ts';
import type { CommonOptions, LanguageOption } from './options.ts';
import { InputProblem, MachineFailure } from './problem.ts';
import type { RunOptions } from './run.ts';
import { STUDY_COMMANDS, studyCommands } from './study-commands.ts';
import { countOption, type StudyOptions } from './study-options.ts';
import { remark, sayJson, TERMINAL } from './terminal.ts';
import { packageVersion } from './version.ts';
import type { WhyOptions } from './why.ts';

const COMMANDS = ['check', 'run', 'hours', 'why', ...STUDY_COMMANDS, ...COMMISSIONING_COMMANDS, 'page'] as const;

// Each command is loaded when it is called for: help comes at once, and a check never waits for charts.
function program(finish: (code: ExitCode) => void): Command {
  const root = new Command('sixamp')
    .description('When would solar surplus charge the car, for how many hours a year, and why?')
    .version(packageVersion(), '-V, --version', 'print the version')
    .helpOption('-h, --help', 'print this help')
    .helpCommand(false)
    .addHelpText('after', HELP_AFTER)
    .exitOverride()
    .configureOutput({ outputError: () => {} });
  root
    .command('check')
    .description('check a scenario, and say in words what it means')
    .argument('<file>', 'the scenario, YAML or JSON')
    .option('--lang <language>', 'en or de', 'en')
    .option('--json', 'print one JSON object, for machines')
    .addHelpText('after', example('check scenarios/hillside-house.yaml'))
    .action(async (file: string, options: CommonOptions & LanguageOption) => {
      finish(await (await import('./check.ts')).check(file, options, TERMINAL));
    });
  root
    .command('run')
    .description('run a scenario and write steps, events, months, a summary and charts into a folder')
    .argument('<file>', 'the scenario, YAML or JSON')
    .option('-o, --out <folder>', 'where the files go (default: out/ and the name of the scenario file)')
    .option('--lang <language>', 'en or de', 'en')
    .option('--json', 'print one JSON object, for machines')
    .addHelpText('after', example('run scenarios/hillside-house.yaml --out out/hillside-house'))
    .action(async (file: string, options: RunOptions) => {
      finish(await (await import('./run.ts')).run(file, options, TERMINAL));
    });
  root
    .command('hours')
    .description('print the months: kWh and km from PV, solar charging hours, starts and stalls')
    .argument('<file>', 'the scenario, YAML or JSON')
    .option('--years <n>', 'what to expect over so many years, in which weather and habits differ', countOption)
    .option('-o, --out <folder>', 'with --years: write a report, charts and tables into this folder')
    .option('--workers <n>', 'with --years: threads (default: as many as the machine has cores)', countOption)
    .option('--lang <language>', 'en or de', 'en')
    .option('--json', 'print one JSON object, for machines')
    .addHelpText('after', example('hours scenarios/hillside-house.yaml --years 20'))
    .action(async (file: string, { years, ...options }: StudyOptions & LanguageOption & { years?: number }) => {
      if (years === undefined) finish(await (await import('./hours.ts')).hours(file, options, TERMINAL));
      else finish(await (await import('./study-verdicts.ts')).hoursOverYears(file, { ...options, years }, TERMINAL));
    });
  root
    .command('why')
    .description('tell why a day went as it did: every start, stall and switch, where the hours went, what would have changed it')
    .argument('<file>', 'the scenario, YAML or JSON')
    .option('--day <day>', 'a date such as 2025-04-12, or worst, best, median, most-stalls')
    .option('--from <date>', 'first day of a stretch (default: the first of the run)')
    .option('--to <date>', 'last day of a stretch (default: the last of the run)')
    .option('--all', 'tell each of many short starts and stalls')
    .option('-o, --out <folder>', 'write pictures and a page of the days into this folder')
    .option('--lang <language>', 'en or de', 'en')
    .option('--json', 'print one JSON object, for machines')
    .addHelpText('after', example('why scenarios/hillside-house.yaml --day most-stalls'))
    .action(async (file: string, options: WhyOptions) => {
      finish(await (await import('./why.ts')).why(file, options, TERMINAL));
    });
  studyCommands(root, finish);
  commissioningCommands(root, finish);
  root
    .command('page')
    .description('write the page for a browser: one file that holds the whole simulator and needs no network')
    .argument('[file]', 'the scenario it starts with, YAML or JSON')
    .option('-o, --out <file>', 'where the page goes (default: solar-charging.html)')
    .option('--json', 'print one JSON object, for machines')
    .addHelpText('after', example('page scenarios/hillside-house.yaml --out solar-charging.html'))
    .action(async (file: string | undefined, options: CommonOptions & { out?: string }) => {
      finish(await (await import('./page.ts')).page(file, options, TERMINAL));
    });
  return root;
}

const example = (line: string): string => `\nExample:\n  sixamp ${line}\n`;

const HELP_AFTER = `
Results go to the standard output, warnings and progress to the standard error.
The command ends with 0 when all is well, 2 when something in the input is wrong, 1 when Sixamp itself failed;
wiring also with 3 when the order is not as expected, 4 when the log cannot tell.

Example:
  sixamp hours scenarios/hillside-house.yaml
`;

/** Runs a command line (without node and script) and returns the exit code. */
export async function runCommand(args: readonly string[]): Promise<ExitCode> {
  let code: ExitCode = Exit.fine;
  try {
    await program((ended) => {
      code = ended;
    }).parseAsync(args.length === 0 ? ['--help'] : [...args], { from: 'user' });
    return code;
  } catch (error) {
    return ended(error, args);
  }
}

/** What an error that reached the top says, and the exit code it ends in. */
function ended(error: unknown, args: readonly string[]): ExitCode {
  if (error instanceof CommanderError && error.exitCode === 0) return Exit.fine;
  const problem = error instanceof CommanderError ? usageProblem(error, args) : error;
  if (!(problem instanceof InputProblem)) return crashed(problem);
  if (args.includes('--json')) sayJson(TERMINAL, { ok: false, issues: [{ ...problem.issue, file: problem.at }], warnings: [] });
  else remark(TERMINAL, problem.text());
  return Exit.input;
}

function usageProblem(error: CommanderError, args: readonly string[]): InputProblem {
  const [sentence = '', hint = ''] = error.message.replace(/^error: /, '').split('\n');
  const meant = /Did you mean (?:one of )?(.*)\?/.exec(hint)?.[1];
  const name = COMMANDS.find((command) => command === args[0]);
  return new InputProblem(['sixamp', ...args].join(' '), {
    code: error.code.replace('commander.', '').replace(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`),
    problem: `${sentence.charAt(0).toUpperCase()}${sentence.slice(1)}.`,
    allowed: name === undefined ? COMMANDS.join(', ') : '',
    fix: meant === undefined ? `see sixamp ${name === undefined ? '' : `${name} `}--help` : `write ${meant}`,
  });
}

/** Our own mistake: one line, the way to report it, and the stack only for who asks. */
export function crashed(error: unknown): ExitCode {
  const { message, stack } = error instanceof Error ? error : new Error(String(error));
  remark(TERMINAL, `sixamp failed: ${message}`);
  if (error instanceof MachineFailure) {
    remark(TERMINAL, `  Fix: ${error.fix}`);
    return Exit.internal;
  }
  const how = 'This is a mistake in Sixamp, not in your input. Please report this line, the command and the scenario';
  remark(TERMINAL, process.env.SIXAMP_TRACE ? (stack ?? message) : `${how} (SIXAMP_TRACE=1 adds where it happened).`);
  return Exit.internal;
}
