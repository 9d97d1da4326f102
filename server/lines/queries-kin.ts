import { effectiveSize } from '../../shared/lines/effective-size.ts';
import type { Breeding } from '../../shared/lines/form.ts';
import { cultureLineage } from '../../shared/lines/lineage.ts';
import { inbredBelow } from '../../shared/lines/page-start.ts';
import type { Db } from '../plumbing/open-database.ts';
import { kinshipOf } from './queries-kinship.ts';

export type KinOfCulture = {
  /** One clone: only where it comes from says anything. */
  clonal: boolean;
  /** The cultures founded from strangers that its genes come from, the largest share first. */
  founders: { code: string; share: number }[];
  generations: number;
  inbreeding: number;
  heterozygosityKept: number;
  isInbred: boolean;
  /** The effective size of the animals that live in it now. */
  effectiveSize: number;
  /** What that stands on. */
  animals: number;
  breeding: Breeding;
  /** Kept cultures of the species, the nearest kin first; and the most distant first. */
  nearest: { code: string; kinship: number }[];
  farthest: { code: string; kinship: number }[];
};

const mostNamed = 3;

/** What a culture descends from, how inbred it is, and who is kin to it; null for one that left nothing. */
export function kinOf(
  db: Db,
  culture: { code: string; speciesId: number },
  today: string,
): KinOfCulture | null {
  const known = kinshipOf(db, culture.speciesId, today);
  const place = known?.found.placeOf(culture.code);
  if (!known || place === undefined) return null;
  const { found, kept, clonal, breeding } = known;
  const own = cultureLineage(found, place);
  const others = kept
    .filter((other) => other !== place)
    .map((other) => ({ code: found.codes[other]!, kinship: found.at(place, other) }))
    .sort((a, b) => b.kinship - a.kinship || (a.code < b.code ? -1 : 1));
  return {
    clonal,
    founders: Object.entries(own.founderShares)
      .map(([code, share]) => ({ code, share }))
      .sort((a, b) => b.share - a.share || (a.code < b.code ? -1 : 1)),
    generations: own.generations,
    inbreeding: own.inbreeding,
    heterozygosityKept: own.heterozygosityKept,
    isInbred: !clonal && own.heterozygosityKept < inbredBelow,
    effectiveSize: effectiveSize(found.animals[place]!, breeding),
    animals: found.animals[place]!,
    breeding,
    nearest: others.slice(0, mostNamed),
    farthest: others.slice(mostNamed).slice(-mostNamed).reverse(),
  };
}
