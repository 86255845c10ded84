/**
 * The page: one file that holds the whole simulator, opened from disk.
 *
 * In: the household that the command wrote into the file. Out: what three people at a table see. Models: none of its own; a worker
 * made from the file runs the same core as the command. Left out: writing the file (cli). Start reading at `app.tsx`; what stands
 * below is all that the command needs of it.
 */
export type { Draft } from './draft.ts';
export { firstAnswer } from './engine/first-answer.ts';
export type { DataFile } from './engine/protocol.ts';
export { FIRST_DRAFT, type Start } from './start.ts';
