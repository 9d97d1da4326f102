import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { makeDemo } from '../../ops/demo/make.ts';
import { todaysRound } from '../../server/checks/todays-round.ts';
import { airNow } from '../../server/climate/queries-warnings.ts';
import { stagesByCulture } from '../../server/development/queries.ts';
import { startsThisWeek } from '../../server/feeders/queries-plan.ts';
import { type Opened, openDatabase } from '../../server/plumbing/open-database.ts';
import { readBusiness } from '../../server/settings/queries.ts';
import { countsAskedFor, countsLeftOver } from '../../server/surplus/queries-round-counts.ts';
import { allContacts } from '../../server/traces/queries-contacts.ts';
import { addDays } from '../../shared/days.ts';
import { trace } from '../../shared/lines/trace.ts';

const folder = mkdtempSync(join(tmpdir(), 'broodbench-demo-test-'));
let opened: Opened;
const all = <T>(sql: string) => opened.sqlite.prepare(sql).all() as T[];
const one = <T>(sql: string) => opened.sqlite.prepare(sql).pluck().get() as T;

beforeAll(async () => {
  const file = join(folder, 'broodbench.db');
  await makeDemo(file, Date.UTC(2026, 10, 25, 11), () => {});
  opened = openDatabase(file);
}, 120_000);

afterAll(() => {
  opened.sqlite.close();
  rmSync(folder, { recursive: true, force: true });
});

test('about sixty cultures of eight species or more have a year and a half behind them', () => {
  expect(one<number>('SELECT count(*) FROM cultures')).toBeGreaterThanOrEqual(55);
  expect(one<number>('SELECT count(DISTINCT species_id) FROM cultures')).toBeGreaterThanOrEqual(8);
  expect(one<string>('SELECT min(founded_on) FROM cultures') < '2025-07-01').toBe(true);
  expect(one<number>("SELECT count(*) FROM diary WHERE kind = 'check'")).toBeGreaterThan(2_000);
});

test('every state of an order is there, and what is promised was spare', () => {
  const states = all<{ state: string }>('SELECT DISTINCT state FROM orders ORDER BY state').map(
    (row) => row.state,
  );
  expect(states).toEqual(['cancelled', 'closed', 'confirmed', 'draft', 'packed', 'sent']);
  const broken = one<number>(`SELECT count(*) FROM culture_estimates e WHERE e.promisable <
    (SELECT coalesce(sum(animals), 0) FROM allocations a WHERE a.culture_id = e.culture_id AND a.state = 'reserved')`);
  expect(broken).toBe(0);
});

test('every estimate is of the day, none contradicts its diary, and some cultures can spare a group', () => {
  expect(one<number>('SELECT count(*) FROM culture_estimates WHERE fault IS NOT NULL')).toBe(0);
  expect(one<number>("SELECT count(*) FROM culture_estimates WHERE as_of <> '2026-11-25'")).toBe(0);
  expect(one<number>('SELECT sum(spare_groups) FROM culture_estimates')).toBeGreaterThan(5);
});

test('things have gone wrong: mites, a die-off, a quarantine, a count that is old', () => {
  const health = all<{ health: string }>('SELECT DISTINCT health FROM culture_estimates').map(
    (row) => row.health,
  );
  expect(health).toEqual(expect.arrayContaining(['well', 'mites', 'quarantine']));
  expect(one<number>("SELECT count(*) FROM diary WHERE kind = 'die-off'")).toBeGreaterThan(0);
  expect(one<string>('SELECT min(last_count_on) FROM culture_estimates') < '2026-08-01').toBe(true);
});

test('the flies with mites have been fed to others, and what is sold had contact', () => {
  const [sighting] = all<{ day: string }>(
    "SELECT on_day AS day FROM diary d JOIN cultures c ON c.id = d.culture_id WHERE d.kind = 'mites' AND c.code = 'DH-002'",
  );
  const contacts = allContacts(opened.db);
  const since = addDays(sighting!.day, -8);
  const found = trace({ contacts, flagged: { code: 'DH-002', since } });
  expect(found.downstream.length).toBeGreaterThanOrEqual(3);
  expect(found.orders.length).toBeGreaterThanOrEqual(1);
  expect(found.downstream.some(({ path }) => path.length > 2)).toBe(true);
});

test('the round has something of every kind: young to look for, counts, water, spent flies, what waits, a shelf too warm', async () => {
  const { db } = opened;
  const today = '2026-11-25';
  const about = { db, today, business: readBusiness(db) };
  const { all: kept, waiting } = todaysRound(about);
  const due = new Set(kept.flatMap(({ row }) => row.open.map(({ what }) => what)));
  expect([...due]).toEqual(
    expect.arrayContaining(['check', 'feed', 'water', 'count', 'young', 'adults', 'retire']),
  );
  expect(waiting.map(({ what }) => what).sort()).toEqual(['check', 'feed']);
  expect(countsAskedFor(db, today)).toHaveLength(2);
  expect(countsLeftOver(db, today)).toHaveLength(1);
  const { warnings } = airNow(db, Date.UTC(2026, 10, 25, 11));
  expect(warnings.map(({ side, isSilent }) => [side, isSilent])).toEqual([['above', false]]);
  const starts = await startsThisWeek(db, today);
  expect(starts.some(({ toStart }) => toStart > 0)).toBe(true);
  const ahead = [...stagesByCulture(db, today).values()].flat();
  expect(ahead.some(({ from }) => from !== null && from > today)).toBe(true);
});

test('confirmed orders go somewhere cold, somewhere hot and over a weekend', () => {
  const confirmed = all<{ day: string; postcode: string }>(
    "SELECT o.dispatch_on AS day, c.postcode FROM orders o JOIN customers c ON c.id = o.customer_id WHERE o.state = 'confirmed'",
  );
  const to = (start: string) => confirmed.filter(({ postcode }) => postcode.startsWith(start));
  expect([to('NX').length, to('HX').length]).toEqual([1, 1]);
  expect(to('SX').map(({ day }) => day)).toEqual(['2026-11-27']);
});

test('what has left has an invoice, one of them paid, and cups were weighed', () => {
  const rows = all<{ total: number; paid: number }>(
    'SELECT i.total_minor AS total, coalesce(sum(p.amount_minor), 0) AS paid FROM invoices i LEFT JOIN payments p USING (order_id) GROUP BY i.id',
  );
  expect(rows.map(({ total, paid }) => Math.sign(total - paid)).sort()).toEqual([0, 1, 1]);
  expect(one<number>('SELECT count(*) FROM cups WHERE empty_mass_g > 0')).toBe(2);
});

test('the file is whole', () => {
  expect(one<string>('PRAGMA integrity_check')).toBe('ok');
  expect(all('PRAGMA foreign_key_check')).toEqual([]);
});
