import { h } from 'preact';
import { untestedVisits, updateDetection } from '../../shared/counts/detection.ts';
import { daysBetween } from '../../shared/days.ts';
import { CalculationError } from '../../shared/faults.ts';
import { DetectionPage, type PairShown } from '../../views/counts/page-detection.tsx';
import { numberIn } from '../plumbing/address.ts';
import { type Answer, page, redirect } from '../plumbing/answers.ts';
import { note } from '../plumbing/audit.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { fingerprintOf } from '../plumbing/edits.ts';
import { notFound } from '../plumbing/errors.ts';
import type { Db } from '../plumbing/open-database.ts';
import { readSpecies } from '../species/queries.ts';
import { acceptUpdate, type CountedPair, lastUpdate, newPairs } from './queries-detection.ts';

/** Two decimals are more than any number of pairs can tell apart. */
const rounded = (value: number) => Math.max(0.01, Math.round(value * 100) / 100);

/** A full count is less sure of an earlier day: the colony may have grown meanwhile. */
function asPair({ seen, counted, relativeSd, visibleOn, fullOn }: CountedPair, growthPerWeek: number) {
  const grown = (growthPerWeek * daysBetween(visibleOn, fullOn)) / 7;
  return { seen, counted, relativeSd: Math.hypot(relativeSd, grown) };
}

/** What the pairs that have not taught yet teach, and those that cannot be, with why. */
function learn(db: Db, speciesId: number) {
  const species = readSpecies(db, speciesId);
  if (!species) throw notFound('species');
  const before = { alpha: species.detectionAlpha, beta: species.detectionBeta };
  const last = lastUpdate(db, speciesId);
  // A share that was typed since is a belief of its own.
  const isLearned = last?.afterAlpha === before.alpha && last.afterBeta === before.beta;
  const visits = isLearned ? last.visits : untestedVisits;
  const shown: PairShown[] = [];
  const good: CountedPair[] = [];
  for (const pair of newPairs(db, speciesId)) {
    try {
      updateDetection({ detection: before, visits, pairs: [asPair(pair, species.growthPerWeekMedian)] });
      good.push(pair);
      shown.push({ ...pair, why: null });
    } catch (error) {
      if (!(error instanceof CalculationError)) throw error;
      shown.push({ ...pair, why: error.message });
    }
  }
  const pairs = good.map((pair) => asPair(pair, species.growthPerWeekMedian));
  const { detection, visits: visitsAfter } = updateDetection({ detection: before, visits, pairs });
  const after =
    good.length === 0 ? before : { alpha: rounded(detection.alpha), beta: rounded(detection.beta) };
  return { species, before, after, visits, visitsAfter, shown, good, seen: fingerprintOf([before, good]) };
}

export function showDetection(call: StaffCall): Answer {
  const { species, before, after, visits, shown, good, seen } = learn(
    call.db,
    numberIn(call, 'id', 'species'),
  );
  return page(
    h(DetectionPage, {
      furniture: call.furniture,
      species: { id: species.id, scientificName: species.scientificName },
      before,
      after,
      visits,
      pairs: shown,
      usable: good.length,
      seen,
      mayAccept: call.who.role === 'owner',
    }),
  );
}

export function acceptDetection(call: StaffCall): Answer {
  const id = numberIn(call, 'id', 'species');
  const at = call.clock.now();
  const outcome = call.once((tx) => {
    const { before, after, visitsAfter, good, seen } = learn(tx, id);
    if (good.length === 0 || seen !== call.body.seen) return 'changed meanwhile';
    acceptUpdate(
      tx,
      id,
      { before, after, visits: visitsAfter, pairs: good },
      { personId: call.who.id, now: at },
    );
    const subject = `species ${id}`;
    note(tx, { at, personId: call.who.id, action: 'learned the share seen', subject, before, after });
    return 'accepted';
  });
  if (outcome === 'accepted')
    return redirect(
      `/species/${id}`,
      'The share that shows follows the counts. It holds for counts from now on.',
    );
  return redirect(`/species/${id}/detection`, {
    text: 'The counts or the share were changed meanwhile. Look at them again.',
    tone: 'needs-you',
  });
}
