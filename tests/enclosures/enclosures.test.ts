import { eq } from 'drizzle-orm';
import { describe, expect, it } from 'vitest';
import { audit, enclosures } from '../../server/schema/tables.ts';
import { readBusiness, saveBusiness } from '../../server/settings/queries.ts';
import { makeCulture, makeEnclosure, makeSpecies } from '../support/stock.ts';
import { testApp } from '../support/test-app.ts';

const box = {
  name: '6 litre box',
  shape: 'box',
  length: '290',
  lengthUnit: 'mm',
  width: '190',
  widthUnit: 'mm',
  height: '11',
  heightUnit: 'cm',
  substrateDepth: '65',
  substrateDepthUnit: 'mm',
  ventilation: 'two mesh-covered holes',
};
type Tested = Awaited<ReturnType<typeof testApp>>;

function inUsUnits({ db }: Tested) {
  const { id: _id, madeAt, ...values } = readBusiness(db);
  saveBusiness(db, { ...values, units: 'us' }, madeAt);
}

/** The mark in the edit form: what it was filled from. */
async function versionOf({ owner }: Tested, id: number) {
  const page = await owner.get(`/enclosures/${id}/edit`);
  return /name="version" value="([^"]+)"/.exec(page.text)?.[1] ?? '';
}

describe('who may see and change enclosures', () => {
  it('is anybody on the staff for the list, the owner for the rest', async () => {
    const { db, owner, helper, outsider } = await testApp();
    const { id } = makeEnclosure(db);
    expect((await helper.get('/enclosures')).text).not.toContain('/enclosures/new');
    for (const path of ['/enclosures', '/enclosures/new', '/enclosures/preview', `/enclosures/${id}/edit`]) {
      expect((await owner.get(path)).status, path).toBe(200);
      expect((await helper.get(path)).status, path).toBe(path === '/enclosures' ? 200 : 403);
      expect((await outsider.get(path)).headers.location, path).toBe(
        `/sign-in?next=${encodeURIComponent(path)}`,
      );
    }
    for (const path of ['', `/${id}/edit`, `/${id}/retire`, `/${id}/bring-back`]) {
      expect((await helper.post(`/enclosures${path}`, box)).status, path).toBe(403);
      expect((await outsider.post(`/enclosures${path}`, box)).headers.location, path).toBe('/sign-in');
    }
    expect(db.select().from(enclosures).all()).toHaveLength(1);
  });

  it('says of an unknown one that it is not here', async () => {
    const { owner } = await testApp();
    for (const id of ['1', '0', '-1', '1.5', 'abc', '99999999999999999999']) {
      expect((await owner.get(`/enclosures/${id}/edit`)).status, id).toBe(404);
      for (const action of ['edit', 'retire', 'bring-back'])
        expect((await owner.post(`/enclosures/${id}/${action}`, box)).status, id).toBe(404);
    }
  });

  it('takes no form without its token', async () => {
    const { db, owner } = await testApp();
    expect((await owner.post('/enclosures', box, { csrf: 'wrong' })).status).toBe(403);
    expect(db.select().from(enclosures).all()).toHaveLength(0);
  });
});

describe('writing an enclosure down', () => {
  it('stores millimetres, whatever unit was used, and shows the litres', async () => {
    const { db, owner } = await testApp();
    expect((await owner.post('/enclosures', box)).headers.location).toBe('/enclosures');
    expect(db.select().from(enclosures).get()).toMatchObject({
      name: '6 litre box',
      lengthMm: 290,
      widthMm: 190,
      heightMm: 110,
      substrateDepthMm: 65,
      diameterMm: null,
      measured: true,
    });
    const list = (await owner.get('/enclosures')).text;
    expect(list).toContain('6 litre box is written down.');
    expect(list).toContain('3.6\u00a0L'); // 29 x 19 x 6.5 cm
    expect(list).toContain('6.1\u00a0L'); // 29 x 19 x 11 cm
  });

  it('takes only the measures of the shape', async () => {
    const { db, owner } = await testApp();
    await owner.post('/enclosures', {
      ...box,
      shape: 'frustum',
      topDiameter: '4 1/2',
      topDiameterUnit: 'in',
      bottomDiameter: '4',
      bottomDiameterUnit: 'in',
    });
    expect(db.select().from(enclosures).get()).toMatchObject({
      shape: 'frustum',
      lengthMm: null,
      widthMm: null,
      topDiameterMm: 114.3,
      bottomDiameterMm: 101.6,
    });
  });

  it('acts once when the form is sent twice, and answers the same', async () => {
    const { db, owner } = await testApp();
    const first = await owner.post('/enclosures', box, { formKey: 'the-same-form-key-01' });
    const second = await owner.post('/enclosures', box, { formKey: 'the-same-form-key-01' });
    expect([first.status, second.status]).toEqual([303, 303]);
    expect(db.select().from(enclosures).all()).toHaveLength(1);
  });

  it('brings a wrong form back with what was typed', async () => {
    const { db, owner } = await testApp();
    const answer = await owner.post('/enclosures', {
      ...box,
      name: '<b>box</b>',
      length: 'long',
      width: '',
      substrateDepth: '20',
      substrateDepthUnit: 'cm',
      ventilation: 'some holes',
    });
    expect(answer.status).toBe(422);
    expect(answer.text).toContain('value="long"');
    expect(answer.text).toContain('some holes');
    expect(answer.text).toContain('&lt;b>box&lt;/b>');
    expect(answer.text).toContain('Write a number, such as 12 or 0.5');
    const measured = await owner.post('/enclosures', { ...box, width: '', substrateDepth: '200' });
    expect(measured.text).toContain('Fill this in.');
    expect(measured.text).toContain('Must not be deeper than the enclosure is high.');
    const slip = await owner.post('/enclosures', { ...box, length: '290', lengthUnit: 'in' });
    expect(slip.text).toContain('Longer than five metres: check the unit.');
    expect((await owner.post('/enclosures', { ...box, shape: 'sphere' })).text).toContain('Choose a shape.');
    expect(db.select().from(enclosures).all()).toHaveLength(0);
  });

  it('refuses a name that is taken, also by one that is no longer used', async () => {
    const { db, owner } = await testApp();
    const { id } = makeEnclosure(db, { name: '6 LITRE BOX' });
    expect((await owner.post('/enclosures', box)).text).toContain('Another enclosure has this name already.');
    db.update(enclosures).set({ retiredAt: 1 }).where(eq(enclosures.id, id)).run();
    expect((await owner.post('/enclosures', box)).text).toContain('Bring it back, or choose another name.');
  });

  it('draws what is typed so far', async () => {
    const { owner } = await testApp();
    const query = new URLSearchParams({ ...box, name: '' });
    const preview = await owner.get(`/enclosures/preview?${query}`, { 'HX-Request': 'true' });
    expect(preview.text).toContain('<svg');
    expect(preview.text).toContain('3.6\u00a0L of substrate');
    expect(preview.text).not.toContain('<html');
    expect((await owner.get('/enclosures/preview?shape=box&length=x')).text).not.toContain('<svg');
  });
});

