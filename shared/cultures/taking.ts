import type { Objection } from './objections.ts';
import { formatShare } from './share-words.ts';

/** What taking animals out of a culture led to, when it was tried. */
export type Taking = {
  animals: number;
  /** More than this can hardly have been there (upper end of a 99.9 % interval); null when nothing is known. */
  mostThere: number | null;
  /** P(what stays today, promised animals taken off, is at least the reserve); null when nothing is known. */
  chance: number | null;
  /** The chance the species asks for. */
  confidence: number;
  reserve: number;
  promised: number;
  onDay: string;
  /** What the estimate complained of before, and would complain of after. */
  faults: { before: string | null; after: string | null };
};

/**
 * Why so many animals cannot have been taken out, in words; null when they can.
 *
 * @example tooMany({ ...taking, animals: 500, mostThere: 118.4 })
 * // 'At most about 118 animals can have been there that day. Count them first if there were more.'
 */
export function tooMany({ animals, mostThere }: Pick<Taking, 'animals' | 'mostThere'>): string | null {
  if (mostThere === null || animals <= Math.ceil(mostThere)) return null;
  const most = Math.round(mostThere);
  if (most === 0)
    return 'By all that is known no animals were there that day. Count them first if there were.';
  return `At most about ${most} animals can have been there that day. Count them first if there were more.`;
}

/**
 * What speaks against an entry with which the diary contradicts itself. An older contradiction is not this entry's.
 *
 * @param faults what the estimate complained of before, and complains of with the entry
 */
export function contradiction(
  faults: { before: string | null; after: string | null },
  onDay: string,
  tick: string,
): Objection | null {
  if (faults.after === null || faults.after === faults.before) return null;
  const [other] = /\d{4}-\d{2}-\d{2}/.exec(faults.after) ?? [onDay];
  const what =
    other === onDay
      ? 'This does not fit what is written before it: by all of that, there cannot be so many or so few.'
      : `With this, the count of ${other} would not fit any more: there could not have been so many or so few.`;
  const ask = 'Is an addition, a die-off or a harvest missing, or is a number wrong, here or earlier?';
  return { name: 'contradiction', text: `${what} ${ask}`, tick, needsReason: false, ownerOnly: false };
}

/**
 * What speaks against taking animals out: the diary would contradict itself, or what stays would fall below the
 * reserve with less certainty than the species asks for.
 */
export function objectionsToTaking(taking: Taking, code: string, tick: string): Objection[] {
  const { faults, onDay, chance, confidence, reserve, promised } = taking;
  const against = contradiction(faults, onDay, tick);
  if (against) return [against];
  if (chance !== null && chance >= confidence) return [];
  const stays = `${Math.ceil(reserve)} animals must stay in ${code}${promised > 0 ? `, and ${promised} are promised to orders` : ''}.`;
  const text =
    chance === null
      ? `${stays} Nobody knows whether they would, because its diary contradicts itself.`
      : `${stays} The chance that enough are left is ${formatShare(chance)}; ${formatShare(confidence)} is wanted. A fresh count may show that there are more.`;
  return [{ name: 'reserve', text, tick, needsReason: true, ownerOnly: true }];
}

const heldWords: Record<string, (code: string) => string> = {
  mites: (code) =>
    `Mites were seen in ${code}, and no check since was clear of them: they go along with animals and substrate.`,
  quarantine: (code) => `${code} is in quarantine: whatever it has goes along with animals and substrate.`,
};

/** What speaks against taking anything out of a culture that may pass on what it has; null when nothing does. */
export function heldObjection(health: string, code: string, tick: string): Objection | null {
  const words = heldWords[health];
  return words ? { name: 'held', text: words(code), tick, needsReason: true, ownerOnly: false } : null;
}
