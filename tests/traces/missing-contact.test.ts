import { describe, expect, it } from 'vitest';
import { contacts } from '../../server/schema/tables.ts';
import { allContacts, writeContact } from '../../server/traces/queries-contacts.ts';
import { makeCulture } from '../support/stock.ts';
import { cast, type TestApp, testApp, testNow, testToday } from '../support/test-app.ts';

const path = '/cultures/A/contacts';
const script = '<script>alert(1)</script>';
const good = { way: 'from', other: 'b', kind: 'feeders', onDay: '2026-11-20', note: script };

async function bench() {
  const app = await testApp();
  const [A, B, C] = ['A', 'B', 'C'].map((code) => makeCulture(app.db, { code }).id) as [
    number,
    number,
    number,
  ];
  return { ...app, A, B, C };
}
const said = ({ db }: TestApp) => allContacts(db).map((c) => `${c.date} ${c.from}>${c.to} ${c.kind}`);

describe('a contact that is missing', () => {
  it('is written down by whoever knows of it, both ways, and shown on the trace', async () => {
    const app = await bench();
    const { helper, owner } = app;
    expect((await helper.get('/cultures/A/trace')).text).toContain(`action="${path}"`);
    const answer = await helper.post(path, {
      ...good,
      what: 'mould',
      since: '2026-11-01',
      seen: '2026-11-22',
    });
    expect([answer.status, answer.headers.location]).toEqual([
      303,
      '/cultures/A/trace?what=mould&since=2026-11-01&seen=2026-11-22',
    ]);
    await owner.post(path, { ...good, way: 'to', other: 'C', kind: 'seeding' });
    expect(said(app)).toEqual(['2026-11-20 A>C seeding', '2026-11-20 B>A feeders']);
    expect(app.db.select().from(contacts).all()[0]).toMatchObject({ note: script, madeBy: cast.helper.id });
    const { text } = await helper.get(String(answer.headers.location));
    expect(text).toContain('feeders from <a class="code" href="/cultures/B" translate="no">B</a>');
    expect(text).toContain('old substrate to <a class="code" href="/cultures/C" translate="no">C</a>');
    expect(text).toContain('&lt;script>alert(1)&lt;/script>');
    expect(text.includes('<script>alert')).toBe(false);
  });

  it('acts once when sent twice, and is undone from the notice', async () => {
    const app = await bench();
    const { helper } = app;
    const first = await helper.post(path, good, { formKey: 'the-same-form-key-01' });
    const second = await helper.post(path, good, { formKey: 'the-same-form-key-01' });
    expect([second.status, second.headers.location]).toEqual([303, first.headers.location]);
    expect(said(app)).toHaveLength(1);
    const { text } = await helper.get(String(first.headers.location));
    expect(text).toContain('The contact with B is written down.');
    const [, action = ''] = /id="notice"[\s\S]*?action="([^"]+\/withdraw)"/.exec(text) ?? [];
    await helper.post(action, {}, { formKey: 'undo-form-key-000001' });
    const again = await helper.post(action, {}, { formKey: 'undo-form-key-000001' });
    expect(again.status).toBe(303);
    expect(said(app)).toEqual([]);
    expect((await helper.post(action, {})).status).toBe(409);
    expect(app.db.select().from(contacts).all()).toHaveLength(2);
  });

  it('comes back when it is wrong, with what was typed', async () => {
    const app = await bench();
    makeCulture(app.db, { code: 'NEW', foundedOn: testToday });
    for (const [fields, words] of [
      [{ other: 'NO-1' }, 'No culture here has the code NO-1.'],
      [{ other: script }, 'No culture here has the code &lt;script>'],
      [{ other: 'A' }, 'A is this culture itself.'],
      [{ other: 'NEW' }, 'NEW was founded only on 25 Nov 2026.'],
      [{ other: '' }, 'Write the code of the other culture.'],
      [{ onDay: '2026-11-26' }, 'That day is still to come.'],
      [{ onDay: '2026-01-09' }, 'A was founded only on 10 Jan 2026.'],
      [{ onDay: '2026-02-30' }, 'is not a day of the calendar'],
      [{ way: 'sideways' }, 'Choose one.'],
      [{ kind: 'split' }, 'Choose one.'],
      [{ note: 'x'.repeat(501) }, 'This is too long: 500 characters at most.'],
    ] as [Record<string, string>, string][]) {
      const { status, text } = await app.helper.post(path, { ...good, note: 'kept words', ...fields });
      expect([words, status, text.includes(words)]).toEqual([words, 422, true]);
      expect(text.includes('kept words') || 'note' in fields).toBe(true);
      expect(text.includes('<script>alert')).toBe(false);
    }
    expect(app.db.select().from(contacts).all()).toEqual([]);
  });

  it('is for whoever is signed in, of cultures that are there, and taken out only where it belongs', async () => {
    const app = await bench();
    const { outsider, helper, A, B } = app;
    expect((await outsider.post(path, good)).headers.location).toBe('/sign-in');
    expect((await helper.post(path, good, { csrf: 'wrong' })).status).toBe(403);
    expect((await helper.post('/cultures/NO-1/contacts', good)).status).toBe(404);
    expect((await helper.get(path)).status).toBe(404);
    const contact = { onDay: '2026-11-20', fromId: A, toId: B, kind: 'seeding' } as const;
    const id = writeContact(app.db, contact, { madeBy: null, madeAt: testNow });
    for (const wrong of [`/cultures/C/contacts/${id}`, `${path}/999`, `${path}/x`, `${path}/-1`])
      expect((await helper.post(`${wrong}/withdraw`)).status, wrong).toBe(404);
    expect(said(app)).toHaveLength(1);
    expect((await helper.post(`/cultures/B/contacts/${id}/withdraw`)).status).toBe(303);
    expect(said(app)).toEqual([]);
  });
});