describe('changing an enclosure', () => {
  it('in inches moves nothing that was left as it was', async () => {
    const tested = await testApp();
    const { db, owner } = tested;
    inUsUnits(tested);
    const before = makeEnclosure(db, { name: 'Box', lengthMm: 123.456, measured: false });
    const page = (await owner.get(`/enclosures/${before.id}/edit`)).text;
    expect(page).toContain('value="4.86"'); // 123.456 mm in inches
    expect(page).toContain('These measures were assumed');
    const fields: Record<string, string> = { name: 'Box', shape: 'box', ventilation: before.ventilation };
    for (const [, name, value] of page.matchAll(
      /name="(length|width|height|substrateDepth)" type="text" value="([^"]*)"/g,
    ))
      fields[name ?? ''] = value ?? '';
    expect(Object.keys(fields)).toHaveLength(7);
    const version = await versionOf(tested, before.id);
    await owner.post(`/enclosures/${before.id}/edit`, { ...fields, version });
    expect(db.select().from(enclosures).get()).toEqual({ ...before, measured: true });
  });

  it('notices that somebody else saved meanwhile, and shows both', async () => {
    const tested = await testApp();
    const { db, owner } = tested;
    const { id } = makeEnclosure(db, { name: 'Box' });
    const version = await versionOf(tested, id);
    expect((await owner.post(`/enclosures/${id}/edit`, { ...box, version })).status).toBe(303);
    const late = await owner.post(`/enclosures/${id}/edit`, { ...box, name: 'Old box', version });
    expect(late.status).toBe(409);
    expect(late.text).toContain('Olive Owner saved this');
    expect(late.text).toContain('6 litre box');
    expect(late.text).toContain('value="Old box"');
    const again = /name="version" value="([^"]+)"/.exec(late.text)?.[1] ?? '';
    expect(
      (await owner.post(`/enclosures/${id}/edit`, { ...box, name: 'Old box', version: again })).status,
    ).toBe(303);
    expect(db.select().from(enclosures).get()?.name).toBe('Old box');
  });

  it('keeps what was typed when it is wrong, and says who changed what', async () => {
    const tested = await testApp();
    const { db, owner } = tested;
    const { id } = makeEnclosure(db, { name: 'Box' });
    const version = await versionOf(tested, id);
    const wrong = await owner.post(`/enclosures/${id}/edit`, { ...box, height: '0', version });
    expect([wrong.status, wrong.text.includes('value="290"')]).toEqual([422, true]);
    await owner.post(`/enclosures/${id}/edit`, { ...box, version });
    const [row] = db
      .select()
      .from(audit)
      .where(eq(audit.subject, `enclosure ${id}`))
      .all();
    expect(row).toMatchObject({ action: 'changed', personId: 'person-owner' });
    expect(JSON.parse(row?.after ?? '')).toMatchObject({ name: '6 litre box', lengthMm: 290 });
  });
});

describe('an enclosure that is no longer used', () => {
  it('keeps its cultures, is not offered, and comes back with Undo', async () => {
    const { db, owner } = await testApp();
    const { id } = makeEnclosure(db, { name: 'Old tub' });
    makeSpecies(db, { homeEnclosureId: id });
    makeCulture(db, { enclosureId: id });
    makeCulture(db, { enclosureId: id, status: 'retired' });
    expect((await owner.get('/enclosures')).text).toContain('1 culture, home of 1 species');
    await owner.post(`/enclosures/${id}/retire`);
    const list = (await owner.get('/enclosures')).text;
    expect(list).toContain('Old tub is not offered any more. 1 culture in it stays as it is.');
    expect(list).toContain('Undo');
    expect((await owner.get('/species/new?group=isopod')).text).not.toContain('Old tub');
    await owner.post(`/enclosures/${id}/bring-back`);
    expect((await owner.get('/species/new?group=isopod')).text).toContain('Old tub');
    expect(db.select().from(enclosures).where(eq(enclosures.id, id)).get()?.retiredAt).toBeNull();
  });
});
