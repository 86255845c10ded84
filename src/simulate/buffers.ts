import { type Buffers, freshColumns } from './columns.ts';
import type { Plan, Profiles } from './plan.ts';

/**
 * Columns that are used again and again, for whoever runs one variant after the other and keeps none: a year of minutes takes 40 MB.
 * What was handed out last is overwritten by the next run.
 */
export function columnStore(): (plan: Plan, profiles: Profiles) => Buffers {
  let shape = '';
  let kept: Buffers | null = null;
  return (plan, profiles) => {
    const wanted = shapeOf(plan);
    if (kept === null || wanted !== shape) kept = freshColumns(plan, profiles);
    shape = wanted;
    // Profiles are not copied: a column that is one of them follows the run at hand.
    kept = { ...kept, pvW: profiles.pvW, loadW: plan.diverter === null ? profiles.loadW : kept.loadW };
    return kept;
  };
}

/** What decides which columns there are, and how long they are. */
const shapeOf = ({ grid, points, battery, diverter, exportLimitW, isPlain }: Plan): string =>
  `${grid.steps} ${points.length} ${battery?.dischargesToCar} ${diverter !== null} ${exportLimitW < Infinity} ${isPlain}`;
