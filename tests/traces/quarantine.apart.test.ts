import { eq } from 'drizzle-orm';
import { describe, expect, it, vi } from 'vitest';
import { readEstimate, refreshEstimate } from '../../server/counts/queries-estimate.ts';
import { appendEntry } from '../../server/cultures/queries-diary.ts';
import { once } from '../../server/plumbing/once.ts';
import type { Db } from '../../server/plumbing/open-database.ts';
import {
  allocations,
  cultures,
  diary,
  orderHistory,
  orders,
  standingDiary,
} from '../../server/schema/tables.ts';
import type { Asked } from '../../server/traces/ask.ts';
import { quarantineChosen, takeBackStep } from '../../server/traces/quarantine.ts';
import { writeContact } from '../../server/traces/queries-contacts.ts';
import { makeCounted } from '../support/counted-stock.ts';
import { printOf, withFaultAt } from '../support/faults.ts';
import { makeCustomer, makeLine, makeOrder } from '../support/orders.ts';
import { makeSpecies } from '../support/stock.ts';
import { cast, type TestApp, testApp, testNow, testToday } from '../support/test-app.ts';
import { manyCultures } from './random-contacts.ts';

vi.mock('../../shared/surplus/work-out.ts', async (original) => {
  const { workedOutOnce } = await import('../support/known-estimates.ts');
  return workedOutOnce(original);
});

const path = '/cultures/A/trace/quarantine';
const asked = { what: 'mites', since: '2026-11-01', seen: '2026-11-10', back: '90', sort: 'day' } as const;
const script = '<script>alert(1)</script>';

/** Mites in A, fed to B and C; U fed A before. B and C are promised to orders 31 and 32. */
async function bench() {
  const app = await testApp();
  const { db } = app;
  const kind = makeSpecies(db);
  const made = ['A', 'B', 'C', 'U'].map((code) => makeCounted(db, kind.id, 140, { code }));
  const [A, B, C, U] = made as [(typeof made)[0], (typeof made)[0], (typeof made)[0], (typeof made)[0]];
  const entry = (cultureId: number, onDay: string, fields: Partial<Parameters<typeof appendEntry>[1]>) =>
    appendEntry(db, { via: 'page', kind: 'feed', madeAt: testNow, cultureId, onDay, ...fields });
  entry(A.id, '2026-10-30', { otherCultureId: U.id });
  entry(A.id, '2026-11-10', { kind: 'mites' });
  for (const { id } of [B, C]) entry(id, '2026-11-05', { otherCultureId: A.id });
  const promise = (number: number, cultureId: number, state: 'draft' | 'confirmed') => {
    const order = makeOrder(db, { number, state, customerId: makeCustomer(db).id });
    const line = makeLine(db, order.id, kind.id, { groups: 1 });
    const row = { orderLineId: line.id, cultureId, groups: 1, animals: 14, madeAt: testNow };
    db.insert(allocations)
      .values({ ...row, state: 'reserved' })
      .run();
  };
  promise(31, B.id, 'confirmed');
  promise(32, C.id, 'draft');
  for (const { id } of made) refreshEstimate(db, id, testToday, testNow);
  return { ...app, A, B, C, U };
}

const statuses = ({ db }: TestApp) =>
  db
    .select({ code: cultures.code, status: cultures.status })
    .from(cultures)
    .orderBy(cultures.code)
    .all()
    .map(({ code, status }) => `${code} ${status}`);
const quarantines = ({ db }: TestApp) =>
  db.select().from(standingDiary).where(eq(standingDiary.kind, 'quarantine')).orderBy(standingDiary.id).all();
const spare = ({ db }: TestApp, id: number) => readEstimate(db, id)?.spareGroups ?? 0;
const promised = ({ db }: TestApp) =>
  db
    .select()
    .from(allocations)
    .all()
    .map(({ state }) => state);

