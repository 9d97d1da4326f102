import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { mayStandIn } from '../../shared/places/form.ts';
import { type PlaceInTree, walkingOrder } from '../../shared/places/walking-order.ts';

const place = (id: number, parentId: number | null, name: string, shelfOrder = ''): PlaceInTree => ({
  id,
  parentId,
  name,
  shelfOrder,
});

describe('the walking order', () => {
  it('goes through each room, rack and shelf before the next', () => {
    const order = walkingOrder([
      place(1, null, 'Cellar', '002'),
      place(2, null, 'Room', '001'),
      place(3, 1, 'Rack 1', '002.001'),
      place(4, 3, 'Top', '002.001.001'),
      place(5, 2, 'Rack 1', '001.001'),
      place(6, 3, 'Floor'),
    ]);
    expect(order).toEqual([
      { id: 2, fullName: 'Room', shelfOrder: '001' },
      { id: 5, fullName: 'Room / Rack 1', shelfOrder: '001.001' },
      { id: 1, fullName: 'Cellar', shelfOrder: '002' },
      { id: 3, fullName: 'Cellar / Rack 1', shelfOrder: '002.001' },
      { id: 4, fullName: 'Cellar / Rack 1 / Top', shelfOrder: '002.001.001' },
      { id: 6, fullName: 'Cellar / Rack 1 / Floor', shelfOrder: '002.001.002' },
    ]);
  });

  it('puts new ones last, in the order they were made', () => {
    const order = walkingOrder([place(9, null, 'B'), place(3, null, 'A'), place(1, null, 'C', '001')]);
    expect(order.map(({ id }) => id)).toEqual([1, 3, 9]);
  });

  it('sorts as text just as one walks, and begins with the text of what it stands in', () => {
    const trees = fc.array(fc.nat(), { minLength: 1, maxLength: 60 }).map((seeds) =>
      // Each stands in an earlier one, or in none: a tree without circles.
      seeds.map((seed, i) =>
        place(i + 1, seed % (i + 1) === 0 ? null : seed % (i + 1), `P${i}`, String(seed % 7)),
      ),
    );
    fc.assert(
      fc.property(trees, (places) => {
        const order = walkingOrder(places);
        const texts = order.map(({ shelfOrder }) => shelfOrder);
        expect([...texts].sort()).toEqual(texts);
        expect(new Set(texts).size).toBe(places.length);
        const textOf = new Map(order.map(({ id, shelfOrder }) => [id, shelfOrder]));
        for (const { id, parentId } of places) {
          if (parentId !== null) expect(textOf.get(id)?.startsWith(`${textOf.get(parentId)}.`)).toBe(true);
        }
        // Written down and read again it stays as it is.
        const again = places.map((p) => ({ ...p, shelfOrder: textOf.get(p.id) ?? '' }));
        expect(walkingOrder(again)).toEqual(order);
      }),
      { seed: 20261125 },
    );
  });

  it('refuses a place in nowhere, and more than can be numbered', () => {
    expect(() => walkingOrder([place(1, 77, 'Shelf')])).toThrow(RangeError);
    const many = Array.from({ length: 1000 }, (_, i) => place(i + 1, null, `P${i}`));
    expect(() => walkingOrder(many)).toThrow('999');
    expect(walkingOrder(many.slice(1))).toHaveLength(999);
  });
});

describe('what may stand in what', () => {
  it('is something smaller in something larger', () => {
    expect(mayStandIn('room', null)).toBe(true);
    expect(mayStandIn('shelf', 'rack')).toBe(true);
    expect(mayStandIn('shelf', 'room')).toBe(true);
    expect(mayStandIn('shelf', null)).toBe(false);
    expect(mayStandIn('room', 'rack')).toBe(false);
    expect(mayStandIn('rack', 'rack')).toBe(false);
  });
});
