import { z } from 'zod';

/**
 * A notebook as it is kept: nbformat 4.5 with nothing in it that another run would change (no times, no kernel, no machine).
 * Field names are those of the format.
 */
const lines = z.array(z.string());
const none = z.strictObject({});

const displayData = z.strictObject({
  output_type: z.literal('display_data'),
  data: z.record(z.string().regex(/^[a-z]+\/[a-z+.-]+$/), z.union([z.string(), lines])),
  metadata: none,
});

const cellId = z.string().regex(/^[a-zA-Z0-9-_]{1,64}$/);

const markdownCell = z.strictObject({ cell_type: z.literal('markdown'), id: cellId, metadata: none, source: lines });
const codeCell = z.strictObject({
  cell_type: z.literal('code'),
  id: cellId,
  metadata: none,
  execution_count: z.int().positive().nullable(),
  outputs: z.array(displayData),
  source: lines,
});

const KERNEL = { display_name: 'Deno', language: 'typescript', name: 'deno' } as const;
const LANGUAGE = { file_extension: '.ts', mimetype: 'text/x.typescript', name: 'typescript' } as const;

/** What may be kept in notebooks/. */
export const notebookSchema = z.strictObject({
  cells: z
    .array(z.discriminatedUnion('cell_type', [markdownCell, codeCell]))
    .min(2)
    .refine((cells) => new Set(cells.map(({ id }) => id)).size === cells.length, 'two cells have the same id'),
  metadata: z.strictObject({
    kernelspec: z.strictObject({
      display_name: z.literal(KERNEL.display_name),
      language: z.literal(KERNEL.language),
      name: z.literal(KERNEL.name),
    }),
    language_info: z.strictObject({
      file_extension: z.literal(LANGUAGE.file_extension),
      mimetype: z.literal(LANGUAGE.mimetype),
      name: z.literal(LANGUAGE.name),
    }),
  }),
  nbformat: z.literal(4),
  nbformat_minor: z.literal(5),
});

export type Notebook = z.infer<typeof notebookSchema>;
export type Output = z.infer<typeof displayData>;

/** What is looked at of a notebook as it comes out of Jupyter. */
const executedSchema = z.object({
  cells: z.array(
    z.object({
      cell_type: z.enum(['markdown', 'code']),
      id: z.string(),
      source: z.union([z.string(), lines]),
      execution_count: z.int().nullish(),
      outputs: z.array(z.looseObject({ output_type: z.string() })).optional(),
    }),
  ),
});

/**
 * A notebook out of Jupyter, rid of all that another run would change.
 *
 * @throws Error  a cell that printed, returned or threw something: outputs are what was shown on purpose, nothing else
 */
export function tidied(text: string): Notebook {
  const { cells } = executedSchema.parse(JSON.parse(text));
  return notebookSchema.parse({
    cells: cells.map(({ cell_type, id, source, execution_count, outputs }) => {
      const bare = { cell_type, id, metadata: {}, source: linesOf(source) };
      if (cell_type === 'markdown') return bare;
      return { ...bare, execution_count: execution_count ?? null, outputs: (outputs ?? []).map((one) => shown(one, id)) };
    }),
    metadata: { kernelspec: KERNEL, language_info: LANGUAGE },
    nbformat: 4,
    nbformat_minor: 5,
  });
}

function shown(output: Record<string, unknown>, id: string): unknown {
  const { output_type: kind, data } = output;
  if (kind !== 'display_data')
    throw new Error(`cell ${id}: an output of kind ${String(kind)}: ${JSON.stringify(output).slice(0, 2000)}`);
  const sorted = Object.entries(z.record(z.string(), z.union([z.string(), lines])).parse(data)).sort(([a], [b]) =>
    a < b ? -1 : 1,
  );
  return { output_type: kind, data: Object.fromEntries(sorted.map(([type, value]) => [type, kept(type, value)])), metadata: {} };
}

/** Text by the line, so that differences can be read; pictures in one piece. */
const kept = (type: string, value: string | string[]): string | string[] => {
  const text = textOf(value);
  return type === 'image/png' ? text.replace(/\s/g, '') : linesOf(text);
};

/** The text of a field that may be kept by the line. */
export const textOf = (value: string | readonly string[]): string => (typeof value === 'string' ? value : value.join(''));

const linesOf = (value: string | readonly string[]): string[] =>
  textOf(value)
    .split(/(?<=\n)/)
    .filter((line) => line !== '');

/** A notebook as the text of its file. */
export const notebookText = (notebook: Notebook): string => `${JSON.stringify(notebook, null, 1)}\n`;

/**
 * Code cells with fewer outputs than they ask for by name: the kernel drops messages that its reader has no room for at the moment, and says
 * nothing of it.
 */
export const cellsWithLostOutputs = ({ cells }: Notebook): string[] =>
  cells.flatMap((cell) => {
    if (cell.cell_type !== 'code') return [];
    const asked = cell.source.join('').match(/\bawait (say|picture|table)\(/g)?.length ?? 0;
    return cell.outputs.length < asked ? [cell.id] : [];
  });