describe('quarantine of the chosen', () => {
  it('ticks all that can have been reached beforehand, and shows their open reservations', async () => {
    const { owner, A, B, C, U } = await bench();
    const { text } = await owner.get('/cultures/A/trace?since=2026-11-01');
    const boxes = [...text.matchAll(/name="chosen" value="(\d+)"( checked)?/g)].map(([, id, on]) => [
      Number(id),
      !!on,
    ]);
    expect(boxes).toEqual([
      [A.id, true],
      [B.id, true],
      [C.id, true],
      [U.id, false],
    ]);
    expect(text).toContain('2 orders wait for animals of the cultures in the first list.');
    expect(text).toContain('1 group (14 animals)');
  });

  it('is written in each diary with its reason, takes them off the surplus, and tells which orders still wait', async () => {
    const app = await bench();
    const { owner, A, B, C } = app;
    expect([spare(app, B.id), spare(app, C.id)].every((groups) => groups > 0)).toBe(true);
    const answer = await owner.post(path, { ...asked, chosen: [A.id, B.id, C.id], words: script });
    expect([answer.status, answer.headers.location]).toEqual([
      303,
      '/cultures/A/trace?what=mites&since=2026-11-01&seen=2026-11-10',
    ]);
    expect(statuses(app)).toEqual(['A quarantine', 'B quarantine', 'C quarantine', 'U active']);
    expect(quarantines(app)).toMatchObject([
      { cultureId: A.id, otherCultureId: null, note: `Mites were seen here on 10 Nov 2026.\n${script}` },
      {
        cultureId: B.id,
        otherCultureId: A.id,
        note: `Contact with A, where mites were seen on 10 Nov 2026: fed to B on 5 Nov 2026.\n${script}`,
        onDay: testToday,
        madeBy: cast.owner.id,
      },
      { cultureId: C.id },
    ]);
    for (const { id } of [A, B, C])
      expect(readEstimate(app.db, id)).toMatchObject({ promisable: 0, health: 'quarantine' });
    expect(promised(app)).toEqual(['reserved', 'reserved']);
    const { text } = await owner.get(String(answer.headers.location));
    expect(text).toContain('In quarantine now: A, B, C.');
    expect(text).toContain('Animals of them are still promised: order 31 (1 group), order 32 (1 group).');
    expect(text).toContain('<a href="/orders/31">Order 31</a>');
    expect(text).toContain('2 orders wait for animals');
    expect(text.includes(`name="chosen" value="${B.id}`)).toBe(false);
    const surplus = (await owner.get('/surplus?show=spare')).text;
    expect(surplus.includes('/cultures/B"')).toBe(false);
    expect((await owner.get('/cultures/B')).text.includes('<script>alert')).toBe(false);
  });

  it('sets the reservations free in the same step where that is ticked, and no others', async () => {
    const app = await bench();
    const { owner, B } = app;
    const answer = await owner.post(path, { ...asked, chosen: B.id, release: 'yes' });
    expect(promised(app)).toEqual(['released', 'reserved']);
    const states = app.db.select({ number: orders.number, state: orders.state }).from(orders).all();
    expect(states).toEqual([
      { number: 31, state: 'draft' },
      { number: 32, state: 'draft' },
    ]);
    expect(app.db.select().from(orderHistory).all()).toMatchObject([
      { note: 'Released 1 group from B. The order is a draft again.' },
    ]);
    const { text } = await owner.get(String(answer.headers.location));
    expect(text).toContain('1 reserved group set free.');
  });

  it('acts once when sent twice, and leaves alone what is in quarantine already', async () => {
    const app = await bench();
    const { owner, A, B } = app;
    const form = { ...asked, chosen: [A.id, B.id] };
    const first = await owner.post(path, form, { formKey: 'the-same-form-key-01' });
    const second = await owner.post(path, form, { formKey: 'the-same-form-key-01' });
    expect([second.status, second.headers.location]).toEqual([303, first.headers.location]);
    const third = await owner.post(path, { ...asked, chosen: [A.id, B.id, B.id] });
    expect(quarantines(app)).toHaveLength(2);
    const { text } = await owner.get(String(third.headers.location));
    expect(text).toContain('2 cultures were in quarantine or retired already.');
    expect(text.includes('>Undo<')).toBe(false);
  });

  it('is undone from the notice, whole, and only once', async () => {
    const app = await bench();
    const { owner, A, B, C } = app;
    const before = [A, B, C].map(({ id }) => readEstimate(app.db, id));
    const answer = await owner.post(path, { ...asked, chosen: [A.id, B.id, C.id] });
    const { text } = await owner.get(String(answer.headers.location));
    const [, form = ''] = /action="\/cultures\/A\/trace\/undo"([\s\S]*?)<\/form>/.exec(text) ?? [];
    const fields = Object.fromEntries(
      [...form.matchAll(/name="(at|freed|what|since|seen|back|sort)" value="([^"]*)"/g)].map(
        ([, name, value]) => [name, value],
      ),
    ) as Record<string, string>;
    app.clock.at += 60_000;
    const undone = await owner.post('/cultures/A/trace/undo', fields, { formKey: 'undo-form-key-000001' });
    expect(undone.headers.location).toBe(answer.headers.location);
    expect(statuses(app)).toEqual(['A active', 'B active', 'C active', 'U active']);
    for (const [i, { id }] of [A, B, C].entries()) {
      const { workedOutAt: _at, ...now } = readEstimate(app.db, id)!;
      expect(before[i]).toMatchObject(now);
    }
    const entries = app.db.select().from(diary).all().length;
    await owner.post('/cultures/A/trace/undo', fields, { formKey: 'undo-form-key-000001' });
    await owner.post('/cultures/A/trace/undo', fields);
    expect(app.db.select().from(diary).all()).toHaveLength(entries);
    expect((await owner.get('/cultures/A/trace')).text).toContain('Nothing of it was left to take back.');
    expect((await owner.post('/cultures/A/trace/undo', { ...asked, at: 'x' })).status).toBe(400);
  });

  it('brings a wrong form back as it was ticked, and writes nothing', async () => {
    const app = await bench();
    const { owner, B, U } = app;
    const stranger = makeCounted(app.db, makeSpecies(app.db).id, 50);
    for (const [fields, words] of [
      [{}, 'Tick at least one culture.'],
      [{ chosen: ['x', '-1', '0'] }, 'Tick at least one culture.'],
      [{ chosen: [B.id, stranger.id] }, 'Some of the ticked cultures are not in this list any more.'],
      [{ chosen: [B.id, 999_999] }, 'Some of the ticked cultures are not in this list any more.'],
      [{ chosen: [B.id], words: 'x'.repeat(501) }, 'This is too long: 500 characters at most.'],
      [{ chosen: [B.id], since: '2026-11-26' }, 'That day is still to come.'],
    ] as [Record<string, string | (string | number)[]>, string][]) {
      const { status, text } = await owner.post(path, { ...asked, ...fields });
      expect([words, status, text.includes(words)]).toEqual([words, 422, true]);
    }
    const back = await owner.post(path, { ...asked, chosen: [U.id], words: `${script}${'x'.repeat(500)}` });
    expect(back.text).toContain(`name="chosen" value="${U.id}" checked`);
    expect(back.text.includes(`name="chosen" value="${B.id}" checked`)).toBe(false);
    expect(back.text).toContain('&lt;script>alert(1)&lt;/script>');
    expect(back.text.includes('<script>alert')).toBe(false);
    expect(quarantines(app)).toEqual([]);
    expect((await owner.post('/cultures/NO-1/trace/quarantine', { ...asked, chosen: [B.id] })).status).toBe(
      404,
    );
    expect((await owner.post(path, { ...asked, chosen: [B.id] }, { csrf: 'wrong' })).status).toBe(403);
  });

  it('takes along what was too much for the list, and what was taken off the list not', async () => {
    const app = await bench();
    const { owner, db, A } = app;
    const [fed, ...others] = manyCultures(db, 603);
    for (const toId of [fed!, ...others])
      writeContact(
        db,
        { onDay: '2026-11-06', fromId: A.id, toId, kind: 'feeders' },
        { madeBy: null, madeAt: testNow },
      );
    const { text } = await owner.get('/cultures/A/trace?since=2026-11-01&what=mites');
    expect(text).toContain('605 cultures and no order can have got it');
    expect(text).toContain('5 more are not listed here.');
    expect(text).toContain('And 5 more cultures that can have been reached, not listed above');
    const listed = [...text.matchAll(/name="listed" value="(\d+)"/g)].map(([, id]) => Number(id));
    expect(listed).toHaveLength(600);
    await owner.post(path, { ...asked, chosen: [A.id, listed[5]!], listed, rest: 'yes' });
    const put = quarantines(app).map(({ cultureId }) => cultureId);
    expect(put).toHaveLength(7);
    expect(put.filter((id) => listed.includes(id))).toEqual([listed[5]]);
  });

  it('is done wholly or not at all, whichever statement fails; so is its undo', async () => {
    const app = await bench();
    const { db, sqlite, A, B, C } = app;
    const culture = db.select().from(cultures).where(eq(cultures.id, A.id)).get()!;
    const by = { personId: cast.owner.id, now: testNow + 1, today: testToday, locale: 'en-GB' };
    const form = { listed: [], release: 'yes' as const, words: '' };
    const full: Asked = { ...asked, noted: { seenOn: '2026-11-10', clearOn: null } };
    const steps: Record<string, (tx: Db) => unknown> = {
      'quarantine-the-chosen': (tx) =>
        quarantineChosen(tx, culture, full, { ...form, chosen: [A.id, B.id, C.id] }, by),
      'take-the-step-back---': (tx) =>
        takeBackStep(tx, culture, { madeAt: by.now, onDay: testToday }, { ...by, now: testNow + 2 }),
    };
    for (const [key, work] of Object.entries(steps)) {
      const before = printOf(sqlite);
      const act = () => once(db, { key, personId: by.personId, path, now: testNow }, work);
      let at = 1;
      while (withFaultAt(sqlite, at, act)) {
        expect([key, at, sqlite.inTransaction, printOf(sqlite) === before]).toEqual([key, at, false, true]);
        at += 1;
      }
      expect(at).toBeGreaterThan(20);
      expect(printOf(sqlite)).not.toBe(before);
    }
    expect(statuses(app)).toEqual(['A active', 'B active', 'C active', 'U active']);
    expect(promised(app)).toEqual(['released', 'released']);
  });
});
