import { describe, expect, it } from 'vitest';
import { allocations, customers, orderLines, orders } from '../../server/schema/tables.ts';
import { makeSpecies, makeStock } from '../support/stock.ts';
import { testApp, testNow } from '../support/test-app.ts';

describe('the database keeps a promise', () => {
  it('refuses more animals than were spare', async () => {
    const { db } = await testApp();
    const kind = makeSpecies(db);
    const culture = makeStock(db, kind.id, { promisable: 14, spareAnimals: 14, spareGroups: 1 });
    const customer = db
      .insert(customers)
      .values({
        name: 'A. Buyer',
        email: '',
        phone: '',
        street: '',
        postcode: '',
        city: '',
        region: '',
        country: 'DE',
        units: 'metric',
        paper: 'A4',
        note: '',
        madeAt: testNow,
      })
      .returning()
      .get();
    const order = db
      .insert(orders)
      .values({
        number: 1,
        customerId: customer.id,
        state: 'draft',
        currency: 'EUR',
        postageMinor: 0,
        note: '',
        version: 1,
        madeAt: testNow,
      })
      .returning()
      .get();
    const line = db
      .insert(orderLines)
      .values({
        orderId: order.id,
        position: 0,
        speciesId: kind.id,
        groups: 2,
        groupAdults: 10,
        groupJuveniles: 2,
        groupExtras: 2,
        priceMinor: 1250,
      })
      .returning()
      .get();
    const promise = (animals: number) =>
      db
        .insert(allocations)
        .values({
          orderLineId: line.id,
          cultureId: culture.id,
          groups: 1,
          animals,
          state: 'reserved',
          madeAt: testNow,
        })
        .run();
    expect(() => promise(15)).toThrow('not that many animals are spare');
    promise(14);
    expect(() => promise(1)).toThrow('not that many animals are spare');
  });
});
