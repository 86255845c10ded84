/** Where a command speaks: results on `out`, everything else on `err`. */
export interface Terminal {
  readonly out: NodeJS.WriteStream;
  readonly err: NodeJS.WriteStream;
}

/** The process's own streams. */
export const TERMINAL: Terminal = { out: process.stdout, err: process.stderr };

/** Select Graphic Rendition (ECMA-48): what begins a style and what ends it. */
const STYLES = { bold: [1, 22], red: [31, 39], yellow: [33, 39] } as const;

/** Styled text where a person sees it: on a terminal, and not with NO_COLOR set (https://no-color.org) or TERM=dumb. */
export function styled(stream: NodeJS.WriteStream, style: keyof typeof STYLES, text: string): string {
  const plain = !stream.isTTY || (process.env.NO_COLOR ?? '') !== '' || process.env.TERM === 'dumb';
  const [begin, end] = STYLES[style];
  return plain ? text : `\u001b[${begin}m${text}\u001b[${end}m`;
}

/** A line of results. */
export const say = (terminal: Terminal, line = ''): void => void terminal.out.write(`${line}\n`);

/** A line that is no result: a warning, an error, where the files went. */
export const remark = (terminal: Terminal, line: string): void => void terminal.err.write(`${line}\n`);

/** One JSON object, and nothing else, on `out`. */
export const sayJson = (terminal: Terminal, value: object): void =>
  void terminal.out.write(`${JSON.stringify(value, null, 2)}\n`);

/** A reader that went away (`| head`) ends the command quietly; any other failure of the stream is ours to report. */
export function quietOnClosedPipe(stream: NodeJS.WriteStream): void {
  stream.on('error', (error: NodeJS.ErrnoException) => {
    if (error.code === 'EPIPE') process.exit(0);
    throw error;
  });
}
