import type { Objection } from '../cultures/objections.ts';
import { formatShare } from '../cultures/share-words.ts';
import { CalculationError } from '../faults.ts';
import { starterGroup } from './starter-group.ts';

/** A start is called safe from this chance on that it holds enough of both sexes. */
export const safeStart = 0.95;

/** The columns of a species that say what a start must hold. */
export type StartNeeds = { femaleShare: number; startMales: number; startFemales: number };

const needsOf = ({ femaleShare, startMales, startFemales }: StartNeeds) => ({
  femaleShare,
  atLeast: { males: startMales, females: startFemales },
});

/**
 * Answers: how many animals make a safe start. Null where no number does (a species of females alone that is said
 * to need males).
 *
 * @example safeStartAnimals({ femaleShare: 0.5, startMales: 2, startFemales: 2 })
 * // 9: with 8 animals the chance of two of each is 93 %, with 9 it is 96 %
 */
export function safeStartAnimals(needs: StartNeeds): number | null {
  return safeStartOf(needs)?.animals ?? null;
}

/** The same with the chance that it holds enough of both sexes. */
export function safeStartOf(needs: StartNeeds): { animals: number; probability: number } | null {
  try {
    const { animals, probability } = starterGroup({ ...needsOf(needs), assurance: safeStart });
    return animals === undefined ? null : { animals, probability };
  } catch (error) {
    if (error instanceof CalculationError) return null;
    throw error;
  }
}

/** "at least 2 males and 2 females", "at least 1 female" */
export function needWords({
  startMales,
  startFemales,
}: Pick<StartNeeds, 'startMales' | 'startFemales'>): string {
  const some = (n: number, one: string, many: string) => (n === 0 ? [] : [`${n} ${n === 1 ? one : many}`]);
  const words = [...some(startMales, 'male', 'males'), ...some(startFemales, 'female', 'females')];
  return words.length === 0 ? 'at least one animal' : `at least ${words.join(' and ')}`;
}

/** What speaks against starting a culture with so many animals; null when nothing does. */
export function startObjection(animals: number, needs: StartNeeds, tick: string): Objection | null {
  const { probability } = starterGroup({ ...needsOf(needs), animals });
  if (probability >= safeStart) return null;
  const enough = safeStartAnimals(needs);
  const mend = enough === null ? '' : ` With ${enough} animals it is ${formatShare(safeStart)} or more.`;
  const text = `${animals} ${animals === 1 ? 'animal is' : 'animals are'} not a safe start: the chance of ${needWords(needs)} is ${formatShare(probability)}.${mend}`;
  return { name: 'unsafe', text, tick, needsReason: true, ownerOnly: false };
}
