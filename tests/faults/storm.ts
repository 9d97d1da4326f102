import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { refreshEstimate } from '../../server/counts/queries-estimate.ts';
import { appendEntry } from '../../server/cultures/queries-diary.ts';
import { openDatabase, type Sqlite } from '../../server/plumbing/open-database.ts';
import { makeSessions } from '../../server/plumbing/sessions.ts';
import { dayInZone } from '../../shared/zone-day.ts';
import { makeLine, makeOrder } from '../support/orders.ts';
import { makeCulture, makeSpecies } from '../support/stock.ts';
import { cast, testApp } from '../support/test-app.ts';

const root = fileURLToPath(new URL('../..', import.meta.url));

export type Stage = {
  folder: string;
  database: string;
  cookie: string;
  cultures: { id: number; code: string; enclosureId: number }[];
  orders: { number: number; lineId: number; cultureId: number }[];
};

/** A bench with plenty of everything, in a folder of its own, and the owner signed in by the machine's own clock. */
export async function makeStage(orders: number): Promise<Stage> {
  const t = await testApp();
  const now = Date.now();
  const today = dayInZone(now, 'Europe/Berlin');
  const species = makeSpecies(t.db);
  const cultures = Array.from({ length: 8 }, (_, index) => {
    const row = makeCulture(t.db, { speciesId: species.id, code: `STORM-${index}` });
    const counted = JSON.stringify({ method: 'full', counted: 20_000, relativeSd: 0.02 });
    const entry = { cultureId: row.id, onDay: today, via: 'page', madeBy: null, madeAt: now } as const;
    appendEntry(t.db, { ...entry, kind: 'count', countInput: counted });
    refreshEstimate(t.db, row.id, today, now);
    return { id: row.id, code: row.code, enclosureId: row.enclosureId };
  });
  const drafts = Array.from({ length: orders }, (_, index) => {
    const order = makeOrder(t.db);
    const line = makeLine(t.db, order.id, species.id);
    return { number: order.number, lineId: line.id, cultureId: cultures[index % cultures.length]!.id };
  });
  const cookie = await makeSessions(t.db, { now: Date.now }).begin(cast.owner.id, 'storm');
  const folder = mkdtempSync(join(tmpdir(), 'storm-'));
  const database = join(folder, 'broodbench.db');
  t.sqlite.prepare('VACUUM INTO ?').run(database);
  return { folder, database, cookie: cookie.split(';')[0] ?? '', cultures, orders: drafts };
}

export type Running = {
  child: ChildProcess;
  address: string;
  ended: Promise<number | null>;
  said: () => string;
};

