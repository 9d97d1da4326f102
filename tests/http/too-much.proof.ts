import { mkdirSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { connect, type Socket } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { demoPeople } from '../../ops/demo/business.ts';
import { makeDemo } from '../../ops/demo/make.ts';
import { signIn, tokenOn } from '../running/acting.ts';
import { freePort } from '../running/fronts.ts';
import { type Service, startService } from '../running/real-service.ts';
import type { Wanderer } from '../running/wanderer.ts';
import { formsOn } from '../support/page-parts.ts';
import { largeDay, linesOfNote, ordersOfDay, withLargePapers } from './large-papers.ts';

// `npm run prove -- too-much`: OWASP ASVS 5.0, 5.2.1, 5.2.6 and 15.2.2: what each costs a service that really runs. That it is
// refused at all: sockets.test.ts, tests/counts/photo.test.ts.

const folder = mkdtempSync(join(tmpdir(), 'too-much-'));
const [owner] = demoPeople;
const figures: Record<string, unknown>[] = [];
let service: Service;
let at = '';
let port = 0;
let who: Wanderer;
let csrf = '';
let large: ReturnType<typeof withLargePapers>;

const cookies = () => [...who.cookies].map(([name, { value }]) => `${name}=${value}`).join('; ');
const memoryMb = () =>
  Number(/VmRSS:\s+(\d+)/.exec(readFileSync(`/proc/${service.pid}/status`, 'utf8'))?.[1]) / 1024;
/** Milliseconds that the processor has worked for the thread that answers; clock ticks are hundredths (proc(5)). */
function workedMs() {
  const stat = readFileSync(`/proc/${service.pid}/task/${service.pid}/stat`, 'utf8');
  const [user = 0, system = 0] = stat
    .slice(stat.lastIndexOf(')') + 2)
    .split(' ')
    .slice(11, 13)
    .map(Number);
  return (user + system) * 10;
}
const pause = (ms: number) => new Promise((next) => setTimeout(next, ms));
const share = (list: readonly number[], part: number) =>
  Math.round([...list].sort((a, b) => a - b)[Math.min(list.length - 1, Math.floor(list.length * part))] ?? 0);

beforeAll(async () => {
  mkdirSync(join(folder, 'demo'), { mode: 0o700 });
  await makeDemo(join(folder, 'demo', 'broodbench.db'), Date.now(), () => {});
  large = withLargePapers(join(folder, 'demo', 'broodbench.db'));
  port = await freePort();
  at = `http://127.0.0.1:${port}`;
  service = await startService(join(folder, 'demo'), join(folder, 'data'), {
    PORT: String(port),
    BASE_URL: at,
    PLAIN_HTTP: 'yes',
  });
  if (!owner) throw new Error('the demo has nobody');
  who = await signIn(at, owner, '');
  csrf = tokenOn((await who.ask(`${at}/account`)).text);
  for (const path of ['/round', '/orders', '/cultures', '/records']) await who.ask(at + path);
}, 300_000);
afterAll(async () => {
  console.table(figures);
  await service.stop();
  rmSync(folder, { recursive: true, force: true });
});

/** The most memory there is until told to stop. */
function watchMemory() {
  const before = memoryMb();
  let most = before;
  const timer = setInterval(() => {
    most = Math.max(most, memoryMb());
  }, 10);
  return () => {
    clearInterval(timer);
    return Math.round(Math.max(most, memoryMb()) - before);
  };
}

type Heard = { status: number; ms: number; sentMb: number };

/** Sends until there is an answer or the line is closed; how soon the answer came, after all that it was about was sent. */
async function send(first: string | Buffer, more?: () => Buffer | null): Promise<Heard> {
  const socket: Socket = connect(port, '127.0.0.1');
  let [text, sent, answeredAt] = ['', 0, 0];
  socket.on('error', () => undefined);
  const closed = new Promise<void>((next) => socket.once('close', () => next()));
  const heard = new Promise<void>((next) =>
    socket.on('data', (chunk: Buffer) => {
      text += chunk.toString('latin1').slice(0, 200);
      answeredAt ||= performance.now();
      next();
    }),
  );
  const write = async (bytes: string | Buffer) => {
    sent += bytes.length;
    if (!socket.write(bytes))
      await Promise.race([new Promise<void>((next) => socket.once('drain', () => next())), closed]);
  };
  const begun = performance.now();
  await write(first);
  for (let piece = more?.() ?? null; piece && !socket.destroyed && !text; piece = more?.() ?? null)
    await write(piece);
  await Promise.race([heard, closed, pause(20_000)]);
  const ms = Math.round((answeredAt || performance.now()) - begun);
  socket.destroy();
  return { status: Number(/^HTTP\/1\.1 (\d{3})/.exec(text)?.[1] ?? 0), ms, sentMb: Math.round(sent / 1e6) };
}

const head = (path: string, headers: string, length: number | 'chunked') =>
  `POST ${path} HTTP/1.1\r\nHost: 127.0.0.1:${port}\r\nOrigin: ${at}\r\nCookie: ${cookies()}\r\nConnection: close\r\n${headers}\r\n${length === 'chunked' ? 'Transfer-Encoding: chunked' : `Content-Length: ${length}`}\r\n\r\n`;
const form = 'Content-Type: application/x-www-form-urlencoded';
const posting = (body: Buffer, headers = form, path = '/account') =>
  Buffer.concat([Buffer.from(head(path, headers, body.length)), body]);

function chunks(ofMb: number, bytes = Buffer.alloc(65_536, 'a')) {
  let left = (ofMb * 1e6) / bytes.length;
  const piece = Buffer.concat([Buffer.from(`${bytes.length.toString(16)}\r\n`), bytes, Buffer.from('\r\n')]);
  return () => {
    left -= 1;
    return left > 0 ? piece : null;
  };
}

const multipart = (path: string) =>
  `${head(`${path}?_csrf=${encodeURIComponent(csrf)}`, 'Content-Type: multipart/form-data; boundary=x', 'chunked')}`;
const fileHead = Buffer.from(
  '--x\r\nContent-Disposition: form-data; name="formKey"\r\n\r\nkey-0123456789abcdef\r\n--x\r\nContent-Disposition: form-data; name="photo"; filename="a.jpg"\r\n\r\n',
);
const asChunk = (bytes: Buffer) =>
  Buffer.concat([Buffer.from(`${bytes.length.toString(16)}\r\n`), bytes, Buffer.from('\r\n')]);

describe('what is too much, from somebody signed in', () => {
  it.each<[string, number[], () => Promise<Heard>]>([
    ['a byte over the limit', [413], () => send(posting(Buffer.alloc(65_537, 'a')))],
    ['100,000 fields', [413], () => send(posting(Buffer.from('a='.repeat(100_000))))],
    ['a field of 1 MB', [413], () => send(posting(Buffer.from(`name=${'x'.repeat(1_000_000)}`)))],
    [
      'as many fields as fit',
      [400, 403, 422],
      () => send(posting(Buffer.from(`_csrf=${csrf}&${'a&'.repeat(32_000)}`))),
    ],
    [
      'JSON 10,000 deep',
      [415],
      () => send(posting(Buffer.from('['.repeat(10_000)), 'Content-Type: application/json')),
    ],
    [
      'JSON 10,000 deep for a sensor',
      [400],
      () => send(posting(Buffer.from('['.repeat(10_000)), 'Content-Type: application/json', '/api/climate')),
    ],
    [
      '100 MB packed',
      [400, 403, 413, 415],
      () =>
        send(
          posting(
            gzipSync(Buffer.alloc(100_000_000)).subarray(0, 64_000),
            `${form}\r\nContent-Encoding: gzip`,
          ),
        ),
    ],
    [
      'a head of 64 kB',
      [431],
      () => send(`GET /round HTTP/1.1\r\nHost: x\r\nX-A: ${'x'.repeat(65_536)}\r\n\r\n`),
    ],
    [
      '10,000 keys in an address',
      [431],
      () =>
        send(
          `GET /round?${Array.from({ length: 10_000 }, (_, n) => `k${n}=1`).join('&')} HTTP/1.1\r\nHost: x\r\n\r\n`,
        ),
    ],
    [
      '2,500 keys in an address',
      [200],
      () =>
        send(
          `GET /cultures?${'a=1&'.repeat(2_500)} HTTP/1.1\r\nHost: x\r\nCookie: ${cookies()}\r\nConnection: close\r\n\r\n`,
        ),
    ],
    ['a stream of 10 GB to a form', [0, 413], () => send(head('/account', form, 'chunked'), chunks(10_000))],
    [
      'a file of 10 GB',
      [0, 413],
      () =>
        send(Buffer.concat([Buffer.from(multipart('/records/drafts')), asChunk(fileHead)]), chunks(10_000)),
    ],
    [
      '10,000 files',
      [0, 413, 422],
      () => {
        const one = '--x\r\nContent-Disposition: form-data; name="photo"; filename="a.jpg"\r\n\r\nx\r\n';
        return send(
          Buffer.concat([
            Buffer.from(multipart('/records/drafts')),
            asChunk(Buffer.from(`${one.repeat(10_000)}--x--\r\n`)),
            Buffer.from('0\r\n\r\n'),
          ]),
        );
      },
    ],
    [
      'a name of 4 kB from right to left',
      [303, 413, 422],
      () => {
        const name = `\u202e${'\u05d0'.repeat(2_000)}gpj.exe`;
        const body = Buffer.from(
          `--x\r\nContent-Disposition: form-data; name="files"; filename="${name}"\r\n\r\nx\r\n--x--\r\n`,
        );
        return send(
          Buffer.concat([Buffer.from(multipart('/records/drafts')), asChunk(body), Buffer.from('0\r\n\r\n')]),
        );
      },
    ],
  ])(
    '%s is refused at once and costs next to nothing',
    async (what, statuses, ask) => {
      await pause(200);
      const grown = watchMemory();
      const heard = await ask();
      const mb = grown();
      figures.push({ what, ...heard, 'MB more': mb });
      expect(statuses).toContain(heard.status);
      // A stream may be read on for a while, so that a browser hears the answer.
      if (heard.sentMb < 10) expect(heard.ms).toBeLessThan(1_000);
      expect(heard.sentMb).toBeLessThan(120);
      expect((await who.ask(`${at}/healthz`)).status).toBe(200);
    },
    60_000,
  );
});

/** Times of the round, asked for again and again while something else is worked on. */
async function whileOthersRead<T>(work: () => Promise<T>): Promise<{ done: T; times: number[] }> {
  const times: number[] = [];
  let isOver = false;
  const others = (async () => {
    while (!isOver) {
      const begun = performance.now();
      expect((await who.ask(`${at}/round`)).status).toBe(200);
      times.push(performance.now() - begun);
      await pause(20);
    }
  })();
  try {
    return { done: await work(), times };
  } finally {
    isOver = true;
    await others;
  }
}

describe('papers that are too large', () => {
  it('a note of 10,000 lines is refused by its form', async () => {
    const page = await who.ask(`${at}/orders/${large.draft}/edit`);
    const [edit] = formsOn(page.text, `/orders/${large.draft}/edit`).filter(
      ({ untouched }) => 'note' in untouched,
    );
    const note = 'x\n'.repeat(linesOfNote);
    const body = new URLSearchParams({ ...edit?.untouched, note, _csrf: csrf }).toString();
    const begun = performance.now();
    const { status, text } = await who.ask(at + (edit?.action ?? ''), {
      method: 'POST',
      headers: { 'Content-Type': 'application/x-www-form-urlencoded', Origin: at },
      body,
    });
    figures.push({
      what: 'a note of 10,000 lines in a form',
      status,
      ms: Math.round(performance.now() - begun),
    });
    expect(status).toBe(422);
    expect(text).toMatch(/2,?000 characters/);
  });

  it.each([
    ['a packing sheet with a note of 1,000 lines', () => `/orders/${large.order}/packing-sheet.pdf`],
    ['a care sheet with texts of 10,000 lines', () => `/species/${large.species}/care-sheet.pdf`],
    [`the packing sheets of ${ordersOfDay} orders`, () => `/packing-sheets.pdf?day=${largeDay}`],
  ])(
    '%s begins to come, or is refused in words, within ten seconds',
    async (what, path) => {
      // As on any day, a thread that prints is there already.
      await who.ask(`${at}/species/${large.species + 1}/care-sheet.pdf`);
      const grown = watchMemory();
      const begun = performance.now();
      const since = () => Math.round(performance.now() - begun);
      let ms = 0;
      const { done, times } = await whileOthersRead(async () => {
        const answer = await fetch(at + path(), { headers: { cookie: cookies() } });
        ms = since();
        return { status: answer.status, body: Buffer.from(await answer.arrayBuffer()) };
      });
      const whole = since();
      const { status, body } = done;
      const pages = body.toString('latin1').match(/\/Type \/Page\b/g)?.length ?? 0;
      const others = { 'others p50': share(times, 0.5), 'others p99': share(times, 0.99) };
      figures.push({ what, status, ms, whole, pages, ...others, 'MB more': grown() });
      expect([200, 422, 503]).toContain(status);
      if (status === 200) expect(body.subarray(-16).toString('latin1')).toMatch(/%%EOF\s*$/);
      else expect(body.toString()).toMatch(/<h1[^>]*>[^<]+<\/h1>/);
      expect(ms).toBeLessThan(10_000);
      expect((await who.ask(`${at}/healthz`)).status).toBe(200);
    },
    60_000,
  );
});

describe('papers asked for all at once', () => {
  it('five hundred of them keep nobody else waiting, and none is half a paper', async () => {
    const { text } = await who.ask(`${at}/species`);
    const species = [...new Set([...text.matchAll(/href="\/species\/(\d+)"/g)].map(([, id]) => id))];
    expect(species.length).toBeGreaterThan(3);
    const grown = watchMemory();
    const quiet: number[] = [];
    for (let count = 0; count < 50; count += 1) {
      const begun = performance.now();
      await who.ask(`${at}/round`);
      quiet.push(performance.now() - begun);
    }
    const workedBefore = workedMs();
    const statuses: Record<string, number> = {};
    let broken = 0;
    const ask = async (n: number) => {
      const path = `/species/${species[n % species.length]}/care-sheet.pdf`;
      const answer = await who.ask(at + path, { headers: { Connection: 'close' } }).catch(() => null);
      const status = answer ? String(answer.status) : 'closed';
      statuses[status] = (statuses[status] ?? 0) + 1;
      if (answer?.status === 200 && !/%%EOF\s*$/.test(answer.body.subarray(-16).toString('latin1')))
        broken += 1;
    };
    const { times } = await whileOthersRead(() => Promise.all(Array.from({ length: 500 }, (_, n) => ask(n))));
    const worked = workedMs() - workedBefore;
    figures.push({
      what: '500 papers at once',
      status: JSON.stringify(statuses),
      'others before': `${share(quiet, 0.5)}, ${share(quiet, 0.99)}`,
      worked: `${worked} ms for 500 papers and ${times.length} pages`,
      'others p50': share(times, 0.5),
      'others p99': share(times, 0.99),
      'MB more': grown(),
    });
    expect(broken).toBe(0);
    expect(statuses['200']).toBeGreaterThan(0);
    // one of those whose texts have not been made too long above
    const usual = species.find((id) => Number(id) !== large.species);
    expect((await who.ask(`${at}/species/${usual}/care-sheet.pdf`)).status).toBe(200);
  }, 300_000);
});
