import { scenarioJsonSchema } from '../../src/scenario/index.ts';

/** The JSON Schema as it stands in data/scenario.schema.json. */
export const schemaText = (): string => `${JSON.stringify(scenarioJsonSchema(), null, 2)}\n`;
