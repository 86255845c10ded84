import * as z from 'zod';
import { parseKeyPath } from './key-path.ts';
import { OUTPUT_NAMES, outputNamed } from './outputs.ts';

const key = z.string().refine((text) => parseKeyPath(text) !== null, 'is no path of a key, such as pv.arrays[0].kWp');
const output = z
  .string()
  .refine((name) => outputNamed(name) !== null, `must be one of ${OUTPUT_NAMES.join(', ')}, or one of them after "atOnce."`);

/** More values than this along one axis are a slip of the pen. */
const MAX_VALUES = 10_000;

const range = z
  .strictObject({
    from: z.number().describe('First value.'),
    to: z.number().describe('Last value.'),
    step: z.number().positive().exactOptional().describe('From one value to the next.'),
    count: z.int().min(2).max(MAX_VALUES).exactOptional().describe('How many values, evenly spaced, both ends included.'),
  })
  .refine(({ step, count }) => step === undefined || count === undefined, 'takes `step` or `count`, not both')
  .refine(
    ({ from, to, step }) => step === undefined || Math.abs(to - from) / step < MAX_VALUES,
    `has more than ${MAX_VALUES} values; make the step longer`,
  )
  .describe('Values from one number to another.');

const list = z.array(z.json()).min(1).max(MAX_VALUES).describe('Values, one after the other.');

/** A study as it is written: a scenario, what varies in it, what is wanted of each variant. */
export const studySchema = z
  .strictObject({
    name: z.string().min(1).default('Unnamed study').describe('What the study is called.'),
    scenario: z.string().min(1).describe('The scenario file, relative to the study.'),
    vary: z
      .record(key, z.union([list, range], 'must be a list of values, or a range with `from` and `to`'))
      .default({})
      .describe('Axes: keys of the scenario with their values; each value meets each value of every other axis.'),
    zip: z
      .array(z.record(key, list))
      .max(20)
      .default([])
      .describe('Groups of keys whose lists are walked together: first with first, second with second. A group is one axis.'),
    years: z
      .int()
      .min(1)
      .max(100)
      .default(1)
      .describe('Years of chance for each variant: weather and habits differ, the same for all.'),
    sample: z
      .strictObject({
        count: z.int().min(1).max(1_000_000).describe('How many variants.'),
        seed: z.int().min(0).default(1).describe('Seed of the choice.'),
      })
      .exactOptional()
      .describe('A random choice instead of the full grid: from ranges any value in between, from lists any entry.'),
    outputs: z
      .array(output)
      .min(1)
      .max(100)
      .default(['pvKWh', 'gridKWh', 'solarFraction', 'kmOnPv', 'missedKm', 'cost', 'starts'])
      .describe('What is wanted of each variant.'),
    heatMap: z
      .strictObject({ x: key, y: key, value: output })
      .exactOptional()
      .describe('Two axes and an output, as a map; other axes are averaged over.'),
    front: z
      .strictObject({ less: output, more: output })
      .exactOptional()
      .describe('The variants that no other beats in both: less of one output, more of another.'),
  })
  .describe('A study: many variants of one scenario.');

/** A checked study. */
export type StudyInput = z.output<typeof studySchema>;
