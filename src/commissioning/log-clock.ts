import { MS_PER_DAY, MS_PER_H } from '../base/index.ts';
import type { RunLog } from './run-log.ts';

/** The middle of a day's sun may be so far from noon, h: roofs to the east or west, clouds, summer time in times without an offset. */
const MOST_OFF_H = 4;

/**
 * By how many hours a log's clock seems to be off: the middle of its PV, over the hours of the day, against noon by the sun.
 *
 * @param longitudeDeg  east counts up
 * @returns null where it fits, or where the log has no PV to tell it by
 */
export function clockOffH({ pvW, table }: RunLog, longitudeDeg: number): number | null {
  if (pvW === null) return null;
  let east = 0;
  let north = 0;
  pvW.forEach((w, k) => {
    if (!(w > 0)) return;
    const angle = (2 * Math.PI * ((table.atMs[k] ?? 0) % MS_PER_DAY)) / MS_PER_DAY;
    east += w * Math.sin(angle);
    north += w * Math.cos(angle);
  });
  if (east === 0 && north === 0) return null;
  const middleH = (Math.atan2(east, north) / (2 * Math.PI)) * (MS_PER_DAY / MS_PER_H);
  const noonH = 12 - longitudeDeg / 15;
  const offH = ((((middleH - noonH + 12) % 24) + 24) % 24) - 12;
  return Math.abs(offH) > MOST_OFF_H ? offH : null;
}
