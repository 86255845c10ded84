#!/usr/bin/env node
import { crashed, runCommand } from './command.ts';
import { Exit, type ExitCode } from './exit-codes.ts';
import { stopSoon } from './stopping.ts';
import { quietOnClosedPipe, remark, TERMINAL } from './terminal.ts';
import { dropPending } from './write-whole.ts';

/** Ends at a signal: nothing half-written stays, and whoever stopped the command reads what was kept. */
function stopBy(signal: NodeJS.Signals, code: ExitCode): void {
  process.once(signal, () =>
    stopSoon((told) => {
      remark(TERMINAL, ['Stopped.', ...(told.length === 0 ? ['Nothing was written.'] : told)].join(' '));
      process.exit(code);
    }),
  );
}

/** Results that could not be printed, to a full disk for example. */
function outFailed(error: NodeJS.ErrnoException): void {
  remark(
    TERMINAL,
    `The output can not be written (${error.code ?? error.message}).\n  Fix: make room, or send it elsewhere.   [output-failed]`,
  );
  process.exit(Exit.input);
}

quietOnClosedPipe(process.stdout, outFailed);
quietOnClosedPipe(process.stderr, () => {});
process.on('uncaughtException', (error) => process.exit(crashed(error)));
process.on('exit', dropPending);
stopBy('SIGHUP', Exit.hungUp);
stopBy('SIGINT', Exit.interrupted);
stopBy('SIGTERM', Exit.terminated);
process.exitCode = await runCommand(process.argv.slice(2));
