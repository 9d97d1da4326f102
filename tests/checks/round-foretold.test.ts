import { eq } from 'drizzle-orm';
import { describe, expect, it } from 'vitest';
import { renewalsWithin, substrateOf } from '../../server/checks/queries-substrate.ts';
import { appendEntry, type NewEntry } from '../../server/cultures/queries-diary.ts';
import { saveFeeder } from '../../server/feeders/queries.ts';
import { putOffs, speciesStages, standingDiary } from '../../server/schema/tables.ts';
import { openPlans } from '../../server/splits/queries-plans.ts';
import { substrateDue } from '../../shared/checks/substrate-due.ts';
import { addDays } from '../../shared/days.ts';
import { lookDue } from '../../shared/development/look-due.ts';
import { usualFeeder } from '../../shared/feeders/page-form.ts';
import { makeCulture, makeSpecies } from '../support/stock.ts';
import { type TestApp, testApp, testNow, testToday } from '../support/test-app.ts';

const ago = (days: number) => addDays(testToday, -days);
const write = (
  { db }: TestApp,
  cultureId: number,
  daysAgo: number,
  entry: Partial<NewEntry> & Pick<NewEntry, 'kind'>,
) =>
  appendEntry(db, { cultureId, onDay: ago(daysAgo), via: 'page', madeBy: null, madeAt: testNow, ...entry });
const rowOf = async ({ helper }: TestApp, code: string) =>
  (await helper.get('/round')).text.split('<li ').find((li) => li.includes(`/cultures/${code}"`)) ?? '';
const lastCheck = ({ db }: TestApp) =>
  db.select().from(standingDiary).where(eq(standingDiary.kind, 'check')).all().at(-1);
const stage = (speciesId: number, which: 'hatch' | 'adult') => ({
  speciesId,
  stage: which,
  coolC: 18,
  coolDays: 19,
  warmC: 25,
  warmDays: 8.5,
  source: 'own notes',
});

describe('a look for what was foretold', () => {
  it('is due from the first of its days, again after a look that found none, and given up in the end', () => {
    const range = { from: '2026-11-20', to: '2026-11-27' };
    const fromThen = { since: 'foretold', from: '2026-11-20', days: 0 };
    expect(lookDue({ ...range, notYetOn: null }, testToday)).toEqual(fromThen);
    expect(lookDue({ ...range, notYetOn: '2026-11-21' }, testToday)).toEqual({
      since: 'looked',
      from: '2026-11-21',
      days: 3,
    });
    expect(lookDue({ ...range, notYetOn: '2026-11-10' }, testToday)).toEqual(fromThen);
    expect(lookDue({ ...range, notYetOn: null }, '2026-12-11')).toEqual(fromThen);
    expect(lookDue({ ...range, notYetOn: null }, '2026-12-12')).toBeNull();
    expect(lookDue({ from: null, to: null, notYetOn: null }, testToday)).toBeNull();
  });

  it('stands on the round with its reason until somebody says what they found', async () => {
    const app = await testApp();
    const species = makeSpecies(app.db, { sellable: false });
    app.db.insert(speciesStages).values(stage(species.id, 'hatch')).run();
    const { id } = makeCulture(app.db, { code: 'Y-1', speciesId: species.id });
    write(app, id, 3, { kind: 'check', eggsSeen: true });
    expect(await rowOf(app, 'Y-1')).not.toContain('look for young');
    write(app, id, 12, { kind: 'check', eggsSeen: true });
    const row = await rowOf(app, 'Y-1');
    expect(row).toMatch(
      /look for young: eggs seen on 13 Nov, room not measured, hatch between 2\d Nov and \d+ (Nov|Dec)/,
    );
    // A look that says nothing of it leaves it open; one that found none puts it off by some days.
    await app.helper.post('/cultures/Y-1/all-well');
    expect(await rowOf(app, 'Y-1')).toContain('look for young');
    await app.helper.post('/cultures/Y-1/all-well', { lookedFor: 'no-young' });
    expect(lastCheck(app)).toMatchObject({ lookedFor: 'no-young', youngSeen: false });
    expect(await rowOf(app, 'Y-1')).toContain('Looked at today');
    app.clock.forward(3);
    expect(await rowOf(app, 'Y-1')).toContain('look for young');
    expect((await app.helper.get('/cultures/Y-1/check')).text).toContain('Looked for young');
    await app.helper.post('/cultures/Y-1/check', { lookedFor: 'young' });
    expect(lastCheck(app)).toMatchObject({ lookedFor: 'young', youngSeen: true });
    expect(await rowOf(app, 'Y-1')).not.toContain('look for young');
  });

  it('can wait with a reason like everything else', async () => {
    const app = await testApp();
    const species = makeSpecies(app.db, { sellable: false });
    app.db.insert(speciesStages).values(stage(species.id, 'hatch')).run();
    const { id } = makeCulture(app.db, { code: 'Y-1', speciesId: species.id });
    write(app, id, 12, { kind: 'check', eggsSeen: true });
    const fields = { what: 'young', days: 2, reason: 'just moulted' };
    expect((await app.helper.post('/cultures/Y-1/put-off', fields)).status).toBe(303);
    expect(app.db.select().from(putOffs).all()).toMatchObject([
      { what: 'young', untilOn: addDays(testToday, 2) },
    ]);
    const { text } = await app.helper.get('/round');
    expect(text).toContain('the look for young waits until');
    expect(text).not.toContain('eggs seen on');
  });
});

