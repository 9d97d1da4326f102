import { desc, eq } from 'drizzle-orm';
import { describe, expect, it } from 'vitest';
import { refreshEstimate } from '../../server/counts/queries-estimate.ts';
import { gainInput } from '../../server/counts/queries-gain-input.ts';
import { appendEntry } from '../../server/cultures/queries-diary.ts';
import { populationStates } from '../../server/schema/tables.ts';
import { keptGain } from '../../server/surplus/queries-gains.ts';
import { gainsAtRest } from '../../server/surplus/work-out-gains.ts';
import type { PlannedCount } from '../../shared/counts/form.ts';
import { firstHabits, plannedCountOf } from '../../shared/counts/habits.ts';
import { rankCounts } from '../../shared/surplus/count-next.ts';
import { workOutGain } from '../../shared/surplus/work-out-gain.ts';
import { makeCounted } from '../support/counted.ts';
import { makeLine, makeOrder } from '../support/orders.ts';
import { makePlace, makeSpecies } from '../support/stock.ts';
import { type TestApp, testApp, testNow, testToday } from '../support/test-app.ts';

const at = '/surplus/count-next';
const full: PlannedCount = { method: 'full', relativeSd: 0.05 };

const codesIn = (html: string) =>
  [...html.matchAll(/<th scope="row"[^>]*><a class="code" href="\/cultures\/([^"]+)"/g)].map((m) => m[1]);

async function listed({ owner }: TestApp, query = '?show=all') {
  const { status, text } = await owner.get(`${at}${query}`);
  expect(status, query).toBe(200);
  return codesIn(text);
}

/** Colonies counted once, some long ago: the older the count, the more a new one may free. */
function colonies({ db }: TestApp, numbers: readonly [animals: number, onDay: string][], prefix = 'CN') {
  const species = makeSpecies(db);
  return numbers.map(([animals, onDay], i) =>
    makeCounted(db, animals, { speciesId: species.id, code: `${prefix}-${i + 1}`, onDay }),
  );
}
const four: [number, string][] = [
  [140, '2026-06-01'],
  [60, '2026-11-24'],
  [90, '2026-03-01'],
  [30, '2026-09-01'],
];

const cached = ({ db }: TestApp, cultureId: number) => keptGain(db, cultureId);

/** Straight from the stored states, by the calculation that answers for it. */
function rankedBy({ db }: TestApp, cultures: readonly { id: number; code: string }[]) {
  return rankCounts(
    cultures.map(({ id, code }) => {
      const stored = db
        .select()
        .from(populationStates)
        .where(eq(populationStates.cultureId, id))
        .orderBy(desc(populationStates.onDay), desc(populationStates.position))
        .get()!;
      const { settings } = gainInput(db, id, testToday);
      return {
        code,
        state: new Uint8Array(stored.state),
        settings,
        asOf: testToday,
        planned: full,
        minutes: 30,
      };
    }),
  );
}

