import { eq } from 'drizzle-orm';
import { describe, expect, it } from 'vitest';
import { movementOf, movementOfOrders } from '../../server/movement/queries.ts';
import { readRule, setRuleRetired, updateRule } from '../../server/movement/queries-rules.ts';
import { audit, customers, movementRules, orderHistory, orders } from '../../server/schema/tables.ts';
import { makeCounted } from '../support/counted-stock.ts';
import { makeRule } from '../support/movement.ts';
import { makeCustomer, makeLine, makeOrder } from '../support/orders.ts';
import { makeSpecies } from '../support/stock.ts';
import { type TestApp, testApp, testNow, testToday } from '../support/test-app.ts';

/** A draft to Germany whose only group is reserved. */
async function reserved(dispatchOn: string | null = null) {
  const app = await testApp();
  const kind = makeSpecies(app.db, { scientificName: 'Exemplum minor' });
  const culture = makeCounted(app.db, kind.id, 120);
  const order = makeOrder(app.db, { dispatchOn });
  const line = makeLine(app.db, order.id, kind.id);
  await app.owner.post('/orders/1/reserve', { [`groups-${line.id}-${culture.id}`]: 1 });
  const tick = { [`tick-${line.id}-${culture.id}`]: 'yes' };
  return { ...app, kind, order, tick };
}

const state = ({ db }: Pick<TestApp, 'db'>) => db.select().from(orders).get()?.state;

