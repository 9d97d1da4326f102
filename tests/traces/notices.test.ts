import { describe, expect, it } from 'vitest';
import { appendEntry } from '../../server/cultures/queries-diary.ts';
import { orderHistory } from '../../server/schema/tables.ts';
import { type Trouble, troubles } from '../../shared/traces/form.ts';
import { draftNotice } from '../../views/traces/draft.ts';
import { makeCustomer, makeOrder } from '../support/orders.ts';
import { makeCulture } from '../support/stock.ts';
import { type TestApp, testApp, testNow } from '../support/test-app.ts';

const path = '/cultures/A/trace/notices';
const asked = { what: 'mites', since: '2026-11-01', seen: '2026-11-10', back: '90', sort: 'day' };
const script = '<script>alert(1)</script>';

/** Mites in A; animals of A went into order 31, of B (fed from A) into order 32, which is still here. */
async function bench() {
  const app = await testApp();
  const { db } = app;
  const [A, B] = ['A', 'B'].map((code) => makeCulture(db, { code }).id) as [number, number];
  const entry = (cultureId: number, onDay: string, fields: Partial<Parameters<typeof appendEntry>[1]>) =>
    appendEntry(db, { via: 'page', kind: 'check', madeAt: testNow, cultureId, onDay, ...fields });
  const carla = makeCustomer(db, { name: `Carla ${script}`, email: 'carla+x@example.org' }).id;
  const mute = makeCustomer(db, { name: 'Mo Mute', email: '' }).id;
  const sent = makeOrder(db, { number: 31, state: 'sent', customerId: carla });
  const here = makeOrder(db, { number: 32, state: 'packed', customerId: mute });
  entry(A, '2026-11-01', { mitesSeen: false });
  entry(A, '2026-11-02', { kind: 'harvest', animals: 14, orderId: sent.id });
  entry(B, '2026-11-03', { kind: 'feed', otherCultureId: A });
  entry(B, '2026-11-04', { kind: 'harvest', animals: 28, orderId: here.id });
  entry(A, '2026-11-10', { kind: 'mites' });
  return { ...app, sent, here };
}
const history = ({ db }: TestApp) => db.select().from(orderHistory).all();

