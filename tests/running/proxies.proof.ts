// `npm run prove -- proxies`: the service as it really runs, on the demo's records, behind nothing, nginx and Caddy, at
// the root of a host and under a path, plain and over TLS, by the samples in ops/running. Needs nginx, caddy, openssl.
import { randomUUID } from 'node:crypto';
import { mkdirSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { count } from 'drizzle-orm';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { demoPeople } from '../../ops/demo/business.ts';
import { makeDemo } from '../../ops/demo/make.ts';
import { openDatabase } from '../../server/plumbing/open-database.ts';
import { sha256 } from '../../server/plumbing/sessions.ts';
import { signInTries, standingDiary } from '../../server/schema/tables.ts';
import { contentsOf } from '../support/contents.ts';
import { doubtful } from '../support/doubtful.ts';
import { signIn, tokenOn } from './acting.ts';
import { crawl } from './crawl.ts';
import { type Front, freePort, fronts, hostOf, makeCertificate, nameOf, stand } from './fronts.ts';
import { type Service, startService } from './real-service.ts';
import { answerToBytes, Wanderer } from './wanderer.ts';

const folder = mkdtempSync(join(tmpdir(), 'proxies-'));
const demo = join(folder, 'demo');
const certificate = makeCertificate(folder);
const given = readFileSync(certificate.certificate, 'utf8');
const [owner, helper] = demoPeople;
const figures: Record<string, unknown>[] = [];

beforeAll(async () => {
  mkdirSync(demo, { mode: 0o700 });
  await makeDemo(join(demo, 'broodbench.db'), Date.now(), () => {});
}, 300_000);
afterAll(() => {
  console.table(figures);
  rmSync(folder, { recursive: true, force: true });
});

/** The service, what stands before it, and the address that people use. */
async function open(front: Front): Promise<{ at: string; service: Service; end: () => Promise<void> }> {
  const place = mkdtempSync(join(folder, 'front-'));
  const own = { service: await freePort(), port: await freePort(), spare: await freePort() };
  const port = front.kind === 'nothing' && !front.tls ? own.service : own.port;
  const at = `${front.tls ? 'https' : 'http'}://${hostOf(front)}:${port}${front.path}`;
  const service = await startService(demo, join(place, 'data'), {
    PORT: String(own.service),
    BASE_URL: at,
    ...(!front.tls && { PLAIN_HTTP: 'yes' }),
    ...(front.kind !== 'nothing' && { TRUSTED_PROXIES: '127.0.0.1' }),
  });
  const endFront = await stand(front, { folder: place, ...certificate, ...own });
  return {
    at,
    service,
    end: async () => {
      endFront();
      expect(await service.stop()).toBe(0);
    },
  };
}

describe.each(fronts.map((front) => [nameOf(front), front] as const))('behind %s', (name, front) => {
  let at = '';
  let service: Service;
  let end: () => Promise<void>;
  let who: Wanderer;
  let staff: Wanderer;
  const figure: Record<string, unknown> = { front: name };
  beforeAll(async () => {
    ({ at, service, end } = await open(front));
    who = await signIn(at, owner, given);
    staff = await signIn(at, helper, given);
  }, 120_000);
  afterAll(async () => {
    figures.push(figure);
    expect([...who.faults, ...staff.faults]).toEqual([]);
    for (const one of [who, staff]) one.end();
    await end();
  });

  it('every link leads somewhere, and none beside the public address', async () => {
    const walked = await crawl(who, at);
    expect(walked.wrong).toEqual([]);
    expect(walked.pages).toBeGreaterThan(150);
    Object.assign(figure, { pages: walked.pages, files: walked.files, links: walked.links });
  }, 240_000);

  it('the bare path leads to the first page, and strangers to the sign-in', async () => {
    const stranger = new Wanderer(given);
    const { origin } = new URL(at);
    if (front.path) {
      const bare = await stranger.ask(at);
      expect([bare.status, new URL(String(bare.headers.location), at).href]).toEqual([308, `${at}/`]);
      // What else lives at the host is not ours to answer.
      if (front.kind !== 'nothing')
        expect((await stranger.ask(`${origin}/sign-in`)).text).not.toContain('Sign in');
    }
    const away = await stranger.ask(`${at}/orders?page=2`);
    expect(new URL(String(away.headers.location), at).href).toBe(`${at}/sign-in?next=%2Forders%3Fpage%3D2`);
    stranger.end();
  });

  it('a check is saved by a tap, once, and told to an open round at once', async () => {
    const round = await staff.ask(`${at}/round`);
    const codes = [...round.text.matchAll(/data-code="([^"]+)"/g)].map(([, code]) => code ?? '');
    const { sqlite, db } = openDatabase(join(service.folder, 'broodbench.db'));
    const entries = () => db.select({ n: count() }).from(standingDiary).get()?.n ?? 0;
    const before = entries();
    const stream = await who.listen(`${at}/round/live`);
    expect(stream.status).toBe(200);
    const fields = { _csrf: tokenOn(round.text), formKey: randomUUID() };
    const headers = { 'hx-request': 'true' };
    const told = stream.next('rows');
    for (const turn of ['sent', 'sent again']) {
      const answer = await staff.send(`${at}/cultures/${codes[0]}/all-well?from=round`, fields, { headers });
      expect([turn, answer.status]).toEqual([turn, 200]);
    }
    const toldMs = await told;
    stream.end();
    expect(toldMs).toBeLessThan(3_000);
    const written = entries() - before;
    expect(written).toBeGreaterThan(0);
    const plain = await staff.send(`${at}/cultures/${codes[1]}/all-well`, {
      ...fields,
      formKey: randomUUID(),
    });
    expect([plain.status, new URL(String(plain.headers.location), at).href.startsWith(`${at}/`)]).toEqual([
      303,
      true,
    ]);
    sqlite.close();
    Object.assign(figure, { toldMs });
  });

  it('a round that is opened and closed again and again gives its stream back', async () => {
    for (let turn = 0; turn < 10; turn += 1) {
      const stream = await who.listen(`${at}/round/live`);
      expect([turn, stream.status]).toEqual([turn, 200]);
      stream.end();
      await new Promise((done) => setTimeout(done, 150));
    }
  });

  it('a form from another site, or of another host, is refused', async () => {
    const page = await staff.ask(`${at}/account`);
    const fields = { _csrf: tokenOn(page.text), formKey: randomUUID(), name: 'X', scheme: 'dark' };
    const others: Record<string, string>[] = [
      { origin: 'https://elsewhere.example.org' },
      { origin: 'null' },
      { 'sec-fetch-site': 'cross-site' },
    ];
    for (const headers of others)
      expect((await staff.send(`${at}/account`, fields, { headers })).status).toBe(403);
  });

  it('a host that was made up stands in no answer', async () => {
    const forged = { 'x-forwarded-host': 'elsewhere.example.org', forwarded: 'host=elsewhere.example.org' };
    for (const headers of [forged, { ...forged, host: 'elsewhere.example.org' }]) {
      for (const path of ['/', '/sign-in', '/people', '/account', '/labels', '/offers', '/nowhere']) {
        const said = await who.ask(`${at}${path}`, { headers });
        expect(JSON.stringify([said.headers, said.text])).not.toContain('elsewhere.example.org');
      }
    }
  });

  it('who asks is told by the proxy that was named, and by nobody else', async () => {
    const { sqlite, db } = openDatabase(join(service.folder, 'broodbench.db'));
    const stranger = new Wanderer(given);
    const form = await stranger.ask(`${at}/sign-in`);
    const fields = { _csrf: tokenOn(form.text), signInName: 'nobody', password: 'wrong wrong wrong' };
    const headers = {
      'x-forwarded-for': '203.0.113.7',
      'x-real-ip': '203.0.113.7',
      forwarded: 'for=203.0.113.7',
    };
    await stranger.send(`${at}/sign-in`, fields, { headers, from: '127.0.0.9' });
    const seen = db.select().from(signInTries).all().at(-1)?.addressHash;
    // Bare TLS says nothing of whoever is behind it.
    const expected = front.kind === 'nothing' && front.tls ? '127.0.0.1' : '127.0.0.9';
    expect(seen).toBe(sha256(expected));
    sqlite.close();
    stranger.end();
  });

  it('bytes that could be read in two ways change nothing and leave nothing in the line for others', async () => {
    const { sqlite } = openDatabase(join(service.folder, 'broodbench.db'));
    const before = contentsOf(sqlite);
    const { host } = new URL(at);
    const poisoned: string[] = [];
    const others = new Wanderer(given);
    let refused = 0;
    for (const [what, bytes] of doubtful) {
      const own = bytes.replaceAll('Host: x', `Host: ${host}`).replace(/(GET|POST) \//g, `$1 ${front.path}/`);
      const text = await answerToBytes(at, given, own);
      const statuses = [...text.matchAll(/^HTTP\/\d\.\d (\d{3})/gm)].map(([, status]) => Number(status));
      if (statuses.every((status) => status === 400 || status === 405 || status === 501)) refused += 1;
      if (text.includes('mirror')) poisoned.push(`${what}: mirrored`);
      for (let turn = 0; turn < 4; turn += 1) {
        const next = await others.ask(`${at}/sign-in`);
        if (next.status !== 200 || !next.text.includes('<h1>Sign in'))
          poisoned.push(`${what}: ${next.status}`);
      }
    }
    expect(poisoned).toEqual([]);
    expect(contentsOf(sqlite)).toEqual(before);
    sqlite.close();
    others.end();
    Object.assign(figure, { doubtful: doubtful.length, refused });
  }, 60_000);

  it('a report with three large photos arrives', async () => {
    const orders = await who.ask(`${at}/orders`);
    const numbers = [...orders.text.matchAll(/href="[^"]*\/orders\/(\d+)"/g)].map(([, number]) => number);
    let page = '';
    for (const number of numbers) {
      const { text } = await who.ask(`${at}/orders/${number}`);
      page = /"(http[^"]*\/o\/[\w-]+)"/.exec(text)?.[1] ?? page;
      if (page) break;
    }
    expect(page.startsWith(`${at}/o/`)).toBe(true);
    const customer = new Wanderer(given);
    const opened = await customer.ask(page);
    expect([opened.status, customer.cookies.size]).toEqual([200, 0]);
    const mark = 'part-of-a-report';
    const photo = Buffer.alloc(9_900_000, 'x');
    const parts = [0, 1, 2].flatMap((number) => [
      Buffer.from(
        `--${mark}\r\ncontent-disposition: form-data; name="photos"; filename="${number}.jpg"\r\ncontent-type: image/jpeg\r\n\r\n`,
      ),
      photo,
      Buffer.from('\r\n'),
    ]);
    const key = `--${mark}\r\ncontent-disposition: form-data; name="formKey"\r\n\r\n${randomUUID()}\r\n`;
    const body = Buffer.concat([Buffer.from(key), ...parts, Buffer.from(`--${mark}--\r\n`)]);
    const headers = { 'content-type': `multipart/form-data; boundary=${mark}` };
    const answer = await customer.ask(page, { method: 'POST', headers, body });
    // No photos, but the service itself found that out; or it is too early for a report.
    expect([200, 422]).toContain(answer.status);
    expect(answer.text).toContain('</html>');
    customer.end();
  });
});
