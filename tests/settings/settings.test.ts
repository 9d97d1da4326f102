import { describe, expect, it } from 'vitest';
import { audit } from '../../server/schema/tables.ts';
import { readBusiness } from '../../server/settings/queries.ts';
import { type TestApp, testApp } from '../support/test-app.ts';

const filled = {
  businessName: 'Leafmould Lane',
  address: '2 Example Road\r\nExampletown',
  email: 'lane@example.org',
  country: 'US',
  timeZone: 'America/New_York',
  currency: 'USD',
  locale: 'en-US',
  units: 'us',
  paper: 'Letter',
};

async function markIn(t: TestApp): Promise<string> {
  const page = await t.owner.get('/settings/business');
  expect(page.status).toBe(200);
  return /name="version" value="([^"]+)"/.exec(page.text)?.[1] ?? '';
}

describe('the settings', () => {
  it('show the business and lead to places and enclosures', async () => {
    const t = await testApp();
    const page = await t.owner.get('/settings');
    for (const words of [
      'Test Bench',
      '1 Example Lane, Exampletown',
      'Germany',
      'Europe/Berlin',
      'href="/places"',
      'href="/enclosures"',
    ])
      expect(page.text).toContain(words);
    expect((await t.helper.get('/settings')).status).toBe(403);
    expect((await t.helper.get('/settings/business')).status).toBe(403);
  });

  it('are changed as a whole, and the change is written down', async () => {
    const t = await testApp();
    const answer = await t.owner.post('/settings/business', { ...filled, version: await markIn(t) });
    expect([answer.status, answer.headers.location]).toEqual([303, '/settings']);
    expect(readBusiness(t.db)).toMatchObject({
      name: 'Leafmould Lane',
      address: '2 Example Road\nExampletown',
      country: 'US',
      timeZone: 'America/New_York',
      currency: 'USD',
      locale: 'en-US',
      units: 'us',
      paper: 'Letter',
    });
    expect((await t.owner.get('/settings')).text).toContain('Saved.');
    const notes = t.db.select().from(audit).all();
    expect(notes).toHaveLength(1);
    expect(notes[0]).toMatchObject({ action: 'changed settings', subject: 'business' });
    expect(JSON.parse(notes[0]?.before ?? '')).toMatchObject({ name: 'Test Bench', currency: 'EUR' });

    await t.owner.post('/settings/business', { ...filled, version: await markIn(t) });
    expect(t.db.select().from(audit).all()).toHaveLength(1);
  });

  it('say beside the field what is wrong and keep what was typed', async () => {
    const t = await testApp();
    const wrong = {
      ...filled,
      businessName: ' ',
      email: 'not an address',
      country: 'XX',
      timeZone: 'Mars/Olympus',
      currency: 'ABC',
      locale: 'tlh',
      units: 'stones',
      paper: 'A0',
      address: 'x'.repeat(501),
      version: await markIn(t),
    };
    const answer = await t.owner.post('/settings/business', wrong);
    expect(answer.status).toBe(422);
    expect(answer.text.match(/class="field-error"/g)).toHaveLength(9);
    expect(answer.text).toContain('not an address');
    expect(answer.text).toContain('x'.repeat(501));
    expect(readBusiness(t.db).name).toBe('Test Bench');
  });

  it('notice that somebody else saved meanwhile, and show both', async () => {
    const t = await testApp();
    const version = await markIn(t);
    await t.owner.post('/settings/business', { ...filled, version });
    const mine = { ...filled, email: 'mine@example.org', version };
    const answer = await t.owner.post('/settings/business', mine);
    expect(answer.status).toBe(409);
    expect(answer.text).toContain('Olive Owner saved this');
    expect(answer.text).toContain('lane@example.org');
    expect(answer.text).toContain('value="mine@example.org"');
    expect(readBusiness(t.db).email).toBe('lane@example.org');
    const versionNow = /name="version" value="([^"]+)"/.exec(answer.text)?.[1] ?? '';
    expect((await t.owner.post('/settings/business', { ...mine, version: versionNow })).status).toBe(303);
    expect(readBusiness(t.db).email).toBe('mine@example.org');
  });

  it('show script in a name as text', async () => {
    const t = await testApp();
    const businessName = '<script>alert(1)</script>';
    await t.owner.post('/settings/business', { ...filled, businessName, version: await markIn(t) });
    const page = await t.owner.get('/settings');
    expect(page.text).not.toContain('<script>alert');
    expect(page.text).toContain('&lt;script>alert(1)');
  });
});
