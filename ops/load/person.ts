import { randomUUID } from 'node:crypto';
import {
  Agent,
  type ClientRequest,
  type IncomingHttpHeaders,
  type IncomingMessage,
  request,
} from 'node:http';
import { createBrotliDecompress, createGunzip } from 'node:zlib';
import type { Session } from './database.ts';

export type Answered = { kind: string; tookMs: number; status: number; atMs: number; bytes: number };
export type Heard = { status: number; text: string; location: string; retryAfter: string };

const formType = 'application/x-www-form-urlencoded';
/** No page may take so long; a request without an answer is a failure of its own (status 0). */
const patienceMs = 60_000;

async function bodyOf(answer: IncomingMessage) {
  const coding = answer.headers['content-encoding'];
  const unpack = coding === 'br' ? createBrotliDecompress() : coding === 'gzip' ? createGunzip() : null;
  const chunks: Buffer[] = [];
  for await (const chunk of unpack ? answer.pipe(unpack) : answer) chunks.push(chunk as Buffer);
  return Buffer.concat(chunks);
}

/** Somebody at a browser: cookies, the token of the forms, connections that stay open, packed answers. */
export class Person {
  readonly answers: Answered[] = [];
  readonly role: Session['role'];
  private token = '';
  private readonly cookies: string[];
  private readonly agent = new Agent({ keepAlive: true, maxSockets: 4 });
  private stream: ClientRequest | null = null;

  constructor(
    private readonly base: string,
    session: Session,
  ) {
    this.role = session.role;
    this.cookies = [session.cookie];
  }

  get(kind: string, path: string) {
    return this.ask(kind, 'GET', path);
  }

  post(kind: string, path: string, fields: Record<string, string>, headers: Record<string, string> = {}) {
    const form = { _csrf: this.token, formKey: randomUUID(), ...fields };
    return this.ask(kind, 'POST', path, new URLSearchParams(form).toString(), headers);
  }

  private headers(more: Record<string, string> = {}) {
    return { cookie: this.cookies.join('; '), 'accept-encoding': 'gzip, br', ...more };
  }

  private async ask(
    kind: string,
    method: string,
    path: string,
    body?: string,
    more: Record<string, string> = {},
  ): Promise<Heard> {
    const typed: Record<string, string> = body === undefined ? {} : { 'content-type': formType };
    const start = performance.now();
    const atMs = Date.now();
    const heard = await new Promise<{ answer: IncomingMessage; bytes: Buffer } | null>((resolve) => {
      const options = { method, agent: this.agent, headers: this.headers({ ...typed, ...more }) };
      const sent = request(`${this.base}${path}`, { ...options, timeout: patienceMs }, (answer) => {
        bodyOf(answer).then(
          (bytes) => resolve({ answer, bytes }),
          () => resolve(null),
        );
      });
      sent.on('timeout', () => sent.destroy());
      sent.on('error', () => resolve(null));
      sent.end(body);
    });
    const status = heard?.answer.statusCode ?? 0;
    const bytes = heard?.bytes.length ?? 0;
    this.answers.push({ kind, tookMs: performance.now() - start, status, atMs, bytes });
    const headers: IncomingHttpHeaders = heard?.answer.headers ?? {};
    for (const line of headers['set-cookie'] ?? []) this.keep(line.split(';')[0] ?? '');
    const isPage = headers['content-type']?.startsWith('text/html') ?? false;
    const text = isPage ? (heard?.bytes.toString() ?? '') : '';
    this.token = /name="_csrf" value="([^"]+)"/.exec(text)?.[1] ?? this.token;
    return { status, text, location: headers.location ?? '', retryAfter: headers['retry-after'] ?? '' };
  }

  private keep(pair: string) {
    const name = `${pair.split('=')[0]}=`;
    const at = this.cookies.findIndex((one) => one.startsWith(name));
    if (at < 0) this.cookies.push(pair);
    else this.cookies[at] = pair;
  }

  /** Keeps an open round's ear; `hear` is given the codes that changed. */
  listen(path: string, hear: (codes: string[]) => void) {
    if (this.stream) return;
    const again = () => {
      this.stream = null;
    };
    this.stream = request(`${this.base}${path}`, { headers: this.headers() }, (answer) => {
      let text = '';
      answer.on('data', (chunk: Buffer) => {
        text += chunk.toString();
        for (const [, data] of text.matchAll(/event: rows\ndata: (.*)\n\n/g))
          hear(JSON.parse(data ?? '[]') as string[]);
        text = text.slice(text.lastIndexOf('\n\n') + 2);
      });
      answer.on('close', again);
    });
    this.stream.on('error', again);
    this.stream.end();
  }

  leave() {
    this.stream?.destroy();
    this.agent.destroy();
  }
}
