import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import sharp from 'sharp';
import { refreshEstimate } from '../../server/counts/queries-estimate.ts';
import { appendEntry } from '../../server/cultures/queries-diary.ts';
import { firstOfferSettings, saveOfferSettings } from '../../server/offers/queries.ts';
import { makeSessions } from '../../server/plumbing/sessions.ts';
import { readBusiness } from '../../server/settings/queries.ts';
import { dayInZone } from '../../shared/zone-day.ts';
import { makeCustomer } from '../support/orders.ts';
import { makeCulture, makeSpecies } from '../support/stock.ts';
import { cast, testApp } from '../support/test-app.ts';
import { type Action, actionsOf, type Sent } from './storm-actions.ts';

const root = fileURLToPath(new URL('../..', import.meta.url));

export type Stage = {
  folder: string;
  database: string;
  cookie: string;
  today: string;
  speciesId: number;
  customerId: number;
  cultures: { id: number; code: string; enclosureId: number }[];
  business: Record<string, string>;
  photo: Buffer;
  /** How many baskets strangers have begun. */
  baskets: number;
};

const howMany = 24;

/** A bench with plenty of everything, in a folder of its own, and the owner signed in by the machine's own clock. */
export async function makeStage(): Promise<Stage> {
  const t = await testApp();
  const now = Date.now();
  const today = dayInZone(now, 'Europe/Berlin');
  const species = makeSpecies(t.db);
  saveOfferSettings(t.db, { ...firstOfferSettings, isOn: true });
  const cultures = Array.from({ length: howMany }, (_, index) => {
    const row = makeCulture(t.db, { speciesId: species.id, code: `STORM-${index}` });
    const counted = JSON.stringify({ method: 'full', counted: 20_000, relativeSd: 0.02 });
    const entry = { cultureId: row.id, onDay: today, via: 'page', madeBy: null, madeAt: now } as const;
    appendEntry(t.db, { ...entry, kind: 'count', countInput: counted });
    refreshEstimate(t.db, row.id, today, now);
    return { id: row.id, code: row.code, enclosureId: row.enclosureId };
  });
  const customerId = makeCustomer(t.db).id;
  const { id: _id, madeAt: _madeAt, name: _name, ...business } = readBusiness(t.db);
  const cookie = await makeSessions(t.db, { now: Date.now }).begin(cast.owner.id, 'storm');
  const folder = mkdtempSync(join(tmpdir(), 'storm-'));
  const database = join(folder, 'broodbench.db');
  t.sqlite.prepare('VACUUM INTO ?').run(database);
  const flat = { width: 96, height: 96, channels: 3, background: '#775533' } as const;
  const photo = await sharp({ create: flat }).jpeg().toBuffer();
  const own = { folder, database, cookie: cookie.split(';')[0] ?? '', today, photo, business, baskets: 0 };
  return { ...own, cultures, customerId, speciesId: species.id };
}

export type Running = {
  child: ChildProcess;
  address: string;
  ended: Promise<number | null>;
  said: () => string;
};

