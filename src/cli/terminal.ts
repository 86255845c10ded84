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

/**
 * Text as it may stand on a terminal: control characters, which names and files can bring along, would move its cursor or clear it, and
 * some turn the order of letters round. Our own styles stay.
 */
const printable = (text: string): string =>
  text.replace(/\p{Cc}|\p{Bidi_Control}/gu, (char, at: number) =>
    char === '\n' || char === '\t' || isStyle(text, at) ? char : '\ufffd',
  );

const isStyle = (text: string, at: number): boolean =>
  Object.values(STYLES).some((codes) => codes.some((code) => text.startsWith(`\u001b[${code}m`, at)));

/** A line of results. */
export const say = (terminal: Terminal, line = ''): void => void terminal.out.write(`${printable(line)}\n`);

/** A line that is no result: a warning, an error, where the files went. */
export const remark = (terminal: Terminal, line: string): void => void terminal.err.write(`${printable(line)}\n`);

/** One JSON object, and nothing else, on `out`. */
export const sayJson = (terminal: Terminal, value: object): void =>
  void terminal.out.write(`${JSON.stringify(value, null, 2)}\n`);

/**
 * A reader that went away (`| head`) is no reason to stop: what is left to do (writing files) is done, and the command ends as it
 * would have. Any other failure of the stream is told.
 */
export function quietOnClosedPipe(stream: NodeJS.WriteStream, onFailure: (error: NodeJS.ErrnoException) => void): void {
  stream.on('error', (error: NodeJS.ErrnoException) => {
    if (error.code !== 'EPIPE' && error.code !== 'ERR_STREAM_DESTROYED') onFailure(error);
  });
}
