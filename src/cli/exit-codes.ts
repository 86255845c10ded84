/**
 * What the command tells the shell: fine, our mistake, the user's input, not as expected (`wiring`), the log cannot tell (`wiring`),
 * stopped from the keyboard (128 + SIGINT).
 */
export const Exit = { fine: 0, internal: 1, input: 2, notAsExpected: 3, cannotTell: 4, interrupted: 130 } as const;

/** One of them. */
export type ExitCode = (typeof Exit)[keyof typeof Exit];
