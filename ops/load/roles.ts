import type { Person } from './person.ts';

/** What people of the peak know before they begin: what stands on labels and on the board of orders. */
export type World = {
  today: string;
  codes: string[];
  /** Orders that are still to be packed, and all that can be looked at. */
  openOrders: number[];
  orders: number[];
  invoices: number[];
  speciesIds: number[];
};

export type Act = (person: Person) => Promise<unknown>;
const pick = <T>(list: readonly T[]): T => list[Math.floor(Math.random() * list.length)] as T;

/** Draws one of these by its weight. */
function draw<T>(weighted: readonly (readonly [number, T])[]): T {
  let left = Math.random() * weighted.reduce((sum, [weight]) => sum + weight, 0);
  for (const [weight, one] of weighted) {
    left -= weight;
    if (left < 0) return one;
  }
  return weighted.at(-1)![1];
}

/** A helper walks along a part of the round, row by row, with an open ear for what others do. */
export function helperActs(world: World, index: number): Act {
  let rows: string[] = [];
  let parts = 1;
  let part = 1;
  let acts = 0;
  const news = new Set<string>();
  const openRound: Act = async (person) => {
    const { text } = await person.get('the round', part === 1 ? '/round' : `/round?part=${part}`);
    rows = [...text.matchAll(/ data-code="([^"]+)"/g)].map(([, code]) => code!);
    parts = Number(/data-parts="(\d+)"/.exec(text)?.[1] ?? 1);
    part = 1 + ((index + acts) % parts);
    person.listen('/round/live', (codes) => {
      for (const code of codes) news.add(code);
    });
  };
  const next = () => rows.shift() ?? pick(world.codes);
  const followNews: Act = async (person) => {
    const codes = [...news].slice(0, 20);
    news.clear();
    const asked = new URLSearchParams({ codes: JSON.stringify(codes), others: '[]', part: String(part) });
    if (codes.length > 0) await person.get('rows that changed', `/round/rows?${asked}`);
  };
  const allWell: Act = (person) =>
    person.post('all well', `/cultures/${next()}/all-well`, { did: 'yes' }, { 'hx-request': 'true' });
  const check: Act = async (person) => {
    const at = `/cultures/${next()}/check`;
    await person.get('check, its page', `${at}?from=round`);
    const seen = { onDay: world.today, surface: pick(['moist', 'wet', 'dry']), waterMl: '15' };
    await person.post('check, saved', `${at}?from=round`, seen);
  };
  const count: Act = async (person) => {
    const at = `/cultures/${next()}/count`;
    await person.get('count, its page', at);
    const counted = String(5 + Math.floor(Math.random() * 40));
    await person.post('count, saved', at, { method: 'visible', counted, onDay: world.today });
  };
  const look: Act = (person) => person.get("a culture's page", `/cultures/${pick(world.codes)}`);
  const acting = [
    [50, allWell],
    [16, check],
    [4, count],
    [14, look],
    [3, (person: Person) => person.get('list of cultures', '/cultures')],
    [2, (person: Person) => person.get('the racks', '/round/map')],
    [2, (person: Person) => person.get('air of the rooms', '/climate')],
    [2, (person: Person) => person.get('search', `/search?q=${pick(world.codes).slice(0, 5)}`)],
  ] as const;
  return async (person) => {
    const isTime = acts % 12 === 0 || rows.length === 0;
    acts += 1;
    if (isTime) return openRound(person);
    if (news.size > 0) await followNews(person);
    return draw<Act>(acting)(person);
  };
}

async function editCulture(person: Person, world: World) {
  const at = `/cultures/${pick(world.codes)}/edit`;
  const { text } = await person.get('edit a culture, its page', at);
  const value = (name: string) => new RegExp(`name="${name}"[^>]*value="([^"]*)"`).exec(text)?.[1] ?? '';
  const chosen = (name: string) => {
    const list = new RegExp(`<select[^>]*name="${name}"[\\s\\S]*?</select>`).exec(text)?.[0] ?? '';
    const option = /<option[^>]*\bselected\b[^>]*>/.exec(list)?.[0] ?? '';
    return /value="([^"]*)"/.exec(option)?.[1] ?? '';
  };
  const fields = {
    version: value('version'),
    code: value('code'),
    morph: value('morph'),
    note: `looked at ${Date.now() % 1_000}`,
  };
  const kept = { lineId: chosen('lineId'), enclosureId: chosen('enclosureId') };
  await person.post('edit a culture, saved', at, { ...fields, ...kept });
}

/** An owner at the desk: what can be sold, orders, the packing day, lines, a paper now and then. */
export function ownerActs(world: World): Act {
  const get =
    (kind: string, path: () => string): Act =>
    (person) =>
      person.get(kind, path());
  const acting = [
    [12, get('surplus', () => '/surplus')],
    [10, get('orders', () => '/orders')],
    [10, get('an order', () => `/orders/${pick(world.orders)}`)],
    [6, get('packing day', () => '/parcels/packing')],
    [5, get('parcel of an order', () => `/parcels/orders/${pick(world.openOrders)}`)],
    [6, get('lines', () => '/lines')],
    [4, get('graph of lines', () => `/lines/graph?species=${pick(world.speciesIds)}`)],
    [4, get('mixing page', () => `/cultures/${pick(world.codes)}/mixing`)],
    [4, get('trace', () => `/cultures/${pick(world.codes)}/trace`)],
    [8, get("a culture's page", () => `/cultures/${pick(world.codes)}`)],
    [6, get('search', () => `/search?q=${pick(['exam', 'ada', 'moss', String(pick(world.orders))])}`)],
    [5, get('customers', () => '/customers')],
    [4, get('proposal for an order', () => `/orders/${pick(world.openOrders)}/propose`)],
    [4, get('first page', () => '/')],
    [4, (person: Person) => editCulture(person, world)],
    [2, get('packing sheet, PDF', () => `/orders/${pick(world.openOrders)}/packing-sheet.pdf`)],
    [1, get('labels, PDF', () => `/labels/sheet.pdf?first=1&cultures=${labelsOf(world)}`)],
    [1, get('invoice, PDF', () => `/invoices/${pick(world.invoices)}/invoice.pdf`)],
  ] as const;
  return (person) => draw<Act>(acting)(person);
}

const labelsOf = ({ codes }: World) =>
  Array.from({ length: 24 }, (_, i) => 1 + ((i * 7) % codes.length)).join(',');