describe('a feeder culture on the round', () => {
  it('expects its first adults, then has to go before it breeds mites', async () => {
    const app = await testApp();
    const flies = makeSpecies(app.db, { animalGroup: 'fly', sellable: false });
    app.db.insert(speciesStages).values(stage(flies.id, 'adult')).run();
    saveFeeder(app.db, { speciesId: flies.id, ...usualFeeder.fly }, new Map());
    const { leadDays, productiveDays } = usualFeeder.fly;
    makeCulture(app.db, { code: 'F-1', speciesId: flies.id, foundedOn: ago(12) });
    makeCulture(app.db, { code: 'F-2', speciesId: flies.id, foundedOn: ago(leadDays + productiveDays - 1) });
    makeCulture(app.db, { code: 'F-3', speciesId: flies.id, foundedOn: ago(leadDays + productiveDays) });
    expect(await rowOf(app, 'F-1')).toContain('adults expected: started on 13 Nov');
    await app.helper.post('/cultures/F-1/all-well', { lookedFor: 'adults' });
    expect(await rowOf(app, 'F-1')).not.toContain('adults expected');
    expect(await rowOf(app, 'F-2')).not.toContain('retire it');
    expect(await rowOf(app, 'F-3')).toContain('spent, retire it before it breeds mites');
    expect(await rowOf(app, 'F-3')).toContain('/cultures/F-3/write?kind=retirement');
  });
});

