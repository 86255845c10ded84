import * as z from 'zod';
import { vehicle, weekly } from './schema/charge-point.ts';
import { scenarioSchema } from './schema.ts';

/**
 * The JSON Schema (2020-12) of a scenario as it may be written, for editors: keys, ranges, defaults and what each means. What does
 * not fit together across keys is found by the door only.
 */
export function scenarioJsonSchema(): Record<string, unknown> {
  const { $schema, ...rest } = z.toJSONSchema(scenarioSchema, {
    target: 'draft-2020-12',
    io: 'input',
    override: ({ zodSchema, jsonSchema }) => {
      if (zodSchema === vehicle) orNamed(jsonSchema, 'kind');
      if (zodSchema === weekly) orNamed(jsonSchema, 'habit');
    },
  });
  return { $schema, title: 'Sixamp scenario', ...rest };
}

/** A name of a table stands for the keys that else are needed, but for the source of the section. */
function orNamed(schema: z.core.JSONSchema.BaseSchema, name: string): void {
  const needed = (schema.required ?? []).filter((key) => key !== 'source');
  schema.required = (schema.required ?? []).filter((key) => key === 'source');
  schema.anyOf = [{ required: [name] }, { required: needed }];
}
