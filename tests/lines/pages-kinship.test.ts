import { eq } from 'drizzle-orm';
import { describe, expect, it } from 'vitest';
import { refreshEstimate } from '../../server/counts/queries-estimate.ts';
import { appendEntry, withdrawEntry } from '../../server/cultures/queries-diary.ts';
import { kinOf } from '../../server/lines/queries-kin.ts';
import { kinshipOf, meanKinships } from '../../server/lines/queries-kinship.ts';
import { cultures, species as speciesTable } from '../../server/schema/tables.ts';
import { lineageInput } from '../../shared/lines/form.ts';
import { lineage } from '../../shared/lines/lineage.ts';
import { testApp, testNow, testToday } from '../support/test-app.ts';
import { bench, smallStory } from './pages-story.ts';

const by = { via: 'import', madeBy: null, madeAt: testNow } as const;
type Db = Awaited<ReturnType<typeof testApp>>['db'];

const known = (db: Db, speciesId: number) => {
  const found = kinshipOf(db, speciesId, testToday);
  if (!found) throw new Error('no kinship');
  return found;
};
const tableOf = (db: Db, speciesId: number) => [...known(db, speciesId).found.values];
const inbreeding = (db: Db, speciesId: number, code: string) => {
  const { found } = known(db, speciesId);
  const place = found.placeOf(code)!;
  return found.at(place, place);
};

describe('the lineage of a species, from what is stored', () => {
  it('is one that the calculation takes as checked input, and its answer is the page’s', async () => {
    const { db } = await testApp();
    const { species } = smallStory(db, { workedOut: true });
    const { lineage: read, found } = known(db, species.id);
    const checked = lineageInput.parse(read);
    const answer = lineage(checked);
    expect(answer.codes).toEqual(found.codes);
    expect(answer.kinship.flat()).toEqual([...found.values]);
    expect(
      checked.cultures.map(({ code, wild, parents, additions }) => [code, wild, parents, additions]),
    ).toEqual([
      ['FO-1', 24, [], []],
      ['FO-2', 18, [], []],
      ['SP-1', undefined, [{ code: 'FO-1', animals: 14 }], []],
      [
        'SP-2',
        undefined,
        [{ code: 'FO-1', animals: 20 }],
        [{ date: '2026-08-01', code: 'FO-2', animals: 8 }],
      ],
    ]);
  });

  it('knows strangers, kin and what was mixed', async () => {
    const { db } = await testApp();
    const { species, child, other } = smallStory(db);
    const { found } = known(db, species.id);
    const at = (a: string, b: string) => found.at(found.placeOf(a)!, found.placeOf(b)!);
    expect(at('FO-1', 'FO-2')).toBe(0);
    expect(at('FO-1', 'SP-1')).toBeGreaterThan(0);
    expect(at('FO-2', 'SP-2')).toBeGreaterThan(0);
    expect(at('FO-1', 'SP-2')).toBeLessThan(at('FO-1', 'SP-1'));
    const kin = kinOf(db, other, testToday)!;
    expect(kin.founders.map(({ code }) => code)).toEqual(['FO-1', 'FO-2']);
    expect(kin.founders.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 12);
    const nearest = kinOf(db, child, testToday)!.nearest.map(({ kinship }) => kinship);
    expect(nearest).toEqual([...nearest].sort((a, b) => b - a));
    expect(kinOf(db, { code: 'SP-3', speciesId: species.id }, testToday)).toBeNull();
  });

  it('gives the number believed before an addition for its day, and that after it for the next', async () => {
    const { db } = await testApp();
    const { species } = smallStory(db);
    const sizes = known(db, species.id).lineage.cultures.find(({ code }) => code === 'SP-2')!.sizes;
    const [before] = sizes.filter(({ date }) => date === '2026-08-01').slice(-1);
    const [after] = sizes.filter(({ date }) => date === '2026-08-02');
    expect(after!.animals - before!.animals).toBeCloseTo(8, 0);
  });

  it('leaves out what cannot be, and says which', async () => {
    const { db } = await testApp();
    const b = bench(db);
    const early = b.found('FO-1', '2026-01-10');
    const late = b.found('FO-2', '2026-06-01');
    appendEntry(db, {
      ...by,
      cultureId: early.id,
      onDay: '2026-03-01',
      kind: 'addition',
      animals: 5,
      otherCultureId: late.id,
    });
    expect(known(db, b.species.id).leftOut).toEqual([
      {
        code: 'FO-1',
        why: 'what was put in on 2026-03-01 came from FO-2, which was founded only on 2026-06-01',
      },
    ]);
    expect(lineageInput.safeParse(known(db, b.species.id).lineage).success).toBe(true);
  });
});

