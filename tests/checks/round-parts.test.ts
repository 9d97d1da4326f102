import fc from 'fast-check';
import { beforeEach, describe, expect, it } from 'vitest';
import { mostRows, roundParts } from '../../shared/checks/round-parts.ts';
import { makeCulture, makeEnclosure, makeEstimate, makePlace, makeSpecies } from '../support/stock.ts';
import { type TestApp, testApp } from '../support/test-app.ts';

describe('roundParts', () => {
  it('is as its example says', () => {
    const sizes = roundParts([30, 40, 30, 180], 80).map((part) => part.map(({ from, to }) => to - from));
    expect(sizes).toEqual([[30, 40], [30], [60], [60], [60]]);
    expect(roundParts([])).toEqual([]);
    expect(roundParts([0, 3, 0])).toEqual([[{ place: 1, from: 0, to: 3 }]]);
    expect(() => roundParts([1], 0)).toThrow(RangeError);
    expect(() => roundParts([1], Number.NaN)).toThrow(RangeError);
  });

  it('has every row once and in order, no part too long, and no place divided that would fit', () => {
    fc.assert(
      fc.property(
        fc.array(fc.nat({ max: 300 }), { maxLength: 40 }),
        fc.integer({ min: 1, max: 90 }),
        (rows, most) => {
          const parts = roundParts(rows, most);
          const walked = parts.flat().flatMap(({ place, from, to }) => {
            return Array.from({ length: to - from }, (_, i) => `${place}.${from + i}`);
          });
          expect(walked).toEqual(
            rows.flatMap((count, place) => Array.from({ length: count }, (_, i) => `${place}.${i}`)),
          );
          for (const part of parts) {
            const length = part.reduce((sum, { from, to }) => sum + to - from, 0);
            expect(length).toBeGreaterThan(0);
            expect(length).toBeLessThanOrEqual(most);
          }
          for (const [place, count] of rows.entries())
            if (count > 0 && count <= most)
              expect(parts.flat().filter((one) => one.place === place)).toHaveLength(1);
          // Two parts that follow each other would not fit into one.
          const total = rows.reduce((sum, count) => sum + count, 0);
          expect(parts.length).toBeLessThanOrEqual(1 + Math.ceil((3 * total) / most));
        },
      ),
    );
  });
});

const codesIn = (html: string) =>
  [...html.matchAll(/<li id="round-[^"]*"[^>]*data-code="([^"]+)"/g)].map((m) => m[1]!);
const undoOf = (html: string) => ({
  action: /<form action="(\/round\/undo[^"]*)"/.exec(html)?.[1] ?? '',
  ids: /name="ids" value="([^"]+)"/.exec(html)?.[1] ?? '',
});

/** Shelves with so many cultures each, all of them due: 'A-001' and on stand on the first, 'B-001' on the second. */
function stand({ db }: TestApp, shelves: Record<string, number>) {
  const speciesId = makeSpecies(db, { sellable: false }).id;
  const enclosureId = makeEnclosure(db).id;
  for (const [name, count] of Object.entries(shelves)) {
    const placeId = makePlace(db, { name: `Shelf ${name}`, shelfOrder: name }).id;
    for (let i = 1; i <= count; i += 1) {
      const code = `${name}-${String(i).padStart(3, '0')}`;
      const { id } = makeCulture(db, { code, speciesId, enclosureId, placeId });
      makeEstimate(db, id, { lastCheckOn: null, lastCountOn: null });
    }
  }
}

