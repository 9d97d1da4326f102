import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { makeDemo } from '../../ops/demo/make.ts';
import { type Opened, openDatabase } from '../../server/plumbing/open-database.ts';
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

test('the file is whole', () => {
  expect(one<string>('PRAGMA integrity_check')).toBe('ok');
  expect(all('PRAGMA foreign_key_check')).toEqual([]);
});