describe('the notices', () => {
  it('are drafted for each order that got animals, with a letter to send where an address is known', async () => {
    const { owner } = await bench();
    const { status, text } = await owner.get(path);
    expect(status).toBe(200);
    expect(text).toContain('2 customers are not told yet.');
    expect(text).toContain(
      'On 10 November 2026 we saw mites in one of our cultures. Animals of your order 31 come from that culture.',
    );
    expect(text).toContain('Animals of your order 32 come from a culture that had contact with that one.');
    expect(text).toContain('This box is still here: hold it back');
    expect(text).toContain('No e-mail address is written down of this customer');
    expect(text.includes('<script>alert')).toBe(false);
    const letters = [...text.matchAll(/href="(mailto:[^"]+)"/g)].map(([, href = '']) =>
      href.replaceAll('&amp;', '&'),
    );
    expect(letters).toHaveLength(1);
    const letter = new URL(letters[0]!);
    expect(letter.pathname).toBe('carla%2Bx@example.org');
    expect([...letter.searchParams.keys()]).toEqual(['subject', 'body']);
    expect(letter.searchParams.get('body')).toContain(`Dear Carla ${script},\r\n\r\nOn 10 November`);
  });

  it('are kept in the order’s history when they are told, in the owner’s own words', async () => {
    const app = await bench();
    const { owner, sent } = app;
    const words = `Dear Carla,\r\n${script} have a look, please.`;
    const answer = await owner.post(
      path,
      { ...asked, order: 31, text: words },
      { formKey: 'the-same-form-key-01' },
    );
    expect([answer.status, answer.headers.location]).toEqual([
      303,
      `${path}?what=mites&since=2026-11-01&seen=2026-11-10`,
    ]);
    await owner.post(path, { ...asked, order: 31, text: words }, { formKey: 'the-same-form-key-01' });
    expect(history(app)).toMatchObject([
      {
        orderId: sent.id,
        state: 'sent',
        note: `Told the customer about A (mites):\nDear Carla,\n${script} have a look, please.`,
        madeBy: 'person-owner',
      },
    ]);
    const { text } = await owner.get(String(answer.headers.location));
    expect(text).toContain('1 customer is not told yet.');
    expect(text).toContain('Told on <time');
    const order = (await owner.get('/orders/31')).text;
    expect(order).toContain('have a look, please.');
    expect(order.includes('<script>alert')).toBe(false);
  });

  it('bring a wrong form back with its words, beside its own order, and write nothing', async () => {
    const app = await bench();
    const { owner } = app;
    for (const [fields, words] of [
      [{ order: 31, text: ' \n ' }, 'Write what they were told.'],
      [{ order: 32, text: 'x'.repeat(3001) }, 'This is too long: 3000 characters at most.'],
    ] as const) {
      const { status, text } = await owner.post(path, { ...asked, ...fields });
      expect([status, text.includes(words), text.includes(`href="#order-${fields.order}-text"`)]).toEqual([
        422,
        true,
        true,
      ]);
      expect(text).toContain('we saw mites in one of our cultures');
    }
    expect((await owner.post(path, { ...asked, order: 99, text: 'x' })).status).toBe(409);
    expect((await owner.post(path, { ...asked, order: 'x', text: 'x' })).status).toBe(409);
    expect((await owner.post(path, { ...asked, since: '2026-11-26', order: 31, text: 'x' })).status).toBe(
      422,
    );
    expect((await owner.post(path, { ...asked, order: 31, text: 'x' }, { csrf: 'wrong' })).status).toBe(403);
    expect(history(app)).toEqual([]);
  });

  it('are the owner’s, of cultures that are there; none is drafted where no order is concerned', async () => {
    const { owner, helper, outsider, app } = await bench();
    expect((await helper.get(path)).status).toBe(403);
    expect((await helper.post(path, { ...asked, order: 31, text: 'x' })).status).toBe(403);
    expect((await outsider.get(path)).status).toBe(303);
    expect((await owner.get('/cultures/NO-1/trace/notices')).status).toBe(404);
    expect((await owner.get(`${path}?since=2026-11-26`)).status).toBe(422);
    expect((await app.inject({ method: 'DELETE', url: path })).statusCode).toBe(404);
    const none = await owner.get(`${path}?since=2026-11-10`);
    expect([none.status, none.text.includes('No order got animals in that time.')]).toEqual([200, true]);
  });
});

describe('a draft', () => {
  const about = {
    seenOn: '2026-11-10',
    order: 31,
    customerName: 'Carla Customer',
    isHere: false,
    isDirect: true,
    harvests: [{ scientificName: 'Exemplum primum', onDay: '2026-11-02', animals: 14 }],
    business: { name: 'Test Bench', email: 'bench@example.org' },
    locale: 'en-GB',
  };

  it.each(troubles)(
    'about %s says what was seen, when, what to look for and do, and to release nothing',
    (what: Trouble) => {
      const text = draftNotice({ ...about, what });
      for (const part of [
        'Dear Carla Customer,',
        'On 10 November 2026',
        '14 Exemplum primum, packed on 2 November 2026',
        'What to look for:',
        'What to do:',
        'Never put animals or substrate outdoors.',
        'ask a vet who knows invertebrates',
        'With kind regards\nTest Bench\nbench@example.org',
      ])
        expect(text).toContain(part);
      expect(text.length).toBeLessThan(2000);
      expect(text).not.toMatch(/undefined|null|!|fault|blame/);
    },
  );

  it('to somebody whose box is still here asks for nothing', () => {
    const text = draftNotice({ ...about, what: 'mites', isHere: true });
    expect(text).toContain('Your order has not left us yet.');
    expect(text).not.toContain('What to do:');
  });
});
