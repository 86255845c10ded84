import { writeFileSync } from 'node:fs';
import { demoLogs } from './demo-logs.ts';

// Writes the invented logs in data/demo: `npx tsx tests/tools/write-demo-logs.ts`.
for (const [name, text] of Object.entries(demoLogs())) writeFileSync(`data/demo/${name}`, text);
