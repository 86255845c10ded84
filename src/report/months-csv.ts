import type { Run } from '../simulate/index.ts';
import { CSV_LINE_END } from './csv.ts';
import { monthRow } from './month-rows.ts';

/**
 * months.csv, a row per local month. danfo.js is loaded when this is called, which takes about a second.
 */
export async function monthsCsv(run: Run): Promise<string> {
  const { DataFrame, toCSV } = await import('danfojs');
  const text = toCSV(new DataFrame(run.ledger.months.map(monthRow)));
  if (typeof text !== 'string') throw new Error('danfo.js gave no text for months.csv');
  return text.trimEnd().replaceAll('\n', CSV_LINE_END) + CSV_LINE_END;
}
