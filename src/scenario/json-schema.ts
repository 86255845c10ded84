import { z } from 'zod';
import { scenarioSchema } from './schema.ts';

/**
 * The JSON Schema (2020-12) of a scenario as it may be written, for editors: keys, ranges, defaults and what each means. What does
 * not fit together across keys is found by the door only.
 */
export function scenarioJsonSchema(): Record<string, unknown> {
  const { $schema, ...rest } = z.toJSONSchema(scenarioSchema, { target: 'draft-2020-12', io: 'input' });
  return { $schema, title: 'Sixamp scenario', ...rest };
}