describe('an order that a movement rule forbids', () => {
  it('is not confirmed, and the page says which rule, why and what to do', async () => {
    const app = await reserved();
    makeRule(app.db, { name: 'No parcels <b>there</b>', genus: 'Exemplum', about: 'genus' });
    const answer = await app.owner.post('/orders/1/confirm');
    expect([answer.status, state(app)]).toEqual([409, 'draft']);
    for (const words of [
      'Order 1 may not go',
      'No parcels &lt;b>there&lt;/b>',
      'Exemplum minor',
      'This rule does not allow it.',
      'Take these animals off the order',
      'an office at example.org',
      'local law, the carrier and licensed practice decide'.replace('local', 'Local'),
    ])
      expect(answer.text, words).toContain(words);
    expect(app.db.select().from(orderHistory).where(eq(orderHistory.state, 'confirmed')).all()).toEqual([]);
    expect((await app.owner.get('/orders/1')).text.includes('May not go')).toBe(true);
    expect((await app.owner.get('/customers/1')).text.includes('May not go')).toBe(true);
  });

  it('is stopped at the bench and at the door by a rule that came later, and by a permit that ended since', async () => {
    const app = await reserved();
    const id = makeRule(app.db, { effect: 'permit', permitNumber: 'P-77', permitExpiresOn: testToday });
    expect((await app.owner.post('/orders/1/confirm')).status).toBe(303);
    app.clock.forward(1);
    const bench = await app.helper.get('/orders/1/pack');
    expect(bench.text).toContain('no longer valid');
    expect(bench.text).toContain('Ask the owner.');
    expect(bench.text).not.toContain('/movement');
    const packed = await app.helper.post('/orders/1/pack', app.tick);
    expect([packed.status, state(app)]).toEqual([409, 'confirmed']);
    updateRule(app.db, id, { permitExpiresOn: '2026-12-24' });
    expect((await app.helper.post('/orders/1/pack', app.tick)).status).toBe(303);
    updateRule(app.db, id, { effect: 'block', permitNumber: '', permitExpiresOn: null });
    const form = { sentOn: '2026-11-26', tracking: 'EX123' };
    const sent = await app.owner.post('/orders/1/sent', form);
    expect([sent.status, state(app)]).toEqual([409, 'packed']);
    expect(sent.text).toContain('value="EX123"');
    expect(
      (await app.owner.post('/orders/1/sent', { ...form, despite: '' })).text.includes('Write why'),
    ).toBe(true);
    expect(state(app)).toBe('packed');
    const despite = { ...form, despite: 'The carrier had fetched it already.' };
    expect((await app.owner.post('/orders/1/sent', despite)).status).toBe(303);
    expect(state(app)).toBe('sent');
    const told = app.db.select().from(orderHistory).all().at(-1)?.note;
    expect(told).toContain('Against the movement rules: The carrier had fetched it already.');
    expect(movementOf(app.db, 1, '2026-11-26').blocks).toHaveLength(1);
    expect((await app.owner.get('/orders/1')).text.includes('May not go')).toBe(false);
  });

  it('shows it when the address changes after it was confirmed', async () => {
    const app = await reserved();
    makeRule(app.db, { toCountry: 'ES', toRegion: 'ES-CN', name: 'Not to the islands' });
    expect((await app.owner.post('/orders/1/confirm')).status).toBe(303);
    expect((await app.owner.get('/orders/1')).text.includes('Not to the islands')).toBe(false);
    app.db.update(customers).set({ country: 'ES', region: '' }).run();
    const unsure = movementOf(app.db, 1, testToday);
    expect(unsure.warnings.map(({ reason }) => reason)).toEqual(['place unknown']);
    app.db.update(customers).set({ region: 'Canarias' }).run();
    expect((await app.owner.get('/orders/1')).text.includes('Not to the islands')).toBe(true);
    expect((await app.helper.post('/orders/1/pack', app.tick)).status).toBe(409);
  });

  it('is judged for the day it leaves, and for today where that day has passed', async () => {
    const app = await reserved('2026-12-01');
    makeRule(app.db, { effect: 'permit', permitNumber: 'P-1', permitExpiresOn: '2026-11-30' });
    const at = (today: string) => movementOf(app.db, 1, today);
    expect([at(testToday).day, at(testToday).blocks.length]).toEqual(['2026-12-01', 1]);
    app.db.update(movementRules).set({ permitExpiresOn: '2026-12-01' }).run();
    expect(at(testToday).blocks).toEqual([]);
    expect(at(testToday).permits).toEqual([
      { number: 'P-1', expiresOn: '2026-12-01', rule: expect.any(String) },
    ]);
    expect([at('2026-12-02').day, at('2026-12-02').blocks.length]).toEqual(['2026-12-02', 1]);
    expect(movementOfOrders(app.db, [1], testToday).get(1)).toEqual(at(testToday));
  });

  it('goes by no rule that was given up, and warns where a country is nonsense', async () => {
    const app = await reserved();
    const id = makeRule(app.db, { toCountry: 'DE' });
    setRuleRetired(app.db, id, testNow);
    expect(movementOf(app.db, 1, testToday).blocks).toEqual([]);
    setRuleRetired(app.db, id, null);
    const odd = makeOrder(app.db, { customerId: makeCustomer(app.db, { country: 'XX' }).id });
    makeLine(app.db, odd.id, app.kind.id);
    expect(movementOf(app.db, odd.id, testToday).warnings.map(({ reason }) => reason)).toEqual([
      'place unknown',
    ]);
  });
});

const good = {
  name: 'Snails abroad',
  fromCountry: 'DE',
  toCountry: 'FR',
  toRegion: 'Corse',
  border: 'country',
  about: 'all',
  effect: 'permit',
  words: 'Only with a paper.',
  source: 'example.org, page 3',
  checkedOn: testToday,
  permitNumber: 'P-9',
  permitExpiresOn: '2026-12-31',
};

