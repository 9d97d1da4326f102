import { describe, expect, it } from 'vitest';
import { readEstimate, refreshEstimate } from '../../server/counts/queries-estimate.ts';
import { refreshAfterLook } from '../../server/counts/queries-look.ts';
import { appendEntry, type NewEntry, withdrawEntry } from '../../server/cultures/queries-diary.ts';
import { makeCounted } from '../support/counted.ts';
import { type TestApp, testApp, testNow, testToday } from '../support/test-app.ts';

const by = { via: 'page', madeBy: null, madeAt: testNow } as const;
const counted = JSON.stringify({ method: 'full', counted: 90, relativeSd: 0.05, level: 0.9 });

/** What is stored after the entry, by the short way and by the long one. */
function bothWays({ db }: TestApp, cultureId: number, work: () => void, today = testToday) {
  work();
  refreshAfterLook(db, cultureId, today, testNow);
  const short = readEstimate(db, cultureId);
  refreshEstimate(db, cultureId, today, testNow);
  return [short, readEstimate(db, cultureId)];
}

describe('after a look', () => {
  const kinds: [string, Partial<NewEntry> & Pick<NewEntry, 'kind'>][] = [
    ['that found all well', { kind: 'check', mitesSeen: false, mouldSeen: false }],
    ['that found mites', { kind: 'check', mitesSeen: true, mouldSeen: false }],
    ['that counted too', { kind: 'count', countInput: counted }],
    ['with water', { kind: 'water', waterMl: 20 }],
  ];
  it.each(kinds)(
    '%s, and its undoing, the estimate is what it would be worked out anew',
    async (_name, entry) => {
      const app = await testApp();
      const { id } = makeCounted(app.db);
      let written = 0;
      const [short, long] = bothWays(app, id, () => {
        written = appendEntry(app.db, { ...by, onDay: testToday, cultureId: id, ...entry });
      });
      expect(short).toEqual(long);
      const [shortUndone, longUndone] = bothWays(app, id, () => withdrawEntry(app.db, written, by));
      expect(shortUndone).toEqual(longUndone);
      expect(shortUndone).not.toEqual(entry.kind === 'water' ? null : short);
    },
  );

  it('clears the mites of an earlier one, and follows the day', async () => {
    const app = await testApp();
    const { id } = makeCounted(app.db);
    const look = (onDay: string, mitesSeen: boolean) => () =>
      appendEntry(app.db, { ...by, cultureId: id, kind: 'check', onDay, mitesSeen, mouldSeen: false });
    const [held] = bothWays(app, id, look('2026-11-20', true));
    expect(held?.health).toBe('mites');
    const [clear, longClear] = bothWays(app, id, look(testToday, false));
    expect(clear).toEqual(longClear);
    expect(clear?.health).toBe('well');
    const [next, longNext] = bothWays(app, id, look('2026-11-26', false), '2026-11-26');
    expect(next).toEqual(longNext);
    expect(next?.asOf).toBe('2026-11-26');
  });
});
