/** RFC 4180 ends its lines so. */
export const CSV_LINE_END = '\r\n';

/**
 * A field as RFC 4180 wants it: in quotes where it holds a comma, a quote or a line end.
 *
 * @example csvField('a,b') // '"a,b"'
 */
export function csvField(text: string): string {
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}
