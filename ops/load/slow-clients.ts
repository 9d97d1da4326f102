import { spawn } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { connect, type Socket } from 'node:net';
import { fileURLToPath } from 'node:url';
import { percentile } from './figures.ts';
import { openStage, type Stage } from './stage.ts';

const goalClosedMs = 15_000;
const goalP99Ms = 50;
const wait = (ms: number) => new Promise((next) => setTimeout(next, ms));

type Slow = { kind: string; closedAfterMs: number | null };

/** A line that is opened and said something on, slowly; answers how long the service bore it. */
function slowLine(base: URL, kind: string, begin: string, dripMs: number, mostMs: number): Promise<Slow> {
  return new Promise((resolve) => {
    let start = performance.now();
    const socket: Socket = connect(Number(base.port), base.hostname);
    socket.once('connect', () => {
      start = performance.now();
    });
    const drip = dripMs > 0 ? setInterval(() => socket.write('a'), dripMs) : undefined;
    const end = (closedAfterMs: number | null) => {
      clearInterval(drip);
      clearTimeout(tired);
      socket.destroy();
      resolve({ kind, closedAfterMs });
    };
    const tired = setTimeout(() => end(null), mostMs);
    socket.on('error', () => undefined);
    socket.on('data', () => undefined);
    socket.once('close', () => end(performance.now() - start));
    if (begin) socket.write(begin);
  });
}

/** Bytes that lie at both ends of a line and were not read yet (Linux, proc(5): /proc/net/tcp). */
function unread(port: number | undefined): number {
  const end = `:${(port ?? 0).toString(16).toUpperCase().padStart(4, '0')} `;
  const lines = readFileSync('/proc/net/tcp', 'utf8').split('\n');
  const both = lines.filter((line) => line.slice(0, 34).includes(end));
  return both.reduce((sum, line) => {
    const [, waits = '0', came = '0'] = / ([0-9A-F]{8}):([0-9A-F]{8}) /.exec(line.slice(34)) ?? [];
    return sum + Number.parseInt(waits, 16) + Number.parseInt(came, 16);
  }, 0);
}

/**
 * Asks for a large file so often that no buffer on the way holds all of it, and reads nothing. A socket that is not read
 * does not hear that it was closed, but what is written to it is refused then; an empty line before a request says
 * nothing (RFC 9112, 2.2). Counted from when nothing more left or arrived, since it takes a while until all buffers are full.
 */
function slowReader(base: URL, cookie: string, mostMs: number): Promise<Slow> {
  return new Promise((resolve) => {
    const socket = connect({ port: Number(base.port), host: base.hostname });
    const line = `GET /records/export/diary.csv HTTP/1.1\r\nHost: ${base.host}\r\nCookie: ${cookie}\r\n\r\n`;
    let [most, since] = [0, performance.now()];
    const look = setInterval(() => {
      const bytes = unread(socket.localPort);
      if (bytes > most + 100) [most, since] = [bytes, performance.now()];
      socket.write('\r\n');
    }, 500);
    const end = (closedAfterMs: number | null) => {
      clearInterval(look);
      clearTimeout(tired);
      socket.destroy();
      resolve({ kind: 'reads nothing of a large file', closedAfterMs });
    };
    const tired = setTimeout(() => end(null), mostMs);
    socket.on('error', () => undefined);
    socket.once('close', () => end(performance.now() - since));
    socket.once('connect', () => socket.write(line.repeat(8)));
    socket.pause();
  });
}

const head = 'POST /sign-in HTTP/1.1\r\nHost: x\r\nContent-Type: application/x-www-form-urlencoded\r\n';

function limitOfFiles(pid: number): number {
  const text = readFileSync(`/proc/${pid}/limits`, 'utf8');
  return Number(/Max open files\s+(\d+)/.exec(text)?.[1] ?? Number.NaN);
}

/** What others meet meanwhile, asked for by a process of its own: two thousand lines keep this one busy. */
function othersOn({ service, sessions }: Stage): () => Promise<number[]> {
  const script = fileURLToPath(new URL('./ask-on.ts', import.meta.url));
  const { cookie } = sessions.find(({ role }) => role === 'helper')!;
  const child = spawn(process.execPath, ['--import', 'tsx', script, service.base], {
    stdio: ['pipe', 'pipe', 'inherit'],
  });
  child.stdin.write(`${cookie}\n`);
  let said = '';
  child.stdout.on('data', (chunk: Buffer) => {
    said += chunk.toString();
  });
  const ended = new Promise((resolve) => child.once('exit', resolve));
  return async () => {
    child.stdin.end();
    await ended;
    return said.trim().split('\n').map(Number);
  };
}

function sayClosed(all: readonly Slow[]): boolean {
  let good = true;
  for (const kind of new Set(all.map((one) => one.kind))) {
    const own = all.filter((one) => one.kind === kind);
    const longest = Math.max(...own.map(({ closedAfterMs }) => closedAfterMs ?? Number.POSITIVE_INFINITY));
    good &&= longest <= goalClosedMs;
    console.log(
      `${kind}: ${own.length} lines, closed after at most ${(longest / 1000).toFixed(1)} s (goal ${goalClosedMs / 1000} s)`,
    );
  }
  return good;
}

/** `npm run load -- slow-clients`: thousands of lines on which hardly anything is said, and what others notice. */
export async function runSlowClients(lines: number, entries: number): Promise<boolean> {
  const stage = await openStage(entries, { name: 'slow' });
  const base = new URL(stage.service.base);
  const quiet = othersOn(stage);
  await wait(10_000);
  const before = await quiet();
  const others = othersOn(stage);
  await wait(2_000);
  const owner = stage.sessions.find(({ role }) => role === 'owner')!;
  const mostMs = 60_000;
  // Not all in one moment: what the system has no room to queue is tried again by it, seconds later.
  const slow: Promise<Slow>[] = [];
  for (let opened = 0; opened < lines; opened += 100) {
    for (let i = 0; i < 100; i += 1) slow.push(slowLine(base, 'says nothing', '', 0, mostMs));
    await wait(100);
  }
  slow.push(
    ...Array.from({ length: 100 }, () =>
      slowLine(base, 'a byte a second of a head', 'GET / HTTP/1.1\r\nX-Slow: ', 1_000, mostMs),
    ),
    ...Array.from({ length: 100 }, () =>
      slowLine(base, 'a byte a second of a form', `${head}Content-Length: 5000\r\n\r\n`, 1_000, mostMs),
    ),
    ...Array.from({ length: 4 }, () => slowReader(base, owner.cookie, mostMs)),
  );
  await wait(4_000);
  const { files } = await stage.service.sample();
  const limit = limitOfFiles(stage.service.pid);
  const closed = await Promise.all(slow);
  const times = await others();
  await stage.service.stop();
  const good = sayClosed(closed);
  const [p99Before, p99] = [percentile(before, 0.99), percentile(times, 0.99)];
  console.log(
    `others meanwhile: ${times.length} pages, p50 ${percentile(times, 0.5).toFixed(1)} ms, p99 ${p99.toFixed(1)} ms (goal under ${goalP99Ms}; without slow lines ${p99Before.toFixed(1)} ms)`,
  );
  console.log(`files open: ${files} of ${limit} (goal under 80 %)`);
  return good && p99 < goalP99Ms && files < 0.8 * limit;
}
