import { refreshEstimate } from '../../server/counts/queries-estimate.ts';
import { appendEntry } from '../../server/cultures/queries-diary.ts';
import type { Db } from '../../server/plumbing/open-database.ts';
import { estimatePoints } from '../../server/schema/tables.ts';
import { addParent } from '../../server/splits/queries.ts';
import { fullCountOf } from '../support/counted.ts';
import { makeCulture, makeEnclosure, makeEstimate, makeSpecies } from '../support/stock.ts';
import { testNow, testToday } from '../support/test-app.ts';

const by = { via: 'page', madeBy: null, madeAt: testNow } as const;

type Culture = ReturnType<typeof makeCulture>;
type Values = Parameters<typeof makeCulture>[1];
type Options = Parameters<typeof makeSpecies>[1] & {
  /** The estimates are worked out instead of put in by hand: takes a while. */
  workedOut?: boolean;
};

/** Puts in what would be believed, give or take a tenth, where nothing is to be worked out. */
function byHand(db: Db) {
  const numbers = new Map<number, number>();
  return (
    culture: Culture,
    entry: { id: number; onDay: string } | null,
    change: (before: number) => number,
  ) => {
    const before = numbers.get(culture.id) ?? culture.foundingAnimals;
    const after = change(before);
    numbers.set(culture.id, after);
    makeEstimate(db, culture.id, { median: after, lower: after * 0.9, upper: after * 1.1 });
    if (!entry) return;
    const bands = { beforeLower: before, beforeUpper: before, afterLower: after, afterUpper: after };
    const at = { cultureId: culture.id, onDay: entry.onDay, position: entry.id };
    db.insert(estimatePoints)
      .values({ ...at, ...bands, beforeMedian: before, afterMedian: after })
      .run();
  };
}

/** A bench of one species, on which cultures are founded, split, counted and mixed, one sentence each. */
export function bench(db: Db, { workedOut, ...overrides }: Options = {}) {
  const species = makeSpecies(db, overrides);
  const enclosureId = makeEnclosure(db).id;
  const put = byHand(db);
  const known = (...[culture, entry, change]: Parameters<typeof put>) => {
    if (workedOut) refreshEstimate(db, culture.id, testToday, testNow);
    else put(culture, entry, change);
  };
  const same = (number: number) => number;
  const make = (code: string, foundedOn: string, values: Values) =>
    makeCulture(db, { code, foundedOn, speciesId: species.id, enclosureId, placeId: null, ...values });
  const write = (entry: Omit<Parameters<typeof appendEntry>[1], keyof typeof by>) => ({
    id: appendEntry(db, { ...by, ...entry }),
    onDay: entry.onDay,
  });
  return {
    species,
    found(code: string, foundedOn: string, animals = 20, values: Values = {}) {
      const made = make(code, foundedOn, { foundingAnimals: animals, origin: 'bought', ...values });
      known(made, null, same);
      return made;
    },
    split(code: string, onDay: string, parent: Culture, animals = 14, values: Values = {}) {
      const made = make(code, onDay, {
        foundingAnimals: animals,
        origin: 'split',
        lineId: parent.lineId,
        ...values,
      });
      addParent(db, made.id, parent.id, animals);
      const entry = write({ cultureId: parent.id, onDay, kind: 'split', animals, otherCultureId: made.id });
      known(parent, entry, (n) => n - animals);
      known(made, null, same);
      return made;
    },
    count(culture: Culture, onDay: string, counted: number) {
      const entry = write({ cultureId: culture.id, onDay, kind: 'count', countInput: fullCountOf(counted) });
      known(culture, entry, () => counted);
      return entry.id;
    },
    mix(to: Culture, from: Culture, onDay: string, animals: number) {
      const out = write({ cultureId: from.id, onDay, kind: 'harvest', animals, otherCultureId: to.id });
      known(from, out, (n) => n - animals);
      const into = write({ cultureId: to.id, onDay, kind: 'addition', animals, otherCultureId: from.id });
      known(to, into, (n) => n + animals);
      return into.id;
    },
    retire(culture: Culture, onDay: string) {
      write({ cultureId: culture.id, onDay, kind: 'retirement', note: 'Other.' });
    },
  };
}

/** Two founders, three splits of the first, the second mixed into one of those; one retired that left nothing. */
export function smallStory(db: Db, options: Options = {}) {
  const b = bench(db, { generationDays: 90, femaleShare: 0.5, effectiveRatio: 0.5, ...options });
  const first = b.found('FO-1', '2026-01-10', 24);
  const second = b.found('FO-2', '2026-02-01', 18);
  b.count(first, '2026-04-02', 110);
  const child = b.split('SP-1', '2026-04-03', first, 14);
  const other = b.split('SP-2', '2026-04-05', first, 20);
  b.count(second, '2026-05-01', 80);
  const gone = b.split('SP-3', '2026-05-10', first, 12);
  b.count(other, '2026-07-01', 60);
  b.mix(other, second, '2026-08-01', 8);
  b.retire(gone, '2026-09-01');
  return { ...b, first, second, child, other, gone };
}
