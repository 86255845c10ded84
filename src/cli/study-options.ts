import { InvalidArgumentError } from 'commander';
import type { CommonOptions } from './options.ts';

/** Options of every command that runs many variants. */
export interface StudyOptions extends CommonOptions {
  readonly out?: string;
  readonly workers?: number;
}

/** Options of those that run years of chance. */
export interface YearsOptions extends StudyOptions {
  readonly years: number;
}

/** A whole number from 1 up, for an option. */
export function countOption(text: string): number {
  if (!/^[1-9]\d{0,2}$/.test(text)) throw new InvalidArgumentError('It must be a whole number from 1 to 999');
  return Number(text);
}
