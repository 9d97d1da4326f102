import { describe, expect, it } from 'vitest';
import { appendEntry } from '../../server/cultures/queries-diary.ts';
import { insertLine } from '../../server/lines/queries.ts';
import { apartRules, keepApart, neverMixedWith, whyNeverMixed } from '../../server/lines/queries-apart.ts';
import { audit, cultures, diary, lines } from '../../server/schema/tables.ts';
import { type MarkedLine, type Purity, pairKey, purities, whyApart } from '../../shared/lines/page-apart.ts';
import { makeCounted } from '../support/counted.ts';
import { makeCulture, makeEnclosure, makeSpecies } from '../support/stock.ts';
import { type TestApp, testApp, testNow, testToday } from '../support/test-app.ts';

const line = (id: number, keptPure: Purity = 'no', locality = ''): MarkedLine => ({
  id,
  name: `line${id}`,
  locality,
  keptPure,
});

describe('what is kept apart', () => {
  it('is as the examples say', () => {
    const dusk = { ...line(1, 'line'), name: 'dusk' };
    const dawn = { ...line(2), name: 'dawn' };
    expect(whyApart(dusk, null, new Set())).toBe('line dusk is kept pure');
    const pairs = new Set([pairKey(2, 1)]);
    expect(whyApart({ ...dusk, keptPure: 'no' }, dawn, pairs)).toBe('lines dawn and dusk are never mixed');
  });

  it('is nothing within a line, nor between cultures without one', () => {
    expect(whyApart(line(1, 'line'), line(1, 'line'), new Set())).toBeNull();
    expect(whyApart(null, null, new Set())).toBeNull();
    expect(whyApart(line(1), line(2), new Set())).toBeNull();
    expect(whyApart(line(1), null, new Set())).toBeNull();
  });

  it('is another locality for a line that stays within its own', () => {
    const quarry = line(1, 'locality', 'Old Quarry ');
    expect(whyApart(quarry, line(2, 'no', 'old quarry'), new Set())).toBeNull();
    for (const other of [line(2, 'no', 'new quarry'), line(2), null])
      expect(whyApart(quarry, other, new Set())).toBe(
        'line line1 is mixed within its own locality only (Old Quarry )',
      );
    expect(whyApart(line(1, 'locality'), line(2), new Set())).not.toBeNull();
  });

  it('is the same in either order, and the database has the same last word', async () => {
    const { db } = await testApp();
    const species = makeSpecies(db);
    const enclosureId = makeEnclosure(db).id;
    const cast = purities.flatMap((keptPure) =>
      ['', 'north', 'NORTH ', 'süd'].map((locality) => {
        const name = `${keptPure} ${locality}`;
        const id = insertLine(db, { speciesId: species.id, name, locality, note: '', keptPure });
        return makeCulture(db, { speciesId: species.id, enclosureId, placeId: null, lineId: id });
      }),
    );
    cast.push(makeCulture(db, { speciesId: species.id, enclosureId, placeId: null, lineId: null }));
    keepApart(db, cast[0]!.lineId!, [cast[2]!.lineId!, cast[3]!.lineId!]);
    const rules = apartRules(db, species.id);
    const put = (cultureId: number, otherCultureId: number) =>
      appendEntry(db, {
        cultureId,
        otherCultureId,
        onDay: testToday,
        kind: 'addition',
        animals: 1,
        via: 'page',
        madeAt: testNow,
      });
    let refused = 0;
    for (const one of cast)
      for (const other of cast) {
        if (one === other) continue;
        const why = rules(one.lineId, other.lineId);
        expect(rules(other.lineId, one.lineId) === null).toBe(why === null);
        expect(whyNeverMixed(db, one, other) === null).toBe(why === null);
        if (why === null) put(one.id, other.id);
        else expect(() => put(one.id, other.id), why).toThrow('these lines are kept apart');
        if (why) refused += 1;
      }
    expect(refused).toBeGreaterThan(60);
  });

  it('is two species, always', async () => {
    const { db } = await testApp();
    const [one, other] = [makeCulture(db), makeCulture(db)];
    expect(whyNeverMixed(db, one, other)).toContain('are of two species');
  });

  it('does not undo what a file says was done before', async () => {
    const { db } = await testApp();
    const { child, pure } = twoLines(db, 'line');
    const entry = { onDay: testToday, kind: 'addition', animals: 3, madeAt: testNow } as const;
    appendEntry(db, { ...entry, cultureId: child.id, otherCultureId: pure.id, via: 'import' });
    expect(db.select().from(diary).all().at(-1)?.otherCultureId).toBe(pure.id);
  });
});

/** Two counted cultures of two lines of a species, of which one is marked. */
function twoLines(db: TestApp['db'], keptPure: Purity) {
  const species = makeSpecies(db);
  const make = (name: string, purity: Purity) =>
    insertLine(db, { speciesId: species.id, name, locality: 'south', note: '', keptPure: purity });
  const pureId = make('dusk', keptPure);
  const otherId = make('dawn', 'no');
  const pure = makeCounted(db, 140, { speciesId: species.id, lineId: pureId });
  const child = makeCounted(db, 60, { speciesId: species.id, lineId: otherId });
  return { species, pureId, otherId, pure, child };
}