describe('the table of movement rules', () => {
  it('begins with public rules by a tap, none of which stops anything', async () => {
    const app = await testApp();
    expect((await app.owner.get('/movement')).text.includes('Begin with 14 public rules')).toBe(true);
    for (let i = 0; i < 2; i += 1)
      expect((await app.owner.post('/movement/starting')).headers.location).toBe('/movement');
    expect(app.db.select().from(movementRules).all()).toHaveLength(14);
    expect(app.db.select().from(audit).where(eq(audit.action, 'added')).all()).toHaveLength(14);
    const page = (await app.owner.get('/movement')).text;
    expect(page.match(/verify before use/g)).toHaveLength(14);
    const filtered = (await app.owner.get('/movement?words=isopods&effect=warn&which=needs')).text;
    expect(filtered.match(/verify before use/g)).toHaveLength(1);
    expect((await app.owner.get('/movement?words=%3Cscript%3E')).text.includes('No rule like that.')).toBe(
      true,
    );
  });

  it('takes a rule, changes it, gives it up and brings it back', async () => {
    const { owner, db } = await testApp();
    expect((await owner.post('/movement', good)).status).toBe(303);
    expect(readRule(db, 1)).toMatchObject({ toRegion: 'FR-20R', about: 'all', permitNumber: 'P-9' });
    const page = (await owner.get('/movement/1/edit')).text;
    const version = /name="version" value="(\w+)"/.exec(page)?.[1] ?? '';
    expect((await owner.post('/movement/1/edit', { ...good, words: 'Never.', version })).status).toBe(303);
    const late = await owner.post('/movement/1/edit', { ...good, words: 'Always.', version });
    expect([late.status, readRule(db, 1)?.words]).toEqual([409, 'Never.']);
    await owner.post('/movement/1/retire');
    expect((await owner.get('/movement')).text.includes('/movement/1/bring-back')).toBe(true);
    await owner.post('/movement/1/bring-back');
    expect(readRule(db, 1)?.retiredAt).toBeNull();
  });

  it('takes nothing forged, and keeps what was typed', async () => {
    const { owner, helper, db } = await testApp();
    const bad: [string, Record<string, string>, string][] = [
      ['country', { toCountry: 'ZZ' }, 'Choose a country from the list.'],
      ['region', { toRegion: 'Atlantis' }, 'Not known as a region there'],
      ['region alone', { toCountry: '' }, 'Choose the country first'],
      ['genus', { about: 'genus:Nowhere' }, 'Choose the animals from the list.'],
      ['species', { about: 'species:99' }, 'Choose the animals from the list.'],
      ['group', { about: 'group:spider' }, 'Choose the animals from the list.'],
      ['effect', { effect: 'allow' }, 'Choose what it does.'],
      ['permit without a need', { effect: 'warn' }, 'A permit is written down below'],
      ['end without a number', { permitNumber: '' }, 'Write the number of the permit'],
      ['day', { permitExpiresOn: '2026-02-30' }, 'Write a day of the calendar'],
      ['day to come', { checkedOn: '2026-11-26' }, 'This day is still to come.'],
      ['no words', { words: ' ' }, 'Write the rule in your own words.'],
    ];
    for (const [what, fields, message] of bad) {
      const answer = await owner.post('/movement', {
        ...good,
        source: '<script>alert(1)</script>',
        ...fields,
      });
      expect(answer.status, what).toBe(422);
      expect(answer.text, what).toContain(message);
      expect(answer.text).not.toContain('<script>alert');
      expect(answer.text, what).toContain('&lt;script>alert(1)');
    }
    expect(db.select().from(movementRules).all()).toEqual([]);
    await owner.post('/movement', { ...good, id: '5', retiredAt: '1', madeAt: '1' });
    expect(readRule(db, 1)).toMatchObject({ id: 1, retiredAt: null, madeAt: testNow });
    const again = await owner.post('/movement', good);
    expect([again.status, again.text.includes('has this name already')]).toEqual([422, true]);
    expect((await helper.get('/movement')).status).toBe(403);
    expect((await helper.post('/movement', good)).status).toBe(403);
  });

  it('knows where parcels start, and takes no region of another country', async () => {
    const { owner, db } = await testApp();
    makeRule(db, { border: 'region' });
    expect((await owner.get('/movement')).text.includes('Some rules ask for your state')).toBe(true);
    expect((await owner.post('/movement/origin', { region: 'US-CA' })).status).toBe(422);
    expect((await owner.save('/movement/origin', { region: 'DE-BY' })).status).toBe(303);
    expect((await owner.get('/movement')).text.includes('Parcels start in Bayern, Germany')).toBe(true);
    expect((await owner.save('/movement/origin', {})).status).toBe(303);
    expect((await owner.get('/movement')).text.includes('Parcels start in Germany')).toBe(true);
  });
});