describe('what to count next', () => {
  it('is for whoever is signed in, and says what to do first where there is nothing', async () => {
    const app = await testApp();
    expect((await app.outsider.get(at)).headers.location).toBe('/sign-in?next=%2Fsurplus%2Fcount-next');
    for (const who of [app.helper, app.owner]) {
      const { status, text } = await who.get(at);
      expect([status, text.includes('Nothing to count for sale yet.')]).toEqual([200, true]);
    }
    expect((await app.owner.get('/surplus')).text).toContain(`href="${at}"`);
  });

  it('lists counts in the order of the calculation, with its numbers', async () => {
    const app = await testApp();
    const cultures = colonies(app, four);
    const ranked = rankedBy(app, cultures);
    expect(await listed(app)).toEqual(ranked.map(({ code }) => code));
    for (const culture of cultures) {
      const { groupsNow, expectedGroups } = ranked.find(({ code }) => code === culture.code)!;
      expect(cached(app, culture.id)).toMatchObject({ groupsNow, expectedGroups, fault: null });
    }
    expect(ranked[0]!.gain).toBeGreaterThan(0.5);
  });

  it('begins with the hand-over and the list; explanations come after them', async () => {
    const app = await testApp();
    colonies(app, four);
    await listed(app);
    const { text } = await app.owner.get(`${at}?show=all`);
    const order = ['class="hand-over"', '<th scope="row"', 'data-explains="count-next'];
    const places = order.map((mark) => text.indexOf(mark));
    expect(Math.min(...places)).toBeGreaterThan(0);
    expect(places).toEqual([...places].sort((a, b) => a - b));
  });

  it('keeps what came out until something it stands on changes', async () => {
    const app = await testApp();
    const [culture] = colonies(app, four);
    await listed(app);
    const first = cached(app, culture!.id)!;
    app.clock.at += 3_600_000;
    await app.helper.post(`/cultures/${culture!.code}/all-well`);
    await listed(app);
    expect(cached(app, culture!.id)).toEqual(first);
    app.clock.forward(1);
    refreshEstimate(app.db, culture!.id, '2026-11-26', app.clock.at);
    await listed(app);
    expect(cached(app, culture!.id)!.basis).not.toBe(first.basis);
  });

  it('says after an event what would be worked out afresh', async () => {
    const app = await testApp();
    const [culture] = colonies(app, four);
    await listed(app);
    const before = cached(app, culture!.id)!;
    const fresh = () => {
      const input = gainInput(app.db, culture!.id, testToday);
      return workOutGain({ ...input, planned: full, held: false });
    };
    await app.helper.post(`/cultures/${culture!.code}/count`, { method: 'full', counted: '150' });
    await listed(app);
    expect(cached(app, culture!.id)).toMatchObject(fresh());
    expect(cached(app, culture!.id)!.expectedGroups).not.toBe(before.expectedGroups);
    const { text } = await app.helper.get(`/cultures/${culture!.code}`);
    const undo = /action="(\/cultures\/[^"]+\/withdraw)"/.exec(text)?.[1] ?? '';
    await app.helper.post(undo);
    await listed(app);
    expect(cached(app, culture!.id)).toMatchObject({
      groupsNow: before.groupsNow,
      expectedGroups: before.expectedGroups,
    });
  });

  it('follows when animals are promised and released', async () => {
    const app = await testApp();
    const [culture] = colonies(app, [[170, '2026-11-20']]);
    await listed(app);
    const before = cached(app, culture!.id)!;
    const order = makeOrder(app.db, { state: 'confirmed' });
    const line = makeLine(app.db, order.id, culture!.speciesId);
    app.sqlite.exec(`INSERT INTO allocations (order_line_id, culture_id, groups, animals, state, made_at)
      VALUES (${line.id}, ${culture!.id}, 1, 14, 'reserved', 1)`);
    await listed(app);
    const promised = cached(app, culture!.id)!;
    expect(promised.groupsNow).toBe(before.groupsNow - 1);
    app.sqlite.exec("UPDATE allocations SET state = 'released'");
    await listed(app);
    expect(cached(app, culture!.id)).toEqual(before);
  });

  it('knows that after a die-off a count frees what it finds, and with mites nothing', async () => {
    const app = await testApp();
    const [dying, mites] = colonies(app, [
      [200, '2026-11-20'],
      [200, '2026-11-20'],
    ]);
    const by = { onDay: '2026-11-24', via: 'page', madeBy: null, madeAt: testNow } as const;
    appendEntry(app.db, {
      ...by,
      cultureId: dying!.id,
      kind: 'die-off',
      survivalMedian: 0.8,
      survivalSdLog: 0.2,
    });
    appendEntry(app.db, { ...by, cultureId: mites!.id, kind: 'mites' });
    for (const { id } of [dying!, mites!]) refreshEstimate(app.db, id, testToday, testNow);
    const { text } = await app.owner.get(`${at}?show=all`);
    expect(cached(app, dying!.id)).toMatchObject({ groupsNow: 0 });
    expect(cached(app, dying!.id)!.expectedGroups).toBeGreaterThan(1);
    expect(cached(app, mites!.id)).toBeUndefined();
    expect(text).toContain('held since the die-off until it is counted');
    expect(text).toContain('mites seen: a count frees nothing while that stands');
    expect(await listed(app, '?show=held')).toEqual([dying!.code, mites!.code]);
    expect(await listed(app, '?show=worth')).toEqual([dying!.code]);
  });

  it('filters and sorts on the server', async () => {
    const app = await testApp();
    const shelf = makePlace(app.db, { name: 'Attic', shelfOrder: '0' });
    const [first] = colonies(app, four);
    const other = makeSpecies(app.db, { scientificName: 'Aliud exemplum' });
    makeCounted(app.db, 80, { code: 'ZZ-1', speciesId: other.id, onDay: '2026-06-01', placeId: shelf.id });
    expect(await listed(app, `?show=all&species=${other.id}`)).toEqual(['ZZ-1']);
    expect(await listed(app, '?show=all&q=attic')).toEqual(['ZZ-1']);
    expect(await listed(app, '?show=all&q=cn-1')).toEqual([first!.code]);
    expect(await listed(app, '?show=all&sort=code')).toEqual(['CN-1', 'CN-2', 'CN-3', 'CN-4', 'ZZ-1']);
    expect((await listed(app, '?show=all&sort=place'))[0]).toBe('ZZ-1');
    expect(await listed(app, '?show=old')).not.toContain('CN-2');
    for (const odd of ['?sort=drop', '?show=x&page=0', '?species=x', "?q=' OR 1=1 --", '?page=99'])
      await listed(app, odd);
    expect((await app.owner.get(`${at}?q=nothing-like-it`)).text).toContain(
      'No count would free a group now',
    );
  });
});

