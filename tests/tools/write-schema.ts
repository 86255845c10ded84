import { writeFileSync } from 'node:fs';
import { schemaText } from './schema-text.ts';

// Rewrites data/scenario.schema.json from the schema in src/scenario: npx tsx tests/tools/write-schema.ts
writeFileSync(new URL('../../data/scenario.schema.json', import.meta.url), schemaText());
