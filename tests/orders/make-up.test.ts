import { describe, expect, it } from 'vitest';
import { animalsPerGroup, groupsToSpare, leaving, makeUpWords } from '../../shared/orders/make-up.ts';
import { isOrderState, mayBecome, orderStates } from '../../shared/orders/states.ts';

const duo = { groupAdults: 10, groupJuveniles: 2, groupExtras: 2 };

describe('a group', () => {
  it('takes its extras along', () => {
    expect(animalsPerGroup(duo)).toBe(14);
    expect(leaving(2, duo, 'juveniles')).toEqual({ adults: 20, juveniles: 8, animals: 28 });
    expect(leaving(2, duo, 'adults')).toEqual({ adults: 24, juveniles: 4, animals: 28 });
    expect(makeUpWords({ ...duo, groupExtras: 1 })).toBe('10 adults, 2 juveniles, 1 extra');
    expect(makeUpWords({ groupAdults: 0, groupJuveniles: 12, groupExtras: 0 })).toBe('12 juveniles');
  });
});

describe('groups to spare', () => {
  it('are bound by the animals that are not promised, and by the calculation', () => {
    expect(groupsToSpare({ promisable: 40, promised: 14, spareGroups: 2 }, duo, duo)).toBe(1);
    expect(groupsToSpare({ promisable: 100, promised: 0, spareGroups: 2 }, duo, duo)).toBe(2);
    expect(groupsToSpare({ promisable: 10, promised: 30, spareGroups: 0 }, duo, duo)).toBe(0);
  });

  it('are bound by the animals alone for another make-up', () => {
    const dozen = { ...duo, groupExtras: 0 };
    expect(groupsToSpare({ promisable: 40, promised: 0, spareGroups: 2 }, dozen, duo)).toBe(3);
  });
});

describe('the states of an order', () => {
  it('follow one another', () => {
    const steps = orderStates.flatMap((from) =>
      orderStates.filter((to) => mayBecome(from, to)).map((to) => `${from} > ${to}`),
    );
    expect(steps).toEqual([
      'draft > confirmed',
      'draft > cancelled',
      'confirmed > draft',
      'confirmed > packed',
      'confirmed > cancelled',
      'packed > draft',
      'packed > confirmed',
      'packed > sent',
      'sent > packed',
      'sent > closed',
      'closed > sent',
    ]);
    expect(isOrderState('draft')).toBe(true);
    expect(isOrderState('lost')).toBe(false);
  });
});