describe('marking a line', () => {
  const form = (speciesId: number, more: Record<string, string | string[]> = {}) => ({
    speciesId,
    name: 'dusk',
    locality: 'south',
    ...more,
  });
  const versionIn = (html: string) => /name="version" value="([^"]+)"/.exec(html)?.[1] ?? '';

  it('is kept, shown in the list and on its form, and written into the record of changes', async () => {
    const { db, owner } = await testApp();
    const { species, pureId, otherId } = twoLines(db, 'no');
    const at = `/lines/${pureId}/edit`;
    const version = versionIn((await owner.get(at)).text);
    const marks = { keptPure: 'line', neverWith: [String(otherId)] };
    expect((await owner.post(at, { ...form(species.id, marks), version })).status).toBe(303);
    expect(db.select().from(lines).all()[0]?.keptPure).toBe('line');
    expect(neverMixedWith(db, otherId)).toEqual([{ id: pureId, name: 'dusk' }]);
    const list = (await owner.get(`/lines?species=${species.id}`)).text;
    expect(list).toContain('kept pure; never with dawn');
    expect(list).toContain('never with dusk');
    expect((await owner.get(at)).text).toMatch(/value="line" checked/);
    expect((await owner.get(`/lines/${otherId}/edit`)).text).toMatch(new RegExp(`value="${pureId}" checked`));
    expect(db.select().from(audit).all().at(-1)?.after).toContain(`"neverWith":"${otherId}"`);
    const again = versionIn((await owner.get(at)).text);
    await owner.post(at, { ...form(species.id), version: again });
    expect(neverMixedWith(db, otherId)).toEqual([]);
  });

  it('is noticed by whoever saves the same line meanwhile', async () => {
    const { db, owner } = await testApp();
    const { species, pureId, otherId } = twoLines(db, 'no');
    const at = `/lines/${pureId}/edit`;
    const version = versionIn((await owner.get(at)).text);
    await owner.post(at, { ...form(species.id, { neverWith: String(otherId) }), version });
    const late = await owner.post(at, { ...form(species.id, { locality: 'north' }), version });
    expect(late.status).toBe(409);
    expect(late.text).toContain('Never mixed with');
    expect(late.text).toContain('dawn');
    expect(neverMixedWith(db, pureId)).toHaveLength(1);
  });

  it('refuses lines that are not there, of another species or itself, and a locality without a name', async () => {
    const { db, owner } = await testApp();
    const { species, pureId } = twoLines(db, 'no');
    const strange = insertLine(db, { speciesId: makeSpecies(db).id, name: 'far', locality: '', note: '' });
    const at = `/lines/${pureId}/edit`;
    const version = versionIn((await owner.get(at)).text);
    for (const [more, says] of [
      [{ neverWith: '999' }, 'Choose other lines of the same species.'],
      [{ neverWith: String(strange) }, 'Choose other lines of the same species.'],
      [{ neverWith: String(pureId) }, 'Choose other lines of the same species.'],
      [{ neverWith: ['1', 'x'] }, 'Choose lines of the list.'],
      [{ keptPure: 'very' }, 'Choose one.'],
      [{ keptPure: 'locality', locality: ' ' }, 'Write down which locality that is.'],
    ] as const) {
      const answer = await owner.post(at, {
        ...form(species.id, { ...more } as Record<string, string>),
        version,
      });
      expect([answer.status, answer.text.includes(says)], says).toEqual([422, true]);
    }
    expect(neverMixedWith(db, pureId)).toEqual([]);
  });
});

describe('what is marked', () => {
  it('is not offered on the page of an addition, and refused with words when it is sent all the same', async () => {
    const app = await testApp();
    const { pure, child } = twoLines(app.db, 'line');
    const at = `/cultures/${child.code}/write`;
    const shown = (await app.helper.get(`${at}?kind=addition`)).text;
    expect(shown).not.toContain(`<option value="${pure.id}"`);
    expect(shown).toContain(`kept apart from this one: ${pure.code}.`);
    const before = app.db.select().from(diary).all();
    const sent = { kind: 'addition', animals: '6', fromId: String(pure.id), note: 'to try' };
    for (const despite of [[], ['reserve', 'held', 'contradiction']]) {
      const answer = await app.owner.post(at, { ...sent, despite, reason: 'because' });
      expect(answer.status).toBe(422);
      expect(answer.text).toContain(
        `${pure.code} and ${child.code} must not be mixed: line dusk is kept pure.`,
      );
      expect(answer.text).toContain('value="6"');
    }
    expect(app.db.select().from(diary).all()).toEqual(before);
  });

  it('stays in its line when it is split', async () => {
    const app = await testApp();
    const { pure, otherId, pureId } = twoLines(app.db, 'line');
    const split = { adults: '12', juveniles: '4', enclosureId: String(pure.enclosureId) };
    const at = `/cultures/${pure.code}/split`;
    for (const lineId of [String(otherId), '']) {
      const answer = await app.owner.post(at, { ...split, lineId });
      expect(answer.status).toBe(422);
      expect(answer.text).toContain(
        `What is split off ${pure.code} stays in its line: line dusk is kept pure.`,
      );
    }
    expect((await app.owner.post(at, { ...split, lineId: String(pureId) })).status).toBe(303);
    expect(app.db.select().from(cultures).all().at(-1)?.lineId).toBe(pureId);
    keepApart(app.db, otherId, [pureId]);
    const other = makeCounted(app.db, 140, { speciesId: pure.speciesId, lineId: otherId });
    const loose = await app.owner.post(`/cultures/${other.code}/split`, { ...split, lineId: '' });
    expect([loose.status, loose.text.includes('is never mixed with some others')]).toEqual([422, true]);
  });
});
