import { type ChildProcess, spawn } from 'node:child_process';
import { readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('../..', import.meta.url));
const metricsToken = 'only for a measurement on this machine';

/** What the process says of itself at one moment. */
export type Sample = {
  atMs: number;
  rssMb: number;
  heapMb: number;
  walMb: number;
  /** Of the loop since the last look, milliseconds. */
  loopP99Ms: number;
  cpuSeconds: number;
  files: number;
};

export type Service = {
  base: string;
  pid: number;
  folder: string;
  said: () => string;
  sample: () => Promise<Sample>;
  /** Time the main thread has had the processor, milliseconds; zero where the system does not tell. */
  mainThreadMs: () => number;
  stop: () => Promise<number | null>;
};

const sizeOf = (path: string) => statSync(path, { throwIfNoEntry: false })?.size ?? 0;
const valueIn = (text: string, name: string) =>
  Number(new RegExp(`^${name} (\\S+)$`, 'm').exec(text)?.[1] ?? Number.NaN);

function mainThreadMs(pid: number): number {
  try {
    return Number(readFileSync(`/proc/${pid}/task/${pid}/schedstat`, 'utf8').split(' ')[0]) / 1e6;
  } catch {
    return 0;
  }
}

function openFiles(pid: number): number {
  try {
    return readdirSync(`/proc/${pid}/fd`).length;
  } catch {
    return Number.NaN;
  }
}

async function started(child: ChildProcess, said: () => string): Promise<string> {
  return new Promise((resolve, reject) => {
    const look = () => {
      const found = /^Open (http:\/\/127\.0\.0\.1:\d+)/m.exec(said())?.[1];
      if (found) resolve(found);
    };
    child.stdout?.on('data', look);
    child.once('exit', (code) => reject(new Error(`the service ended (${code}): ${said()}`)));
  });
}

/** The service in a process of its own, reachable from this machine alone. */
export async function startService(
  folder: string,
  settings: Record<string, string> = {},
  nodeOptions: readonly string[] = [],
): Promise<Service> {
  const env = { PATH: process.env.PATH, DATA_DIR: folder, PORT: '0', HOST: '127.0.0.1', LOG_LEVEL: 'warn' };
  const child = spawn(process.execPath, [...nodeOptions, 'ops/start.mjs'], {
    cwd: root,
    env: { ...env, METRICS_TOKEN: metricsToken, ...settings },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  let said = '';
  const listen = (chunk: Buffer) => {
    if (said.length < 200_000) said += chunk.toString();
  };
  child.stdout?.on('data', listen);
  child.stderr?.on('data', listen);
  const ended = new Promise<number | null>((resolve) => child.once('exit', resolve));
  let isStopping = false;
  void ended.then((code) => {
    if (!isStopping) console.error(`the service ended by itself (${code}): ${said.slice(-2_000)}`);
  });
  const base = await started(child, () => said);
  const pid = child.pid!;
  return {
    base,
    pid,
    folder,
    said: () => said,
    mainThreadMs: () => mainThreadMs(pid),
    async sample() {
      const answer = await fetch(`${base}/metrics`, { headers: { authorization: `Bearer ${metricsToken}` } });
      const text = await answer.text();
      return {
        atMs: Date.now(),
        rssMb: valueIn(text, 'process_resident_memory_bytes') / 1e6,
        heapMb: valueIn(text, 'nodejs_heap_size_used_bytes') / 1e6,
        walMb: sizeOf(join(folder, 'broodbench.db-wal')) / 1e6,
        loopP99Ms: valueIn(text, 'nodejs_eventloop_lag_p99_seconds') * 1000,
        cpuSeconds: valueIn(text, 'process_cpu_seconds_total'),
        files: openFiles(pid),
      };
    },
    async stop() {
      isStopping = true;
      child.kill('SIGTERM');
      return ended;
    },
  };
}

/** Until the service has brought its estimates up to today and done its first jobs. */
export async function settled(service: Service, quietMs = 3_000): Promise<void> {
  let last = service.mainThreadMs();
  for (;;) {
    await new Promise((next) => setTimeout(next, quietMs));
    const now = service.mainThreadMs();
    if (now - last < quietMs * 0.05) return;
    last = now;
  }
}