describe('many cultures', () => {
  it('are worked out in threads while the page says how many are still to come', async () => {
    const app = await testApp();
    const cultures = colonies(
      app,
      Array.from({ length: 14 }, (_, i) => [50 + 12 * i, '2026-08-01'] as [number, string]),
    );
    const { text } = await app.owner.get(`${at}?show=all`);
    expect(text).toContain('Working out 14 of 14');
    expect(text).toContain('0 of 14 cultures worked out');
    expect(text).toMatch(/hx-get="\/surplus\/count-next\?[^"]*" hx-trigger="load delay:2s"/);
    await gainsAtRest(app.db);
    const after = await app.owner.get(`${at}?show=all`);
    expect(after.text).not.toContain('Working out');
    expect(codesIn(after.text)).toEqual(rankedBy(app, cultures).map(({ code }) => code));
  }, 30_000);
});

const setting = {
  visibleMinutes: '1',
  sampleMinutes: '12',
  fullMinutes: '45',
  sampleShare: '1 of 4',
  ...Object.fromEntries(
    Object.entries(firstHabits.usual).map(([group, method]) => [`usual-${group}`, method]),
  ),
};

describe('how counts are made', () => {
  it('is the owner’s to say; first figures are marked as ours', async () => {
    const app = await testApp();
    colonies(app, four);
    expect((await app.helper.get('/settings/counting')).status).toBe(403);
    expect((await app.helper.post('/settings/counting', setting)).status).toBe(403);
    expect((await app.owner.get('/settings/counting')).text).toContain('These are our figures to begin with');
    expect((await app.owner.get(at)).text).toContain('The minutes are ours to begin with');
    const bad = await app.owner.post('/settings/counting', { ...setting, fullMinutes: 'an hour' });
    expect([bad.status, bad.text.includes('an hour')]).toEqual([422, true]);
    expect((await app.owner.save('/settings/counting', setting)).headers.location).toBe(at);
    const { text } = await app.owner.get('/settings/counting');
    expect(text).not.toContain('These are our figures to begin with');
    expect(text).toContain('value="45"');
    expect((await app.owner.get(at)).text).not.toContain('The minutes are ours to begin with');
  });

  it('changes the rate without working anything out anew, but for another way of counting', async () => {
    const app = await testApp();
    const [culture] = colonies(app, four);
    await listed(app);
    const before = cached(app, culture!.id)!;
    await app.owner.save('/settings/counting', setting);
    const { text } = await app.owner.get(`${at}?show=all`);
    expect(text).toMatch(/data-label="Minutes">45</);
    expect(cached(app, culture!.id)).toEqual(before);
    await app.owner.save('/settings/counting', { ...setting, 'usual-isopod': 'visible' });
    await listed(app);
    const after = cached(app, culture!.id)!;
    expect(after.basis).not.toBe(before.basis);
    const detection = { alpha: 6, beta: 9 };
    expect(after).toMatchObject(
      workOutGain({
        ...gainInput(app.db, culture!.id, testToday),
        planned: plannedCountOf(
          { ...firstHabits, usual: { ...firstHabits.usual, isopod: 'visible' } },
          'isopod',
          detection,
        ).planned,
        held: false,
      }),
    );
  });
});
