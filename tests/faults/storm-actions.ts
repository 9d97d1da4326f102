import type { Stage } from './storm.ts';

export type Fields = Record<string, string | string[]>;
export type Sent = { path: string; fields: Fields; photo?: Buffer };
/** One form of an action, filled in from a page where it must be, and from where the forms before it led to. */
export type Step = (page: (path: string) => Promise<string>, came: readonly string[]) => Promise<Sent> | Sent;
/** What it leaves is found again by its name, as often as it says. */
export type Action = { name: string; times: number; steps: Step[] };

const simple = (name: string, path: string, fields: Fields, times = 1): Action => ({
  name,
  times,
  steps: [() => ({ path, fields })],
});

const found = (text: string, pattern: RegExp): string => pattern.exec(text)?.[1] ?? '';
const seenOn = (text: string) => found(text, /name="seen" value="(\w+)"/);

/** From the first word to the last payment: eight forms, each of which writes into several tables. */
function order(stage: Stage, name: string, culture: Stage['cultures'][number]): Action {
  const at = (came: readonly string[]) => `/orders/${found(came[0] ?? '', /^\/orders\/(\d+)/)}`;
  const put = (last: string, fields: Fields): Step => {
    return (_, came) => ({ path: `${at(came)}${last}`, fields });
  };
  let line = '';
  const first = { customer: String(stage.customerId), 'species-0': String(stage.speciesId), 'groups-0': '1' };
  return {
    name,
    times: 1,
    steps: [
      () => ({ path: '/orders', fields: { ...first, note: name } }),
      async (page, came) => {
        line = found(await page(at(came)), /groups-(\d+)-\d+/);
        return { path: `${at(came)}/reserve`, fields: { [`groups-${line}-${culture.id}`]: '1' } };
      },
      put('/confirm', { tell: 'yes' }),
      (_, came) => ({ path: `${at(came)}/pack`, fields: { [`tick-${line}-${culture.id}`]: 'yes' } }),
      put('/sent', { sentOn: stage.today, tell: 'yes' }),
      async (page, came) => {
        const seen = seenOn(await page(`${at(came)}/invoice?suppliedOn=${stage.today}`));
        return { path: `${at(came)}/invoice`, fields: { suppliedOn: stage.today, seen } };
      },
      put('/payments', { kind: 'payment', amount: '12.50', way: '1', paidOn: stage.today, note: name }),
      put('/close', {}),
    ],
  };
}

/** A stranger fills a basket on the public list, and the owner makes a customer and a draft of it. */
function basket(stage: Stage, name: string): Action {
  const asked = { name, email: 'rita@example.org', country: 'DE', note: 'asked for' };
  return {
    name,
    times: 1,
    steps: [
      () => ({ path: '/available', fields: { ...asked, [`groups-${stage.speciesId}`]: '1' } }),
      async (page) => {
        const text = await page('/requests');
        const id = found(text, new RegExp(`/requests/(\\d+)"[^>]*>${name.replace('.', '\\.')}<`));
        return { path: `/requests/${id}/take`, fields: {} };
      },
    ],
  };
}

/** A photo of the culture, and the count that is made on it. */
function countOnPhoto(stage: Stage, name: string, at: string): Action {
  return {
    name,
    times: 1,
    steps: [
      () => ({ path: `${at}/photo`, fields: {}, photo: stage.photo }),
      (_, came) => {
        const taken = found(came[0] ?? '', /\/photo\/(\d+)$/);
        return {
          path: `${at}/count`,
          fields: { method: 'visible', counted: '900', photo: taken, taps: '[]', note: `${name} on a photo` },
        };
      },
    ],
  };
}

const changeName = (stage: Stage, name: string): Action => ({
  name,
  times: 1,
  steps: [
    async (page) => {
      const seen = seenOn(await page('/settings/business'));
      return { path: '/settings/business', fields: { ...stage.business, businessName: name, seen } };
    },
  ],
});

const customer = (name: string) =>
  simple(name, '/customers', { name, country: 'DE', units: 'metric', paper: 'A4' });

/** Fewer than all strangers together may ask for within the hour, since a form may be sent again. */
const mostBaskets = 20;

/** What one client does, one action after the other, over every kind of thing that is written down here. */
export function* actionsOf(stage: Stage, client: number): Generator<Action> {
  for (let number = 0; ; number += 1) {
    const name = `mark ${client}-${number}.`;
    const nth = (more: number) => stage.cultures[(client * 5 + number + more) % stage.cultures.length]!;
    const culture = nth(0);
    const at = `/cultures/${culture.code}`;
    const today = { onDay: stage.today };
    const check = { ...today, note: name, moisture: 'moist' };
    switch ((number + client) % 12) {
      case 0:
        yield simple(name, `${at}/write`, { kind: 'note', note: name });
        break;
      case 1: {
        const despite = ['reserve', 'unsafe'];
        const { enclosureId } = culture;
        const fields = { adults: '20', enclosureId: String(enclosureId), note: name, despite };
        yield simple(name, `${at}/split`, { ...fields, reason: 'a storm' });
        break;
      }
      case 2:
      case 8:
        yield order(stage, name, culture);
        break;
      case 3:
        yield simple('all well', `${at}/all-well`, today);
        break;
      case 4:
        yield simple(name, `${at}/count`, { method: 'full', counted: '20000', note: name });
        break;
      case 5:
        yield simple(name, `${at}/check`, { ...check, note: `${name} whole`, waterMl: '5', food: 'carrot' });
        break;
      case 6:
        yield countOnPhoto(stage, name, at);
        break;
      case 7:
        yield client === 0 ? changeName(stage, name) : customer(name);
        break;
      case 9:
        yield simple(
          'all well',
          '/round/all-well',
          { ...today, codes: [0, 1, 2].map((n) => nth(n).code) },
          3,
        );
        break;
      case 10:
        if (client === 1 && stage.baskets < mostBaskets) {
          stage.baskets += 1;
          yield basket(stage, name);
        } else yield simple(name, `${at}/check`, check);
        break;
      default:
        yield simple(name, `${at}/check`, check);
    }
  }
}
