import { beforeAll, describe, expect, it } from 'vitest';
import { refreshEstimate } from '../../server/counts/queries-estimate.ts';
import { staleCultures } from '../../server/counts/refresh-all.ts';
import { testApp, testNow, testToday } from '../support/test-app.ts';
import { count, hiddenOf, pressBringIn, stateOf, upload } from './bringing.ts';
import { sample } from './reading.ts';

/** As the owner would: uploads both files, leaves the six bad rows out, presses the button. */
async function broughtIn() {
  const t = await testApp();
  const empty = stateOf(t.sqlite);
  const { path } = await upload(t.owner, [
    ['cultures.csv', sample('cultures.csv')],
    ['diary.csv', sample('diary.csv')],
  ]);
  const preview = await t.owner.get(path);
  expect(preview.text).toContain('6,210 of 6,216 rows could come in: 71 cultures and 6,139 diary entries');
  expect(preview.text).toContain('6 rows in 6 kinds cannot come in as they are: mend or leave out.');
  const kinds = [...preview.text.matchAll(/name="shown" value="([^"]+)"/g)].map((match) => match[1]!);
  expect(kinds).toHaveLength(6);
  const { version } = hiddenOf(preview.text, `${path}/left-out`);
  await t.owner.post(`${path}/left-out`, { version: version!, shown: kinds, leaveOut: kinds });
  const sent = await pressBringIn(t.owner, path);
  expect(sent.headers.location).toBe('/records/imports/1');
  return { ...t, empty };
}

// One bench, on which one test goes on from where the one before has left it.
describe('a breeder’s two files, brought in on the page', () => {
  let t: Awaited<ReturnType<typeof broughtIn>>;
  beforeAll(async () => {
    t = await broughtIn();
  });

  it('are there whole, and what would be run elsewhere is text', async () => {
    expect([count(t, 'cultures'), count(t, 'diary'), count(t, 'culture_parents')]).toEqual([71, 6139, 56]);
    const kinds = t.sqlite
      .prepare('SELECT kind, count(*) FROM diary GROUP BY kind ORDER BY kind')
      .raw()
      .all();
    // Counted in the files with grep and awk, less the six bad rows.
    expect(Object.fromEntries(kinds as [string, number][])).toEqual({
      check: 3118,
      count: 555,
      'die-off': 12,
      feed: 1724,
      harvest: 43,
      mites: 19,
      split: 56,
      water: 612,
    });
    const page = await t.owner.get('/records/imports/1');
    expect(page.text).toContain('0 of 71 cultures worked out');
    expect(page.text).toContain('Left out of diary.csv: 6 rows');
    const list = await t.owner.get('/records/imports/1/files/2/left-out.csv');
    expect(list.text.split('\r\n').filter(Boolean)).toHaveLength(7);
    expect(list.text).toContain(`2026-03-02,AR-001,sold,100000,,owner,6142,`);

    // What a spreadsheet or a browser would run is text on the pages.
    const entry = t.sqlite
      .prepare(
        "SELECT c.code, d.id FROM diary d JOIN cultures c ON c.id = d.culture_id WHERE d.note LIKE '<script>%'",
      )
      .get() as { code: string; id: number };
    const shown = await t.owner.get(`/cultures/${entry.code}/diary/${entry.id}`);
    expect(shown.text).toContain('&lt;script>alert(1)&lt;/script>');
    expect(shown.text).not.toContain('<script>alert');
  });

  it('give estimates that do not contradict the model', async () => {
    // The cultures that were counted in full at times: what was believed just before can be held against that. The
    // others are worked out in the same way; all 71 of them take half a minute.
    const counted = t.sqlite
      .prepare(
        "SELECT DISTINCT culture_id FROM diary WHERE kind = 'count' AND json_extract(count_input, '$.method') = 'full'",
      )
      .pluck()
      .all() as number[];
    expect(staleCultures(t.db, testToday)).toHaveLength(71);
    for (const id of counted) refreshEstimate(t.db, id, testToday, testNow);
    const faults = t.sqlite
      .prepare('SELECT fault FROM culture_estimates WHERE fault IS NOT NULL')
      .pluck()
      .all();
    expect([count(t, 'culture_estimates'), faults]).toEqual([counted.length, []]);
    const page = await t.owner.get('/records/imports/1');
    expect(page.text).toContain(`${counted.length} of 71 cultures worked out`);
    const inside = t.sqlite
      .prepare(
        `SELECT count(*), sum(json_extract(d.count_input, '$.counted') BETWEEN p.before_lower AND p.before_upper)
        FROM diary d JOIN estimate_points p ON p.culture_id = d.culture_id AND p.on_day = d.on_day AND p.position = d.id
        WHERE d.kind = 'count' AND json_extract(d.count_input, '$.method') = 'full'`,
      )
      .raw()
      .get() as [number, number];
    expect(inside[0]).toBe(26);
    // Of 26 intervals that hold 9 times in 10, 20 or more hold in 98 of 100 diaries (binomial distribution).
    expect(inside[1]).toBeGreaterThanOrEqual(20);
    expect((await t.owner.get('/surplus')).status).toBe(200);
  });

  it('go without a trace', async () => {
    const undo = '/records/imports/1/undo';
    expect((await t.owner.post(undo)).status).toBe(303);
    expect(stateOf(t.sqlite)).toEqual(t.empty);
  });
});
