import type { calculations } from '../../shared/calculations.ts';

/** How one kind of number is worked out, in words: what goes in, how it becomes the answer, and whence we have it. */
export type Working = {
  /** What is worked out, as the head of its page. */
  title: string;
  /** The question it answers, in one sentence. */
  answers: string;
  inputs: readonly string[];
  /** The formula in words, a paragraph each. */
  formula: readonly string[];
  /** What would make the number another one. */
  changes: string;
  sources: readonly string[];
  /** The calculations behind it that the command line knows. */
  calculations?: readonly (keyof typeof calculations)[];
};