describe('a long round', () => {
  let app: TestApp;
  const get = async (path: string) => (await app.helper.get(path)).text;
  const left = (html: string, name: string) =>
    new RegExp(`>Shelf ${name}</a><span class="visually-hidden">, </span><span[^>]*>([^<]+)<`).exec(
      html,
    )?.[1];
  beforeEach(async () => {
    app = await testApp();
    stand(app, { A: 70, B: 100, C: 30 });
  });

  it('is shown in parts that can be walked by plain links, with the progress and the places of the whole', async () => {
    const pages = [await get('/round'), await get('/round?part=2'), await get('/round?part=3')];
    const codes = pages.map(codesIn);
    expect(codes.map((list) => list.length)).toEqual([70, 50, 80]);
    expect(new Set(codes.flat()).size).toBe(200);
    expect(codes.flat()).toEqual([...codes.flat()].sort());
    for (const page of pages) {
      expect(page).toContain('0 of 200 cultures done');
      expect(['A', 'B', 'C'].map((name) => left(page, name))).toEqual([
        '70 left of 70',
        '100 left of 100',
        '30 left of 30',
      ]);
    }
    expect(pages[0]).toContain('Part 1 of 3');
    expect(pages[0]).toContain('<a href="/round?part=2" rel="next"');
    expect(pages[0]).not.toContain('rel="prev"');
    expect(pages[2]).toContain('<a href="/round?part=2" rel="prev"');
    expect(pages[1]).toMatch(/Shelf B<span class="round-piece"> 1 to 50 of 100/);
    expect(pages[1]).toContain('All 50 shown here are well');
    expect(pages[2]).toContain('All 30 here are well');
    // A part that is not there is the last; what is no number is where work is left.
    expect(codesIn(await get('/round?part=99'))).toEqual(codes[2]);
    for (const odd of ['0', '-1', 'x', '1.5', ''])
      expect(codesIn(await get(`/round?part=${odd}`))).toEqual(codes[0]);
  });

  it('leads back to the same part after each thing that is done there, and after its undoing', async () => {
    const shown = codesIn(await get('/round?part=2'));
    const many = await app.helper.post('/round/all-well?from=round.2', { codes: shown });
    expect(many.headers.location).toBe('/round?part=2');
    const done = await get('/round?part=2');
    expect(done).toContain('50 cultures: all well.');
    expect(left(done, 'B')).toBe('50 left of 100');
    expect(done).toContain('All is done in this part.');
    expect(done).toMatch(
      /href="\/round\?part=3#place-\d+" class="button button-main"[^>]*>On to Shelf B: 50 left/,
    );
    const { action, ids } = undoOf(done);
    expect((await app.helper.post(action, { ids })).headers.location).toBe('/round?part=2');
    expect(left(await get('/round?part=2'), 'B')).toBe('100 left of 100');

    const at = `/cultures/${shown[0]}`;
    for (const path of [`${at}/all-well?from=round.2`, `${at}/check?from=round.2`]) {
      expect((await app.helper.post(path)).headers.location).toBe('/round?part=2');
      const undo =
        new RegExp(`action="(${at}/diary/\\d+/withdraw)"`).exec(await get('/round?part=2'))?.[1] ?? '';
      const back = { back: '/round?part=2', whole: 'yes' };
      expect((await app.helper.post(undo, back)).headers.location).toBe('/round?part=2');
    }
    expect(await get(`${at}/check?from=round.2`)).toContain(`action="${at}/check?from=round.2"`);
    const counted = { method: 'visible', counted: '9', from: 'round.2' };
    expect((await app.helper.post(`${at}/count`, counted)).headers.location).toBe('/round?part=2');
    const putOff = { what: 'check', days: '2', reason: 'just moulted' };
    expect((await app.helper.post(`${at}/put-off?from=round.2`, putOff)).headers.location).toBe(
      '/round?part=2',
    );
    // What is put off keeps its room: nothing moves from one part to another.
    expect(codesIn(await get('/round?part=2'))).toEqual(shown.slice(1));
    // No form leads out of the house.
    for (const from of ['round.0', 'round.x', 'round./..', '//example.org']) {
      const path = `/round/all-well?from=${encodeURIComponent(from)}`;
      expect((await app.helper.post(path, { codes: shown[1]! })).headers.location, from).toBe('/round');
    }
  });

  it('opens where work is left, and says so when there is none', async () => {
    const first = codesIn(await get('/round'));
    await app.helper.post('/round/all-well?from=round.1', { codes: first });
    expect(codesIn(await get('/round'))[0]).toBe('B-001');
    expect(await get('/round?part=3')).toContain('Back to');
    for (const part of [2, 3])
      await app.helper.post('/round/all-well', { codes: codesIn(await get(`/round?part=${part}`)) });
    const done = await get('/round');
    expect(done).toContain('The round is done.');
    expect(codesIn(done)).toEqual(first);
    expect(done).not.toContain('On to');
  });

  it('tells an open part of its rows, of what is left elsewhere, and of where to go on', async () => {
    await app.owner.post('/cultures/A-001/all-well');
    await app.owner.post('/cultures/C-001/all-well');
    const asked = new URLSearchParams({ codes: '["A-001"]', others: '["C-001"]', part: '1' });
    const text = await get(`/round/rows?${asked}`);
    expect(codesIn(text)).toEqual(['A-001']);
    expect(text).toContain('2 of 200 cultures done');
    expect(text).toMatch(/<span id="left-\d+"[^>]*hx-swap-oob="true">69 left of 70/);
    expect(text).toMatch(/<span id="left-\d+"[^>]*hx-swap-oob="true">29 left of 30/);
    expect(text).not.toContain('of 100<');
    expect(text).toContain('<nav id="round-onward"');
    const tap = await app.helper.post('/cultures/A-002/all-well?from=round.1', {}, { part: true });
    expect(codesIn(tap.text)).toEqual(['A-002']);
    expect(tap.text).toContain('68 left of 70');
    expect(tap.text).toContain('value="/round?part=1"');
  });

  it('stays a page that a phone can load, however many are due', async () => {
    stand(app, { D: 1_800 });
    const text = await get('/round?part=9');
    expect(text).toContain('0 of 2,000 cultures done');
    expect(codesIn(text).length).toBeLessThanOrEqual(mostRows);
    expect(Buffer.byteLength(text)).toBeLessThan(250_000);
  });
});