/** The service as it is really started, on a port that the system chooses; mails wait for a server that is not there. */
export async function startService(folder: string, settings: Record<string, string> = {}): Promise<Running> {
  const env = { DATA_DIR: folder, PORT: '0', HOST: '127.0.0.1', LOG_LEVEL: 'error', ...settings };
  const mail = { SMTP_HOST: '127.0.0.1', SMTP_PORT: '9', SMTP_ENCRYPTION: 'none' };
  const child = spawn(process.execPath, ['ops/start.mjs'], {
    cwd: root,
    env: { PATH: process.env.PATH, ...mail, ...env },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  let said = '';
  const ended = new Promise<number | null>((resolve) => child.once('exit', (code) => resolve(code)));
  const address = await new Promise<string>((resolve) => {
    const listen = (chunk: Buffer) => {
      said += chunk.toString();
      const found = /^Open (http:\/\/127\.0\.0\.1:\d+)/m.exec(said)?.[1];
      if (found) resolve(found);
    };
    child.stdout?.on('data', listen);
    child.stderr?.on('data', listen);
    void ended.then(() => resolve(''));
  });
  return { child, address, ended, said: () => said };
}

export type Form = { path: string; fields: Record<string, string | string[]> };
export type Action = { name: string; forms: Form[] };

/** What one client does, one action after the other; each leaves a mark that is found again by its name. */
export function* actionsOf(stage: Stage, client: number, clients: number): Generator<Action> {
  const orders = stage.orders.filter((_, index) => index % clients === client);
  for (let number = 0; ; number += 1) {
    const name = `mark ${client}-${number}.`;
    const culture = stage.cultures[(client + number) % stage.cultures.length]!;
    const at = `/cultures/${culture.code}`;
    const order = number % 4 === 3 ? orders.shift() : undefined;
    if (order) {
      const groups = { [`groups-${order.lineId}-${order.cultureId}`]: '1' };
      yield {
        name: `order ${order.number}`,
        forms: [
          { path: `/orders/${order.number}/reserve`, fields: groups },
          { path: `/orders/${order.number}/confirm`, fields: { tell: 'yes' } },
        ],
      };
    } else if (number % 4 === 1) {
      const despite = ['reserve', 'unsafe'];
      const enclosureId = String(culture.enclosureId);
      const fields = { adults: '20', enclosureId, note: name, despite, reason: 'a storm' };
      yield { name, forms: [{ path: `${at}/split`, fields }] };
    } else if (number % 4 === 2) {
      yield { name, forms: [{ path: `${at}/check`, fields: { note: name, moisture: 'moist' } }] };
    } else yield { name, forms: [{ path: `${at}/write`, fields: { kind: 'note', note: name } }] };
  }
}

export class Refused extends Error {}

/** A client that keeps a journal: what it was told was written, and what it never heard about. */
export class Client {
  readonly acknowledged: string[] = [];
  private pending: { action: Action; form: number; key: string } | null = null;
  private readonly actions: Generator<Action>;
  private cookies: string;
  private token: string | null = null;

  constructor(stage: Stage, client: number, clients: number) {
    this.actions = actionsOf(stage, client, clients);
    this.cookies = stage.cookie;
  }

  /** Works until the service is gone, or until it is told to stop; a form without an answer is sent again next time. */
  async work(address: string, goOn: () => boolean): Promise<void> {
    try {
      if (this.token === null) await this.readToken(address);
      while (goOn() || this.pending) await this.one(address);
    } catch (error) {
      if (error instanceof Refused) throw error;
    }
  }

  private async readToken(address: string) {
    const page = await fetch(`${address}/account`, { headers: { cookie: this.cookies }, redirect: 'manual' });
    const token = /name="_csrf" value="([^"]+)"/.exec(await page.text())?.[1];
    if (!token) throw new Refused(`no token on the page, status ${page.status}`);
    this.cookies = [this.cookies, ...page.headers.getSetCookie().map((line) => line.split(';')[0])].join(
      '; ',
    );
    this.token = token;
  }

  private async one(address: string) {
    this.pending ??= { action: this.actions.next().value as Action, form: 0, key: crypto.randomUUID() };
    const { action, form, key } = this.pending;
    const { path, fields } = action.forms[form]!;
    const body = new URLSearchParams({ _csrf: this.token ?? '', formKey: key });
    for (const [field, value] of Object.entries(fields))
      for (const one of [value].flat()) body.append(field, one);
    const headers = { cookie: this.cookies };
    const answer = await fetch(`${address}${path}`, { method: 'POST', body, headers, redirect: 'manual' });
    const text = await answer.text();
    if (answer.status === 503) return;
    if (answer.status !== 303) {
      const why =
        /<(?:p|li|span) class="(?:field-error|error)[^>]*>.*?<\//.exec(text)?.[0] ?? text.slice(-600);
      throw new Refused(`${path} was answered with ${answer.status}: ${why}`);
    }
    if (form + 1 < action.forms.length) this.pending = { action, form: form + 1, key: crypto.randomUUID() };
    else {
      this.acknowledged.push(action.name);
      this.pending = null;
    }
  }
}

/** Every mark in the records and how often it is there, by the client's name for it. */
export function marksIn(sqlite: Sqlite): Map<string, number> {
  const notes = sqlite
    .prepare("SELECT note AS name, count(*) AS n FROM diary WHERE note LIKE 'mark %' GROUP BY note")
    .all() as { name: string; n: number }[];
  const orders = sqlite
    .prepare(
      `SELECT 'order ' || number AS name, (SELECT count(*) FROM order_history h WHERE h.order_id = o.id AND h.state = 'confirmed') AS n
       FROM orders o WHERE state = 'confirmed'`,
    )
    .all() as { name: string; n: number }[];
  return new Map([...notes, ...orders].map(({ name, n }) => [name, n]));
}

/** What must hold whatever was cut off where; what is broken, in words. */
export function brokenIn(database: string): string[] {
  const { sqlite } = openDatabase(database);
  const count = (what: string, sql: string) => {
    const n = sqlite.prepare(`SELECT count(*) FROM (${sql})`).pluck().get() as number;
    return n > 0 ? [`${n} ${what}`] : [];
  };
  try {
    return [
      ...(sqlite.pragma('integrity_check', { simple: true }) === 'ok' ? [] : ['the database is damaged']),
      ...count('rows without their parent', 'SELECT * FROM pragma_foreign_key_check'),
      ...count(
        'splits without their culture, or the other way round',
        `SELECT id FROM diary WHERE kind = 'split' AND other_culture_id NOT IN (SELECT id FROM cultures)
         UNION ALL SELECT id FROM cultures c WHERE origin = 'split' AND (SELECT count(*) FROM diary d WHERE d.kind = 'split' AND d.other_culture_id = c.id) <> 1`,
      ),
      ...count(
        'confirmed orders without exactly their group',
        `SELECT o.id FROM orders o WHERE o.state = 'confirmed' AND 1 <> (SELECT total(a.groups) FROM allocations a
         JOIN order_lines l ON l.id = a.order_line_id WHERE l.order_id = o.id AND a.state = 'reserved')`,
      ),
      ...count(
        'confirmed orders without exactly one mail',
        `SELECT id FROM orders o WHERE state = 'confirmed' AND 1 <> (SELECT count(*) FROM mails m WHERE m.order_id = o.id)`,
      ),
    ];
  } finally {
    sqlite.close();
  }
}

export const endStage = (stage: Stage) => rmSync(stage.folder, { recursive: true, force: true });
