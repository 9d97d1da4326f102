import { eq } from 'drizzle-orm';
import { describe, expect, it } from 'vitest';
import { appendEntry } from '../../server/cultures/queries-diary.ts';
import { audit, detectionPairs, detectionUpdates, species } from '../../server/schema/tables.ts';
import { makeCulture, makeSpecies } from '../support/stock.ts';
import { type TestApp, testApp, testNow } from '../support/test-app.ts';

type Counted = { cultureId: number; onDay: string; counted: number };

const write = ({ db }: TestApp, { cultureId, onDay, counted }: Counted, input: object) =>
  appendEntry(db, {
    cultureId,
    onDay,
    kind: 'count',
    countInput: JSON.stringify({ ...input, counted, level: 0.9 }),
    via: 'page',
    madeBy: null,
    madeAt: testNow,
  });
const look = (app: TestApp, entry: Counted) =>
  write(app, entry, { method: 'visible', detection: { alpha: 6, beta: 9 } });
const countAll = (app: TestApp, entry: Counted) => write(app, entry, { method: 'full', relativeSd: 0.05 });

async function bench() {
  const app = await testApp();
  const kind = makeSpecies(app.db);
  const culture = makeCulture(app.db, { speciesId: kind.id });
  const at = `/species/${kind.id}/detection`;
  return { app, kind, cultureId: culture.id, at };
}

const shareOf = ({ db }: TestApp, id: number) => {
  const row = db.select().from(species).where(eq(species.id, id)).get();
  return { alpha: row?.detectionAlpha ?? 0, beta: row?.detectionBeta ?? 0 };
};
const markIn = (html: string) => /name="seen" value="(\w+)"/.exec(html)?.[1] ?? '';

describe('the share that shows', () => {
  it('is learned from pairs, shown before and after, and accepted by the owner once', async () => {
    const { app, kind, cultureId, at } = await bench();
    look(app, { cultureId, onDay: '2026-11-01', counted: 12 });
    countAll(app, { cultureId, onDay: '2026-11-03', counted: 80 });
    const page = await app.owner.get(at);
    expect(page.text).toContain('After 1 pair of counts: about');
    expect(page.text).toContain('15\u00a0%');
    expect(page.text).toContain('<svg class="curve"');
    const seen = markIn(page.text);
    for (let sent = 0; sent < 2; sent += 1)
      await app.owner.post(at, { seen }, { formKey: 'the-same-form-key-04' });
    const share = shareOf(app, kind.id);
    expect(share.alpha / (share.alpha + share.beta)).toBeLessThan(0.4);
    expect(app.db.select().from(detectionUpdates).all()).toMatchObject([
      { beforeAlpha: 6, beforeBeta: 9, visits: 5 },
    ]);
    expect(app.db.select().from(detectionPairs).all()).toMatchObject([{ seen: 12, counted: 80 }]);
    expect(app.db.select().from(audit).all().at(-1)?.action).toBe('learned the share seen');
    const again = await app.owner.get(at);
    expect(again.text).toContain('No pair of counts has anything new to teach.');
    expect(again.text).toContain('weighs as much as 5 visits');
    await app.owner.post(at, { seen });
    expect(shareOf(app, kind.id)).toEqual(share);
  });

  it('is not accepted by helpers, nor when the counts changed meanwhile', async () => {
    const { app, kind, cultureId, at } = await bench();
    look(app, { cultureId, onDay: '2026-11-01', counted: 12 });
    countAll(app, { cultureId, onDay: '2026-11-01', counted: 80 });
    const helpers = await app.helper.get(at);
    expect(helpers.status).toBe(200);
    expect(helpers.text).not.toContain('Believe this');
    expect((await app.helper.post(at, { seen: 'x' })).status).toBe(403);
    const seen = markIn((await app.owner.get(at)).text);
    look(app, { cultureId, onDay: '2026-11-09', counted: 40 });
    countAll(app, { cultureId, onDay: '2026-11-10', counted: 82 });
    expect((await app.owner.post(at, { seen })).headers.location).toBe(at);
    expect(shareOf(app, kind.id)).toEqual({ alpha: 6, beta: 9 });
    expect((await app.owner.get('/species/999/detection')).status).toBe(404);
  });

  it.each([
    ['a full count too late', '2026-11-10', null],
    ['a full count before it', '2026-10-30', null],
    ['a harvest between', '2026-11-03', 'harvest'],
  ] as const)('learns nothing from %s', async (_, fullOn, between) => {
    const { app, cultureId, at } = await bench();
    look(app, { cultureId, onDay: '2026-11-01', counted: 12 });
    const moved = {
      cultureId,
      onDay: '2026-11-02',
      animals: 5,
      via: 'page',
      madeBy: null,
      madeAt: testNow,
    } as const;
    if (between) appendEntry(app.db, { ...moved, kind: between });
    countAll(app, { cultureId, onDay: fullOn, counted: 80 });
    expect((await app.owner.get(at)).text).toContain('No pair of counts has anything new to teach.');
  });

  it('puts each count into one pair, and says which pair cannot be', async () => {
    const { app, cultureId, at } = await bench();
    look(app, { cultureId, onDay: '2026-11-01', counted: 12 });
    look(app, { cultureId, onDay: '2026-11-02', counted: 20 });
    countAll(app, { cultureId, onDay: '2026-11-03', counted: 80 });
    countAll(app, { cultureId, onDay: '2026-11-04', counted: 81 });
    const both = (await app.owner.get(at)).text;
    expect(both).toContain('After 2 pairs of counts');
    const other = makeCulture(app.db, { speciesId: Number(/species\/(\d+)/.exec(at)?.[1]) });
    look(app, { cultureId: other.id, onDay: '2026-11-02', counted: 200 });
    countAll(app, { cultureId: other.id, onDay: '2026-11-03', counted: 80 });
    const page = (await app.owner.get(at)).text;
    expect(page).toContain('left out: has more animals seen than there were');
    expect(page).toContain('After 2 pairs of counts');
  });
});
