/** Set up before a reference test by nudge-references.ts: one export says something else. See tests/reference/nudges.ts. */
import { vi } from 'vitest';
import { NUDGES, type Nudge } from '../reference/nudges.ts';

const [index, way] = (process.env.NUDGE ?? '').split(' ').map(Number);
const nudge = NUDGES[index ?? -1];

/** A module's exports, one of them moved if this is its module. */
function exportsOf<M extends object>(module: Nudge['module'], original: M): M {
  if (nudge?.module !== module) return original;
  return { ...original, [nudge.model]: nudge.moved(original[nudge.model as keyof M], way === -1 ? -1 : 1) };
}

vi.mock('../../src/sky/index.ts', async (original) => exportsOf('sky', await original()));
vi.mock('../../src/pv/index.ts', async (original) => exportsOf('pv', await original()));
vi.mock('../../src/house/index.ts', async (original) => exportsOf('house', await original()));
vi.mock('../../src/house/year.ts', async (original) => exportsOf('houseYear', await original()));
vi.mock('../../src/vehicle/index.ts', async (original) => exportsOf('vehicle', await original()));
