import { existsSync } from 'node:fs';
import {
  type Browser,
  type BrowserContext,
  type BrowserContextOptions,
  chromium,
  type Page,
} from 'playwright-core';
import { makeSessions } from '../../server/plumbing/sessions.ts';
import { type Line, openLine } from './line.ts';
import { type BareApp, cast, type TestApp, testApp } from './test-app.ts';

const places = [
  '/usr/bin/chromium',
  '/usr/bin/chromium-browser',
  '/usr/bin/google-chrome',
  '/usr/bin/google-chrome-stable',
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
];

function whereChromiumIs(): string {
  const named = process.env.CHROMIUM;
  const found = named ? [named].find(existsSync) : places.find(existsSync);
  if (found) return found;
  const why = named ? `CHROMIUM names ${named}, which is not there` : `none of ${places.join(', ')} is there`;
  throw new Error(
    `These tests need Chromium: ${why}. Install it (apt-get install chromium) or set CHROMIUM to its path.`,
  );
}

let started: Promise<Browser> | null = null;

/** One browser for a file's tests; every visitor has a context, and so a store, of its own. */
function browser(): Promise<Browser> {
  started ??= chromium.launch({
    executablePath: whereChromiumIs(),
    args: [
      '--headless',
      '--no-sandbox',
      '--disable-gpu',
      '--disable-quic',
      '--no-first-run',
      '--disable-background-networking',
      '--disable-component-update',
      '--disable-sync',
    ],
  });
  return started;
}

const toClose: (() => Promise<unknown>)[] = [];

/** For `afterAll` of every file that opens a device: files share their modules, so it cannot be said here once. */
/** What waits in this browser, by the module that its page uses. A string: it runs in the page. */
export const pageStore = `import(new URL('store.js', document.querySelector('script[type="module"]').src).href)`;

export async function closeDevices() {
  for (const close of toClose.splice(0)) await close();
  const running = started;
  started = null;
  await (await running)?.close();
}

export type Device = { context: BrowserContext; page: Page; signIn(who: keyof typeof cast): Promise<void> };
export type DeviceOptions = {
  javaScript?: boolean;
  viewport?: { width: number; height: number };
  /** Whatever else the device is like. */
  like?: BrowserContextOptions;
};

const phone = { width: 390, height: 844 };

/** A phone, or another device, at an address of the service, on which somebody is signed in. */
export async function deviceAt(
  t: BareApp,
  address: string,
  who: keyof typeof cast | null,
  { javaScript = true, viewport = phone, like }: DeviceOptions = {},
): Promise<Device> {
  const sessions = makeSessions(t.db, t.clock);
  const context = await (await browser()).newContext({
    viewport,
    javaScriptEnabled: javaScript,
    hasTouch: true,
    ...like,
  });
  toClose.unshift(() => context.close());
  context.setDefaultTimeout(10_000);
  const signIn = async (person: keyof typeof cast) => {
    const [pair = ''] = (await sessions.begin(cast[person].id, 'phone')).split(';');
    const [name = '', value = ''] = pair.split('=');
    await context.addCookies([{ name, value, url: `${address}/`, httpOnly: true, sameSite: 'Lax' }]);
  };
  if (who) await signIn(who);
  return { context, page: await context.newPage(), signIn };
}

/** Opens the service on a free port of this machine. */
export async function listening(t: BareApp): Promise<number> {
  await t.app.listen({ port: 0, host: '127.0.0.1' });
  const [own] = t.app.addresses();
  if (typeof own !== 'object') throw new Error('the service listens on no port');
  return own.port;
}

export type Bench = TestApp & {
  line: Line;
  /** Where browsers reach it, through the line. */
  address: string;
  device(who: keyof typeof cast | null, options?: DeviceOptions): Promise<Device>;
};

/** The service on a port, behind a line that can be cut; by the machine's clock, as a browser's is. */
export async function benchOnLine(basePath = ''): Promise<Bench> {
  const t = await testApp({ BASE_URL: `http://127.0.0.1${basePath}` });
  t.clock.now = () => Date.now();
  const line = await openLine(await listening(t));
  toClose.push(() => line.close());
  const address = `http://127.0.0.1:${line.port}${basePath}`;
  return { ...t, line, address, device: (who, options) => deviceAt(t, address, who, options) };
}
