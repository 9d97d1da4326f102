import { eq } from 'drizzle-orm';
import { beforeEach, describe, expect, it } from 'vitest';
import { parcelStock, putBackIntoStock, takeFromStock } from '../../server/parcels/queries-stock.ts';
import { audit, boxes, boxLogs, packs } from '../../server/schema/tables.ts';
import { conductanceOf } from '../../shared/parcels/conductance.ts';
import { conductivities } from '../../shared/parcels/handbook.ts';
import { type TestApp, testApp } from '../support/test-app.ts';

let t: TestApp;
beforeEach(async () => {
  t = await testApp();
});

const box = {
  name: 'Small foam',
  length: '200',
  width: '150',
  height: '100',
  wall: '20',
  material: 'expanded polystyrene',
  emptyMass: '120',
  price: '3.50',
  left: '2',
};
const heat = { kind: 'heat', name: 'Warm 40', mass: '90', watts: '3', hours: '40', price: '1.20', left: '1' };

/** Nine hours of a litre of water from 40 degrees in a room of 20, through 0.25 W/K. */
const log = [
  'hours,inside,outside',
  ...Array.from(
    { length: 19 },
    (_, i) => `${i / 2},${(20 + 20 * Math.exp(-i / 2 / (4186 / 900))).toFixed(3)},20`,
  ),
].join('\n');
const file = (text: string) => ({ field: 'file', name: 'log.csv', bytes: Buffer.from(text) });
const contents = { mass: '1000', heatCapacity: '4.186' };

describe('boxes and packs', () => {
  it('starting ones are added once, marked as to be measured, with their sources', async () => {
    expect((await t.owner.get('/parcels/stock')).text).toContain('No boxes or packs yet');
    await t.owner.post('/parcels/stock/starting');
    await t.owner.post('/parcels/stock/starting');
    const { text } = await t.owner.get('/parcels/stock');
    expect(text.match(/to be measured/g)?.length).toBe(3);
    const { conductivitySource } = t.db.select().from(boxes).where(eq(boxes.name, 'Cardboard, plain')).get()!;
    expect(conductivitySource).toContain('from memory');
    expect(
      t.db
        .select()
        .from(packs)
        .all()
        .every(({ source }) => source.length > 10),
    ).toBe(true);
  });

  it('a box is written down, shown with what its wall lets through, edited, retired and brought back', async () => {
    await t.owner.post('/parcels/boxes', box);
    const stored = t.db.select().from(boxes).get()!;
    expect(stored).toMatchObject({ lengthMm: 200, wallMm: 20, priceMinor: 350, numberLeft: 2 });
    expect(stored.conductivityWPerMK).toBe(conductivities['expanded polystyrene'].value);
    // 0.1708 m2 over 1/8 + 0.02/0.035 + 1/15: the worked example of the walls.
    expect((await t.helper.get('/parcels/stock')).text).toContain('0.224\u00a0W/K');
    const page = await t.owner.get(`/parcels/boxes/${stored.id}/edit`);
    const version = /name="version" value="([^"]+)"/.exec(page.text)?.[1] ?? '';
    await t.owner.post(`/parcels/boxes/${stored.id}/edit`, { ...box, left: '', version });
    expect(t.db.select().from(boxes).get()?.numberLeft).toBeNull();
    const late = await t.owner.post(`/parcels/boxes/${stored.id}/edit`, { ...box, wall: '30', version });
    expect(late.status).toBe(409);
    expect(late.text).toContain('value="30"');
    await t.owner.post(`/parcels/boxes/${stored.id}/retire`);
    expect(parcelStock(t.db).boxes).toEqual([]);
    await t.owner.post(`/parcels/boxes/${stored.id}/bring-back`);
    expect(parcelStock(t.db).boxes).toHaveLength(1);
  });

  it('nonsense comes back with what was typed and a message beside the field', async () => {
    const cases: [object, RegExp][] = [
      [{ length: '-2' }, /Must be more than 0/],
      [{ wall: '900' }, /Thicker than 20 cm/],
      [{ length: '10', width: '10', height: '10', wall: '50' }, /Thicker than the box is wide/],
      [{ material: 'own figure' }, /Write the figure/],
      [{ price: '1,250' }, /thousands/],
      [{ left: '1.5' }, /whole number/],
      [{ name: '' }, /Give it a name/],
    ];
    for (const [wrong, words] of cases) {
      const answer = await t.owner.post('/parcels/boxes', { ...box, note: 'stays', ...wrong });
      expect(answer.status).toBe(422);
      expect(answer.text).toMatch(words);
      expect(answer.text).toContain('stays');
    }
    const long = await t.owner.post('/parcels/packs', { ...heat, hours: '2', warmUp: '3' });
    expect(long.text).toContain('Must not be longer than it lasts.');
    const dry = {
      kind: 'melting',
      name: 'Dry',
      mass: '500',
      melting: '-78',
      latent: '571',
      heatCapacity: '1',
      startTemp: '-79',
    };
    expect((await t.owner.post('/parcels/packs', dry)).text).toContain('No pack for parcels melts there');
    expect(t.db.select().from(boxes).all()).toEqual([]);
    expect(t.db.select().from(packs).all()).toEqual([]);
  });

  it('only the owner changes them; a helper reads and measures', async () => {
    await t.owner.post('/parcels/boxes', box);
    expect((await t.helper.post('/parcels/boxes', box)).status).toBe(403);
    expect((await t.helper.get('/parcels/boxes/1/edit')).status).toBe(403);
    expect((await t.helper.post('/parcels/boxes/1/logs/1/take')).status).toBe(403);
    expect((await t.helper.get('/parcels/boxes/1/measure')).status).toBe(200);
    expect((await t.outsider.get('/parcels/stock')).status).toBe(303);
    expect((await t.owner.get('/parcels/boxes/9/edit')).status).toBe(404);
    expect((await t.owner.get('/parcels/boxes/x/measure')).status).toBe(404);
  });

  it('packing takes one box and its packs, or says what is short and takes nothing', async () => {
    await t.owner.post('/parcels/boxes', box);
    await t.owner.post('/parcels/packs', heat);
    const packed = { boxId: 1, packId: 1, packs: 1 };
    const left = () => [
      t.db.select().from(boxes).get()?.numberLeft,
      t.db.select().from(packs).get()?.numberLeft,
    ];
    expect(takeFromStock(t.db, packed)).toEqual([]);
    expect(left()).toEqual([1, 0]);
    expect(takeFromStock(t.db, packed)).toEqual(['Warm 40']);
    expect(left()).toEqual([1, 0]);
    putBackIntoStock(t.db, packed);
    expect(left()).toEqual([2, 1]);
    const { packs: options } = parcelStock(t.db);
    expect(options[0]).toMatchObject({
      kind: 'heat',
      watts: 3,
      hours: 40,
      warmUpHours: 1,
      price: 120,
      most: 1,
    });
  });
});

