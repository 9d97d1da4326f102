import { firstOfferSettings, saveOfferSettings } from '../../server/offers/queries.ts';
import { keepRequest } from '../../server/offers/queries-requests.ts';
import type { Db } from '../../server/plumbing/open-database.ts';
import type { OrderRequest } from '../../shared/offers/request-form.ts';
import { testNow } from './test-app.ts';

let made = 0;

/** A request for two groups of a species by Rita, who is nobody's customer. */
export function makeRequest(db: Db, speciesId: number, overrides: Partial<OrderRequest> = {}) {
  made += 1;
  const request: OrderRequest = {
    name: 'Rita Reader',
    email: 'rita@example.org',
    street: '',
    postcode: '',
    city: 'Exampletown',
    region: '',
    country: 'DE',
    note: '',
    wanted: [{ speciesId, groups: 2 }],
    ...overrides,
  };
  const formKey = `form-of-a-request-${made}`;
  const prices = new Map([[speciesId, 1250]]);
  return keepRequest(db, { formKey, request, language: 'de', currency: 'EUR', prices, now: testNow });
}

/** The public list, turned on, and a request that waits. */
export function furnishOffers(db: Db, speciesId: number) {
  saveOfferSettings(db, { ...firstOfferSettings, isOn: true });
  makeRequest(db, speciesId);
}
