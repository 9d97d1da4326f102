import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cupsNeeded } from '../../shared/documents/cups-needed.ts';
import { hoursBefore, inPackingOrder } from '../../shared/documents/packing-order.ts';
import { parcelWeight } from '../../shared/documents/parcel-weight.ts';
import { placeForPack } from '../../shared/documents/place-for-pack.ts';
import { standCups } from '../../shared/documents/stand-cups.ts';

const box = { lengthMm: 200, widthMm: 150, heightMm: 110 };
const round = { name: 'round', lengthMm: 90, widthMm: 90, heightMm: 60, count: 2 };

describe('cups in a box', () => {
  it('stand in rows and layers, the tallest at the bottom', () => {
    expect(standCups(box, [round])).toEqual({
      fits: true,
      layers: 1,
      heightMm: 60,
      freeMm: 50,
      front: [
        { name: 'round', xMm: 0, yMm: 0, lengthMm: 90, heightMm: 60 },
        { name: 'round', xMm: 90, yMm: 0, lengthMm: 90, heightMm: 60 },
      ],
    });
    // one row of two: 90 + 90 is deeper than 150, so the third needs a layer, and 120 is higher than 110
    expect(standCups(box, [{ ...round, count: 3 }])).toEqual({
      fits: false,
      why: 'too many cups',
      name: 'round',
    });
    const low = { name: 'low', lengthMm: 70, widthMm: 70, heightMm: 40, count: 1 };
    expect(standCups(box, [low, round])).toMatchObject({ fits: true, layers: 2, heightMm: 100, freeMm: 10 });
    expect(standCups(box, [])).toMatchObject({ fits: true, layers: 0, freeMm: 110 });
  });

  it('are turned where that helps, and refused where nothing does', () => {
    const long = { name: 'long', lengthMm: 140, widthMm: 190, heightMm: 30, count: 1 };
    expect(standCups(box, [long])).toMatchObject({ fits: true, front: [{ lengthMm: 190 }] });
    for (const more of [{ heightMm: 111 }, { lengthMm: 201, widthMm: 151 }])
      expect(standCups(box, [{ ...long, ...more }])).toMatchObject({ fits: false, why: 'cup too large' });
    expect(
      standCups({ lengthMm: 1e5, widthMm: 1e5, heightMm: 1e5 }, [{ ...round, count: 1e9 }]),
    ).toMatchObject({
      fits: false,
    });
  });

  it('never take more room than the box has, whatever is given', () => {
    const mm = fc.integer({ min: 1, max: 400 });
    const size = fc.record({ lengthMm: mm, widthMm: mm, heightMm: mm });
    const cups = fc.array(
      fc.tuple(size, fc.integer({ min: 0, max: 20 })).map(([of, count]) => ({ ...of, name: 'c', count })),
      { maxLength: 4 },
    );
    fc.assert(
      fc.property(size, cups, (given, some) => {
        const stood = standCups(given, some);
        if (!stood.fits) return;
        expect(stood.heightMm + stood.freeMm).toBeCloseTo(given.heightMm);
        const volume = some.reduce((sum, c) => sum + c.count * c.lengthMm * c.widthMm * c.heightMm, 0);
        expect(volume).toBeLessThanOrEqual(given.lengthMm * given.widthMm * given.heightMm + 1e-6);
        for (const cup of stood.front) {
          expect(cup.xMm + cup.lengthMm).toBeLessThanOrEqual(given.lengthMm);
          expect(cup.yMm + cup.heightMm).toBeLessThanOrEqual(given.heightMm);
        }
      }),
    );
  });

  it('are as many as the groups want', () => {
    expect(cupsNeeded({ groups: 3, animalsPerGroup: 14, animalsPerCup: null })).toBe(3);
    expect(cupsNeeded({ groups: 3, animalsPerGroup: 14, animalsPerCup: 10 })).toBe(6);
    expect(cupsNeeded({ groups: 2, animalsPerGroup: 0, animalsPerCup: 10 })).toBe(2);
  });
});

describe('a pack', () => {
  const pack = { effect: 'warms', count: 1, smallestBoxL: 3, mostInBox: 1 } as const;
  const standing = standCups(box, [round]);

  it('lies over the cups, with room for its air', () => {
    expect(placeForPack(box, pack, standing, 40)).toEqual({ ok: true, freeMm: 50 });
    expect(placeForPack(box, pack, null, 40)).toEqual({ ok: true, freeMm: null });
  });

  it.each([
    ['box too small', { ...pack, smallestBoxL: 5 }, standing, 40],
    ['too many packs', { ...pack, count: 2 }, standing, 40],
    ['no room over the cups', pack, standing, 60],
    ['cups do not fit', pack, standCups(box, [{ ...round, count: 9 }]), 40],
  ] as const)('is refused: %s', (why, needs, cups, room) => {
    expect(placeForPack(box, needs, cups, room)).toMatchObject({ ok: false, why });
  });

  it('says what there is and what it needs', () => {
    const small = { lengthMm: 100, widthMm: 100, heightMm: 100 };
    expect(placeForPack(small, pack, null, 40)).toEqual({
      ok: false,
      why: 'box too small',
      has: 1,
      needs: 3,
    });
  });
});

describe('a packing day', () => {
  it('begins with what leaves first, then follows the shelves', () => {
    const orders = [
      { number: 1, dispatchBy: null, walk: 'a' },
      { number: 2, dispatchBy: '15:00', walk: 'b' },
      { number: 3, dispatchBy: '15:00', walk: 'a' },
      { number: 4, dispatchBy: '15:00', walk: null },
      { number: 5, dispatchBy: '09:30', walk: 'z' },
      { number: 6, dispatchBy: null, walk: 'a' },
    ];
    expect(inPackingOrder(orders).map(({ number }) => number)).toEqual([5, 3, 2, 4, 1, 6]);
  });

  it('starts heat packs in time, the day before if it must', () => {
    expect(hoursBefore('16:00', 2)).toEqual({ time: '14:00', daysBefore: 0 });
    expect(hoursBefore('01:00', 2.5)).toEqual({ time: '22:30', daysBefore: 1 });
    expect(hoursBefore('00:00', 48)).toEqual({ time: '00:00', daysBefore: 2 });
  });

  it('weighs what is known and names the rest', () => {
    const weight = parcelWeight([
      { what: 'box', count: 1, eachG: 180 },
      { what: 'cups', count: 2, eachG: 8 },
      { what: 'packs', count: 0, eachG: 90 },
      { what: 'animals', count: 28, eachG: null },
    ]);
    expect([weight.knownG, weight.unknown]).toEqual([196, ['animals']]);
  });
});