/** The service as it is really started, on a port that the system chooses; mails wait for a server that is not there. */
export async function startService(
  folder: string,
  settings: Record<string, string> = {},
  within: readonly string[] = [],
): Promise<Running> {
  const env = { DATA_DIR: folder, PORT: '0', HOST: '127.0.0.1', LOG_LEVEL: 'error', ...settings };
  const mail = { SMTP_HOST: '127.0.0.1', SMTP_PORT: '9', SMTP_ENCRYPTION: 'none' };
  const [command = '', ...before] = [...within, process.execPath];
  const child = spawn(command, [...before, 'ops/start.mjs'], {
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

class Refused extends Error {}

type Pending = {
  action: Action;
  step: number;
  key: string;
  sent: Sent | null;
  came: string[];
  again: number;
};

const begun = (action: Action): Pending => {
  return { action, step: 0, key: crypto.randomUUID(), sent: null, came: [], again: 0 };
};

/** A client that keeps a journal: what it was told was written, and what it never heard about. */
export class Client {
  /** Actions whose last form was acknowledged, by name. */
  readonly acknowledged: Action[] = [];
  /** When each of those was heard, milliseconds as the system counts them. */
  readonly heardAt: number[] = [];
  /** Forms that were acknowledged. */
  writes = 0;
  private pending: Pending | null = null;
  /** The last form that was answered, with its answer: it is sent again to the service that starts anew. */
  private answered: { sent: Sent; key: string; location: string } | null = null;
  /** Forms that were sent again after a kill though they had been answered, and answered alike. */
  repeated = 0;
  private readonly actions: Generator<Action>;
  private cookies: string;
  private token: string | null = null;

  constructor(stage: Stage, client: number) {
    this.actions = actionsOf(stage, client);
    this.cookies = stage.cookie;
  }

  /** Works until the service is gone, or until it is told to stop; a form without an answer is sent again next time. */
  async work(address: string, goOn: () => boolean): Promise<void> {
    try {
      if (this.token === null) await this.readToken(address);
      await this.repeat(address);
      while (goOn() || this.pending) await this.one(address);
    } catch (error) {
      if (error instanceof Refused) throw error;
    }
  }

  private async readToken(address: string) {
    const page = await fetch(`${address}/account`, { headers: { cookie: this.cookies }, redirect: 'manual' });
    const token = /name="_csrf" value="([^"]+)"/.exec(await page.text())?.[1];
    if (!token) throw new Refused(`no token on the page, status ${page.status}`);
    const set = page.headers.getSetCookie().map((line) => line.split(';')[0]);
    this.cookies = [this.cookies, ...set].join('; ');
    this.token = token;
  }

  private async page(address: string, path: string): Promise<string> {
    const answer = await fetch(`${address}${path}`, {
      headers: { cookie: this.cookies },
      redirect: 'manual',
    });
    const text = await answer.text();
    if (answer.status !== 200) throw new Refused(`${path} was answered with ${answer.status}`);
    return text;
  }

  private send(address: string, { path, fields, photo }: Sent, key: string): Promise<Response> {
    const headers = { cookie: this.cookies };
    if (photo) {
      const body = new FormData();
      body.append('formKey', key);
      body.append('photo', new Blob([Uint8Array.from(photo)], { type: 'image/jpeg' }), 'photo.jpg');
      const to = `${address}${path}?_csrf=${encodeURIComponent(this.token ?? '')}`;
      return fetch(to, { method: 'POST', body, headers, redirect: 'manual' });
    }
    const body = new URLSearchParams({ _csrf: this.token ?? '', formKey: key });
    for (const [field, value] of Object.entries(fields))
      for (const one of [value].flat()) body.append(field, one);
    return fetch(`${address}${path}`, { method: 'POST', body, headers, redirect: 'manual' });
  }

  /** The same form with the same key, after a kill: answered as before, and nothing more is written (see tooMuchIn). */
  private async repeat(address: string) {
    const { answered } = this;
    if (!answered) return;
    let answer = await this.send(address, answered.sent, answered.key);
    for (let tries = 0; answer.status === 503 && tries < 100; tries += 1) {
      await new Promise((next) => setTimeout(next, 50));
      answer = await this.send(address, answered.sent, answered.key);
    }
    const location = answer.headers.get('location') ?? '';
    this.answered = null;
    if (answer.status === 503 || answer.status === 429) return;
    const isAlike =
      answer.status === 303 && location.replace(/#.*/, '') === answered.location.replace(/#.*/, '');
    if (!isAlike)
      throw new Refused(
        `${answered.sent.path} again was answered with ${answer.status} ${location}, not ${answered.location}`,
      );
    this.repeated += 1;
  }

  private async one(address: string) {
    this.pending ??= begun(this.actions.next().value as Action);
    const { pending } = this;
    pending.sent ??= await pending.action.steps[pending.step]!(
      (path) => this.page(address, path),
      pending.came,
    );
    const answer = await this.send(address, pending.sent, pending.key);
    const text = await answer.text();
    if (answer.status === 503) return;
    // Strangers may ask for so much within the hour and no more: this one gives up.
    if (answer.status === 429 && pending.sent.path === '/available') {
      this.pending = null;
      return;
    }
    // Somebody else has changed what it was filled in from: whoever sent it looks at the page anew.
    if (answer.status === 409 && pending.sent.fields.seen !== undefined && pending.again < 20) {
      Object.assign(pending, { sent: null, key: crypto.randomUUID(), again: pending.again + 1 });
      return;
    }
    if (answer.status !== 303) {
      const why =
        /<(?:p|li|span) class="(?:field-error|error)[^>]*>.*?<\//.exec(text)?.[0] ?? text.slice(-600);
      throw new Refused(`${pending.sent.path} was answered with ${answer.status}: ${why}`);
    }
    const location = answer.headers.get('location') ?? '';
    this.answered = { sent: pending.sent, key: pending.key, location };
    this.acknowledge(pending, location);
  }

  private acknowledge({ action, step, came }: Pending, location: string) {
    this.writes += 1;
    if (step + 1 < action.steps.length)
      this.pending = { ...begun(action), step: step + 1, came: [...came, location] };
    else {
      this.acknowledged.push(action);
      this.heardAt.push(performance.timeOrigin + performance.now());
      this.pending = null;
    }
  }
}

export const endStage = (stage: Stage) => rmSync(stage.folder, { recursive: true, force: true });
