/** What the command tells the shell: fine, our mistake, the user's input, stopped from the keyboard (128 + SIGINT). */
export const Exit = { fine: 0, internal: 1, input: 2, interrupted: 130 } as const;

/** One of them. */
export type ExitCode = (typeof Exit)[keyof typeof Exit];
