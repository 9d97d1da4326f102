import type { Day } from '../days.ts';

/** A look at a culture: whether the trouble was seen, was not there, or nobody can say. */
export type Look = { onDay: Day; seen: boolean | null };

export type Sighting = {
  /** The first day of the latest trouble; null when none was ever seen. */
  seenOn: Day | null;
  /** The last day before it on which it was not there; null when nobody looked. */
  clearOn: Day | null;
};

/**
 * Answers: when the latest trouble in a culture was first seen, and when it was surely not there yet. Sightings without
 * a clear day between them are one trouble; a day on which it was seen and not seen is no clear day. Where nothing
 * was ever seen, clearOn is the last clear day before today.
 *
 * @param looks in any order
 * @example sighting([{ onDay: '2026-11-01', seen: false }, { onDay: '2026-11-08', seen: true },
 *   { onDay: '2026-11-09', seen: true }], '2026-11-10') // { seenOn: '2026-11-08', clearOn: '2026-11-01' }
 */
export function sighting(looks: readonly Look[], today: Day): Sighting {
  const seen = new Set(looks.filter((look) => look.seen === true).map((look) => look.onDay));
  const last = [...seen].sort().at(-1);
  if (last === undefined) return { seenOn: null, clearOn: clearBefore(looks, today) };
  const cleared = clearBefore(looks, last);
  const seenOn = [...seen].filter((day) => cleared === null || day > cleared).sort()[0]!;
  return { seenOn, clearOn: cleared };
}

/**
 * The last day before a day on which somebody looked and the trouble was not there; null when there is none.
 *
 * @example clearBefore([{ onDay: '2026-11-01', seen: false }], '2026-11-01') // null
 */
export function clearBefore(looks: readonly Look[], before: Day): Day | null {
  const seen = new Set(looks.filter((look) => look.seen === true).map((look) => look.onDay));
  const clear = looks.filter(({ onDay, seen: was }) => was === false && onDay < before && !seen.has(onDay));
  return (
    clear
      .map(({ onDay }) => onDay)
      .sort()
      .at(-1) ?? null
  );
}
