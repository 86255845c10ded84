import * as z from 'zod';
import * as d from '../defaults.ts';
import { flag, num, word } from './common.ts';

const delayS = (about: string) => num(0, 7200, 'seconds', about);

/** How the surplus is followed. */
export const control = z
  .strictObject({
    strategy: word(['surplus', 'at-once'], 'Follow the surplus, or charge at full current as soon as plugged in.').default(
      'surplus',
    ),
    surplusShare: num(
      0,
      1,
      'share of 1',
      'Part of the start threshold that surplus must cover: 1 surplus only, 0 never wait.',
    ).default(d.SURPLUS_SHARE),
    topUp: word(
      ['minimum', 'proportional'],
      'How the grid tops up: to the minimum current, or in proportion to the surplus.',
    ).default('minimum'),
    smoothingS: num(0, 3600, 'seconds', 'Time constant of the smoothed surplus.').default(d.SMOOTHING_S),
    reserveW: num(0, 20_000, 'watts', 'Surplus that is left to the grid.').default(d.RESERVE_W),
    seesCurtailedPv: flag('Knows what PV could give behind an export limit.').default(false),
    startDelayS: delayS('How long surplus must stand before a start.').default(d.START_DELAY_S),
    stopDelayS: delayS('How long surplus must be missing before a stall.').default(d.STOP_DELAY_S),
    switchUpDelayS: delayS('How long surplus must stand before more phases.').default(d.SWITCH_UP_DELAY_S),
    switchDownDelayS: delayS('How long surplus must be missing before fewer phases.').default(d.SWITCH_DOWN_DELAY_S),
    switchPauseS: delayS('Without current while the phases change.').default(d.SWITCH_PAUSE_S),
    restartPauseS: delayS('Rest after a stall.').default(d.RESTART_PAUSE_S),
  })
  .describe('How the surplus is followed.');
