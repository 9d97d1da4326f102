import { applyEvent, startState } from '../../shared/counts/population/filter.ts';
import { numberOn } from '../../shared/counts/population/outlook.ts';
import type { PopulationState } from '../../shared/counts/population/state.ts';
import { decodeState } from '../../shared/counts/population/store.ts';
import type { Taking } from '../../shared/cultures/taking.ts';
import { CalculationError } from '../../shared/faults.ts';
import { chanceAboveReserve } from '../../shared/surplus/surplus.ts';
import { workOut } from '../../shared/surplus/work-out.ts';
import { appendEntry, type NewEntry } from '../cultures/queries-diary.ts';
import type { Db } from '../plumbing/open-database.ts';
import { type Gathered, gather } from './gather.ts';
import { readEstimate } from './queries-estimate.ts';

/** Hardly more animals than the upper end of so wide an interval can have been there. */
const asGoodAsCertain = 0.999;

type Tried<T> = { value: T } | { fault: string };

/** A diary that contradicts itself answers with its fault. */
function tryOut<T>(work: () => T): Tried<T> {
  try {
    return { value: work() };
  } catch (error) {
    if (error instanceof CalculationError) return { fault: error.message };
    throw error;
  }
}

/** What was known just before the event at a place of the diary, or after all of them. */
function stateBefore({ input }: Gathered, position: number | null): PopulationState {
  let state = input.from ? decodeState(input.from.state) : startState(input.basis.start, input.basis.profile);
  for (const { event, position: at } of input.events) {
    if (at === position) break;
    state = applyEvent(state, event);
  }
  return state;
}

class TakenBack extends Error {
  constructor(readonly taking: Taking) {
    super('only tried');
  }
}

/**
 * What an entry that takes animals out of a culture would lead to, today and whenever it is dated: it is written,
 * looked at and taken back, so that whoever decides can still say why in its note.
 */
export function tryTaking(tx: Db, entry: NewEntry & { animals: number }, today: string): Taking {
  try {
    return tx.transaction((inner) => {
      throw new TakenBack(look(inner, entry, today));
    });
  } catch (error) {
    if (error instanceof TakenBack) return error.taking;
    throw error;
  }
}

function look(tx: Db, entry: NewEntry & { animals: number }, today: string): Taking {
  const { cultureId, onDay, animals } = entry;
  const id = appendEntry(tx, entry);
  const tried = gather(tx, cultureId, today);
  const most = tryOut(() => numberOn(stateBefore(tried, id), onDay, asGoodAsCertain).upper);
  const { reserve, promised, confidence } = tried.input.surplus;
  const left = tryOut(() =>
    chanceAboveReserve(stateBefore(tried, null), { reserve, promised, asOf: today, removed: 0 }),
  );
  return {
    animals,
    confidence,
    promised,
    mostThere: 'value' in most ? most.value : null,
    chance: 'value' in left ? left.value.probability : null,
    reserve: 'value' in left ? left.value.reserve : reserve.animals,
    onDay,
    faults: {
      before: readEstimate(tx, cultureId)?.fault ?? null,
      after: 'fault' in left ? (workOut(tried.input).fault ?? left.fault) : null,
    },
  };
}
