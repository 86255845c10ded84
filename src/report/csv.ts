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

/**
 * Records of numbers as a table, a column per key of the first; for where danfo.js is not at hand.
 *
 * @example rowsCsv([{ a: 1, b: 0.5 }]) // 'a,b\r\n1,0.5\r\n'
 */
export function rowsCsv(rows: readonly Readonly<Record<string, number>>[]): string {
  const names = Object.keys(rows[0] ?? {});
  const lines = [names, ...rows.map((row) => names.map((name) => String(row[name] ?? '')))];
  return lines.map((cells) => cells.join(',') + CSV_LINE_END).join('');
}
