import { eq } from 'drizzle-orm';
import { expect, test } from 'vitest';
import { makeSessions } from '../../server/plumbing/sessions.ts';
import { cultureEstimates, diary, people } from '../../server/schema/tables.ts';
import { makeCounted } from '../support/counted-stock.ts';
import { makeSpecies } from '../support/stock.ts';
import { testApp, testNow, testToday } from '../support/test-app.ts';
import { Visitor } from '../support/visitor.ts';

const howMany = 20;

/** Twenty people of their own, each with a session, over connections of their own. */
async function crowd() {
  const t = await testApp();
  const sessions = makeSessions(t.db, t.clock);
  const visitors: Visitor[] = [];
  for (let i = 0; i < howMany; i += 1) {
    const id = `helper-${i}`;
    t.db
      .insert(people)
      .values({
        id,
        signInName: id,
        name: `Helper ${i}`,
        role: 'helper',
        passwordHash: 'none',
        active: true,
        scheme: 'system',
        madeAt: testNow,
      })
      .run();
    visitors.push(new Visitor(t.app, await sessions.begin(id, 'test')));
  }
  const speciesId = makeSpecies(t.db).id;
  const shared = [1, 2].map(() => makeCounted(t.db, speciesId, 140));
  return { t, visitors, shared };
}

test('twenty helpers at once write about the same cultures: no error, and each entry is there once', async () => {
  const { t, visitors, shared } = await crowd();
  const wanted: string[] = [];
  const statuses = await Promise.all(
    visitors.map(async (visitor, i) => {
      const got = [(await visitor.get('/round')).status];
      for (const [which, { code }] of shared.entries()) {
        const note = `seen by ${i} in ${code}`;
        wanted.push(note);
        const formKey = `helper-${i}-of-${code}-0123`;
        const counted: Record<string, number> = which === 0 ? { visible: 20 + i } : {};
        const fields = { onDay: testToday, surface: 'moist', note, ...counted };
        const post = () => visitor.post(`/cultures/${code}/check?from=round`, fields, { formKey });
        // A bad line: the same form is sent again before the first is answered.
        got.push(...(await Promise.all([post(), post()])).map(({ status }) => status));
        got.push((await visitor.post(`/cultures/${code}/all-well`, {}, { part: true })).status);
      }
      return got;
    }),
  );
  expect(statuses.flat().filter((status) => status >= 400)).toEqual([]);
  const entries = t.db.select().from(diary).all();
  const notes = entries.flatMap(({ kind, note }) => (kind === 'check' && note !== '' ? note : []));
  expect(notes.sort()).toEqual(wanted.sort());
  for (const [which, { id }] of shared.entries()) {
    const own = entries.filter((entry) => entry.cultureId === id && entry.madeBy?.startsWith('helper-'));
    // From each helper a look with a note, counted at the first culture, and one that found all well.
    expect(own.filter(({ kind }) => kind === 'check')).toHaveLength(howMany * 2);
    expect(own.filter(({ kind }) => kind === 'count')).toHaveLength(which === 0 ? howMany : 0);
    const known = t.db.select().from(cultureEstimates).where(eq(cultureEstimates.cultureId, id)).get();
    expect([known?.fault, known?.lastCheckOn]).toEqual([null, testToday]);
    if (which === 0) expect(known?.lastCountOn).toBe(testToday);
  }
}, 30_000);
