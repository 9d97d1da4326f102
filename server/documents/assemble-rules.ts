import type { MovementFinding } from '../../shared/movement/judge.ts';
import { reasonWords, whatToDo } from '../../shared/movement/say.ts';
import type { PackingRule } from '../../views/documents/packing-sheet-data.ts';
import { type Movement, movementOf, movementOn } from '../movement/queries.ts';
import type { LoadedOrder } from '../orders/queries.ts';
import type { Db } from '../plumbing/open-database.ts';

const ofFinding = (
  kind: 'block' | 'warning',
  { rule, reason, species }: MovementFinding,
  said: string,
): PackingRule => ({
  kind,
  name: rule.name,
  words: [rule.words, reason === 'caution' ? '' : said].filter((words) => words !== '').join(' '),
  species,
  source: rule.source,
  number: '',
  expiresOn: null,
});

function sayRules({ blocks, warnings, permits }: Movement): PackingRule[] {
  return [
    ...blocks.map((one) =>
      ofFinding('block', one, [reasonWords[one.reason], whatToDo[one.reason] ?? ''].join(' ').trim()),
    ),
    ...permits.map(({ number, expiresOn, rule }) => ({
      kind: 'permit' as const,
      name: rule,
      words: '',
      species: [],
      source: '',
      number,
      expiresOn,
    })),
    ...warnings.map((one) => ofFinding('warning', one, reasonWords[one.reason])),
  ];
}

/** What stands against a parcel, its permits and its warnings: for the day it leaves at the earliest, or the day it left. */
export function rulesOf(db: Db, { order }: LoadedOrder, today: string): PackingRule[] {
  const hasLeft = order.state === 'sent' || order.state === 'closed';
  return sayRules(
    hasLeft
      ? movementOn(db, order.id, order.sentOn ?? order.dispatchOn ?? today)
      : movementOf(db, order.id, today),
  );
}
