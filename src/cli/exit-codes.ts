/**
 * What the command tells the shell: fine, our mistake, the user's input, not as expected (`wiring`), the log cannot tell (`wiring`),
 * stopped: by a terminal that was closed, from the keyboard, by another program (128 + SIGHUP, SIGINT, SIGTERM).
 */
export const Exit = {
  fine: 0,
  internal: 1,
  input: 2,
  notAsExpected: 3,
  cannotTell: 4,
  hungUp: 129,
  interrupted: 130,
  terminated: 143,
} as const;

/** One of them. */
export type ExitCode = (typeof Exit)[keyof typeof Exit];
