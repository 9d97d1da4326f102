import { Agent as PlainAgent, request as plain } from 'node:http';
import { Agent, request as secure } from 'node:https';
import { connect } from 'node:net';
import { connect as connectSecure } from 'node:tls';

export type Answer = {
  url: URL;
  status: number;
  headers: Record<string, string | string[] | undefined>;
  body: Buffer;
  text: string;
};

type Cookie = { value: string; path: string; secure: boolean };
type Asking = {
  method?: 'GET' | 'POST';
  headers?: Record<string, string>;
  body?: Buffer | string;
  /** The address of this machine that it comes from. */
  from?: string;
};

/** Keeps a cookie as browsers do (RFC 6265bis, 5.7), or says why none would. */
function refusalOf(name: string, attributes: string[], url: URL): string | null {
  const has = (wanted: string) => attributes.some((one) => one.toLowerCase() === wanted.toLowerCase());
  const isSecure = has('Secure');
  if (isSecure && url.protocol !== 'https:') return 'Secure without TLS';
  if (/^__(Host|Secure)-/.test(name) && !isSecure) return 'a name that asks for Secure';
  if (name.startsWith('__Host-') && !has('Path=/')) return '__Host- with a path';
  if (attributes.some((one) => /^domain=/i.test(one))) return 'a Domain';
  for (const wanted of ['HttpOnly', 'SameSite=Lax']) if (!has(wanted)) return `no ${wanted}`;
  if (url.protocol === 'https:' && !isSecure) return 'TLS without Secure';
  return null;
}

/** Somebody with a browser's habits before a real address: every name is this machine, cookies go where they belong. */
export class Wanderer {
  readonly cookies = new Map<string, Cookie>();
  readonly faults: string[] = [];
  private readonly agents = [new PlainAgent({ keepAlive: true }), new Agent({ keepAlive: true })] as const;

  /** `certificate`: the one that the proxies show, in the place of an authority. */
  constructor(private readonly certificate: string) {}

  private cookiesFor(url: URL): string {
    return [...this.cookies]
      .filter(
        ([, { path, secure }]) => url.pathname.startsWith(path) && (!secure || url.protocol === 'https:'),
      )
      .map(([name, { value }]) => `${name}=${value}`)
      .join('; ');
  }

  private keep(lines: string[], url: URL) {
    for (const line of lines) {
      const [pair = '', ...attributes] = line.split(';').map((one) => one.trim());
      const [name = '', value = ''] = pair.split('=', 2);
      const refusal = refusalOf(name, attributes, url);
      if (refusal) this.faults.push(`${url.href}: ${name}: ${refusal}`);
      const path = attributes.find((one) => /^path=/i.test(one))?.slice(5) ?? '';
      this.cookies.set(name, { value, path, secure: attributes.includes('Secure') });
    }
  }

  ask(address: URL | string, { method = 'GET', headers = {}, body, from }: Asking = {}): Promise<Answer> {
    const url = new URL(address);
    const isSecure = url.protocol === 'https:';
    const cookie = this.cookiesFor(url);
    const options = {
      host: '127.0.0.1',
      port: url.port,
      path: url.pathname + url.search,
      method,
      agent: from ? undefined : this.agents[isSecure ? 1 : 0],
      localAddress: from,
      servername: url.hostname,
      ca: this.certificate,
      headers: {
        host: url.host,
        ...(cookie && { cookie }),
        ...(method === 'POST' && {
          origin: url.origin,
          'content-length': String(Buffer.byteLength(body ?? '')),
        }),
        ...headers,
      },
    };
    return new Promise((resolve, reject) => {
      const asked = (isSecure ? secure : plain)(options, (answer) => {
        const chunks: Buffer[] = [];
        answer.on('data', (chunk: Buffer) => chunks.push(chunk));
        answer.on('error', reject);
        answer.on('end', () => {
          this.keep(answer.headers['set-cookie'] ?? [], url);
          const whole = Buffer.concat(chunks);
          const { statusCode: status = 0, headers: told } = answer;
          resolve({ url, status, headers: told, body: whole, text: whole.toString('utf8') });
        });
      });
      asked.on('error', reject);
      asked.end(body);
    });
  }

  send(address: URL | string, fields: Record<string, string>, more: Asking = {}): Promise<Answer> {
    const headers = { 'content-type': 'application/x-www-form-urlencoded', ...more.headers };
    return this.ask(address, {
      ...more,
      method: 'POST',
      headers,
      body: new URLSearchParams(fields).toString(),
    });
  }

  /** Opens a stream of events: how it was answered, how long the first of a name took, and what ends it. */
  listen(
    address: URL | string,
  ): Promise<{ status: number; next(name: string): Promise<number>; end(): void }> {
    const url = new URL(address);
    const isSecure = url.protocol === 'https:';
    return new Promise((resolve, reject) => {
      const asked = (isSecure ? secure : plain)(
        {
          host: '127.0.0.1',
          port: url.port,
          path: url.pathname,
          servername: url.hostname,
          ca: this.certificate,
          agent: false,
          headers: { host: url.host, cookie: this.cookiesFor(url), accept: 'text/event-stream' },
        },
        (answer) => {
          let said = '';
          answer.on('data', (chunk: Buffer) => {
            said += chunk.toString();
          });
          answer.on('error', () => {});
          const next = async (name: string) => {
            const since = Date.now();
            while (!said.includes(`event: ${name}\n`) && Date.now() - since < 5_000)
              await new Promise((done) => setTimeout(done, 10));
            return said.includes(`event: ${name}\n`) ? Date.now() - since : Number.POSITIVE_INFINITY;
          };
          resolve({ status: answer.statusCode ?? 0, next, end: () => asked.destroy() });
        },
      );
      asked.on('error', reject);
      asked.end();
    });
  }

  end() {
    for (const agent of this.agents) agent.destroy();
  }
}

/** What is answered to bytes as they are, until the line is closed or falls silent. */
export async function answerToBytes(address: string, ca: string, bytes: string): Promise<string> {
  const { hostname: servername, port, protocol } = new URL(address);
  const to = { host: '127.0.0.1', port: Number(port) };
  const socket = protocol === 'https:' ? connectSecure({ ...to, servername, ca }) : connect(to);
  let text = '';
  socket.setTimeout(300, () => socket.destroy());
  socket.on('error', () => undefined);
  socket.on('data', (chunk: Buffer) => {
    text += chunk.toString('latin1');
  });
  socket.write(bytes);
  await new Promise<void>((resolve) => socket.once('close', () => resolve()));
  return text;
}