describe('what is remembered', () => {
  it('is answered again as long as nothing of it has changed', async () => {
    const { db, sqlite } = await testApp();
    const { species } = smallStory(db);
    const first = known(db, species.id);
    expect(known(db, species.id)).toBe(first);
    sqlite.exec("UPDATE business SET name = 'Another Bench'");
    expect(known(db, species.id)).toBe(first);
  });

  it('never lags behind a write', async () => {
    const { db } = await testApp();
    const story = smallStory(db, { workedOut: true });
    const { species, other, second, first } = story;
    const was = inbreeding(db, species.id, 'SP-2');
    const id = story.mix(other, second, '2026-10-01', 12);
    const mixed = inbreeding(db, species.id, 'SP-2');
    expect(mixed).toBeLessThan(was);
    withdrawEntry(db, id, { madeBy: null, madeAt: testNow });
    refreshEstimate(db, other.id, testToday, testNow);
    expect(inbreeding(db, species.id, 'SP-2')).toBeCloseTo(was, 12);
    // The same entry with another number gets another id; one that is taken back within a transaction leaves nothing.
    expect(() =>
      db.transaction(() => {
        story.mix(other, second, '2026-10-01', 12);
        throw new Error('never mind');
      }),
    ).toThrow('never mind');
    expect(inbreeding(db, species.id, 'SP-2')).toBeCloseTo(was, 12);
    story.count(first, '2026-05-20', 12);
    const counted = tableOf(db, species.id);
    db.update(speciesTable).set({ generationDays: 30 }).where(eq(speciesTable.id, species.id)).run();
    expect(tableOf(db, species.id)).not.toEqual(counted);
    db.update(cultures).set({ code: 'NEW-1' }).where(eq(cultures.id, first.id)).run();
    expect(known(db, species.id).found.codes).toContain('NEW-1');
  });

  it('is of one database and one species', async () => {
    const [one, two] = [await testApp(), await testApp()];
    const first = smallStory(one.db);
    const other = smallStory(two.db, { effectiveRatio: 0.2 });
    expect(tableOf(one.db, first.species.id)).not.toEqual(tableOf(two.db, other.species.id));
    const more = bench(one.db).found('ZZ-1', '2026-02-02');
    expect(known(one.db, more.speciesId).found.codes).toEqual(['ZZ-1']);
    expect(kinshipOf(one.db, 999, testToday)).toBeUndefined();
  });
});

describe('mean kinship', () => {
  it('is the mean of a culture’s row over those that are kept, itself among them (Ballou and Lacy 1995)', async () => {
    const { db } = await testApp();
    const { species, child } = smallStory(db);
    const answer = lineage(lineageInput.parse(known(db, species.id).lineage));
    const place = answer.codes.indexOf('SP-1');
    const row = answer.kinship[place]!;
    expect(meanKinships(db, species.id, testToday).get(child.id)).toBeCloseTo(
      row.reduce((a, b) => a + b, 0) / row.length,
      12,
    );
  });

  it('says nothing of females alone', async () => {
    const { db } = await testApp();
    const { species, child } = smallStory(db, { femaleShare: 1 });
    expect(meanKinships(db, species.id, testToday).size).toBe(0);
    expect(kinOf(db, child, testToday)).toMatchObject({ clonal: true, isInbred: false });
  });
});
