import { freshColumns } from './columns.ts';
import type { Plan, Profiles } from './plan.ts';
import type { Columns } from './results.ts';

/**
 * Columns that are used again and again, for whoever runs one variant after the other and keeps none: a year of minutes takes 40 MB.
 * What was handed out last is overwritten by the next run.
 */
export function columnStore(): (plan: Plan, profiles: Profiles) => Columns {
  let shape = '';
  let kept: Columns | null = null;
  return (plan, profiles) => {
    const wanted = shapeOf(plan);
    if (kept === null || wanted !== shape) kept = freshColumns(plan, profiles);
    shape = wanted;
    // Profiles are not copied: a column that is one of them follows the run at hand.
    return { ...kept, pvW: profiles.pvW, loadW: plan.diverter === null ? profiles.loadW : kept.loadW };
  };
}

/** What decides which columns there are, and how long they are. */
const shapeOf = ({ grid, points, battery, diverter, exportLimitW }: Plan): string =>
  `${grid.steps} ${points.length} ${battery !== null} ${diverter !== null} ${exportLimitW < Infinity}`;
