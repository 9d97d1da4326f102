import { z } from 'zod';
import { optionalLine } from '../text.ts';

/** Something that speaks against writing an entry down, which a person may overrule with open eyes. */
export type Objection = {
  name: 'contradiction' | 'unsafe' | 'reserve' | 'held';
  /** What is wrong, in a sentence or two. */
  text: string;
  /** The words beside the box to tick. */
  tick: string;
  /** Whoever overrules it says why; the reason is kept in the diary. */
  needsReason: boolean;
  ownerOnly: boolean;
};

/** The fields of a form in which objections can be overruled. */
export const overruling = {
  despite: z
    .union([z.string(), z.array(z.string())])
    .optional()
    .transform((value) => (value === undefined ? [] : Array.isArray(value) ? value : [value])),
  reason: optionalLine(300),
};

export type Overruled = { despite: string[]; reason: string };

/**
 * Answers: which objections still stand, given the boxes that were ticked. A tick of somebody who may not decide
 * counts for nothing.
 */
export function standingObjections(
  objections: readonly Objection[],
  { despite }: Pick<Overruled, 'despite'>,
  isOwner: boolean,
): Objection[] {
  return objections.filter((o) => !despite.includes(o.name) || (o.ownerOnly && !isOwner));
}

/**
 * What a form with objections still has to be told: those that stand, or that a reason is missing. Null when it may be
 * written.
 */
export function unanswered(
  objections: readonly Objection[],
  overruled: Overruled,
  isOwner: boolean,
): { objections: Objection[]; errors: Record<string, string> } | null {
  const standing = standingObjections(objections, overruled, isOwner);
  const lacksReason = overruled.reason === '' && objections.some((o) => o.needsReason);
  if (standing.length === 0 && !lacksReason) return null;
  const errors: Record<string, string> = standing.length === 0 ? { reason: 'Say why in a few words.' } : {};
  return { objections: [...objections], errors };
}

/**
 * The note of an entry, with why it was written although something spoke against it.
 *
 * @example noteWithReason('for the fair', [reserve], 'ordered long ago')
 * // 'for the fair\nAlthough what stays may fall below the reserve: ordered long ago'
 */
export function noteWithReason(note: string, objections: readonly Objection[], reason: string): string {
  const overruled = objections.filter((o) => o.needsReason).map((o) => although[o.name]);
  if (overruled.length === 0) return note;
  return [note, `Although ${overruled.join(', and ')}: ${reason}`].filter(Boolean).join('\n');
}

const although: Record<Objection['name'], string> = {
  contradiction: 'it contradicts what is written',
  unsafe: 'the start is not safe',
  reserve: 'what stays may fall below the reserve',
  held: 'the culture is held for its health',
};