describe('a box that is measured', () => {
  beforeEach(async () => {
    await t.owner.post('/parcels/boxes', box);
  });

  it('from a file: the fit is shown, taken over with one press, and kept with its log', async () => {
    const answer = await t.helper.upload('/parcels/boxes/1/measure', file(log), contents);
    expect(answer.headers.location).toBe('/parcels/boxes/1/logs/1');
    const { text } = await t.owner.get('/parcels/boxes/1/logs/1');
    expect(text).toContain('about 0.25\u00a0W/K');
    expect(text).toContain('<svg');
    expect(t.db.select().from(boxes).get()?.conductanceWPerK).toBeNull();
    await t.owner.post('/parcels/boxes/1/logs/1/take');
    const stored = t.db.select().from(boxes).get()!;
    expect(stored.conductanceWPerK).toBeCloseTo(0.25, 3);
    expect(stored.conductanceLogId).toBe(1);
    expect(conductanceOf(parcelStock(t.db).boxes[0]!)).toBe(stored.conductanceWPerK);
    expect(t.db.select().from(boxLogs).get()?.readings).toHaveLength(19);
    expect(t.db.select().from(audit).where(eq(audit.action, 'took a measurement')).get()?.subject).toBe(
      'box 1',
    );
    expect(() => t.db.update(boxLogs).set({ standardError: 9 }).run()).toThrow();
  });

  it('saving the box again keeps the measurement and its log; another figure drops the log', async () => {
    await t.helper.upload('/parcels/boxes/1/measure', file(log), contents);
    await t.owner.post('/parcels/boxes/1/logs/1/take');
    const save = async (change: object) => {
      const page = await t.owner.get('/parcels/boxes/1/edit');
      const version = /name="version" value="([^"]+)"/.exec(page.text)?.[1] ?? '';
      const conductance = /name="conductance"[^>]*value="([^"]+)"/.exec(page.text)?.[1] ?? '';
      await t.owner.post('/parcels/boxes/1/edit', { ...box, conductance, version, ...change });
      return t.db.select().from(boxes).get()!;
    };
    const before = t.db.select().from(boxes).get()!.conductanceWPerK;
    expect(await save({ price: '4' })).toMatchObject({ conductanceWPerK: before, conductanceLogId: 1 });
    expect(await save({ conductance: '0.4' })).toMatchObject({
      conductanceWPerK: 0.4,
      conductanceLogId: null,
    });
    expect(await save({ conductance: '' })).toMatchObject({ conductanceWPerK: null });
  });

  it('pasted nonsense gets a clear message, and what was pasted stays', async () => {
    const paste = (text: string) =>
      t.owner.upload('/parcels/boxes/1/measure', [], { ...contents, log: text });
    const cases: [string, RegExp][] = [
      ['', /Choose a file, or paste the log/],
      ['time,temperature\n0,40\n', /called inside/],
      ['hours,inside,outside\n0,40,20\n1,38,20\n', /hold only 2 lines/],
      [
        log.replaceAll(',20\n', ',40\n').replace(/,20$/, ',40'),
        /cooler in warmer air|no difference|nearly equal/,
      ],
      [log.replaceAll(/^(\d[\d.]*),([\d.]+),20$/gm, '$1,20.5,20'), /no difference/],
    ];
    for (const [text, words] of cases) {
      const answer = await paste(text);
      expect(answer.status, text.slice(0, 40)).toBe(422);
      expect(answer.text).toMatch(words);
      if (text !== '') expect(answer.text).toContain(text.split('\n')[1]);
    }
    expect(t.db.select().from(boxLogs).all()).toEqual([]);
  });
});