describe('old substrate', () => {
  it('the worked example', () => {
    const facts = { foundedOn: '2025-06-01', renewedOn: null, everyMonths: 12 };
    expect(substrateDue(facts, testToday)).toMatchObject({
      dueOn: '2026-06-01',
      reason: 'substrate: 17 months old, renewed every 12 months',
    });
    expect(substrateDue({ ...facts, renewedOn: '2026-10-01' }, testToday)).toMatchObject({
      dueOn: '2027-10-01',
    });
    expect(substrateDue({ ...facts, everyMonths: null }, testToday)).toBeNull();
  });

  it('is named on the round, the page and the split form, and listed for the mix; written down, it is fresh', async () => {
    const app = await testApp();
    const species = makeSpecies(app.db, { sellable: false, substrateMonths: 12 });
    const { id } = makeCulture(app.db, { code: 'S-1', speciesId: species.id, foundedOn: ago(500) });
    makeCulture(app.db, { code: 'S-2', speciesId: species.id, foundedOn: ago(362) });
    const old = 'substrate: 16 months old, renewed every 12 months';
    expect(await rowOf(app, 'S-1')).toContain(old);
    for (const path of ['/cultures/S-1', '/cultures/S-1/split'])
      expect((await app.helper.get(path)).text).toContain(`Old ${old}`);
    const listed = () => renewalsWithin(app.db, testToday, 7).map(({ code, onDay }) => [code, onDay]);
    expect(listed()).toEqual([
      ['S-1', testToday],
      ['S-2', addDays(testToday, 3)],
    ]);
    await app.helper.post('/cultures/S-1/check', { substrate: 'mixed' });
    expect(substrateOf(app.db, id, testToday)).toMatchObject({ overdueDays: -365 });
    expect(await rowOf(app, 'S-1')).not.toContain(old);
    const { text } = await app.helper.get('/cultures/S-1');
    expect(text).toContain('substrate renewed, some of the old mixed in');
    expect(text).not.toContain('Old substrate');
    expect(listed()).toEqual([['S-2', addDays(testToday, 3)]]);
  });

  it('renewed at a split, it is written with the split and makes a planned one done', async () => {
    const app = await testApp();
    const species = makeSpecies(app.db, { sellable: false, substrateMonths: 12 });
    const culture = makeCulture(app.db, { code: 'S-1', speciesId: species.id, foundedOn: ago(500) });
    const { enclosureId } = culture;
    const planned = { what: 'repot', onDay: testToday, enclosureId, enclosures: 1 };
    expect((await app.owner.post('/cultures/S-1/plan', planned)).status).toBe(303);
    expect(openPlans(app.db)).toHaveLength(1);
    const form = {
      adults: 3,
      juveniles: 0,
      enclosureId,
      code: 'S-2',
      substrate: 'new',
      despite: ['unsafe', 'reserve'],
      reason: 'a test',
    };
    const answer = await app.owner.post('/cultures/S-1/split', { ...form, sure: 'exact' });
    expect(answer.status).toBe(303);
    expect((await app.helper.get('/cultures/S-1')).text).toContain('substrate all new');
    expect(openPlans(app.db)).toEqual([]);
  });
});

describe('feeder cultures to start', () => {
  async function planned() {
    const app = await testApp();
    const flies = makeSpecies(app.db, { animalGroup: 'fly', sellable: false, commonName: 'example fly' });
    const eater = makeSpecies(app.db, { sellable: false });
    makeCulture(app.db, { code: 'E-1', speciesId: eater.id });
    const figures = { leadDays: 7, productiveDays: 14, yield: 100, seedAdults: 0, safety: 1 };
    saveFeeder(app.db, { speciesId: flies.id, ...figures }, new Map([[eater.id, 60]]));
    const round = async () => (await app.helper.get('/round')).text;
    return { app, flies, round };
  }

  it('stand on the round until they are founded this week, as the plan says', async () => {
    const { app, flies, round } = await planned();
    const wanted = Number(/Start (\d+) example fly cultures?</.exec(await round())?.[1]);
    expect(wanted).toBeGreaterThan(0);
    expect((await app.helper.get('/feeders')).text).toContain(`Start ${wanted} culture`);
    expect(await round()).toContain(`/cultures/new?species=${flies.id}`);
    for (let i = 0; i < wanted; i += 1)
      makeCulture(app.db, { code: `F-${i}`, speciesId: flies.id, foundedOn: testToday });
    const done = await round();
    expect(done).not.toContain('Start one');
    expect(done).toContain('Started this week');
  });

  it('can be put off with a reason, and that can be taken back', async () => {
    const { app, flies, round } = await planned();
    const path = `/round/starts/${flies.id}/put-off`;
    expect((await app.helper.post(path, { days: 2, reason: '' })).status).toBe(422);
    expect((await app.helper.post(path, { days: 2, reason: 'no jars left' })).status).toBe(303);
    const waiting = await round();
    expect(waiting).toContain('no jars left');
    expect(waiting).not.toContain('Start one');
    const undo = /action="(\/round\/start-put-offs\/\d+\/undo)"/.exec(waiting)?.[1] ?? '';
    await app.helper.post(undo);
    expect(await round()).toContain('Start one');
    expect((await app.helper.get('/round/starts/999/put-off')).status).toBe(404);
  });
});
